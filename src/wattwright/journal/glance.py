"""Whether a build file is still the one that was last looked at, mostly without reading it."""

from __future__ import annotations

import os
import time
from dataclasses import dataclass
from pathlib import Path

from wattwright.journal.revisions import digest_of

# The coarsest clock of a file system in use counts in steps of two seconds.
_TICK = 2_100_000_000


@dataclass(frozen=True, slots=True)
class _Look:
    """What the system said of a file, and the digest it had then."""

    marks: tuple[int, ...]
    digest: str


class Glance:
    """Remembers one file by what the system says of it.

    A file written twice within one tick of the clock may look the same both times. So a file is
    remembered only when its time already lay further back than a tick when it was read.
    """

    def __init__(self, file: Path) -> None:
        self._file = file
        self._look: _Look | None = None

    def digest(self) -> str:
        """Digest of the file as it is now."""
        if self._look is not None and self._look.marks == _marks(os.stat(self._file)):
            return self._look.digest
        self._look = None
        with open(self._file, "rb") as file:
            before = os.fstat(file.fileno())
            read_at = time.time_ns()
            digest = digest_of(file.read())
            after = os.fstat(file.fileno())
        newest = max(after.st_mtime_ns, after.st_ctime_ns)
        if _marks(before) == _marks(after) and read_at - newest > _TICK:
            self._look = _Look(_marks(after), digest)
        return digest

    def forget(self) -> None:
        """Read the file at the next look, whatever the system says of it."""
        self._look = None


def _marks(stat: os.stat_result) -> tuple[int, ...]:
    # The time of change catches programs that put back the time of writing.
    return stat.st_mtime_ns, stat.st_ctime_ns, stat.st_size, stat.st_ino, stat.st_dev
