"""``wattwright serve`` as a program of its own, on a port that is free."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2

import wattwright

SOURCE = Path(wattwright.__file__).parents[1]
# Far longer than anything here takes: a program that hangs fails the test, a slow machine does not.
PATIENCE = 60.0


def free_port() -> int:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return int(trial.getsockname()[1])


def program(state: Path, *words: str) -> subprocess.Popen[str]:
    """Start the program, with a state folder of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "wattwright", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(SOURCE), "XDG_STATE_HOME": str(state)},
    )


class Served:
    """A running server, and a browser that has its token."""

    def __init__(self, process: subprocess.Popen[str], at: str) -> None:
        self.process = process
        self.at = at
        self.client = httpx2.Client(base_url=at, timeout=PATIENCE)
        found = re.search(r'name="token" content="([0-9a-f]+)"', self.client.get("/look").text)
        assert found
        self.token = {"x-token": found[1]}

    def edit(self, build: str, path: str, text: str, was: str | None = None) -> httpx2.Response:
        edit = {"path": path, "text": text, **({} if was is None else {"was": was})}
        return self.client.post(
            f"/api/builds/{build}/edits", json={"edits": [edit]}, headers=self.token
        )

    def stopped_by(self, number: int) -> tuple[int, str]:
        """Send a signal; return the exit code and all that was said of trouble."""
        self.process.send_signal(number)
        _, said = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, said


@contextmanager
def serving(state: Path, *words: str) -> Iterator[Served]:
    """Serve until the end of the block, however that comes."""
    process = program(state, "serve", *words)
    assert process.stdout is not None
    try:
        line = process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+", line)
        if not found:
            process.wait(PATIENCE)
            assert process.stderr is not None
            raise AssertionError(line + process.stderr.read())
        served = Served(process, found[0])
        try:
            yield served
        finally:
            served.client.close()
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()
