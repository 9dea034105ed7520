"""A leaf that names a file beside the build file: its text, and where the file may be.

    "motor-curve.csv ± 5 %, datasheet, maker's sheet"
    "unknown"

The band is a share of the last column, since what is read off a sheet is off by a share of it.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias, TypeVar

from wattwright.build.fields import Sampled
from wattwright.build.reread import Reread
from wattwright.build.route_csv import read_csv_route
from wattwright.build.route_gpx import read_gpx_route
from wattwright.build.sampled_csv import read_points
from wattwright.build.typed import (
    ASSUMED,
    Credit,
    Field,
    not_given,
    read_credit,
    read_leaf,
    usual_note,
)
from wattwright.errors import BuildError, Problem, UnitsError
from wattwright.kinds import FRACTION
from wattwright.sampled import Curve, Grid, Route
from wattwright.units import read
from wattwright.values import Given, Origin, State, Value, given

Beside: TypeAlias = Callable[[str], bytes]
Refuse: TypeAlias = Callable[[str, str, str], None]
Found = TypeVar("Found", Curve | Grid, Route)

LARGEST = 1024 * 1024
# A receiver that writes every second for a working day.
LARGEST_ROUTE = 4 * LARGEST
EXAMPLE = '"curve.csv, datasheet"'
ROUTE = '"route.gpx, measured"'
ROUTES = {"csv": read_csv_route, "gpx": read_gpx_route}
# Share of a sampled number by which it may be off where no ± was typed; common practice.
USUAL = {Origin.MEASURED: 0.02, Origin.ASSUMED: 0.10, Origin.TYPICAL: 0.10}

_PLUS_MINUS = re.compile(r"\s*(?:±|\+ ?/? ?-)\s*")
_WORDS = (State.UNKNOWN.value, State.NONE.value)


def bytes_of(path: Path, most: int) -> bytes:
    """Read a regular file, and one byte more of it than it may have."""
    if path.exists() and not path.is_file():
        raise OSError(errno.EINVAL, "it is no file")
    with path.open("rb") as file:
        return file.read(most + 1)


def beside(folder: Path) -> Beside:
    """Give a way to read the files of a build folder and no others; it raises OSError."""

    def read_file(name: str) -> bytes:
        home = os.path.realpath(folder, strict=True)
        target = Path(os.path.realpath(Path(home, name), strict=True))
        if not target.is_relative_to(home):
            raise OSError(errno.EINVAL, "it leads out of the build folder")
        return bytes_of(target, LARGEST_ROUTE)

    return read_file


class Files:
    """The files that one build names: read once each, their problems added to one list."""

    def __init__(self, read_file: Beside | None, problems: list[Problem], leaves: Reread) -> None:
        self.read_file = read_file
        self.problems = problems
        self.leaves = leaves
        self.read: dict[str, bytes] = {}

    def leaf(
        self,
        raw: object,
        field: Field,
        declared: Sampled,
        inherited: Credit | None,
        refuse: Refuse,
    ) -> Curve | Grid:
        """Read one leaf and its file. ``refuse`` takes what is wrong with the leaf itself."""

        def points(name: str, share: Value) -> Curve | Grid:
            content = self.content(name, LARGEST)

            def read() -> Curve | Grid:
                x, y, z = read_points(content, name, field.path, declared)
                return Grid(x, y, z, share) if z else Curve(x, y, share)

            return self.leaves((field, raw, inherited, content), read)

        found = self.named(raw, field, inherited, refuse, EXAMPLE, points)
        if not isinstance(found, Value):
            return found
        return self.leaves((field, found), lambda: _empty(declared, found))

    def route(self, raw: object, field: Field, inherited: Credit | None, refuse: Refuse) -> Route:
        """Read one leaf that names a route, and its file."""

        def way(name: str, share: Value) -> Route:
            kind = name.rpartition(".")[2].casefold()
            if kind not in ROUTES:
                raise UnitsError(f"{name!r} is neither a .csv nor a .gpx file; write {ROUTE}")
            content = self.content(name, LARGEST_ROUTE)
            return self.leaves(
                (field, raw, inherited, content),
                lambda: ROUTES[kind](content, name, field.path, share),
            )

        found = self.named(raw, field, inherited, refuse, ROUTE, way)
        if not isinstance(found, Value):
            return found
        return self.leaves((field, found), lambda: Route((), (), (), (), (), (), found))

    def named(
        self,
        raw: object,
        field: Field,
        inherited: Credit | None,
        refuse: Refuse,
        example: str,
        read_it: Callable[[str, Value], Found],
    ) -> Found | Value:
        """Read what the file of a leaf holds, or give the value of a leaf that leads to none."""
        if raw is None:
            return self.leaves((field, None), lambda: not_given(field))
        if not isinstance(raw, str):
            refuse("names a file", repr(raw), f"write {example}")
            return not_given(field)
        try:
            if raw.strip().casefold() in _WORDS:
                return self.leaves(
                    (field, raw, inherited), lambda: read_leaf(raw, field, inherited)
                )
            return read_it(*_typed(raw.strip(), field, inherited, example))
        except UnitsError as error:
            refuse(str(error), "", "")
        except BuildError as error:
            self.problems.extend(error.problems)
        except OSError as error:
            refuse(f"the file cannot be read: {error.strerror or error}", repr(raw), _away(error))
        return not_given(field)

    def content(self, name: str, most: int) -> bytes:
        """Bytes of a named file."""
        if self.read_file is None:
            raise OSError(errno.ENOENT, "there is no folder to read it from")
        if name not in self.read:
            try:
                raw = self.read_file(name)
            except (KeyError, FileNotFoundError):
                raise OSError(errno.ENOENT, "it is not in the build folder") from None
            self.read[name] = raw
        if len(self.read[name]) > most:
            raise OSError(errno.EFBIG, f"it is larger than {most} bytes")
        return self.read[name]

    def digest(self, of_text: str) -> str:
        """Digest of the build: of its text alone where it names no file, else of all together."""
        if not self.read:
            return of_text
        whole = hashlib.sha256(of_text.encode())
        # The text says which names there are, so that their order tells whose bytes are whose.
        for _, raw in sorted(self.read.items()):
            whole.update(hashlib.sha256(raw).digest())
        return whole.hexdigest()


def _empty(declared: Sampled, share: Value) -> Curve | Grid:
    return Curve((), (), share) if len(declared.columns) == 2 else Grid((), (), (), share)


def _away(error: OSError) -> str:
    if error.errno == errno.EFBIG:
        return "leave out points: a few dozen are plenty for a curve, one a second for a route"
    return "put the file into the build folder and write its name as it is there"


def _typed(text: str, field: Field, inherited: Credit | None, example: str) -> tuple[str, Value]:
    """Take the text apart into the name of a file and the share that speaks for its numbers."""
    front, comma, rest = text.partition(", ")
    name, *bands = _PLUS_MINUS.split(front)
    _check_name(name, example)
    credit = read_credit(rest) if comma else inherited or ASSUMED
    band, note = _band(bands, credit.origin)
    declared = field.declared
    origin = Given(
        field.path,
        field.label,
        credit.origin,
        text,
        band,
        note,
        credit.detail,
        credit.date,
        field.line,
        how=declared.how,
        minutes=declared.minutes,
    )
    return name, given(FRACTION, 0.0, origin)


def _check_name(name: str, example: str) -> None:
    """Refuse names that could lead out of the folder on any system, before any is asked."""
    shown = repr(name[:120])
    if not name or not name.isprintable():
        raise UnitsError(f"{shown} is no name of a file; write {example}")
    if "\\" in name or ":" in name:
        raise UnitsError(f"{shown}: write / between folders, and no drive")
    if any(piece in ("", ".", "..") for piece in name.split("/")):
        raise UnitsError(
            f"{shown} leads out of the build folder or round about; put the file into the folder "
            "and write its name alone"
        )


def _band(typed: list[str], origin: Origin) -> tuple[float, str]:
    if len(typed) > 1:
        raise UnitsError("more than one ±")
    usual = USUAL.get(origin, 0.0)
    if typed:
        if not typed[0].endswith("%"):
            raise UnitsError(f"± {typed[0]}: write it as a share of the numbers, such as ± 5 %")
        reading = read(typed[0], FRACTION)
        if reading.band is not None or not 0.0 <= reading.number <= 1.0:
            raise UnitsError(f"± {typed[0]} cannot be; allowed is ± 0 % to ± 100 %")
        # Nothing is assumed exactly: "± 0 %" would make a guess look firm.
        if reading.number or usual != USUAL[Origin.ASSUMED]:
            return reading.number, ""
    return usual, usual_note(origin) if usual else ""
