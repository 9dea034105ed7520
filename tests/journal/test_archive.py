"""Archives of builds: the same build out of them, or a refusal, and never half of one.

Beside our own reading stand the standard library's zip reader and its checks of CRCs, its digests,
and its logical dump of an SQLite database.
"""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import threading
import time
import zipfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import SpooledTemporaryFile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.build.save import hold
from wattwright.errors import BuildError, JournalError, UsageError, WattwrightError
from wattwright.journal import archive, belonging, incoming, rows
from wattwright.journal.archive import backup, compare, pack, unpack
from wattwright.journal.keeper import Keeper
from wattwright.system import BusyError

EXAMPLES = Path(__file__).parents[2] / "examples"
KEPT = Path(__file__).parents[1] / "journals" / "format-1"
TOML = b'format = 1\n[build]\nname = "Yard cart"\n'

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="POSIX links, pipes and signals")


def with_journal(folder: Path) -> Path:
    """Put a journal of everything that SQLite can hold beside the build."""
    with closing(sqlite3.connect(folder / "journal.sqlite")) as journal:
        journal.execute("PRAGMA journal_mode = WAL")
        journal.execute("PRAGMA user_version = 7")
        journal.execute("CREATE TABLE revision (number INTEGER PRIMARY KEY, text TEXT, at)")
        journal.execute("CREATE TABLE photo (name TEXT PRIMARY KEY, data BLOB) WITHOUT ROWID")
        journal.execute("CREATE TABLE other (number INTEGER)")
        journal.execute("CREATE INDEX by_at ON revision (at)")
        values = [("a = 1\n", 1), ("a\0b", 1.0), (None, "1"), ("²", b"1"), ("", -(2**63))]
        journal.executemany("INSERT INTO revision (text, at) VALUES (?, ?)", values)
        journal.execute("INSERT INTO photo VALUES ('front', ?)", (bytes(range(256)) * 40,))
        journal.commit()
    return folder


@pytest.fixture
def cart(tmp_path: Path) -> Path:
    folder = tmp_path / "cart"
    (folder / "curves").mkdir(parents=True)
    (folder / "build.toml").write_bytes(TOML)
    (folder / "curves" / "motor.csv").write_bytes(b"rpm,N m\r\n0,\xff\n")
    (folder / "empty.txt").write_bytes(b"")
    return with_journal(folder)


