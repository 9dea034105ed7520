"""Keeping a build: every state written down, nobody's work lost, trouble told plainly."""

from __future__ import annotations

import errno
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, event
from sqlalchemy.engine.default import DefaultDialect

from wattwright.errors import ConflictError, EditError, JournalError, UsageError
from wattwright.journal.keeper import Keeper
from wattwright.system import lock

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals and modes")


def digest(content: str | bytes) -> str:
    raw = content.encode() if isinstance(content, str) else content
    return hashlib.sha256(raw).hexdigest()


def in_file(folder: Path) -> str:
    return (folder / "build.toml").read_text()


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def edit(keeper: Keeper, text: str) -> None:
    keeper.change(text, keeper.head().digest, "mechanic", f"to {text.strip()}")


# ------------------------------------------------------------------------------------- revisions


def test_a_journal_begins_with_the_build_as_it_is(folder: Path) -> None:
    with Keeper(folder) as keeper:
        start = keeper.head()
        assert (start.number, start.kind, start.state, start.of) == (1, "start", "done", None)
        assert start.digest == digest("a = 1\n")
        assert keeper.revisions() == (start,)
        assert keeper.undoable() is None
        with pytest.raises(EditError, match="no change to take back"):
            keeper.undo("mechanic")
        with pytest.raises(EditError, match="no change to make again"):
            keeper.redo("mechanic")
    assert names(folder) == ["build.toml", "journal.sqlite"]


def test_a_change_is_in_the_file_and_in_the_journal(folder: Path, keeper: Keeper) -> None:
    new = "a = 2\r\n# ²\n"
    made = keeper.change(new, digest("a = 1\n"), " mechanic ", "a: 1 -> 2", "abc")
    assert (folder / "build.toml").read_bytes() == new.encode()
    assert keeper.content(2) == new.encode()
    assert (made.number, made.kind, made.state) == (2, "edit", "done")
    assert (made.who, made.why, made.assessment) == ("mechanic", "a: 1 -> 2", "abc")
    assert made == keeper.head() == keeper.revision(2) == keeper.revisions()[0]
    at = datetime.fromisoformat(made.at)
    assert at.utcoffset() == timedelta(0)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", made.at)


def test_everything_is_there_when_the_journal_is_opened_again(folder: Path) -> None:
    with Keeper(folder) as keeper:
        edit(keeper, "a = 2\n")
        before = keeper.revisions()
    with Keeper(folder) as keeper:
        assert keeper.revisions() == before
        assert keeper.text(1) == "a = 1\n"


def test_revisions_are_listed_newest_first_in_pages(keeper: Keeper) -> None:
    for number in range(2, 8):
        edit(keeper, f"a = {number}\n")
    assert [each.number for each in keeper.revisions(most=3)] == [7, 6, 5]
    assert [each.number for each in keeper.revisions(before=5, most=3)] == [4, 3, 2]
    assert [each.number for each in keeper.revisions(before=2)] == [1]


def test_a_revision_that_does_not_exist_is_told(keeper: Keeper) -> None:
    for ask in (keeper.revision, keeper.text, keeper.content):
        with pytest.raises(UsageError, match="no revision 9; there are 1 to 1"):
            ask(9)
    with pytest.raises(UsageError, match="no revision 9"):
        keeper.restore(9, "mechanic")


def test_the_same_text_makes_no_revision(keeper: Keeper) -> None:
    head = keeper.head()
    assert keeper.change("a = 1\n", head.digest, "mechanic", "nothing") == head
    assert keeper.restore(1, "mechanic") == head
    assert len(keeper.revisions()) == 1


def test_half_a_character_is_refused_in_the_file_and_shown_in_words(keeper: Keeper) -> None:
    with pytest.raises(EditError, match="half a character"):
        keeper.change("a = '\udce9'\n", keeper.head().digest, "mechanic", "")
    made = keeper.change("a = 2\n", keeper.head().digest, "caf\udce9", "why \udce9")
    assert (made.who, made.why) == ("caf?", "why ?")
    assert keeper.revision(2) == made


# ---------------------------------------------------------------------- others change the file


def test_a_file_changed_by_an_editor_is_a_revision(folder: Path, keeper: Keeper) -> None:
    (folder / "build.toml").write_text("a = 3\n")
    head = keeper.head()
    assert (head.number, head.kind, head.who, head.state) == (2, "outside", "", "done")
    assert keeper.text(2) == "a = 3\n"
    assert keeper.head() == head
    assert keeper.undoable() == head
    keeper.undo("mechanic")
    assert in_file(folder) == "a = 1\n"


