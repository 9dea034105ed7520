"""How fast the workbench answers: a real server on this machine, asked over loopback."""

from __future__ import annotations

import html
import http.client
import json
import os
import re
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parents[1]
BUILD = "orchard-pickup"
EDITS = 20
FIELDS = ("part.charger.mass", "part.dcdc.mass", "donor.wheelbase", "build.note")
PAGES = (
    "",
    "areas",
    "area/vehicle",
    "area/pack",
    "area/drive",
    "said/vehicle.axle_load@rear/full",
    "said/drive.use_charge@market_run",
    "use/market_run",
    "placement",
    "in/donor",
    "in/part.motor",
    "field/donor.wheelbase",
    "table/part",
    "history",
    "sums",
    "sums/road_load.air_force?example=1",
    "file",
)


def rows() -> list[tuple[str, str, str]]:
    """Measure and say: what, how long, the target."""
    with tempfile.TemporaryDirectory() as room:
        folder = Path(room) / "builds"
        for example in sorted((ROOT / "examples").iterdir()):
            if example.is_dir():
                shutil.copytree(example, folder / example.name)
        with _served(folder, Path(room)) as (port, first):
            pages = _pages(port)
            said, seen = _edits(port)
            crowd = _crowd(port)
    return [
        ("workbench, cold to first answer", f"{first:.2f} s", "at most 1.5 s"),
        ("pages, 95 of 100 within", f"{1e3 * pages:.0f} ms", "at most 100 ms"),
        ("edit saved, told elsewhere", f"{1e3 * _ninety_five(said):.0f} ms", "none set"),
        ("edit, page elsewhere anew", f"{1e3 * _ninety_five(seen):.0f} ms", "at most 150 ms"),
        ("the same, half of them within", f"{1e3 * statistics.median(seen):.0f} ms", "none set"),
        ("six at once, answers / faults", crowd, "no fault"),
    ]


def _ninety_five(times: list[float]) -> float:
    return sorted(times)[min(len(times) - 1, round(0.95 * len(times)))]


@contextmanager
def _served(folder: Path, room: Path) -> Iterator[tuple[int, float]]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "wattwright", "serve", str(folder), "--port", str(port)]
    begun = time.perf_counter()
    server = subprocess.Popen(
        command,
        env={**os.environ, "XDG_STATE_HOME": str(room / "state")},
        stdout=subprocess.DEVNULL,
    )
    try:
        while True:
            try:
                _get(port, "/look")
                break
            except OSError:
                time.sleep(0.01)
        yield port, time.perf_counter() - begun
    finally:
        server.terminate()
        server.wait(10)


def _get(port: int, path: str) -> str:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("GET", path)
    answer = connection.getresponse()
    text = answer.read().decode("utf-8", "replace")
    connection.close()
    if answer.status == 503:
        time.sleep(0.5)
        return _get(port, path)
    if answer.status != 200:
        raise RuntimeError(f"{path}: {answer.status}")
    return text


def _pages(port: int) -> float:
    """Every page some times, all but the very first."""
    times = []
    for page in PAGES:
        _get(port, f"/b/{BUILD}/{page}")
        for _ in range(6):
            begun = time.perf_counter()
            _get(port, f"/b/{BUILD}/{page}")
            times.append(time.perf_counter() - begun)
    return _ninety_five(times)


def _edits(port: int) -> tuple[list[float], list[float]]:
    """Change values, and wait until another browser is told and has its page anew."""
    token = _token(port)
    told: list[float] = []
    heard = threading.Event()

    def listen() -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        connection.request("GET", f"/b/{BUILD}/events")
        answer = connection.getresponse()
        while line := answer.fp.readline():
            if line.startswith(b"data"):
                told.append(time.perf_counter())
                heard.set()

    threading.Thread(target=listen, daemon=True).start()
    heard.wait(10)
    said, seen = [], []
    for number in range(EDITS):
        heard.clear()
        begun = time.perf_counter()
        change = threading.Thread(target=_change, args=(port, token, number))
        change.start()
        heard.wait(10)
        said.append(told[-1] - begun)
        _get(port, f"/b/{BUILD}/")
        seen.append(time.perf_counter() - begun)
        change.join()
    return said, seen


def _token(port: int) -> str:
    found = re.search(r'name="token" content="([0-9a-f]+)"', _get(port, "/look"))
    if found is None:
        raise RuntimeError("the page holds no token")
    return found[1]


def _change(port: int, token: str, number: int) -> int:
    path = FIELDS[number % len(FIELDS)]
    page = _get(port, f"/b/{BUILD}/field/{path}")
    was = re.search(r'name="was" value="([^"]*)"', page)
    quantity = f"{2500 + number} mm" if "wheelbase" in path else f"{5 + number / 10:.1f} kg ± 0.1"
    form = {"token": token, "path": path, "quantity": quantity, "origin": "measured"}
    if was is not None:
        form["was"] = html.unescape(was[1])
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    head = {"content-type": "application/x-www-form-urlencoded", "accept": "application/json"}
    connection.request("POST", f"/b/{BUILD}/set", urlencode(form), head)
    answer = connection.getresponse()
    json.loads(answer.read())
    return answer.status


def _crowd(port: int) -> str:
    """Six browsers that read and write one build for some seconds."""
    token = _token(port)
    answers: list[int] = []
    faults: list[str] = []
    until = time.perf_counter() + 6.0

    def browse(number: int) -> None:
        step = 0
        while time.perf_counter() < until:
            try:
                if number % 2:
                    status = _change(port, token, number + 10 * step)
                else:
                    _get(port, f"/b/{BUILD}/{PAGES[(number + step) % len(PAGES)]}")
                    status = 200
            except (OSError, RuntimeError, ValueError) as error:
                faults.append(str(error))
            else:
                answers.append(status)
                # Two who change one value at once meet: that is an answer, not a fault.
                if status not in (200, 409):
                    faults.append(str(status))
            step += 1

    crowd = [threading.Thread(target=browse, args=(number,)) for number in range(6)]
    for each in crowd:
        each.start()
    for each in crowd:
        each.join()
    for fault in faults[:5]:
        print(f"fault: {fault}")
    return f"{len(answers)} / {len(faults)}"
