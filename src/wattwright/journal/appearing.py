"""Files and folders that appear under their names whole, or not at all."""

from __future__ import annotations

import os
import re
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from wattwright.errors import UsageError
from wattwright.system import lock, sync_directory


@contextmanager
def appearing(target: Path) -> Iterator[Path]:
    """Give a place beside the target to make it at; at the end it is on disk and gets its name.

    A file takes the place of another, a folder only that of an empty one. What a killed program
    left behind under such a place is swept away by the next that makes the same.
    """
    with lock(target.with_name(f".{target.name}.lock")):
        for left in _left_behind(target):
            _delete(left)
        place = target.with_name(f".{target.name}.{secrets.token_hex(8)}.tmp")
        try:
            yield place
            _sync(place)
            if place.is_dir():
                # Not every system lets a folder take the place of an empty one.
                with suppress(FileNotFoundError):
                    target.rmdir()
            place.replace(target)
        except BaseException:
            _delete(place)
            raise
        sync_directory(target.parent)


@contextmanager
def disk_told(where: Path) -> Iterator[None]:
    """Turn what the system says of the disk into a UsageError that names the file."""
    try:
        yield
    except OSError as error:
        named = error.filename or where
        why = error.strerror or error
        raise UsageError(
            f"{named} cannot be read or written: {why}; nothing was changed"
        ) from error


def _left_behind(target: Path) -> list[Path]:
    ours = re.compile(rf"\.{re.escape(target.name)}\.[0-9a-f]{{16}}\.tmp")
    return [each for each in target.parent.iterdir() if ours.fullmatch(each.name)]


def _delete(place: Path) -> None:
    with suppress(OSError):
        if place.is_dir():
            shutil.rmtree(place)
        else:
            place.unlink(missing_ok=True)


def _sync(place: Path) -> None:
    """Bring a file to disk, or all files and folders in a folder, the innermost first."""
    for inside, _, names in os.walk(place, topdown=False):
        for name in names:
            _sync(Path(inside, name))
        sync_directory(Path(inside))
    if place.is_file():
        # Windows brings only what may be written to disk.
        handle = os.open(place, os.O_RDWR)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
