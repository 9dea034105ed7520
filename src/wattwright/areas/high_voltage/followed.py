"""A cable followed over time at one current after another, from warm to too warm."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log

from wattwright.areas.wired import Wired
from wattwright.bracketed import root_between
from wattwright.cable_over_time import Warming
from wattwright.errors import FormulaError
from wattwright.kinds import FRACTION
from wattwright.physics import cable_warming, conductor
from wattwright.values import Value, constant, worked

Points = Sequence[tuple[float, float]]

# From so many seconds on the insulation gets warm with the metal, in the thickest cable too.
_IN_MINUTES = 60.0
# Currents that are looked at: closest to the one borne for hours, where the curve stands upright.
_POINTS, _NEAREST = 48, 1e-3
_LOST = "heat lost on average, over that at the limit; by search"
_MADE = "heat made on average, over that at the limit; by search"


@dataclass(frozen=True, slots=True, eq=False)
class Followed:
    """A cable that is at ``start`` and may come to ``limit``; ``hours`` is what keeps it there."""

    run: Wired
    start: Value
    limit: Value
    hours: Value

    @property
    def ready(self) -> bool:
        """True where nothing is missing, and it is colder now than it may get."""
        known = self.run.known and self.start.known and self.limit.known and self.hours.known
        return known and self._ends[0] < self._ends[1]

    @property
    def _ends(self) -> tuple[float, float]:
        return self.start.number or 0.0, self.limit.number or 0.0

    def lasts(self, current: float) -> float:
        """Time in s until it comes to its limit, six hours at most."""
        return _lasts(*self._both(current), *self._ends)[1]

    def _both(self, current: float) -> tuple[Warming, Warming]:
        """Itself with the metal alone, and with what gets warm with it later."""
        kept = (self.run.capacity, self.run.capacity_in_minutes)
        return self.run.warming(current, kept[0]), self.run.warming(current, kept[1])

    def _at(self, current: float) -> tuple[Value, Warming]:
        """Take the metal alone where that is warm within a minute, else what counts later."""
        metal, later = self._both(current)
        if _lasts(metal, later, *self._ends)[0]:
            return self.run.capacity, metal
        return self.run.capacity_in_minutes, later

    def after(self, current: Value, time: Value) -> Value:
        """Temperature a time after a current began."""
        lost = made = 1.0
        short = (time.number or 0.0) < _IN_MINUTES
        keeps = self.run.capacity if short else self.run.capacity_in_minutes
        if self.ready and current.known and time.known:
            lost, made = self._shares(current.number or 0.0, time.number or 0.0, keeps)
        return worked(
            cable_warming.temperature_after,
            *(current, time, self.start, keeps, self._at_limit, self.hours),
            constant(FRACTION, lost, _LOST),
            constant(FRACTION, made, _MADE),
        )

    def _shares(self, current: float, time: float, keeps: Value) -> tuple[float, float]:
        """Heat lost and made on average over a time; where the metal would melt none is lost."""
        warming, start = self.run.warming(current, keeps), self._ends[0]
        try:
            end = warming.after(start, time)
        except FormulaError:
            return 0.0, 1.0
        resistance = self._at_limit.number or 1.0
        mean = warming.heat_between(start, end)
        lost = (mean - warming.capacity * (end - start) / time) / resistance
        return lost / (self.hours.number or 1.0) ** 2, mean / (current**2 * resistance)

    def curve(self, last: float) -> Points:
        """Points of current in A and time in s, up to a current."""
        least = self.hours.number or 1.0
        most = max(last / least - 1.0, 2 * _NEAREST)
        currents = [least * (1.0 + more) for more in spaced(_NEAREST, most, _POINTS)]
        return [(x, self.lasts(x)) for x in currents]

    def stands(self, time: Value, curve: Points) -> Value:
        """Current that brings it to its limit in a time; everything is known."""
        current = self._closed_in(time.number or 1.0, curve)
        keeps, warming = self._at(current)
        start, limit = self._ends
        at_limit = self._at_limit.number or 1.0
        made = 1.0
        if warming.time_within(start, limit, cable_warming.LONGEST) < cable_warming.LONGEST:
            made = warming.heat_between(start, limit) / (current**2 * at_limit)
        kept = warming.capacity * (limit - start) / ((time.number or 1.0) * at_limit)
        lost = (made * current**2 - kept) / (self.hours.number or 1.0) ** 2
        return self.stated(time, keeps, lost, made)

    def stated(
        self, time: Value, keeps: Value | None = None, lost: float = 1.0, made: float = 1.0
    ) -> Value:
        """State that current, with the shares of the heat that following it has found."""
        return worked(
            cable_warming.current_for_time,
            time,
            self.limit,
            self.start,
            keeps or self.run.capacity,
            self._at_limit,
            self.hours,
            constant(FRACTION, lost, _LOST),
            constant(FRACTION, made, _MADE),
        )

    @property
    def _at_limit(self) -> Value:
        """Resistance of a metre at its limit."""
        return worked(conductor.when_warm, self.run.per_length, self.run.coefficient, self.limit)

    def _closed_in(self, time: float, curve: Points) -> float:
        (less, longer), (more, shorter) = around(curve, time)
        if not longer > time > shorter:
            return less if time >= longer else more
        return root_between(lambda x: self.lasts(x) - time, less, more)


# A cable that stays as it is is followed once, however often the build is assessed again.
@lru_cache(maxsize=4096)
def _lasts(metal: Warming, later: Warming, start: float, limit: float) -> tuple[bool, float]:
    """Say whether the metal alone is warm within a minute, and how long what counts takes, s."""
    quick = metal.time_within(start, limit, cable_warming.LONGEST)
    if quick < _IN_MINUTES:
        return True, quick
    return False, later.time_within(start, limit, cable_warming.LONGEST)


def around(curve: Points, time: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Give the two points of a falling curve on either side of a time, or its nearest two."""
    place = bisect_left(curve, -time, key=lambda each: -each[1])
    place = min(max(place, 1), len(curve) - 1)
    return curve[place - 1], curve[place]


def between(curve: Points, time: float) -> float:
    """Current on a falling curve at a time, straight on paper with logarithms; ends hold on."""
    (less, longer), (more, shorter) = around(curve, time)
    if not longer > time > shorter:
        return less if time >= longer else more
    share = log(longer / time) / log(longer / shorter)
    return exp(log(less) + share * log(more / less))


def spaced(low: float, high: float, count: int) -> list[float]:
    """Numbers from low to high, each the same share above the one before."""
    return [*(low * (high / low) ** (place / count) for place in range(count)), high]
