"""Saving a build file so that a crash at any moment leaves the old file or the new one, whole."""

from __future__ import annotations

import errno
import hashlib
import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path

from wattwright.errors import EditError, Problem
from wattwright.system import BusyError, lock, sync_directory

FILE = "build.toml"

_REASONS = {
    errno.ENOSPC: ("the disk is full", "Free some space and save again."),
    errno.EDQUOT: ("the disk is full", "Free some space and save again."),
    errno.EROFS: ("this disk is read-only", "Copy the folder to a disk that can be written."),
    errno.EACCES: ("this folder may not be written", "Change its permissions and save again."),
    errno.EPERM: ("this folder may not be written", "Change its permissions and save again."),
    errno.ENOENT: ("the file is not there", "Look whether the folder was moved or renamed."),
}


def save(folder: Path, new_text: str, was_digest: str) -> str:
    """Replace the build file if it still has ``was_digest``, and return the new digest."""
    file = folder / FILE
    new = new_text.encode("utf-8")
    try:
        target = Path(os.path.realpath(file, strict=True))
        with lock(_lock_file(target)):
            old = target.read_bytes()
            if hashlib.sha256(old).hexdigest() != was_digest:
                raise EditError(
                    f"{file}: the file was changed by someone else since it was read; "
                    "nothing is saved and nothing is lost. Read it again and repeat the change"
                )
            _replace(target, new)
    except OSError as error:
        what, do = _REASONS.get(
            error.errno or 0,
            (f"not saved: {error.strerror}", "Read the file again before the next save."),
        )
        raise EditError(str(Problem(what, file=str(file), do=do))) from error
    return hashlib.sha256(new).hexdigest()


def sweep(folder: Path) -> list[Path]:
    """Delete what a killed writer left behind, and return what was deleted."""
    target = Path(os.path.realpath(folder / FILE))
    swept: list[Path] = []
    # A lock that is held, or a folder that cannot be written, only means: sweep another time.
    with suppress(BusyError, OSError), lock(_lock_file(target), wait=0):
        for left in sorted(target.parent.iterdir()):
            if left.name.startswith(f".{target.name}.") and left.name.endswith(".tmp"):
                left.unlink()
                swept.append(left)
    return swept


def _lock_file(target: Path) -> Path:
    return target.with_name(f".{target.name}.lock")


def _replace(target: Path, new: bytes) -> None:
    temporary = target.with_name(f".{target.name}.{secrets.token_hex(8)}.tmp")
    try:
        handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(handle, "wb") as stream:
            stream.write(new)
            stream.flush()
            os.fsync(stream.fileno())
        if temporary.read_bytes() != new:
            raise OSError(errno.EIO, "the disk gave back other bytes than were written")
        temporary.chmod(stat.S_IMODE(target.stat().st_mode))
        temporary.replace(target)
    except BaseException:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    sync_directory(target.parent)
