"""A real server with builds of its own, and a real browser that looks at nothing else.

Every page that a test opens is watched: a request to anywhere but the server, an error in the
console, a breach of the content policy or an exception in a script fails the test when it ends.
"""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlencode, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

EXAMPLES = Path(__file__).parents[1] / "examples"
PICKUP = "orchard-pickup"
WAS = '"6.9 kg, datasheet"'

PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
LAPTOP: dict[str, Any] = {"viewport": {"width": 1366, "height": 768}}

# Time for a busy machine; nothing waits longer than it needs.
expect.set_options(timeout=20_000)

_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # No name leads anywhere: what is not this server cannot be reached.
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
]


def script(name: str) -> str:
    """Return a function to be run in a page."""
    return (Path(__file__).parent / "browser" / "scripts" / f"{name}.js").read_text("utf-8")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's chromium. Where it is missing the test fails: nothing of this may go untested."""
    found = shutil.which("chromium")
    if found is None:
        pytest.fail(
            "these tests need chromium: run `make browser`, which installs it where it may, "
            "or install your system's package of that name",
            pytrace=False,
        )
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=found, args=_FLAGS)
        yield running
        running.close()


@dataclass
class Bench:
    """A server on a port of its own, which can be stopped and started again."""

    folder: Path
    state: Path
    port: int
    process: subprocess.Popen[bytes] | None = None
    # Builds to be changed, one for each test that asks for one.
    left: list[str] = field(default_factory=list)

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        command = [sys.executable, "-m", "wattwright", "serve", str(self.folder)]
        self.process = subprocess.Popen(
            [*command, "--port", str(self.port)],
            env={**os.environ, "XDG_STATE_HOME": str(self.state)},
            stdout=subprocess.DEVNULL,
        )
        for _ in range(600):
            try:
                with urllib.request.urlopen(f"{self.url}/look"):
                    return
            except (urllib.error.URLError, ConnectionError):
                assert self.process.poll() is None, "the server ended by itself"
                time.sleep(0.05)
        pytest.fail("the server does not answer")

    def stop(self) -> None:
        if self.process is not None:
            self.process.terminate()
            self.process.wait(30)
            self.process = None

    def send(self, to: str, **fields: str) -> None:
        """Send a form as somebody else does, without a browser."""
        with urllib.request.urlopen(f"{self.url}/look") as answer:
            token = re.search(r'name="token" content="([0-9a-f]+)"', answer.read().decode())
        assert token
        body = urlencode({"token": token[1], **fields}).encode()
        asked = urllib.request.Request(
            f"{self.url}{to}", body, {"origin": self.url, "accept": "application/json"}
        )
        with urllib.request.urlopen(asked) as answer:
            assert answer.status == 200

    def file(self, build: str) -> Path:
        return self.folder / build / "build.toml"

    def text(self, build: str) -> str:
        return self.file(build).read_text(encoding="utf-8")


def _free_port() -> int:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        port: int = trial.getsockname()[1]
        return port


@pytest.fixture(scope="module")
def bench(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Bench]:
    """Serve the examples, and as many copies to be changed as the module asks for."""
    copies = [f"pickup-{number}" for number in range(1, 1 + request.module.COPIES)]
    root = tmp_path_factory.mktemp("bench")
    for name in (PICKUP, "bare-start", "island-runabout"):
        shutil.copytree(EXAMPLES / name, root / "builds" / name)
    for name in copies:
        shutil.copytree(EXAMPLES / PICKUP, root / "builds" / name)
    shutil.copytree(EXAMPLES / "bare-start", root / "builds" / "broken")
    file = root / "builds" / "broken" / "build.toml"
    file.write_text(file.read_text("utf-8") + '\n[donor]\nwheelbase = "long"\n', "utf-8")
    made = Bench(root / "builds", root / "state", _free_port(), left=copies)
    made.start()
    yield made
    made.stop()


@pytest.fixture
def build(bench: Bench) -> str:
    """Name a build that nobody has touched yet."""
    return bench.left.pop()


@dataclass
class Watch:
    """What a page did that no page of ours may do, save for what a test expects of it."""

    server: str
    seen: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)

    def over(self, context: BrowserContext) -> None:
        context.on("request", lambda request: self._asked(request.url))
        context.on("console", lambda said: self._said(said.type, said.text))
        context.on("weberror", lambda error: self.seen.append(f"exception: {error.error}"))

    def _asked(self, url: str) -> None:
        parts = urlsplit(url)
        if (
            parts.scheme not in ("blob", "data")
            and f"{parts.scheme}://{parts.netloc}" != self.server
        ):
            self.seen.append(f"request to {url}")

    def _said(self, kind: str, words: str) -> None:
        if kind in ("error", "warning"):
            self.seen.append(f"console: {words}")

    @property
    def unexpected(self) -> list[str]:
        return [
            each for each in self.seen if not any(re.search(known, each) for known in self.expected)
        ]


@dataclass
class People:
    """Opens browsers for one person or several."""

    browser: Browser
    watch: Watch
    contexts: list[BrowserContext] = field(default_factory=list)

    def page(self, at: str = "", device: dict[str, Any] = LAPTOP, **settings: Any) -> Page:
        context = self.browser.new_context(
            base_url=self.watch.server, reduced_motion="reduce", **{**device, **settings}
        )
        context.set_default_timeout(20_000)
        self.watch.over(context)
        self.contexts.append(context)
        page = context.new_page()
        if at:
            page.goto(at)
        return page


@pytest.fixture
def people(browser: Browser, bench: Bench) -> Iterator[People]:
    made = People(browser, Watch(bench.url))
    yield made
    for context in made.contexts:
        context.close()
    assert made.watch.unexpected == []


@pytest.fixture(scope="session")
def shots() -> Path | None:
    """Name the folder for pictures of the pages; they take long, and are taken when asked for."""
    asked = os.environ.get("WATTWRIGHT_SHOTS")
    if not asked:
        return None
    folder = Path(asked)
    folder.mkdir(parents=True, exist_ok=True)
    return folder
