"""Saving: the old file or the new one, whole, and never somebody else's work lost."""

from __future__ import annotations

import errno
import hashlib
import io
import os
import random
import signal
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from wattwright.build.save import save, sweep
from wattwright.errors import EditError
from wattwright.system import BusyError, configure_console, lock, sync_directory

# Each version is long enough to need many blocks, and names its own length, so that a mixture or
# a part of two versions cannot pass for one.
WRITER = """
import hashlib, pathlib, sys
from wattwright.build.save import save, sweep
folder = pathlib.Path(sys.argv[1])
sweep(folder)
digest = hashlib.sha256((folder / "build.toml").read_bytes()).hexdigest()
print("ready", flush=True)
number = 0
while True:
    number += 1
    digest = save(folder, f"n = {number}\\n" * (number % 400 + 2000), digest)
"""

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals and modes")


def digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "build.toml").write_bytes(b"a = 1\n")
    return tmp_path


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def test_a_save_writes_the_bytes_and_leaves_nothing_else(folder: Path) -> None:
    new = "a = 2\r\n# ²\n"
    assert save(folder, new, digest("a = 1\n")) == digest(new)
    assert (folder / "build.toml").read_bytes() == new.encode()
    assert names(folder) == ["build.toml"]
    assert save(folder, "a = 3\n", digest(new)) == digest("a = 3\n")


def test_a_file_changed_meanwhile_is_not_overwritten(folder: Path) -> None:
    with pytest.raises(EditError, match="changed by someone else"):
        save(folder, "a = 2\n", digest("a = 0\n"))
    assert (folder / "build.toml").read_bytes() == b"a = 1\n"
    assert names(folder) == ["build.toml"]


@posix_only
def test_the_mode_is_kept(folder: Path) -> None:
    for mode in (0o640, 0o600, 0o664):
        (folder / "build.toml").chmod(mode)
        save(folder, "a = 1\n", digest("a = 1\n"))
        assert stat.S_IMODE((folder / "build.toml").stat().st_mode) == mode