def packed(folder: Path, journal: bool = True) -> bytes:
    out = io.BytesIO()
    pack(folder, out, with_journal=journal)
    return out.getvalue()


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder but the journal and what SQLite keeps beside it."""
    files = (path for path in folder.rglob("*") if path.is_file())
    read = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
    return {name: raw for name, raw in read.items() if not name.startswith("journal.sqlite")}


def dump(folder: Path) -> list[str]:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as journal:
        return list(journal.iterdump())


# -------------------------------------------------------------------------------- there and back


@pytest.mark.parametrize("journal", [True, False])
@pytest.mark.parametrize("name", ["orchard-pickup", "island-runabout", "bare-start"])
def test_an_example_comes_back_to_the_last_byte(tmp_path: Path, name: str, journal: bool) -> None:
    source = with_journal(Path(shutil.copytree(EXAMPLES / name, tmp_path / name)))
    raw = packed(source, journal)
    made = unpack(io.BytesIO(raw), tmp_path / "back")
    assert made.folder == name
    assert contents(tmp_path / "back") == contents(source)
    assert (tmp_path / "back" / "journal.sqlite").exists() == journal
    if journal:
        assert dump(tmp_path / "back") == dump(source)
    assert compare(source, io.BytesIO(raw)) == []


def test_the_zip_is_one_to_any_reader_and_its_manifest_is_right(cart: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(packed(cart))) as zipped:
        assert zipped.testzip() is None
        names = zipped.namelist()
        said = json.loads(zipped.read("manifest.json"))
        assert names == sorted(names)
        assert set(names) - {"manifest.json"} == {f"build/{name}" for name in said["files"]}
        for name, entry in said["files"].items():
            raw = zipped.read(f"build/{name}")
            assert entry == {"sha256": hashlib.sha256(raw).hexdigest(), "size": len(raw)}
        assert {info.date_time for info in zipped.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert set(said["files"]) == {"build.toml", "curves/motor.csv", "empty.txt", "journal.sqlite"}
    assert (said["format"], said["folder"]) == (1, "cart")


def test_a_stream_that_is_kept_in_a_file_does_as_well(cart: Path, tmp_path: Path) -> None:
    with SpooledTemporaryFile(max_size=10) as stream:
        pack(cart, stream, with_journal=False)
        unpack(stream, tmp_path / "back")
    assert contents(tmp_path / "back") == contents(cart)


def test_equal_folders_make_equal_bytes_whenever_and_in_whatever_order(
    cart: Path, tmp_path: Path
) -> None:
    other = tmp_path / "elsewhere" / "cart"
    (other / "curves").mkdir(parents=True)
    for name in sorted(contents(cart), reverse=True):
        (other / name).write_bytes((cart / name).read_bytes())
        os.utime(other / name, (1, 1))
    assert packed(cart, journal=False) == packed(other, journal=False)
    assert packed(cart) == packed(cart)
    (other / "empty.txt").write_bytes(b"\n")
    assert packed(cart, journal=False) != packed(other, journal=False)


def test_a_kept_journal_comes_back_and_is_opened(tmp_path: Path) -> None:
    source = Path(shutil.copytree(KEPT, tmp_path / "kept"))
    unpack(io.BytesIO(packed(source)), tmp_path / "back")
    assert contents(tmp_path / "back") == contents(source)
    with Keeper(source) as one, Keeper(tmp_path / "back") as other:
        assert other.head() == one.head()
        assert other.head().number > 0


# ---------------------------------------------------------------------------------- what belongs


def test_what_is_hidden_or_passing_is_left_out_and_named(cart: Path) -> None:
    for name in (".git/config", ".swp", "notes~", "x.tmp", "y.LOCK", "~$list.csv", "sub/.hidden"):
        (cart / name).parent.mkdir(exist_ok=True)
        (cart / name).write_bytes(b"x")
    (cart / ".build.toml.0123456789abcdef.tmp").write_bytes(b"half")
    found = belonging.belonging(cart)
    assert set(found.files) == {"build.toml", "curves/motor.csv", "empty.txt", "journal.sqlite"}
    assert set(found.left_out) == {
        *(".git", ".swp", "notes~", "x.tmp", "y.LOCK", "~$list.csv", "sub/.hidden")
    }


@posix_only
def test_links_are_followed_within_the_folder_and_no_further(cart: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_bytes(b"mine")
    (cart / "out.txt").symlink_to(tmp_path / "secret.txt")
    (cart / "up").symlink_to(tmp_path)
    (cart / "round").symlink_to(cart)
    (cart / "gone.csv").symlink_to(cart / "nothing")
    (cart / "same.csv").symlink_to("curves/motor.csv")
    (cart / "also").symlink_to("curves")
    os.mkfifo(cart / "pipe")
    found = belonging.belonging(cart)
    assert set(found.left_out) == {"out.txt", "up", "round", "gone.csv", "pipe"}
    assert {"same.csv", "also/motor.csv"} <= set(found.files)
    raw = packed(cart)
    assert b"mine" not in raw
    unpack(io.BytesIO(raw), tmp_path / "back")
    assert not [path for path in (tmp_path / "back").rglob("*") if path.is_symlink()]
    assert (tmp_path / "back" / "same.csv").read_bytes() == b"rpm,N m\r\n0,\xff\n"


@posix_only
@pytest.mark.parametrize("name", ["build.toml", "journal.sqlite"])
def test_a_build_file_or_journal_that_lies_elsewhere_is_not_left_out_in_silence(
    cart: Path, tmp_path: Path, name: str
) -> None:
    (cart / name).rename(tmp_path / name)
    (cart / name).symlink_to(tmp_path / name)
    with pytest.raises(BuildError, match=r"out of"):
        packed(cart)


@posix_only
@pytest.mark.parametrize(
    "names",
    [["a\\b"], ["c:d"], ["con.csv"], ["dot."], ["A.csv", "a.csv"], ["\u00e9", "e\u0301"], ["\x1b"]],
    ids=str,
)
def test_names_that_could_not_be_put_back_everywhere_are_refused(
    cart: Path, names: list[str]
) -> None:
    for name in names:
        (cart / name).write_bytes(b"x")
    if len({path.name for path in cart.iterdir()} & set(names)) < len(names):
        pytest.skip("this system takes the names for one")
    with pytest.raises(BuildError, match="name"):
        packed(cart)


def test_too_many_or_too_large_files_are_refused(
    cart: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(belonging, "LARGEST_FILE", len(TOML) - 1)
    with pytest.raises(BuildError, match=r"build\.toml: the file is too large"):
        packed(cart)
    monkeypatch.undo()
    monkeypatch.setattr(belonging, "MOST_FILES", 3)
    with pytest.raises(BuildError, match="too many files"):
        packed(cart)
    monkeypatch.undo()
    monkeypatch.setattr(belonging, "LARGEST_IN_ALL", 100)
    with pytest.raises(BuildError, match="files are too large"):
        packed(cart)


@pytest.mark.parametrize("name", ["nowhere", "curves"])
def test_a_folder_without_a_build_is_refused(cart: Path, name: str) -> None:
    with pytest.raises(BuildError, match=r"no build file"):
        packed(cart / name)
    assert not (cart / "nowhere").exists()


# ------------------------------------------------------------------------- while others are writing


@contextmanager
def writing(write: object) -> Iterator[list[int]]:
    """Let a thread write until the block ends; gives the numbers that it has written."""
    written: list[int] = []
    end = threading.Event()

    def work() -> None:
        while not end.is_set():
            write(len(written) + 1)
            written.append(len(written) + 1)
            time.sleep(0.001)

    thread = threading.Thread(target=work)
    thread.start()
    try:
        yield written
    finally:
        end.set()
        thread.join()


def unpacked_numbers(raw: bytes, to: Path) -> tuple[int, int]:
    unpack(io.BytesIO(raw), to)
    with closing(sqlite3.connect(to / "journal.sqlite")) as journal:
        (revisions,) = journal.execute("SELECT max(number) FROM revision").fetchone()
        (others,) = journal.execute("SELECT max(number) FROM other").fetchone()
    return revisions, others


def insert(folder: Path, number: int) -> None:
    """One transaction over two tables, of which no copy may have half."""
    with closing(sqlite3.connect(folder / "journal.sqlite", timeout=30)) as journal:
        text = "x" * 20_000
        journal.execute("INSERT INTO revision VALUES (?, ?, 0)", (100 + number, text))
        journal.execute("INSERT INTO other VALUES (?)", (100 + number,))
        journal.commit()


def test_the_journal_is_of_one_moment_while_another_commits(cart: Path, tmp_path: Path) -> None:
    with writing(lambda number: insert(cart, number)) as written:
        for round_ in range(8):
            while len(written) <= 2 * round_:
                time.sleep(0.001)
            before = len(written)
            raw = packed(cart)
            after = len(written) + 1
            revisions, others = unpacked_numbers(raw, tmp_path / f"back{round_}")
            assert revisions == others
            assert before <= revisions - 100 <= after
    assert len(written) > 8


def test_file_and_journal_belong_together_while_another_saves(cart: Path, tmp_path: Path) -> None:
    def save_both(number: int) -> None:
        with hold(cart) as held:
            held.replace(f"# {number}\n".encode() * 5000)
            insert(cart, number)

    with writing(save_both) as written:
        while not written:
            time.sleep(0.001)
        for round_ in range(8):
            raw = packed(cart)
            revisions, _ = unpacked_numbers(raw, tmp_path / f"back{round_}")
            (line,) = set((tmp_path / f"back{round_}" / "build.toml").read_text().splitlines())
            assert line == f"# {revisions - 100}"


def test_a_backup_is_good_though_the_journal_has_moved_on(cart: Path, tmp_path: Path) -> None:
    with writing(lambda number: insert(cart, number)):
        for _ in range(3):
            backup(cart, tmp_path / "keep.zip", replace=True)
    assert compare(cart, tmp_path / "keep.zip") != []


def test_a_build_that_is_being_saved_is_not_waited_for_for_ever(cart: Path) -> None:
    with hold(cart), pytest.raises(BusyError):
        packed(cart)


def test_packing_changes_nothing_in_the_folder(cart: Path) -> None:
    before, journal = contents(cart), (cart / "journal.sqlite").read_bytes()
    packed(cart)
    assert contents(cart) == before
    assert (cart / "journal.sqlite").read_bytes() == journal


def test_a_file_that_changes_while_it_is_copied_is_refused(
    cart: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copyfile = shutil.copyfile

    def late(source: Path, to: Path) -> None:
        copyfile(source, to)
        if source.name == "motor.csv":
            source.write_bytes(b"other")

    monkeypatch.setattr(shutil, "copyfile", late)
    with pytest.raises(BuildError, match=r"curves/motor\.csv: changed while it was copied"):
        packed(cart)


@pytest.mark.parametrize("at", [0, 4096 + 8])
def test_a_damaged_journal_is_told_and_the_rest_can_be_packed(cart: Path, at: int) -> None:
    raw = bytearray((cart / "journal.sqlite").read_bytes())
    raw[at : at + 50] = b"\xa5" * 50
    (cart / "journal.sqlite").write_bytes(raw)
    with pytest.raises(JournalError, match="--without-journal"):
        packed(cart)
    assert packed(cart, journal=False)


# --------------------------------------------------------------------------------- where it goes to


def test_a_folder_with_anything_in_it_is_refused(cart: Path, tmp_path: Path) -> None:
    raw = packed(cart)
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "notes.txt").write_bytes(b"mine")
    for taken in (mine, mine / "notes.txt"):
        with pytest.raises(UsageError, match="not empty"):
            unpack(io.BytesIO(raw), taken)
    assert contents(mine) == {"notes.txt": b"mine"}


def test_an_empty_folder_is_used_and_parents_are_made(cart: Path, tmp_path: Path) -> None:
    raw = packed(cart)
    (tmp_path / "empty").mkdir()
    for name in ("empty", "deep/down/back"):
        unpack(io.BytesIO(raw), tmp_path / name)
        assert contents(tmp_path / name) == contents(cart)
    assert not list(tmp_path.rglob(".*"))


def test_a_folder_that_is_filled_meanwhile_is_not_replaced(
    cart: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = packed(cart)

    def meanwhile(_file: Path) -> str:
        (tmp_path / "back").mkdir()
        (tmp_path / "back" / "mine.txt").write_bytes(b"mine")
        return ""

    monkeypatch.setattr(rows, "damage", meanwhile)
    with pytest.raises(UsageError, match="nothing was changed"):
        unpack(io.BytesIO(raw), tmp_path / "back")
    assert contents(tmp_path / "back") == {"mine.txt": b"mine"}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["back", "cart"]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
def test_a_full_disk_is_told_plainly_and_leaves_nothing(
    cart: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    raw = packed(cart)

    def full(_handle: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(UsageError, match=os.strerror(number)):
        unpack(io.BytesIO(raw), tmp_path / "back")
    with pytest.raises(UsageError, match=os.strerror(number)):
        backup(cart, tmp_path / "keep.zip")
    assert [path.name for path in tmp_path.iterdir()] == ["cart"]


def test_a_disk_that_gives_back_other_bytes_is_found(
    cart: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = packed(cart)
    monkeypatch.setattr(hashlib, "file_digest", lambda _file, _name: hashlib.sha256(b"other"))
    with pytest.raises(BuildError, match="gave back other bytes"):
        unpack(io.BytesIO(raw), tmp_path / "back")
    assert not (tmp_path / "back").exists()


# Restores, and is killed at its n-th point: before and after every call by which something gets to
# disk or under its name.
DIER = """
import os, pathlib, shutil, signal, sys
from wattwright.journal import incoming
from wattwright.journal.archive import unpack
fatal, passed = int(sys.argv[3]), 0

