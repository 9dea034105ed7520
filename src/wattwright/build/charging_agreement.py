"""Whether the fields of charging agree: names that exist, currents that a pilot can say."""

from __future__ import annotations

import difflib
from collections.abc import Collection
from typing import Protocol

from wattwright.build.model import Build
from wattwright.kinds import CURRENT
from wattwright.units import read, write

# What a pilot can say: between these, and not between the two in the middle.
_LEAST, _MOST = (read(text, CURRENT).number for text in ("6 A", "80 A"))
_BELOW, _ABOVE = (read(text, CURRENT).number for text in ("51 A", "52.5 A"))


class Reading(Protocol):
    """Where problems go."""

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""


def check_charging(build: Build, reading: Reading) -> None:
    """Note every disagreement in outlets, cords and supply boxes."""
    for name, outlet in build.outlet.items():
        here = ("outlet", name)
        if outlet.box and outlet.box not in build.supply_box:
            _no_such((*here, "box"), outlet.box, build.supply_box, "supply_box", reading)
        seen: set[str] = set()
        for cord in outlet.cord_names:
            if cord not in build.cord:
                _no_such((*here, "cords"), cord, build.cord, "cord", reading)
            elif cord in seen:
                do = "a cord is plugged in once; write a second one under its own name"
                reading.problem((*here, "cords"), "names the same cord twice", repr(cord), do)
            seen.add(cord)
    for name, box in build.supply_box.items():
        pilot = box.pilot.number
        if pilot is None:
            continue
        got, path = write(pilot, CURRENT), ("supply_box", name, "pilot")
        if not _LEAST <= pilot <= _MOST:
            what = "is no current that a pilot can say: that is 6 A to 80 A"
            reading.problem(path, what, got, "read the box's setting again")
        elif _BELOW < pilot < _ABOVE:
            what = "is no current that a pilot can say: it steps from 51 A to 52.5 A"
            reading.problem(path, what, got, "read the box's setting again")


def _no_such(
    path: tuple[str, ...], name: str, known: Collection[str], section: str, reading: Reading
) -> None:
    near = difflib.get_close_matches(name, known, n=1)
    do = f"did you mean {near[0]}?" if near else f"write [{section}.{name}]"
    reading.problem(path, f"there is no such {section.replace('_', ' ')}", repr(name), do)