def test_a_file_changed_while_nobody_looked_is_a_revision(folder: Path) -> None:
    Keeper(folder).close()
    (folder / "build.toml").write_text("a = 3\n")
    with Keeper(folder) as keeper:
        assert [each.kind for each in keeper.revisions()] == ["outside", "start"]


@pytest.mark.parametrize("raw", [b"a = = 1\n", b"a = '\xff\xfe'\n", b"", b"a = '\0'\n"])
def test_bytes_that_are_no_build_are_kept_faithfully(
    folder: Path, keeper: Keeper, raw: bytes
) -> None:
    (folder / "build.toml").write_bytes(raw)
    assert keeper.head().digest == digest(raw)
    assert keeper.content(2) == raw
    assert keeper.text(2) == raw.decode("utf-8", "replace")
    keeper.undo("mechanic")
    assert in_file(folder) == "a = 1\n"
    keeper.redo("mechanic")
    assert (folder / "build.toml").read_bytes() == raw


def test_a_change_on_an_old_reading_of_the_file_is_a_conflict(folder: Path, keeper: Keeper) -> None:
    old = keeper.head().digest
    edit(keeper, "a = 2\n")
    with pytest.raises(ConflictError, match=r"revision 2 by mechanic: to a = 2\)") as caught:
        keeper.change("a = 9\n", old, "apprentice", "")
    assert caught.value.newer == 2
    assert "changed by someone else" in str(caught.value)
    assert in_file(folder) == "a = 2\n"
    assert len(keeper.revisions()) == 2


def test_a_change_over_an_editor_s_is_a_conflict_that_names_it(
    folder: Path, keeper: Keeper
) -> None:
    old = keeper.head().digest
    (folder / "build.toml").write_text("a = 3\n")
    with pytest.raises(ConflictError, match="by an editor or another program") as caught:
        keeper.change("a = 9\n", old, "apprentice", "")
    assert caught.value.newer == 2
    assert in_file(folder) == "a = 3\n"


def test_undo_redo_and_restore_refuse_another_file_than_was_seen(
    folder: Path, keeper: Keeper
) -> None:
    edit(keeper, "a = 2\n")
    seen = keeper.head().digest
    edit(keeper, "a = 3\n")
    keeper.undo("mechanic", keeper.head().digest)
    (folder / "build.toml").write_text("a = 4\n")
    keeper.head()
    keeper.undo("mechanic")
    assert keeper.head().digest == seen
    other = digest("a = 5\n")
    for step in (keeper.undo, keeper.redo):
        with pytest.raises(ConflictError):
            step("mechanic", other)
    with pytest.raises(ConflictError):
        keeper.restore(1, "mechanic", other)
    assert keeper.redo("mechanic", seen).digest == digest("a = 4\n")


# ---------------------------------------------------------------------------- undo, redo, restore


def test_undo_and_redo_only_add_to_the_history(folder: Path, keeper: Keeper) -> None:
    for number in (2, 3):
        edit(keeper, f"a = {number}\n")
    assert keeper.undoable() == keeper.revision(3)
    undone = keeper.undo("apprentice")
    assert (undone.number, undone.kind, undone.of) == (4, "undo", 3)
    assert undone.why == "takes back revision 3: to a = 3"
    assert keeper.undoable() == keeper.revision(2)
    assert keeper.redoable() == keeper.revision(3)
    keeper.undo("apprentice")
    assert in_file(folder) == "a = 1\n"
    assert keeper.undoable() is None
    again = keeper.redo("mechanic")
    assert (again.kind, again.of, again.why) == ("redo", 2, "makes revision 2 again: to a = 2")
    assert in_file(folder) == "a = 2\n"
    assert keeper.redoable() == keeper.revision(3)
    edit(keeper, "a = 8\n")
    assert keeper.redoable() is None
    assert [each.kind for each in reversed(keeper.revisions())] == [
        "start", "edit", "edit", "undo", "undo", "redo", "edit"
    ]  # fmt: skip
    assert keeper.text(3) == "a = 3\n"


def test_going_back_to_a_revision_can_be_undone(folder: Path, keeper: Keeper) -> None:
    for number in (2, 3):
        edit(keeper, f"a = {number}\n")
    made = keeper.restore(1, "mechanic", keeper.head().digest, "abc")
    assert (made.kind, made.of, made.assessment) == ("restore", 1, "abc")
    assert in_file(folder) == "a = 1\n"
    keeper.undo("mechanic")
    assert in_file(folder) == "a = 3\n"
    assert keeper.before(3) == keeper.revision(2)
    assert keeper.before(1) is None


# ------------------------------------------------------------------------------------------ trouble


def failing(number: int, at_call: int):
    calls = []

    def fail(_handle: int) -> None:
        calls.append(1)
        if len(calls) == at_call:
            raise OSError(number, os.strerror(number))

    return fail