def around(owner, name):
    inner = getattr(owner, name)
    def call(*args, **options):
        for moment in range(2):
            global passed
            passed += 1
            if passed == fatal:
                os.kill(os.getpid(), signal.SIGKILL)
            if moment == 0:
                result = inner(*args, **options)
        return result
    setattr(owner, name, call)

around(os, "fsync")
for name in ("replace", "rmdir", "mkdir"):
    around(pathlib.Path, name)
around(incoming.Incoming, "take_out")
unpack(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]))
"""


@posix_only
def test_a_killed_restore_leaves_no_folder_of_the_name_or_the_whole(
    cart: Path, tmp_path: Path
) -> None:
    file, room = tmp_path / "keep.zip", tmp_path / "room"
    room.mkdir()
    file.write_bytes(packed(cart))
    whole, none, fatal = 0, 0, 0
    while True:
        fatal += 1
        command = [sys.executable, "-c", DIER, str(file), str(room / "back"), str(fatal)]
        done = subprocess.run(command, check=False)
        if done.returncode == 0:
            break
        assert done.returncode < 0
        if (room / "back").exists():
            whole += 1
            assert compare(room / "back", file) == []
            shutil.rmtree(room / "back")
        else:
            none += 1
    assert none > 10
    assert whole > 0
    # What the killed ones left was swept away by the last, which was not killed.
    assert [path.name for path in room.iterdir()] == ["back"]
    assert compare(room / "back", file) == []


# ------------------------------------------------------------------------------------ hostile zips


def crafted(
    files: dict[str, bytes], *, stated: dict[str, object] | None = None, plain: bool = False
) -> bytes:
    """A zip of files by their names in the build folder, with a manifest that fits or as stated."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, raw in files.items():
            zipped.writestr(name if plain else f"build/{name}", raw)
        if not plain:
            entries = {
                name: {"sha256": hashlib.sha256(raw).hexdigest(), "size": len(raw)}
                for name, raw in files.items()
            }
            said = {"format": 1, "folder": "cart", "files": entries, **(stated or {})}
            zipped.writestr("manifest.json", json.dumps(said))
    return out.getvalue()


