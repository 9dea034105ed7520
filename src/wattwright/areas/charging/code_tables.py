"""What the code's tables allow wiring and cords: physics beside them may only allow less.

Wiring in a wall by IEC 60364-5-52, the rows for three loaded conductors, which are on the safe side
for two; cords by NFPA 70, table 400.5, the gauge next below the section. A row from memory makes no
limit.
"""

from __future__ import annotations

from functools import cache

from wattwright.areas.listed import from_table
from wattwright.build.conductors import Wire
from wattwright.build.outlets import Cord
from wattwright.kinds import CURRENT, TEMPERATURE, WIRE_SIZE
from wattwright.physics import ampacity, conductor
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import Lack, Value, constant, either, lacking, smallest, worked

_METHODS = {"free": "C", "conduit": "B2"}
_THIRTY = constant(TEMPERATURE, read("30 °C", TEMPERATURE).number, "air of the table")
_SEVENTY = constant(TEMPERATURE, read("70 °C", TEMPERATURE).number, "PVC, as the table is for")
# A section is a published one within so much.
_SAME = 1.02


def wiring_table(own: Wire, typed: Value, path: str, air: Value) -> Value:
    """What the code allows a run in a wall: as the electrician says, else by the table here."""
    row = _wiring_row(own)
    if row is None:
        return either(typed, lacking(CURRENT, _ask(path, typed)), asking=1)
    text = f"{row.cells['current_A']} A"
    rated = from_table(
        CURRENT, "ampacity_iec_60364_5_52", row, text, f"rating of {row.cells['row']}"
    )
    return either(typed, worked(ampacity.in_warm_air, rated, _SEVENTY, air, _THIRTY), asking=1)


def _wiring_row(own: Wire) -> Row | None:
    method = _METHODS.get(own.laid)
    alone = (own.grouped.number or 1.0) < 1.5
    if own.section.number is None or not alone or own.metal != "copper":
        return None
    for row in load("ampacity_iec_60364_5_52"):
        size = read(f"{row.cells['size_mm2']} mm²", WIRE_SIZE).number
        same = size / _SAME <= own.section.number <= size * _SAME
        if same and row.limits and row.cells["method"] == method and row.cells["loaded"] == "3":
            return row
    return None


def _ask(path: str, typed: Value) -> Lack:
    how = typed.lacks[0].how if typed.lacks else ""
    why = "not given, and no row here is for such wiring"
    return Lack(path, "current the code's table allows that wiring", why, how, 15.0)


def cord_table(own: Cord, path: str, reel: Value | None) -> Value:
    """What the code allows a cord, and what is printed for the way it is used: the lesser."""
    row = _cord_row(own.section.number)
    if row is None:
        lack = Lack(
            f"{path}.printed",
            "current printed on the cord or its reel",
            "not given, and no row here is for such a cord",
            "plate on the reel or print on the plug: watts over volts where amperes are missing",
            3.0,
        )
        return either(own.printed, lacking(CURRENT, lack), asking=1)
    text = f"{row.cells['current_A']} A"
    rated = from_table(CURRENT, "cord_ampacity_nec_400_5", row, text, f"cord of {row.cells['row']}")
    if reel is not None:
        rated = worked(ampacity.derated, rated, (reel,))
    return smallest(own.printed, rated) if own.printed.known else rated


def _cord_row(section: float | None) -> Row | None:
    """The thickest cord of the table that is no thicker than this one."""
    return next((row for area, row in _cords() if section and area <= section * _SAME), None)


@cache
def _cords() -> tuple[tuple[float, Row], ...]:
    rows = [
        row for row in load("cord_ampacity_nec_400_5") if row.limits and row.cells["loaded"] == "2"
    ]
    sized = [(conductor.gauge_area(row.number("awg")), row) for row in rows]
    return tuple(sorted(sized, key=lambda each: -each[0]))
