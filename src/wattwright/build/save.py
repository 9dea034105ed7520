"""Saving a build file so that a crash at any moment leaves the old file or the new one, whole."""

from __future__ import annotations

import errno
import hashlib
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from wattwright.errors import ConflictError, EditError, Problem
from wattwright.system import BusyError, lock, replace_whole

FILE = "build.toml"

_REASONS = {
    errno.ENOSPC: ("the disk is full", "Free some space and save again."),
    errno.EDQUOT: ("the disk is full", "Free some space and save again."),
    errno.EROFS: ("this disk is read-only", "Copy the folder to a disk that can be written."),
    errno.EACCES: ("this folder may not be written", "Change its permissions and save again."),
    errno.EPERM: ("this folder may not be written", "Change its permissions and save again."),
    errno.ENOENT: ("the file is not there", "Look whether the folder was moved or renamed."),
}


class HeldFile:
    """A build file whose lock is held: nobody else saves it meanwhile."""

    def __init__(self, target: Path) -> None:
        self.target = target

    def content(self) -> bytes:
        """Read the file as it is now."""
        return self.target.read_bytes()

    def replace(self, new: bytes) -> None:
        """Put a new file in the place of the old one, on disk when this returns."""
        write_whole(self.target, new, like=self.target)

    def sweep(self) -> list[Path]:
        """Delete what a killed writer left behind, and return what was deleted."""
        swept = []
        for left in sorted(self.target.parent.iterdir()):
            if left.name.startswith(f".{self.target.name}.") and left.name.endswith(".tmp"):
                left.unlink()
                swept.append(left)
        return swept


@contextmanager
def hold(folder: Path) -> Iterator[HeldFile]:
    """Hold the build file of a folder; trouble with the disk is told as an EditError."""
    file = folder / FILE
    with disk_trouble_told(file):
        target = Path(os.path.realpath(file, strict=True))
        with lock(_lock_file(target)):
            yield HeldFile(target)


def save(folder: Path, new_text: str, was_digest: str) -> str:
    """Replace the build file if it still has ``was_digest``, and return the new digest."""
    new = new_text.encode("utf-8")
    with hold(folder) as held:
        if hashlib.sha256(held.content()).hexdigest() != was_digest:
            raise conflict(folder / FILE)
        held.replace(new)
    return hashlib.sha256(new).hexdigest()


def conflict(file: Path, by: str = "", newer: int | None = None) -> ConflictError:
    """Say that the file is another than the one that was read; ``by`` tells what is known of it."""
    return ConflictError(
        f"{file}: the file was changed by someone else since it was read{by and f' ({by})'}; "
        "nothing is saved and nothing is lost. Read it again and repeat the change",
        newer,
    )


def sweep(folder: Path) -> list[Path]:
    """Delete what a killed writer left behind beside a build file, if nobody saves just now."""
    target = Path(os.path.realpath(folder / FILE))
    # A lock that is held, or a folder that cannot be written, only means: sweep another time.
    with suppress(BusyError, OSError), lock(_lock_file(target), wait=0):
        return HeldFile(target).sweep()
    return []


@contextmanager
def disk_trouble_told(file: Path) -> Iterator[None]:
    """Turn what the system says of the disk into an EditError with a way out."""
    try:
        yield
    except OSError as error:
        what, do = _REASONS.get(
            error.errno or 0,
            (f"not saved: {error.strerror}", "Read the file again before the next save."),
        )
        raise EditError(str(Problem(what, file=str(file), do=do))) from error


def write_whole(target: Path, new: bytes, *, like: Path) -> None:
    """Write a file so that it is either there whole or as before, with the mode of ``like``."""
    replace_whole(target, new, stat.S_IMODE(like.stat().st_mode))


def _lock_file(target: Path) -> Path:
    return target.with_name(f".{target.name}.lock")