def refused(raw: bytes, room: Path, words: str, *, plain: bool = False) -> None:
    before = sorted(room.rglob("*"))
    with pytest.raises(BuildError, match=words) as caught:
        unpack(io.BytesIO(raw), room / "back", plain=plain)
    assert all(problem.file == "the archive" for problem in caught.value.problems)
    assert sorted(room.rglob("*")) == before


def test_what_is_crafted_here_is_taken_when_nothing_is_wrong_with_it(tmp_path: Path) -> None:
    files = {"build.toml": TOML, "a/b.csv": b"x"}
    for plain in (False, True):
        raw = crafted(files, plain=plain)
        unpack(io.BytesIO(raw), tmp_path / f"back{plain}", plain=plain)
        assert contents(tmp_path / f"back{plain}") == files


UNSAFE = [
    *("../x", "../../x", "a/../../x", "a/./b", "a//b", "/x", "//host/x", "C:/x", "C:x", "a\\b"),
    *("..\\x", "a:b", "con", "NUL.txt", "a/COM1", "lpt¹.csv", "CONIN$", "a.", "a ", "...", "a\x1b"),
    *("a\nb", "a\u202eb", "a/"),
]


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("name", [name for name in UNSAFE if name != "a/"], ids=ascii)
def test_no_name_leads_out_of_the_folder_or_to_a_device(
    tmp_path: Path, name: str, plain: bool
) -> None:
    room = tmp_path / "deep" / "room"
    room.mkdir(parents=True)
    refused(crafted({"build.toml": TOML, name: b"x"}, plain=plain), room, "name", plain=plain)
    assert [path.name for path in tmp_path.rglob("*")] == ["deep", "room"]


