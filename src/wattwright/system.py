"""What differs between operating systems: locks, folders on disk, and the console."""

from __future__ import annotations

import errno
import io
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from wattwright.errors import WattwrightError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_SHOWN = "±Ω²·"
_NOBODY = "someone"


class BusyError(WattwrightError):
    """Another program holds the lock."""


@contextmanager
def lock(path: Path, wait: float = 2.0) -> Iterator[None]:
    """Hold the lock file ``path``; raise BusyError if it is not free within ``wait`` seconds."""
    give_up = time.monotonic() + wait
    while (handle := _try_lock(path)) is None:
        if time.monotonic() >= give_up:
            raise BusyError(
                f"{path.parent}: another program is saving here just now; try again in a moment"
            )
        time.sleep(0.02)
    try:
        yield
    finally:
        if sys.platform != "win32":
            # Only the holder deletes the file, and _try_lock refuses a deleted one, so two
            # writers can never hold two files of the same name.
            path.unlink(missing_ok=True)
        os.close(handle)


def _try_lock(path: Path) -> int | None:
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), os.stat(path)):
            return handle
    except (BlockingIOError, PermissionError, FileNotFoundError):
        pass
    except BaseException:
        os.close(handle)
        raise
    os.close(handle)
    return None


def sync_directory(path: Path) -> None:
    """Bring a rename in the folder to disk, where the system knows how to."""
    if sys.platform != "win32":
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        except OSError as error:
            # Some network file systems do not sync folders; the file itself is on disk by then.
            if error.errno not in (errno.EINVAL, errno.ENOTSUP):
                raise
        finally:
            os.close(handle)


def login_name() -> str:
    """Name of the person at this computer, or a plain word where the system knows none."""
    import getpass

    try:
        return getpass.getuser().strip() or _NOBODY
    except (ImportError, KeyError, OSError):
        return _NOBODY


def configure_console() -> None:
    """Show a question mark instead of failing where the console cannot show a sign."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            try:
                _SHOWN.encode(stream.encoding)
            except UnicodeEncodeError:
                stream.reconfigure(errors="replace")
