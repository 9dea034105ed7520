"""Published test cycles: one speed for each second."""

from __future__ import annotations

import difflib
from functools import cache
from importlib.resources import files

from wattwright import tables
from wattwright.errors import TableError, UsageError
from wattwright.kinds import SPEED
from wattwright.tables import Row, load
from wattwright.units import read

Trace = tuple[tuple[float, ...], tuple[float, ...]]

_HEAD = "speed_km_h"
_UNIT = "km/h"


def names() -> tuple[str, ...]:
    """Names of the cycles there are."""
    return tuple(load("cycles").rows)


def about(name: str) -> Row:
    """Title, published totals and source of a cycle. Raises UsageError for an unknown name."""
    row = load("cycles").rows.get(name)
    if row is None:
        near = difflib.get_close_matches(name, names(), n=1)
        hint = f"did you mean {near[0]}?" if near else f"known: {', '.join(names())}"
        raise UsageError(f"there is no cycle {name!r}; {hint}")
    return row


@cache
def cycle(name: str) -> Trace:
    """Times in seconds and speeds in m/s of a cycle. Raises UsageError for an unknown name."""
    row = about(name)
    text = files(tables.__name__).joinpath("cycles", f"{name}.csv").read_text(encoding="utf-8")
    head, *cells = text.split()
    if head != _HEAD or len(cells) != row.number("duration_s") + 1:
        raise TableError(f"cycles/{name}.csv does not hold one speed for each second")
    known = {cell: read(f"{cell} {_UNIT}", SPEED).number for cell in set(cells)}
    return tuple(float(second) for second in range(len(cells))), tuple(known[c] for c in cells)