def test_a_name_with_a_nul_is_not_cut_off_there(tmp_path: Path) -> None:
    raw = crafted({"build.toml": TOML, "a.csvX.exe": b"x"}, plain=True)
    raw = raw.replace(b"a.csvX.exe", b"a.csv\0.exe")
    refused(raw, tmp_path, "name", plain=True)


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR, stat.S_IFDIR])
@pytest.mark.parametrize("plain", [False, True])
def test_no_entry_is_a_link_or_a_device(tmp_path: Path, kind: int, plain: bool) -> None:
    out = io.BytesIO(crafted({"build.toml": TOML}, plain=plain))
    with zipfile.ZipFile(out, "a") as zipped:
        info = zipfile.ZipInfo("build/x" if not plain else "x")
        info.external_attr = (kind | 0o777) << 16
        zipped.writestr(info, "/etc/passwd")
    refused(out.getvalue(), tmp_path, "link or a device", plain=plain)


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize(
    ("one", "other"),
    [("a.csv", "a.csv"), ("a.csv", "A.CSV"), ("é.csv", "e\u0301.csv"), ("a", "a/b"), ("A", "a/b")],
    ids=ascii,
)
def test_no_two_names_are_one(tmp_path: Path, one: str, other: str, plain: bool) -> None:
    out = io.BytesIO(crafted({"build.toml": TOML, one: b"x"}, plain=plain))
    with zipfile.ZipFile(out, "a") as zipped:
        zipped.writestr(other if plain else f"build/{other}", b"y")
    refused(out.getvalue(), tmp_path, "another file|a file and a folder", plain=plain)


def test_tens_of_thousands_of_entries_are_refused(tmp_path: Path) -> None:
    raw = crafted({"build.toml": TOML, **{f"{number}": b"" for number in range(65_000)}})
    for plain in (False, True):
        refused(raw, tmp_path, "too many files", plain=plain)


@pytest.mark.parametrize("plain", [False, True])
def test_more_files_than_a_build_may_have_are_refused(tmp_path: Path, plain: bool) -> None:
    files = {"build.toml": TOML, **{f"{number}": b"" for number in range(belonging.MOST_FILES)}}
    refused(crafted(files, plain=plain), tmp_path, "too many files", plain=plain)


def test_a_list_of_files_that_would_fill_memory_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = {"build.toml": TOML, **{f"{number}": b"" for number in range(100)}}
    monkeypatch.setattr(incoming, "LONGEST_LIST", 4000)
    refused(crafted(files), tmp_path, "list of files is too long")


def headers(raw: bytes, name: bytes) -> tuple[int, int]:
    """Where the local and the central header of an entry begin (APPNOTE, 4.3.7 and 4.3.12)."""
    local = raw.index(b"PK\x03\x04", raw.index(name) - 30)
    return local, raw.index(b"PK\x01\x02", raw.rindex(name) - 46)


def patched(raw: bytes, name: bytes, local_at: int, central_at: int, value: bytes) -> bytes:
    changed = bytearray(raw)
    local, central = headers(raw, name)
    changed[local + local_at : local + local_at + len(value)] = value
    changed[central + central_at : central + central_at + len(value)] = value
    return bytes(changed)


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("flags", [0x1, 0x41, 0x2000])
def test_an_encrypted_archive_is_refused(tmp_path: Path, flags: int, plain: bool) -> None:
    raw = crafted({"build.toml": TOML}, plain=plain)
    raw = patched(raw, b"build.toml", 6, 8, flags.to_bytes(2, "little"))
    refused(raw, tmp_path, "encrypted|damaged", plain=plain)


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_other_ways_of_packing_are_refused(tmp_path: Path, method: int) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as zipped:
        zipped.writestr("build.toml", TOML)
    refused(out.getvalue(), tmp_path, "packed in a way", plain=True)


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("stated", [0, 10, 1000, 0xFFFFFFF0])
def test_a_bomb_that_lies_about_its_size_is_refused(
    tmp_path: Path, stated: int, plain: bool
) -> None:
    bomb = bytes(belonging.LARGEST_FILE + 1)
    raw = crafted({"build.toml": TOML, "bomb.csv": bomb}, plain=plain)
    assert len(raw) < 200_000
    refused(raw, tmp_path, "larger than", plain=plain)
    raw = patched(raw, b"bomb.csv", 22, 24, stated.to_bytes(4, "little"))
    refused(raw, tmp_path, "larger than|holds too much|damaged", plain=plain)


