"""A workbench with builds of its own for each test, asked in the same process."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from wattwright.journal.starting import start
from wattwright.web import answers
from wattwright.web.app import made
from wattwright.web.limits import LIMITS, STREAMS
from wattwright.web.safety import Devices, Settings, guarded, visit
from wattwright.web.shelf import Shelf

PORT = 8437
HERE = f"http://127.0.0.1:{PORT}"


@dataclass
class Workbench:
    """What a test needs: a browser, and the folder that the builds lie in."""

    client: TestClient
    folder: Path
    shelf: Shelf
    settings: Settings
    _tokens: dict[str, str] = field(default_factory=dict)

    def page(self, path: str, status: int = 200) -> str:
        """Return a page as its reader sees it in the source, entities undone."""
        answer = self.client.get(path)
        assert answer.status_code == status, answer.text[:2000]
        return html.unescape(answer.text)

    def token(self) -> str:
        """What forms bring along; whoever is let in anew is given another one."""
        who = str(self.client.cookies.jar)
        if who not in self._tokens:
            found = re.search(r'name="token" content="([0-9a-f]+)"', self.page("/look"))
            assert found
            self._tokens[who] = found[1]
        return self._tokens[who]

    def send(self, to: str, /, follow: bool = True, **fields: str) -> tuple[int, str]:
        """Send a form as a browser without scripts does."""
        data = {"token": self.token(), **fields}
        answer = self.client.post(to, data=data, follow_redirects=follow)
        return answer.status_code, html.unescape(answer.text)

    def send_by_script(self, to: str, /, **fields: str) -> tuple[int, dict[str, object]]:
        data = {"token": self.token(), **fields}
        answer = self.client.post(to, data=data, headers={"accept": "application/json"})
        return answer.status_code, answer.json()

    def text(self, build: str) -> str:
        return (self.folder / build / "build.toml").read_text(encoding="utf-8")

    def written(self, build: str, path: str) -> str | None:
        """Return what a form says it would replace."""
        found = re.search(
            rf'name="path" value="{re.escape(path)}">\s*<input type="hidden" name="was" '
            r'value="([^"]*)"',
            self.client.get(f"/b/{build}/field/{path}").text,
        )
        return html.unescape(found[1]) if found else None


@pytest.fixture
def workbench(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Callable[..., Workbench]]:
    # However slow the machine is: pages that say so have a test of their own.
    monkeypatch.setattr(answers, "SHORT", 300.0)
    monkeypatch.setattr(answers, "LONG", 300.0)
    # There is no connection that the system could know; what it says has tests of its own.
    monkeypatch.setattr(visit, "let_in_by_system", lambda *_: True)
    opened: list[TestClient] = []

    def open_with(*examples: str, lan: bool = False) -> Workbench:
        folder = tmp_path / "builds"
        folder.mkdir()
        for example in examples:
            start(folder / example, example)
        shelf = Shelf([folder / example for example in examples], folder)
        settings = Settings(
            devices=Devices(tmp_path / "state"),
            port=PORT,
            lan=lan,
            addresses=("192.0.2.7",),
            streams=STREAMS,
            limits=LIMITS,
        )
        app = guarded(made(shelf), settings)
        client = TestClient(app, base_url=HERE, client=("127.0.0.1", 50000))
        client.__enter__()
        opened.append(client)
        return Workbench(client, folder, shelf, settings)

    yield open_with
    for client in opened:
        client.__exit__(None, None, None)
