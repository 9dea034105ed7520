"""A zip from somewhere, which is not trusted: looked through whole before anything is taken out.

What a zip says of itself may be wrong by accident or on purpose. Names, kinds and stated sizes are
judged first, and while a file is taken out what really comes is counted.
"""

from __future__ import annotations

import hashlib
import stat
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from wattwright.errors import BuildError, Problem, WattwrightError
from wattwright.journal.belonging import (
    LARGEST_IN_ALL,
    LARGEST_JOURNAL,
    MOST_FILES,
    largest,
    name_problems,
    unsafe,
)
from wattwright.journal.manifest import Entry
from wattwright.journal.places import JOURNAL

# Programs add entries for folders, and some a hidden one beside every file.
MOST_ENTRIES = 3 * MOST_FILES
# The list of so many entries, at the end of a zip, is shorter than this.
LONGEST_LIST = 8 * 1024 * 1024

_PIECE = 1024 * 1024
_ENCRYPTED = 0x1 | 0x40 | 0x2000
_DAMAGE = (BadZipFile, zlib.error, struct.error, EOFError, ValueError, LookupError, RuntimeError)


class Incoming:
    """An archive that is open to be taken out: its entries are safe by name, kind and number."""

    def __init__(self, zipped: ZipFile, label: str) -> None:
        self.label = label
        self._zipped = zipped
        self._left = LARGEST_IN_ALL
        infos = zipped.infolist()
        if len(infos) > MOST_ENTRIES:
            raise self.refusal("it holds too many files", got=f"{len(infos):,} entries")
        if problems := [*self._kind_problems(infos), *self._name_problems(infos)]:
            raise BuildError(*problems[:20])
        self._entries = {info.filename: info for info in infos}

    @property
    def names(self) -> frozenset[str]:
        """Names of all entries; those of folders end in a slash."""
        return frozenset(self._entries)

    def refusal(self, what: str, name: str = "", got: str = "", do: str = "") -> BuildError:
        """Make the error that refuses the archive."""
        return BuildError(Problem(what, name, self.label, got=got, do=do))

    def small(self, name: str, most: int) -> bytes:
        """Read one entry into memory."""
        return b"".join(self._pieces(self._entries[name], most))

    def take_out(self, name: str, to: Path, called: str) -> Entry:
        """Write one entry to a new file, read that back, and say what was written.

        ``called`` is its name in the build folder, which says how large it may be.
        """
        to.parent.mkdir(parents=True, exist_ok=True)
        digest, size = hashlib.sha256(), 0
        with to.open("xb") as file:
            for piece in self._pieces(self._entries[name], largest(called)):
                digest.update(piece)
                size += file.write(piece)
        with to.open("rb") as file:
            if hashlib.file_digest(file, "sha256").digest() != digest.digest():
                raise self.refusal("the disk gave back other bytes than were written", name)
        return Entry(digest.hexdigest(), size)

    def _pieces(self, info: ZipInfo, most: int) -> Iterator[bytes]:
        size, most = 0, min(most, self._left)
        with damage_told(self), self._zipped.open(info) as file:
            while piece := file.read(_PIECE):
                size += len(piece)
                if size > most:
                    raise self.refusal("it inflates to too much", info.filename)
                yield piece
        if size != info.file_size:
            raise self.refusal("it is not of the size that is stated", info.filename)
        self._left -= size

    def _kind_problems(self, infos: list[ZipInfo]) -> Iterator[Problem]:
        for info in infos:
            if what := _unwanted(info):
                yield Problem(what, info.filename, self.label)
        if sum(info.file_size for info in infos) > LARGEST_IN_ALL:
            yield Problem("it holds too much", file=self.label, allowed=_mega(LARGEST_IN_ALL))

    def _name_problems(self, infos: list[ZipInfo]) -> list[Problem]:
        # Entries of folders make nothing, since files make their own; one may stand there twice.
        folders = {info.filename.removesuffix("/") for info in infos if info.is_dir()}
        return [
            *name_problems([info.filename for info in infos if not info.is_dir()], self.label),
            *(
                Problem(f"the name {unsafe(name)}", name, self.label)
                for name in folders
                if unsafe(name)
            ),
        ]


@contextmanager
def incoming(archive: Path | BinaryIO) -> Iterator[Incoming]:
    """Open an archive. Raises BuildError where it cannot be trusted, OSError where none is."""
    if isinstance(archive, Path):
        with archive.open("rb") as stream, _opened(stream, str(archive)) as opened:
            yield opened
    else:
        with _opened(archive, "the archive") as opened:
            yield opened


@contextmanager
def _opened(stream: BinaryIO, label: str) -> Iterator[Incoming]:
    try:
        zipped = ZipFile(_Bounded(stream))
    except _DAMAGE as error:
        raise _damaged(label, error) from None
    with zipped:
        yield Incoming(zipped, label)


class _Bounded:
    """A stream out of which no longer piece is read at once than the list at its end may have."""

    def __init__(self, stream: BinaryIO) -> None:
        self.seek = stream.seek
        self.tell = stream.tell
        self.seekable = stream.seekable
        self._read = stream.read

    def read(self, size: int = -1) -> bytes:
        # Without a size everything up to the end is asked for, which is never much in a zip.
        piece = self._read(LONGEST_LIST + 1 if size < 0 else min(size, LONGEST_LIST + 1))
        if len(piece) > LONGEST_LIST:
            raise BadZipFile("its list of files is too long")
        return piece


@contextmanager
def damage_told(archive: Incoming) -> Iterator[None]:
    """Refuse the archive where the block stumbles over its bytes."""
    try:
        yield
    except WattwrightError:
        raise
    except _DAMAGE as error:
        raise _damaged(archive.label, error) from None


def _damaged(label: str, error: Exception) -> BuildError:
    do = "take another copy of it; where there is none, a zip program may save what is whole"
    return BuildError(Problem("it is no zip, or a damaged one", file=label, got=str(error), do=do))


def _unwanted(info: ZipInfo) -> str:
    """Say why an entry is not taken; nothing if it is."""
    kind = stat.S_IFMT(info.external_attr >> 16)
    if kind not in (0, stat.S_IFDIR if info.is_dir() else stat.S_IFREG):
        return "it is a link or a device, no file"
    if info.flag_bits & _ENCRYPTED:
        return "it is encrypted; pack it again without a password"
    if info.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        return "it is packed in a way that is not read; pack it again in the usual way"
    if info.orig_filename != info.filename:
        return "its name holds a sign that not every system takes in a name"
    most = LARGEST_JOURNAL if info.filename.endswith(JOURNAL) else largest(info.filename)
    return f"it is larger than {_mega(most)}" if info.file_size > most else ""


def _mega(size: int) -> str:
    return f"{size / 1e6:,.0f} MB"