def test_more_than_is_stated_is_refused(tmp_path: Path) -> None:
    raw = crafted({"build.toml": TOML, "a.csv": b"x" * 100}, plain=True)
    refused(patched(raw, b"a.csv", 22, 24, b"\xe8\3\0\0"), tmp_path, "size|damaged", plain=True)


def test_what_inflates_is_counted_over_all_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = {"build.toml": TOML, **{f"{number}.csv": bytes(1000) for number in range(10)}}
    monkeypatch.setattr(incoming, "LARGEST_IN_ALL", 5000)
    refused(crafted(files), tmp_path, "holds too much")
    # And by what comes, not only by what is stated.
    monkeypatch.setattr(incoming.Incoming, "_kind_problems", lambda _self, _infos: ())
    refused(crafted(files), tmp_path, "inflates to too much")


# ---------------------------------------------------------------------------------------- manifest

GOOD = {"build.toml": {"sha256": hashlib.sha256(TOML).hexdigest(), "size": len(TOML)}}


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({"format": 2}, "format 2; this release reads format 1"),
        ({"format": True}, "states no format"),
        ({"format": "1"}, "states no format"),
        ({"folder": 7}, "folder is no text"),
        ({"files": []}, "files are no table"),
        ({"more": 1}, "exactly format, folder and files"),
        ({"files": {"build.toml": {"sha256": "0" * 64, "size": len(TOML)}}}, "not what"),
        ({"files": {"build.toml": {**GOOD["build.toml"], "size": 1}}}, "not what"),
        (
            {"files": {"build.toml": {**GOOD["build.toml"], "size": True}}},
            "exactly sha256 and size",
        ),
        ({"files": {"build.toml": {"sha256": "x", "size": 1}}}, "exactly sha256 and size"),
        ({"files": {"build.toml": {**GOOD["build.toml"], "more": 1}}}, "exactly sha256 and size"),
        ({"files": {**GOOD, "a.csv": GOOD["build.toml"]}}, "not in both"),
        ({"files": {}}, "not in both"),
    ],
    ids=str,
)
def test_a_manifest_that_is_wrong_refuses_the_archive(
    tmp_path: Path, stated: dict[str, object], words: str
) -> None:
    refused(crafted({"build.toml": TOML}, stated=stated), tmp_path, words)
    # Taking plain zips as well is no way round it.
    refused(crafted({"build.toml": TOML}, stated=stated), tmp_path, words, plain=True)


@pytest.mark.parametrize(
    "said",
    [
        b"",
        b"nothing",
        b"[" * 100_000,
        b"\xff\xfe",
        b"[]",
        json.dumps({"format": 1, "folder": "", "files": {}}).encode()[:-1] + b', "files": {}}',
        b'{"format": ' + b"9" * 5000 + b"}",
        b" " * (1024 * 1024 + 1),
    ],
    ids=["empty", "text", "deep", "no text", "list", "twice", "long number", "long"],
)
def test_a_manifest_that_cannot_be_read_refuses_the_archive(tmp_path: Path, said: bytes) -> None:
    raw = crafted({"build/build.toml": TOML, "manifest.json": said}, plain=True)
    refused(raw, tmp_path, r"manifest cannot be read|too much")


@pytest.mark.parametrize(
    "name", [".hidden", "journal.sqlite-wal", "journal.sqlite-shm", "x.tmp", "", "sub/"]
)
def test_names_that_no_build_has_are_refused_though_stated(tmp_path: Path, name: str) -> None:
    refused(crafted({"build.toml": TOML, name: b""}), tmp_path, "in no archive of a build")


def test_an_archive_without_manifest_or_build_file_is_refused(tmp_path: Path) -> None:
    refused(crafted({"build.toml": TOML}, plain=True), tmp_path, r"no manifest\.json")
    refused(crafted({"other.toml": TOML}), tmp_path, r"no build\.toml")
    refused(crafted({"other.toml": TOML}, plain=True), tmp_path, r"no build\.toml", plain=True)


@pytest.mark.parametrize("plain", [False, True])
def test_a_journal_that_is_none_refuses_the_archive(tmp_path: Path, plain: bool) -> None:
    files = {"build.toml": TOML, "journal.sqlite": b"SQLite format 3\0" + b"\xa5" * 5000}
    refused(crafted(files, plain=plain), tmp_path, "journal in it is damaged", plain=plain)


# ------------------------------------------------------------------------------------- damaged zips


def same_or_refused(raw: bytes, room: Path, meant: dict[str, bytes]) -> bool:
    """Say whether it was taken; then it is what it was."""
    try:
        unpack(io.BytesIO(raw), room / "back")
    except WattwrightError:
        taken = False
    else:
        taken = True
        found = {
            path.relative_to(room / "back").as_posix(): path.read_bytes()
            for path in (room / "back").rglob("*")
            if path.is_file()
        }
        assert found == meant
        shutil.rmtree(room / "back")
    assert list(room.iterdir()) == []
    return taken


