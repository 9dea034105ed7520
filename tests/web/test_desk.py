"""One build as it lies open, asked from several threads at once."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.journal.starting import start
from wattwright.web import desk


def test_a_revision_is_worked_out_once_however_many_ask(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    start(tmp_path / "build", "bare-start")
    asked: list[str] = []
    together = threading.Barrier(8)

    def counted(opened: Opened, before: Assessment | None) -> Assessment:
        assert before is None
        asked.append(opened.digest)
        # Long enough for the others to ask while it is under way.
        time.sleep(0.2)
        return Assessment("counted", opened.digest, ())

    monkeypatch.setattr(desk, "assess", counted)
    lying = desk.Desk("build", tmp_path / "build")
    view = lying.view()

    def ask() -> None:
        together.wait()
        assert view.assessment is not None

    threads = [threading.Thread(target=ask) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(asked) == 1
    lying.close()
