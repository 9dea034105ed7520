"""A build folder as one zip, and back: for keeping, for moving to another computer, for handing on.

The zip holds the files of the folder under ``build/`` and beside them ``manifest.json``, which
states the digest of each. Equal folders make equal zips. A backup is called good only after it was
restored and compared with what it was made of.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from sqlite3 import Connection
from tempfile import TemporaryDirectory
from typing import IO, BinaryIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from wattwright.build.save import FILE, hold
from wattwright.errors import BuildError, JournalError, Problem, UsageError
from wattwright.journal import manifest, rows
from wattwright.journal.appearing import appearing, disk_told
from wattwright.journal.belonging import COMPANIONS, MOST_FILES, belonging, lasting, unsafe
from wattwright.journal.incoming import Incoming, incoming
from wattwright.journal.manifest import Entry, Manifest, read_manifest
from wattwright.journal.places import JOURNAL

INSIDE = "build/"

# The earliest that a zip can state; the time is in no archive.
_NO_TIME = (1980, 1, 1, 0, 0, 0)
_PIECE = 1024 * 1024


def pack(folder: Path, to: BinaryIO, with_journal: bool) -> Manifest:
    """Write what belongs to a build as a zip, and the journal as it is at this moment."""
    with disk_told(folder), _held_still(folder, with_journal) as still:
        return _zipped(still, _name(folder), to)


def backup(folder: Path, to: Path, *, with_journal: bool = True, replace: bool = False) -> Manifest:
    """Pack a build into a file, restore that elsewhere and compare, and only then name it ``to``.

    Raises BuildError where anything differs; ``to`` is then as it was.
    """
    target = Path(os.path.realpath(to))
    if target.is_relative_to(os.path.realpath(folder)):
        raise UsageError(
            f"{to} is in the folder of the build, and lost with it; name a file elsewhere"
        )
    if not target.parent.is_dir():
        raise UsageError(f"there is no folder {target.parent}; make it, or name another file")
    with disk_told(to), appearing(target) as place:
        if target.exists() and not (replace and target.is_file()):
            raise UsageError(f"{to} is there already; name another file, or replace it: --replace")
        with _held_still(folder, with_journal) as still:
            with place.open("xb") as stream:
                made = _zipped(still, _name(folder), stream)
            if differences := compare(still, place):
                raise BuildError(*(Problem(each, file=str(to)) for each in differences))
    return made


def unpack(archive: Path | BinaryIO, folder: Path, *, plain: bool = False) -> Manifest:
    """Make a build folder out of an archive; it appears when all of it was found right.

    ``plain`` also takes a zip of a build folder that another program made. Nothing in it says
    what it should hold, so only its names, its sizes and the journal are checked.
    """
    target = Path(os.path.realpath(folder))
    if os.path.lexists(target) and (not target.is_dir() or any(target.iterdir())):
        raise UsageError(f"{folder} exists and is not empty; nothing was touched")
    with disk_told(folder), incoming(archive) as opened:
        ours = not plain or {manifest.NAME, INSIDE + FILE} <= opened.names
        stated = _stated(opened) if ours else None
        top = INSIDE if ours else _top(opened)
        names = set(stated.files) if stated else _plain_names(opened, top)
        target.parent.mkdir(parents=True, exist_ok=True)
        with appearing(target) as place:
            place.mkdir()
            found = {
                name: opened.take_out(top + name, place / name, name) for name in sorted(names)
            }
            _agree(opened, found, stated)
            _check_journal(opened, place)
    return stated or Manifest(top.removesuffix("/"), found)


def compare(folder: Path, archive: Path | BinaryIO) -> list[str]:
    """Restore an archive elsewhere and say in what it differs from a folder, to the last byte.

    Of the journal every row is compared, since the bytes of the same journal need not be the same.
    An archive without a journal differs in nothing by that.
    """
    with TemporaryDirectory(prefix="wattwright-") as room:
        restored = Path(room) / "restored"
        unpack(archive, restored)
        return _differences(folder, restored)


def _name(folder: Path) -> str:
    return Path(os.path.realpath(folder)).name


# -------------------------------------------------------------------------------------- packing


@contextmanager
def _held_still(folder: Path, with_journal: bool) -> Iterator[Path]:
    """Copy what belongs to a build to where nobody else writes; the copy is gone at the end.

    Only the files are copied while the build is held, so that nobody has to wait long for a save.
    The moment of the journal is chosen while it is held, and read when it is not.
    """
    with TemporaryDirectory(prefix="wattwright-") as room, ExitStack() as held:
        still = Path(room)
        belonging(folder)
        with hold(folder), disk_told(folder):
            files = dict(belonging(folder).files)
            source = files.pop(JOURNAL, None)
            moment = held.enter_context(rows.moment(source)) if source and with_journal else None
            for name, path in files.items():
                _copy(path, still / name, name, folder)
        if moment:
            _copy_journal(moment, still / JOURNAL, folder / JOURNAL)
        yield still


def _copy(source: Path, to: Path, name: str, folder: Path) -> None:
    to.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, to)
    if source.read_bytes() != to.read_bytes():
        do = "save it in the program that has it open, and try again"
        raise BuildError(Problem("changed while it was copied", name, str(folder), do=do))


def _copy_journal(moment: Connection, to: Path, source: Path) -> None:
    rows.copy(moment, to)
    if damage := rows.damage(to):
        problem = Problem(f"the journal is damaged: {damage}", file=str(source), do=rows.ALONE)
        raise JournalError(str(problem))
    with rows.moment(to, alone=True) as copied:
        if differences := rows.row_differences(moment, copied):
            raise BuildError(*(Problem(each, file=str(source)) for each in differences))


def _zipped(still: Path, name: str, to: IO[bytes]) -> Manifest:
    files = {}
    with ZipFile(to, "w") as zipped:
        for inside, path in sorted(belonging(still).files.items()):
            with path.open("rb") as source:
                files[inside] = _added(zipped, INSIDE + inside, source, path.stat().st_size)
        made = Manifest(name, files)
        with zipped.open(_info(manifest.NAME), "w") as into:
            into.write(made.written())
    return made


def _added(zipped: ZipFile, name: str, source: IO[bytes], size: int) -> Entry:
    digest, info = hashlib.sha256(), _info(name)
    info.file_size = size
    with zipped.open(info, "w") as into:
        while piece := source.read(_PIECE):
            digest.update(piece)
            into.write(piece)
    return Entry(digest.hexdigest(), size)


def _info(name: str) -> ZipInfo:
    """Say of an entry only what is the same wherever and whenever it is made."""
    info = ZipInfo(name, _NO_TIME)
    info.compress_type = ZIP_DEFLATED
    info.create_system = 3
    info.external_attr = (stat.S_IFREG | 0o644) << 16
    return info


# ------------------------------------------------------------------------------------ unpacking


def _stated(opened: Incoming) -> Manifest:
    """Read the manifest, and hold the names of the archive against it before any is taken out."""
    if manifest.NAME not in opened.names:
        raise opened.refusal(
            f"there is no {manifest.NAME} in it, so nothing says whether it is whole",
            do="if another program made this zip of a build folder, restore it with --plain",
        )
    try:
        stated = read_manifest(opened.small(manifest.NAME, manifest.LARGEST))
    except BuildError:
        raise
    except ValueError as error:
        raise opened.refusal(f"the manifest cannot be read: {error}", manifest.NAME) from None
    meant = {INSIDE + name for name in stated.files} | {manifest.NAME}
    for name in sorted(meant ^ opened.names)[:1]:
        raise opened.refusal(f"it is not in both the archive and its {manifest.NAME}", name)
    for name in sorted(stated.files):
        if unsafe(name) or not lasting(name):
            raise opened.refusal("a file of this name is in no archive of a build", name)
    _check_number(opened, set(stated.files))
    return stated


def _top(opened: Incoming) -> str:
    """Find the folder that a zip of a build was made of; nothing if its files stand at the top."""
    if FILE in opened.names:
        return ""
    tops = [name.removesuffix(FILE) for name in opened.names if name.endswith(f"/{FILE}")]
    if len(tops) == 1 and tops[0].count("/") == 1:
        return tops[0]
    raise opened.refusal(f"there is no {FILE} at the top or in one folder at the top")


def _plain_names(opened: Incoming, top: str) -> set[str]:
    """Name the files of a plain zip that belong to the build; hidden ones and folders do not."""
    inside = {name.removeprefix(top) for name in opened.names if name.startswith(top)}
    beside = {name for name in opened.names if not name.startswith(top) and _visible(name)}
    if beside:
        raise opened.refusal(f"it lies beside the folder with {FILE}", min(beside))
    if JOURNAL in inside and inside & set(COMPANIONS):
        raise opened.refusal(
            "the journal was open when this zip was made, and is not whole without what lies "
            "beside it",
            top + JOURNAL,
            do="close every program that has the build open and make the zip again",
        )
    names = {name for name in inside if _visible(name)}
    _check_number(opened, names)
    return names


def _visible(name: str) -> bool:
    return lasting(name) and name[-1:] not in ("", "/")


def _check_number(opened: Incoming, names: set[str]) -> None:
    if FILE not in names:
        raise opened.refusal(f"there is no {FILE} in it")
    if len(names) > MOST_FILES:
        raise opened.refusal("it holds too many files", got=f"{len(names):,}")


def _agree(opened: Incoming, found: dict[str, Entry], stated: Manifest | None) -> None:
    for name, entry in found.items():
        if stated and stated.files[name] != entry:
            do = "take another copy of the archive"
            raise opened.refusal(f"it is not what {manifest.NAME} states", name, do=do)


def _check_journal(opened: Incoming, place: Path) -> None:
    if (place / JOURNAL).exists() and (damage := rows.damage(place / JOURNAL)):
        raise opened.refusal("the journal in it is damaged", JOURNAL, got=damage)


# ------------------------------------------------------------------------------------ comparing


def _differences(folder: Path, restored: Path) -> list[str]:
    here, there = dict(belonging(folder).files), dict(belonging(restored).files)
    journal, copied = here.pop(JOURNAL, None), there.pop(JOURNAL, None)
    found = [f"{name}: only in the folder" for name in sorted(here.keys() - there.keys())]
    found += [f"{name}: only in the archive" for name in sorted(there.keys() - here.keys())]
    found += [
        f"{name}: other bytes"
        for name in sorted(here.keys() & there.keys())
        if here[name].read_bytes() != there[name].read_bytes()
    ]
    if copied and not journal:
        found.append(f"{JOURNAL}: only in the archive")
    if copied and journal:
        with rows.moment(journal) as one, rows.moment(copied, alone=True) as other:
            found += rows.row_differences(one, other)
    return found