@pytest.fixture
def room(tmp_path: Path) -> Path:
    (tmp_path / "room").mkdir()
    return tmp_path / "room"


def all_of(raw: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(raw)) as zipped:
        names = [name for name in zipped.namelist() if name != "manifest.json"]
        return {name.removeprefix("build/"): zipped.read(name) for name in names}


def test_a_flipped_bit_anywhere_is_refused_or_changes_nothing(cart: Path, room: Path) -> None:
    raw = packed(cart)
    meant, taken, tried = all_of(raw), 0, 0
    head, tail = range(0, len(raw), 100), range(max(0, len(raw) - 700), len(raw), 3)
    for at in sorted({*head, *tail}):
        for bit in (0x01, 0x80):
            changed = bytearray(raw)
            changed[at] ^= bit
            tried += 1
            taken += same_or_refused(bytes(changed), room, meant)
    # Stated times and the like may change; of the rest nothing may.
    assert 0 < taken < tried / 2


def test_an_archive_cut_off_anywhere_is_refused(cart: Path, room: Path) -> None:
    raw = packed(cart)
    for end in (*range(0, len(raw), 100), *range(len(raw) - 30, len(raw))):
        assert not same_or_refused(raw[:end], room, {})


@given(raw=st.binary(max_size=300), head=st.sampled_from([b"", b"PK\x03\x04", b"PK\x05\x06"]))
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_refused(
    raw: bytes, head: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    target = tmp_path_factory.getbasetemp() / "never"
    for plain in (False, True):
        with pytest.raises(BuildError):
            unpack(io.BytesIO(head + raw), target, plain=plain)
    assert not target.exists()


# --------------------------------------------------------------------------------------- plain zips


def zipped_as(folder: Path, top: str, **more: bytes) -> bytes:
    """A zip of a folder with entries for folders, as programs make them."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        if top:
            zipped.writestr(top, b"")
        for path in sorted(folder.rglob("*")):
            zipped.write(path, top + path.relative_to(folder).as_posix())
        for name, raw in more.items():
            zipped.writestr(name, raw)
    return out.getvalue()


@pytest.mark.parametrize("top", ["", "my cart/", "build/"])
def test_a_plain_zip_of_a_folder_is_taken_when_asked_for(
    cart: Path, tmp_path: Path, top: str
) -> None:
    passing = {"__MACOSX/my cart/._build.toml": b"x", f"{top}.DS_Store": b"x", f"{top}x.tmp": b"x"}
    raw = zipped_as(cart, top, **passing)
    made = unpack(io.BytesIO(raw), tmp_path / "back", plain=True)
    assert contents(tmp_path / "back") == contents(cart)
    assert dump(tmp_path / "back") == dump(cart)
    assert made.folder == top.removesuffix("/")
    assert made.files["build.toml"].sha256 == hashlib.sha256(TOML).hexdigest()


def test_a_plain_zip_with_a_file_called_like_the_manifest_is_plain(
    cart: Path, tmp_path: Path
) -> None:
    (cart / "manifest.json").write_bytes(b"[]")
    unpack(io.BytesIO(zipped_as(cart, "")), tmp_path / "back", plain=True)
    assert contents(tmp_path / "back") == contents(cart)
    unpack(io.BytesIO(packed(cart)), tmp_path / "again")
    assert contents(tmp_path / "again") == contents(cart)


def test_a_plain_zip_of_more_than_one_folder_is_refused(cart: Path, tmp_path: Path) -> None:
    beside = zipped_as(cart, "cart/", **{"other.txt": b"x"})
    refused(beside, tmp_path, r"other\.txt: it lies beside", plain=True)
    two = zipped_as(cart, "cart/", **{"two/build.toml": TOML})
    refused(two, tmp_path, r"no build\.toml at the top", plain=True)
    refused(zipped_as(cart, "a/b/"), tmp_path, r"no build\.toml at the top", plain=True)


def test_a_plain_zip_of_a_journal_that_was_open_is_refused(cart: Path, tmp_path: Path) -> None:
    raw = zipped_as(cart, "", **{"journal.sqlite-wal": b"x"})
    refused(raw, tmp_path, "journal was open", plain=True)


# ---------------------------------------------------------------------------------------- comparing


def test_every_difference_is_named(cart: Path, tmp_path: Path) -> None:
    (tmp_path / "keep.zip").write_bytes(packed(cart))
    (cart / "build.toml").write_bytes(TOML + b"\n")
    (cart / "new.txt").write_bytes(b"")
    (cart / "empty.txt").unlink()
    insert(cart, 1)
    assert compare(cart, tmp_path / "keep.zip") == [
        "new.txt: only in the folder",
        "empty.txt: only in the archive",
        "build.toml: other bytes",
        "table other of the journals: 1 rows differ",
        "table revision of the journals: 1 rows differ",
    ]
    for name in ("journal.sqlite", "journal.sqlite-wal", "journal.sqlite-shm"):
        (cart / name).unlink(missing_ok=True)
    assert "journal.sqlite: only in the archive" in compare(cart, tmp_path / "keep.zip")


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE revision SET at = 1.0 WHERE number = 1",
        "UPDATE revision SET at = '1' WHERE number = 1",
        "UPDATE revision SET at = x'31' WHERE number = 3",
        "UPDATE revision SET text = '' WHERE number = 3",
        "UPDATE revision SET number = 9 WHERE number = 1",
        "DELETE FROM photo",
        "INSERT INTO other VALUES (1)",
        "DROP INDEX by_at",
        "CREATE TABLE more (a)",
        "ALTER TABLE other ADD COLUMN b",
    ],
)
def test_a_changed_journal_is_seen_as_the_logical_dump_sees_it(
    cart: Path, tmp_path: Path, change: str
) -> None:
    raw = packed(cart)
    other = Path(shutil.copytree(cart, tmp_path / "other"))
    assert compare(other, io.BytesIO(raw)) == []
    with closing(sqlite3.connect(other / "journal.sqlite")) as journal:
        journal.execute(change)
        journal.commit()
    assert dump(other) != dump(cart)
    assert len(compare(other, io.BytesIO(raw))) == 1


@pytest.mark.parametrize(
    "change",
    # The logical dump cuts a text off at a nul, and says nothing of the version.
    [
        "UPDATE revision SET text = 'a' || char(0) WHERE number = 2",
        "PRAGMA user_version = 8",
    ],
)
def test_what_the_logical_dump_does_not_see_is_seen_too(cart: Path, change: str) -> None:
    raw = packed(cart)
    with closing(sqlite3.connect(cart / "journal.sqlite")) as journal:
        journal.execute(change)
        journal.commit()
    assert len(compare(cart, io.BytesIO(raw))) == 1


# ------------------------------------------------------------------------------------------ backups


def test_a_backup_is_restored_and_compared_before_it_has_its_name(
    cart: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    to = tmp_path / "keep.zip"
    seen = []
    judge = archive.compare

    def judged(folder: Path, made: Path) -> list[str]:
        seen.append((to.exists(), made != to))
        return judge(folder, made)

    monkeypatch.setattr(archive, "compare", judged)
    made = backup(cart, to)
    assert seen == [(False, True)]
    assert set(made.files) == {"build.toml", "curves/motor.csv", "empty.txt", "journal.sqlite"}
    assert unpack(to, tmp_path / "back") == made
    assert sorted(path.name for path in tmp_path.iterdir()) == ["back", "cart", "keep.zip"]


def test_a_backup_that_is_not_the_same_is_not_kept(
    cart: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    to = tmp_path / "keep.zip"
    backup(cart, to)
    good, added = to.read_bytes(), archive._added
    (cart / "curves" / "motor.csv").write_bytes(b"0,1\n")

    def wrong(zipped: object, name: str, source: io.BufferedReader, size: int) -> object:
        other = io.BytesIO(source.read().replace(b"0,1", b"0,2"))
        return added(zipped, name, other, size)

    monkeypatch.setattr(archive, "_added", wrong)
    with pytest.raises(BuildError, match=r"curves/motor\.csv: other bytes"):
        backup(cart, to, replace=True)
    assert to.read_bytes() == good
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cart", "keep.zip"]


def test_a_copy_of_the_journal_that_lacks_a_row_is_not_packed(
    cart: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = rows.copy

    def short(source: sqlite3.Connection, to: Path) -> None:
        copy(source, to)
        with closing(sqlite3.connect(to)) as journal:
            journal.execute("DELETE FROM photo")
            journal.commit()

    monkeypatch.setattr(rows, "copy", short)
    with pytest.raises(BuildError, match="table photo of the journals: 1 rows differ"):
        packed(cart)


def test_a_backup_takes_no_place_that_is_taken(cart: Path, tmp_path: Path) -> None:
    to = tmp_path / "keep.zip"
    to.write_bytes(b"mine")
    with pytest.raises(UsageError, match="--replace"):
        backup(cart, to)
    assert to.read_bytes() == b"mine"
    backup(cart, to, replace=True)
    assert compare(cart, to) == []
    (tmp_path / "folder").mkdir()
    with pytest.raises(UsageError, match="is there already"):
        backup(cart, tmp_path / "folder", replace=True)
    with pytest.raises(UsageError, match="lost with it"):
        backup(cart, cart / "curves" / "keep.zip")
    with pytest.raises(UsageError, match="there is no folder"):
        backup(cart, tmp_path / "nowhere" / "keep.zip")
