"""What of a build carries the traction current, and how much of it for hours.

Not an area: drive and high voltage both take it from here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from wattwright.build.cables import Cable
from wattwright.build.devices import Charger, Device, Fuse, Inverter
from wattwright.build.parts import Part
from wattwright.descriptions.duty import Duties
from wattwright.values import Value, doubted, largest

TEN_MINUTES = 600.0

# Devices through which all of the traction current goes, and those that draw for themselves.
_CARRYING = frozenset({"contactor"})
_DRAWING = frozenset({"dcdc", "heater", "compressor"})


def worst(values: Iterable[Value]) -> Value:
    """Take the largest, with the doubts about every one: a doubted one may have been larger."""
    every = tuple(values)
    found = largest(*every)
    for doubt in dict.fromkeys(doubt for value in every for doubt in value.doubts):
        found = found if doubt in found.doubts else doubted(found, doubt)
    return found


def pack_currents(duties: Duties) -> list[Value]:
    """Largest root mean square of the pack current over ten minutes: of each use, and the hill."""
    currents = [duty.pack_current.by_window[TEN_MINUTES] for duty in duties.uses.values()]
    return currents if duties.hill is None else [*currents, duties.hill.current]


def draws(part: Part | None) -> bool:
    """Say whether a device takes a current of its own, beside that of the traction."""
    return isinstance(part, Charger) or (isinstance(part, Device) and part.kind in _DRAWING)


def branch_fuses(parts: Mapping[str, Part]) -> frozenset[str]:
    """Name the fuses of which every cable leads to a device that draws for itself."""
    cables = [
        part for part in parts.values() if isinstance(part, Cable) and part.state != "removed"
    ]
    of_branch = {cable.fuse: True for cable in cables}
    for cable in cables:
        of_branch[cable.fuse] &= any(draws(parts.get(end)) for end in (cable.begins, cable.ends))
    return frozenset(name for name, branch in of_branch.items() if branch)


def carries(name: str, parts: Mapping[str, Part]) -> bool:
    """Say whether all of the traction current goes through a part."""
    match parts[name]:
        case Inverter():
            return True
        case Fuse():
            return name not in branch_fuses(parts)
        case Device(kind=kind):
            return kind in _CARRYING
        case _:
            return False