def test_what_did_not_reach_the_file_is_kept_and_said_to_be_so(
    folder: Path, keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    head = keeper.head()
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", failing(errno.ENOSPC, 1))
        with pytest.raises(EditError, match=r"build\.toml: the disk is full"):
            keeper.change("a = 2\n", head.digest, "mechanic", "a: 1 -> 2")
    assert in_file(folder) == "a = 1\n"
    lost = keeper.revisions()[0]
    assert (lost.number, lost.state, lost.why) == (2, "not saved", "a: 1 -> 2")
    assert keeper.head() == head
    assert keeper.undoable() is None
    assert keeper.text(2) == "a = 2\n"
    with pytest.raises(UsageError, match="was not saved"):
        keeper.sign_off("inspector", "seen", 2)
    assert keeper.restore(2, "mechanic").number == 3
    assert in_file(folder) == "a = 2\n"


def test_a_folder_that_cannot_be_synced_after_the_rename_loses_nothing(
    folder: Path, keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", failing(errno.EIO, 2))
        with pytest.raises(EditError):
            keeper.change("a = 2\n", keeper.head().digest, "mechanic", "a: 1 -> 2")
    assert in_file(folder) == "a = 2\n"
    assert (keeper.head().number, keeper.head().state, keeper.head().kind) == (2, "done", "edit")


def test_a_change_that_the_journal_cannot_mark_as_done_is_marked_later(
    folder: Path, keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    commit, head = DefaultDialect.do_commit, keeper.head()

    def fail_when_replaced(dialect, connection) -> None:
        if in_file(folder) == "a = 2\n":
            dialect.do_rollback(connection)
            raise dialect.loaded_dbapi.OperationalError("no more")
        commit(dialect, connection)

    with monkeypatch.context() as patched:
        patched.setattr(DefaultDialect, "do_commit", fail_when_replaced)
        with pytest.raises(JournalError, match="saved as revision 2, but the journal"):
            keeper.change("a = 2\n", head.digest, "mechanic", "a: 1 -> 2")
    assert (keeper.head().number, keeper.head().state) == (2, "done")


def test_a_full_disk_under_the_journal_is_told_and_the_file_is_untouched(folder: Path) -> None:
    """SQLite's own refusal, provoked by a limit on its pages."""

    def few_pages(connection, _record) -> None:
        connection.execute("PRAGMA max_page_count = 24")

    event.listen(Engine, "connect", few_pages)
    try:
        with Keeper(folder) as keeper:
            head = keeper.head()
            with pytest.raises(JournalError, match=r"journal\.sqlite: the disk is full"):
                keeper.change("a = 2\n" * 50_000, head.digest, "mechanic", "")
            assert in_file(folder) == "a = 1\n"
            assert keeper.head() == head
            edit(keeper, "a = 3\n")
    finally:
        event.remove(Engine, "connect", few_pages)
    assert in_file(folder) == "a = 3\n"


@pytest.fixture
def unwritable(folder: Path):
    """A build with a journal in a folder that may be read and not written."""
    with Keeper(folder) as keeper:
        edit(keeper, "a = 2\n")
    home = Path(tempfile.mkdtemp())
    shutil.copytree(folder, home, dirs_exist_ok=True)
    for path in home.iterdir():
        path.chmod(0o444)
    home.chmod(0o555)
    root = sys.platform != "win32" and os.geteuid() == 0
    # The superuser may write everywhere, so that somebody else has to try.
    if root:
        os.seteuid(65534)
    yield home
    if root:
        os.seteuid(0)
    home.chmod(0o700)
    shutil.rmtree(home)


@posix_only
def test_a_folder_that_may_not_be_written_is_told_plainly(unwritable: Path) -> None:
    with pytest.raises(EditError, match=r"build\.toml: this folder may not be written"):
        Keeper(unwritable)
    assert in_file(unwritable) == "a = 2\n"
    assert names(unwritable) == ["build.toml", "journal.sqlite"]


@posix_only
@pytest.mark.skipif(sys.platform != "win32" and os.geteuid() == 0, reason="root writes everywhere")
def test_a_journal_that_may_not_be_written_is_told_plainly(folder: Path) -> None:
    Keeper(folder).close()
    (folder / "journal.sqlite").chmod(0o444)
    with pytest.raises(JournalError, match="may not be written"):
        Keeper(folder)


def test_a_build_without_its_file_is_told_and_no_journal_is_made(tmp_path: Path) -> None:
    with pytest.raises(EditError, match=r"build\.toml: the file is not there"):
        Keeper(tmp_path)
    assert names(tmp_path) == []


def test_a_file_that_goes_away_is_told_and_its_texts_stay(folder: Path, keeper: Keeper) -> None:
    edit(keeper, "a = 2\n")
    (folder / "build.toml").rename(folder / "elsewhere.toml")
    with pytest.raises(EditError, match="the file is not there"):
        keeper.head()
    with pytest.raises(EditError, match="the file is not there"):
        keeper.undo("mechanic")
    (folder / "elsewhere.toml").rename(folder / "build.toml")
    assert keeper.head().number == 2


def test_left_over_files_of_a_killed_writer_are_swept(folder: Path) -> None:
    (folder / "photos").mkdir()
    for left in (".build.toml.0123456789abcdef.tmp", "photos/.x.jpg.0123456789abcdef.tmp"):
        (folder / left).write_bytes(b"half")
    (folder / "photos" / "notes.tmp").write_bytes(b"mine")
    Keeper(folder).close()
    assert names(folder) == ["build.toml", "journal.sqlite", "photos"]
    assert names(folder / "photos") == ["notes.tmp"]


# ------------------------------------------------------------------------------------ many writers


def test_a_look_waits_for_a_writer_only_when_there_is_something_to_settle(
    folder: Path, keeper: Keeper
) -> None:
    with lock(folder / ".build.toml.lock"):
        assert keeper.head().number == 1
        assert keeper.revisions()[0].number == 1


def test_what_happens_to_disk_happens_in_this_order(
    keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A power cut keeps a beginning of this list, so that no beginning of it may lose anything."""
    head, order = keeper.head(), []

    def noted(owner, name: str) -> None:
        inner = getattr(owner, name)

        def call(*args, **options):
            result = inner(*args, **options)
            order.append(name)
            return result

        monkeypatch.setattr(owner, name, call)

    noted(os, "fsync")
    noted(os, "replace")
    noted(DefaultDialect, "do_commit")
    keeper.change("a = 2\n", head.digest, "mechanic", "")
    assert order[-5:] == ["do_commit", "fsync", "replace", "fsync", "do_commit"]


def test_the_database_forces_every_commit_to_disk(folder: Path) -> None:
    """2 is FULL in SQLite's documentation of PRAGMA synchronous."""
    said = []

    def ask(connection, _record, _proxy) -> None:
        said.append(connection.execute("PRAGMA synchronous").fetchone()[0])
        said.append(connection.execute("PRAGMA journal_mode").fetchone()[0])

    event.listen(Engine, "checkout", ask)
    try:
        Keeper(folder).close()
    finally:
        event.remove(Engine, "checkout", ask)
    assert set(said) == {2, "wal"}


def test_threads_may_share_a_keeper(folder: Path, keeper: Keeper) -> None:
    faults: list[Exception] = []
    made: list[int] = []

    def work(name: str) -> None:
        while made.count(name) < 8:
            head = keeper.head()
            try:
                keeper.change(keeper.text(head.number) + f"# {name}\n", head.digest, name, "adds")
                made.append(name)
                keeper.revisions(most=3)
            except ConflictError:
                pass
            except Exception as error:
                faults.append(error)
                return

    threads = [threading.Thread(target=work, args=(name,)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert sorted(in_file(folder).splitlines()[1:]) == sorted(f"# {name}" for name in "abcd" * 8)
    assert len(keeper.revisions(most=100)) == 1 + 32


RACER = """
import pathlib, sys
from wattwright.errors import ConflictError
from wattwright.journal.keeper import Keeper
from wattwright.system import BusyError
folder, name = pathlib.Path(sys.argv[1]), sys.argv[2]
made = 0
print("ready", flush=True)
sys.stdin.readline()
while made < 25:
    try:
        with Keeper(folder) as keeper:
            for _ in range(5):
                head = keeper.head()
                text = keeper.text(head.number) + f"# {name} {made}\\n"
                keeper.change(text, head.digest, name, f"adds {made}")
                made += 1
    except (ConflictError, BusyError):
        pass
"""


def test_of_two_programs_neither_loses_a_change(folder: Path) -> None:
    command = [sys.executable, "-c", RACER, str(folder)]
    racers = [
        subprocess.Popen([*command, name], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        for name in "ab"
    ]
    for racer in racers:
        assert racer.stdout.readline() == b"ready\n"
    for racer in racers:
        racer.communicate(b"go\n")
        assert racer.returncode == 0
    lines = in_file(folder).splitlines()
    assert sorted(lines[1:]) == sorted(f"# {name} {n}" for name in "ab" for n in range(25))
    with Keeper(folder) as keeper:
        found = keeper.revisions(most=100)
        assert [each.kind for each in found] == ["edit"] * 50 + ["start"]
        assert {each.state for each in found} == {"done"}
        for each in found:
            assert keeper.text(each.number).splitlines() == lines[: each.number]
