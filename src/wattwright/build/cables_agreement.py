"""Whether the fields of power cables agree: ends, fuse and keeper that exist, nothing in vain."""

from __future__ import annotations

import difflib
from collections.abc import Collection
from typing import Protocol

from wattwright.build.cables import Cable
from wattwright.build.devices import Fuse
from wattwright.build.model import Build

# The pack is no part: its modules are.
PACK = "pack"


class Reading(Protocol):
    """Where problems go."""

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""


def check_cables(build: Build, reading: Reading) -> None:
    """Note every disagreement in the power cables."""
    fuses = [name for name, part in build.part.items() if isinstance(part, Fuse)]
    for name, cable in build.part.items():
        if not isinstance(cable, Cable):
            continue
        here = ("part", name)
        others = [other for other in build.part if other != name]
        for key in ("begins", "ends"):
            _name(reading, (*here, key), getattr(cable, key), [PACK, *others], "part")
        if cable.begins and cable.begins == cable.ends:
            what = "is where it begins too"
            reading.problem((*here, "ends"), what, do="write the part at the other end")
        _name(reading, (*here, "fuse"), cable.fuse, fuses, "fuse")
        _name(reading, (*here, "kept_by"), cable.kept_by, others, "part")
        keeper = build.part.get(cable.kept_by)
        if isinstance(keeper, Cable):
            what, do = "a cable keeps no current", "name inverter, fuse or management"
            reading.problem((*here, "kept_by"), what, repr(cable.kept_by), do)
        _check_peak(cable, here, reading)


def _name(
    reading: Reading, path: tuple[str, ...], name: str, known: Collection[str], what: str
) -> None:
    if not name or name in known:
        return
    near = difflib.get_close_matches(name, known, n=1)
    there = f"known: {', '.join(known)}" if known else f"write the {what} first"
    hint = f"did you mean {near[0]}?" if near else there
    reading.problem(path, f"there is no such {what}", repr(name), hint)


def _check_peak(cable: Cable, here: tuple[str, ...], reading: Reading) -> None:
    """The highest current is no less than the one for hours."""
    hours, peak = cable.carries.number, cable.peak.number
    if hours is not None and peak is not None and peak < hours:
        what = "is below the current it carries for hours"
        reading.problem((*here, "peak"), what, do='correct one of the two, or write peak = "none"')
