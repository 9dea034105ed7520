"""What an instrument can tell: how far each reading may be off, and which one would do."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from wattwright.build.instruments import KINDS, Instrument
from wattwright.kinds import FRACTION, TEMPERATURE, Kind
from wattwright.tables import load
from wattwright.units import read, write

# An instrument does where it is off by a quarter of the limit at most: common practice in
# metrology, the test uncertainty ratio of 4 to 1.
_FOURTH = 0.25
_FREEZING = read("0 °C", TEMPERATURE).number


@dataclass(frozen=True, slots=True)
class Meter:
    """An instrument in numbers: ``within`` in SI whatever it shows, and a share of what it shows.

    ``own`` is true for one of the build, false for a usual one of its sort.
    """

    name: str
    says: str
    kind: Kind
    within: float
    share: float
    own: bool

    def band(self, number: float, kind: Kind) -> float:
        """95 % half-width of a reading, SI: makers give the largest error as such a sum."""
        # What a thermometer shows is above freezing, not above nothing.
        shows = number - _FREEZING if kind == TEMPERATURE else number
        return self.within + self.share * abs(shows)

    @property
    def accuracy(self) -> str:
        """How far it may be off, as one says it."""
        pieces = []
        if self.within or not self.share:
            pieces.append(write(self.within, self.kind))
        if self.share:
            pieces.append(f"{write(self.share, FRACTION)} of what it shows")
        return "± " + " and ".join(pieces)


def meters(own: Mapping[str, Instrument]) -> tuple[Meter, ...]:
    """List the instruments of a build, then usual ones that it does not name."""
    found = [_of_build(name, each) for name, each in own.items()]
    return (*(each for each in found if each is not None), *_usual())


def named(every: Iterable[Meter], word: str) -> Meter | None:
    """Find an instrument by its name or by what it is called."""
    wanted = word.strip().casefold().replace("_", " ")
    for meter in every:
        if wanted in (meter.name.casefold().replace("_", " "), meter.says.casefold()):
            return meter
    return None


def that_would_do(every: Iterable[Meter], kind: Kind, limit: float) -> Meter | None:
    """Find the coarsest instrument that still tells one side of a limit from the other."""
    enough = [
        meter
        for meter in every
        if meter.kind.si == kind.si and meter.band(limit, kind) <= _FOURTH * abs(limit)
    ]
    return max(enough, key=lambda meter: (meter.own, meter.band(limit, kind)), default=None)


def _of_build(name: str, each: Instrument) -> Meter | None:
    if not each.within and not each.of_reading.number:
        return None
    kind = KINDS[each.measures]
    within = read(each.within, kind).number if each.within else 0.0
    says = each.says or name.replace("_", " ")
    return Meter(name, says, kind, abs(within), each.of_reading.number or 0.0, own=True)


# Every reading that is shown asks for them.
@cache
def _usual() -> tuple[Meter, ...]:
    return tuple(_of_row(row.cells) for row in load("instruments"))


def _of_row(cells: Mapping[str, str]) -> Meter:
    name, kind = cells["instrument"], KINDS[cells["measures"]]
    within, share = read(cells["within"], kind).number, read(cells["of_reading"], FRACTION).number
    return Meter(name, name, kind, within, share, own=False)


def together(*bands: float) -> float:
    """Band of a difference of things that know nothing of each other."""
    return math.hypot(*bands)