@posix_only
def test_a_link_is_written_through(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    other = tmp_path_factory.mktemp("linked")
    (other / "build.toml").symlink_to(folder / "build.toml")
    save(other, "a = 2\n", digest("a = 1\n"))
    assert (other / "build.toml").is_symlink()
    assert (folder / "build.toml").read_bytes() == b"a = 2\n"
    assert names(other) == names(folder) == ["build.toml"]


def failing_fsync(number: int) -> object:
    def fail(_handle: int) -> None:
        raise OSError(number, os.strerror(number))

    return fail


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "read-only"),
        (errno.EACCES, "may not be written"),
        (errno.EIO, "not saved"),
    ],
)
def test_trouble_with_the_disk_is_told_plainly(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    monkeypatch.setattr(os, "fsync", failing_fsync(number))
    with pytest.raises(EditError, match=words) as caught:
        save(folder, "a = 2\n", digest("a = 1\n"))
    assert "build.toml" in str(caught.value)
    assert (folder / "build.toml").read_bytes() == b"a = 1\n"
    assert names(folder) == ["build.toml"]


def test_a_disk_that_gives_back_other_bytes_is_found(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = Path.read_bytes

    def forget(path: Path) -> bytes:
        return read(path)[:-1] if path.name.endswith(".tmp") else read(path)

    monkeypatch.setattr(Path, "read_bytes", forget)
    with pytest.raises(EditError, match="other bytes"):
        save(folder, "a = 2\n", digest("a = 1\n"))
    assert read(folder / "build.toml") == b"a = 1\n"
    assert names(folder) == ["build.toml"]


def test_a_missing_file_is_told_plainly(tmp_path: Path) -> None:
    with pytest.raises(EditError, match="not there"):
        save(tmp_path, "a = 2\n", digest("a = 1\n"))
    assert names(tmp_path) == []


@posix_only
def test_a_folder_that_may_not_be_written(folder: Path) -> None:
    if os.geteuid() == 0:
        pytest.skip("the superuser may write everywhere")
    folder.chmod(0o500)
    try:
        with pytest.raises(EditError, match="may not be written"):
            save(folder, "a = 2\n", digest("a = 1\n"))
        assert sweep(folder) == []
    finally:
        folder.chmod(0o700)


# ----------------------------------------------------------------------------------- many writers


def test_a_held_lock_is_refused_after_a_short_wait(folder: Path) -> None:
    path = folder / ".build.toml.lock"
    with lock(path):
        begin = time.monotonic()
        with pytest.raises(BusyError, match="another program"), lock(path, wait=0.1):
            pass
        assert 0.1 <= time.monotonic() - begin < 1
    with lock(path, wait=0):
        pass


def test_a_lock_is_free_again_after_an_error(folder: Path) -> None:
    path = folder / ".build.toml.lock"
    with pytest.raises(KeyError), lock(path):
        raise KeyError
    with lock(path, wait=0):
        pass


@posix_only
def test_a_lock_file_deleted_by_its_last_holder_is_not_taken(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fcntl = pytest.importorskip("fcntl")
    path, take = folder / "x.lock", fcntl.flock

    def late(handle: int, how: int) -> None:
        monkeypatch.setattr(fcntl, "flock", take)
        path.unlink()
        take(handle, how)

    monkeypatch.setattr(fcntl, "flock", late)
    with lock(path):
        assert path.exists()


def test_only_one_at_a_time_holds_a_lock(folder: Path) -> None:
    holders, most = [0], [0]

    def work() -> None:
        for _ in range(100):
            with lock(folder / "x.lock", wait=60):
                holders[0] += 1
                most[0] = max(most[0], holders[0])
                time.sleep(0)
                holders[0] -= 1

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1]


def test_of_two_writers_one_gets_a_plain_refusal(folder: Path) -> None:
    told: list[str] = []
    start = threading.Barrier(2)

    def write(number: int) -> None:
        start.wait()
        try:
            save(folder, f"a = {number}\n", digest("a = 1\n"))
        except EditError as error:
            told.append(str(error))
        else:
            told.append(f"saved {number}")

    threads = [threading.Thread(target=write, args=(number,)) for number in (2, 3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    saved, refused = sorted(told, key=lambda words: not words.startswith("saved"))
    assert "changed by someone else" in refused
    number = saved.removeprefix("saved ")
    assert (folder / "build.toml").read_text() == f"a = {number}\n"
    assert names(folder) == ["build.toml"]


# ---------------------------------------------------------------------------------- killed writers


def test_sweep_takes_only_what_a_dead_writer_left(folder: Path) -> None:
    left = folder / ".build.toml.0123456789abcdef.tmp"
    left.write_bytes(b"half")
    (folder / "notes.tmp").write_bytes(b"mine")
    with lock(folder / ".build.toml.lock"):
        assert sweep(folder) == []
    assert left.exists()
    assert sweep(folder) == [left]
    assert names(folder) == ["build.toml", "notes.tmp"]
    assert sweep(folder / "missing") == []


def kill_many(folder: Path, kills: int) -> None:
    dice, seen = random.Random(7), set()
    (folder / "build.toml").write_text("n = 0\n" * 2000)
    for _ in range(kills):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER, str(folder)], stdout=subprocess.PIPE
        ) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(dice.uniform(0, 0.06))
            writer.send_signal(signal.SIGKILL)
        lines = (folder / "build.toml").read_text().splitlines(keepends=True)
        number = int(lines[0].removeprefix("n = "))
        assert lines == [f"n = {number}\n"] * (number % 400 + 2000)
        seen.add(number)
    assert len(seen) > 3
    sweep(folder)
    assert names(folder) == ["build.toml"]


@posix_only
def test_a_killed_writer_leaves_one_whole_version(folder: Path) -> None:
    kill_many(folder, 20)


@pytest.mark.soak
@posix_only
def test_many_killed_writers_leave_one_whole_version(folder: Path) -> None:
    kill_many(folder, 300)


# ------------------------------------------------------------------------------------- the system


def test_a_console_that_cannot_show_a_sign_shows_a_question_mark(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    narrow = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    wide = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    monkeypatch.setattr(sys, "stdout", narrow)
    monkeypatch.setattr(sys, "stderr", wide)
    configure_console()
    narrow.write("5 Ω ± 1")
    narrow.flush()
    assert narrow.buffer.getvalue() == b"5 ? ? 1"
    assert wide.errors == "strict"


@posix_only
def test_a_folder_that_cannot_be_synced_is_no_trouble(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", failing_fsync(errno.EINVAL))
    sync_directory(tmp_path)
    monkeypatch.setattr(os, "fsync", failing_fsync(errno.EIO))
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        sync_directory(tmp_path)
