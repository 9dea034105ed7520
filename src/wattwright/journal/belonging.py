"""Which files of a folder belong to a build, and which names are safe on every system.

The same rules hold for what goes into an archive and for what comes out of one, so that nothing
can be put away that could not be put back.
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from wattwright.build.save import FILE
from wattwright.errors import BuildError, Problem
from wattwright.journal.places import JOURNAL

MOST_FILES = 2_000
LARGEST_FILE = 64 * 1024 * 1024
LARGEST_JOURNAL = 1024 * 1024 * 1024
LARGEST_IN_ALL = 2 * 1024 * 1024 * 1024

# What SQLite keeps beside a database while it is open; never whole without it.
COMPANIONS = tuple(f"{JOURNAL}-{what}" for what in ("wal", "shm", "journal"))
# Beginnings and ends of names under which programs keep locks and half-written files.
_PASSING = re.compile(r"\.|~\$|.*(~|\.tmp|\.lock)\Z", re.IGNORECASE | re.DOTALL)
# Names that are devices on Windows, whatever ending they have.
_DEVICE = re.compile(
    r"(con|prn|aux|nul|(com|lpt)[0-9¹²³]|conin\$|conout\$|clock\$)\s*(\.|\Z)", re.I
)


@dataclass(frozen=True, slots=True)
class Belonging:
    """The files of a build folder by their names in it, and what lies there and is left out."""

    files: dict[str, Path]
    left_out: tuple[str, ...]


def largest(name: str) -> int:
    """Give the number of bytes that a file may have."""
    return LARGEST_JOURNAL if name == JOURNAL else LARGEST_FILE


def lasting(name: str) -> bool:
    """Say whether a file of this name is there to stay: no lock, nothing hidden or half-written."""
    return name not in COMPANIONS and not any(_PASSING.match(piece) for piece in name.split("/"))


def unsafe(name: str) -> str:
    """Say why a name cannot be a file of a build folder on every system; nothing if it can."""
    pieces = name.split("/")
    if not name.isprintable() or "\\" in name or ":" in name:
        return "holds a sign that not every system takes in a name"
    if any(piece in ("", ".", "..") for piece in pieces):
        return "leads out of the folder or round about"
    if any(piece != piece.rstrip(". ") or _DEVICE.match(piece) for piece in pieces):
        return "cannot be a name on every system"
    return ""


def name_problems(names: Iterable[str], file: str) -> list[Problem]:
    """Find every unsafe name, and names that are one and the same on some systems.

    Files and folders are told apart nowhere: a name that is both would be two things at one place.
    """
    problems = []
    seen: dict[str, str] = {}
    folders: dict[str, str] = {}
    for name in sorted(names):
        if what := unsafe(name):
            problems.append(Problem(f"the name {what}", name, file))
            continue
        same = _folded(name)
        folders.update((_folded(above), name) for above in _above(name))
        if same in seen:
            what = "another file has this name, or one that some systems take for it"
            problems.append(Problem(what, name, file, got=seen[same]))
        seen[same] = name
    for same in sorted(seen.keys() & folders.keys()):
        problems.append(Problem("is a file and a folder", seen[same], file, got=folders[same]))
    return problems


def belonging(folder: Path) -> Belonging:
    """Look through a build folder. Raises BuildError where a file of it could not be put back."""
    home = Path(os.path.realpath(folder))
    files: dict[str, Path] = {}
    left_out: list[str] = []
    for name, target in _walked(home, home, "", (home,)) if home.is_dir() else ():
        if target is None:
            left_out.append(name)
            continue
        files[name] = target
        if len(files) > MOST_FILES:
            raise BuildError(
                Problem(
                    "the folder holds too many files",
                    file=str(folder),
                    allowed=f"{MOST_FILES:,}",
                    do="move what is not of this build elsewhere",
                )
            )
    if problems := _problems(files, folder):
        raise BuildError(*problems)
    return Belonging(files, tuple(left_out))


def _walked(
    home: Path, folder: Path, inside: str, above: tuple[Path, ...]
) -> Iterator[tuple[str, Path | None]]:
    """Walk through a folder by name; none stands for what is left out.

    Links are followed within the build folder, as they are when the build is read, and no further.
    """
    for entry in sorted(os.listdir(folder)):
        name = inside + entry
        if name in COMPANIONS or name.startswith(f".{FILE}."):
            continue
        target = Path(os.path.realpath(folder / entry))
        if not lasting(name) or not target.is_relative_to(home) or target in above:
            yield name, None
        elif target.is_dir():
            yield from _walked(home, target, f"{name}/", (*above, target))
        else:
            yield name, target if target.is_file() else None


def _problems(files: dict[str, Path], folder: Path) -> list[Problem]:
    problems = name_problems(files, str(folder))
    if FILE not in files:
        do = "name a folder that holds a build.toml itself, not a link that leads out of it"
        problems.append(Problem("there is no build file in it", file=str(folder), do=do))
    if os.path.lexists(folder / JOURNAL) and JOURNAL not in files:
        problems.append(Problem("is no file, or leads out of the folder", JOURNAL, str(folder)))
    sizes = {name: path.stat().st_size for name, path in files.items()}
    problems.extend(
        Problem("the file is too large", name, str(folder), got=f"{size / 1e6:,.0f} MB")
        for name, size in sizes.items()
        if size > largest(name)
    )
    if sum(sizes.values()) > LARGEST_IN_ALL:
        allowed = f"{LARGEST_IN_ALL / 1e6:,.0f} MB"
        problems.append(Problem("the files are too large", file=str(folder), allowed=allowed))
    return problems


def _above(name: str) -> Iterator[str]:
    pieces = name.split("/")
    return ("/".join(pieces[:count]) for count in range(1, len(pieces)))


def _folded(name: str) -> str:
    """Write names alike that are one on some systems: by capitals, or accents coded otherwise."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())
