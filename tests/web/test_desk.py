"""One build as it lies open, asked from several threads at once."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest

from wattwright.assessment import Assessment
from wattwright.build.edits import ANY, Edit
from wattwright.build.reader import Opened, open_build
from wattwright.descriptions.duty import Demand, Duty
from wattwright.errors import StoppedError
from wattwright.journal.starting import start
from wattwright.use_pass import duty
from wattwright.web import desk
from wattwright.web import view as views


def test_a_revision_is_worked_out_once_however_many_ask(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    start(tmp_path / "build", "bare-start")
    asked: list[str] = []
    together = threading.Barrier(8)

    def counted(opened: Opened, before: Assessment | None, stopped: object) -> Assessment:
        assert before is None
        assert stopped is not None
        asked.append(opened.digest)
        # Long enough for the others to ask while it is under way.
        time.sleep(0.2)
        return Assessment("counted", opened.digest, ())

    monkeypatch.setattr(views, "assess", counted)
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


def test_undo_redo_and_restore_begin_their_numbers_and_note_the_digest(tmp_path: Path) -> None:
    folder = tmp_path / "build"
    start(folder, "bare-start")
    lying = desk.Desk("build", folder)
    first = open_build(folder).digest
    lying.change([Edit(("build", "name"), '"Other"', ANY)], "me")
    second = open_build(folder).digest
    assert first != second
    for made, digest in (
        (lambda: lying.step("undo", "me"), first),
        (lambda: lying.step("redo", "me"), second),
        (lambda: lying.restore(1, "me"), first),
    ):
        revision = made()
        assert revision.assessment == digest
        assert lying.keeper.revision(revision.number).assessment == digest
        assert lying.view().begun
    lying.close()


def test_an_undo_back_to_what_cannot_be_read_notes_no_digest(tmp_path: Path) -> None:
    folder = tmp_path / "build"
    start(folder, "bare-start")
    good = (folder / "build.toml").read_text(encoding="utf-8")
    lying = desk.Desk("build", folder)
    lying.view()
    (folder / "build.toml").write_text("[[[", encoding="utf-8")
    broken = lying.view()
    assert broken.opened is None
    lying.keeper.change(good, broken.revision.digest, "me", "mended")
    assert lying.step("undo", "me").assessment == ""
    assert lying.view().text == "[[["
    lying.close()


def test_what_is_worked_out_can_be_stopped_between_uses_and_begun_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    start(tmp_path / "build", "orchard-pickup")
    lying = desk.Desk("build", tmp_path / "build")
    driving, may_go_on, driven = threading.Event(), threading.Event(), []
    whole = duty.duty_of
    view = lying.view()
    assert view.opened is not None
    uses = view.opened.build.use

    def slowly(demand: Demand) -> Duty:
        # Another build may still be worked out, which a test before this one left behind.
        if uses[demand.use].repeat is not demand.repeat:
            return whole(demand)
        driven.append(demand.name)
        driving.set()
        may_go_on.wait(60)
        return whole(demand)

    monkeypatch.setattr(duty, "duty_of", slowly)
    view.stop()
    assert not view.stopped, "nothing was begun yet"
    assert not view.within(0.0)
    assert driving.wait(60)
    view.stop()
    assert view.stopped
    assert view.so_far is None
    may_go_on.set()
    with pytest.raises(StoppedError):
        assert view.assessment
    # The use that was under way was driven, and no other.
    assert len(driven) == 1
    assert not view.within(60.0)
    view.go_on()
    assert view.within(60.0)
    assert len(driven) > 2
    view.stop()
    assert not view.stopped, "there is nothing to stop any more"
    lying.close()
