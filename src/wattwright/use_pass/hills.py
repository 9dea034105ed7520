"""How steep a hill is held for long, and how long one is held, until something is too warm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from wattwright.descriptions.duty import BODIES, HELD
from wattwright.use_pass.kept import kept
from wattwright.use_pass.lots import form
from wattwright.use_pass.rows import (
    PLACES,
    ends_of,
    moved_rows,
    parameters_from,
    parameters_of,
    shifts_of,
)
from wattwright.uses.inputs import Array, Maps, Parameters, Trace
from wattwright.uses.runs import run, run_rows
from wattwright.values import Value

# Steps of time, s; how long a hill is to be held; and the longest that is looked at.
_STEP = 10.0
HALF_AN_HOUR, AN_HOUR = 1800.0, 3600.0
_STEEPEST, _HALVINGS = 0.5, 14
# So large a pack that what it holds never ends a hill.
_ENDLESS = 1000.0
_NEARBY = 0.02


@dataclass(frozen=True, eq=False)
class Held:
    """What is held, grade or time in SI, its shift over the band of each input, what ends it."""

    number: float
    shifts: list[float]
    by: str


@dataclass(frozen=True, eq=False)
class HillRuns:
    """One speed on hills, with every input as it is and at either end of its band."""

    speed: float
    maps: Maps
    moved: tuple[tuple[str, Value], ...]
    rows: Array
    widths: Array
    parameters: Parameters

    @classmethod
    def of(cls, speed: float, inputs: dict[str, Value], maps: Maps) -> HillRuns:
        """Put the runs together. Raises UseError where what is known contradicts itself."""
        parameters = parameters_of(inputs)
        parameters = replace(parameters, capacity=_ENDLESS * parameters.capacity, start_charge=0.5)
        # Of what the pack holds nothing is moved: it plays no part.
        apart = {n: value for n, value in inputs.items() if n not in ("capacity", "start_charge")}
        moved, rows, widths = moved_rows(apart, parameters)
        return cls(speed, maps, moved, rows, widths, parameters)

    def grade(self) -> Held:
        """Steepest grade that is held for half an hour."""
        return kept(("steepest", *self._numbers), self._steepest)

    def time(self, wanted: Value) -> Held:
        """How long a grade is held, an hour at most; the last shift is that over its band."""
        key = "longest", wanted.number, wanted.band, *self._numbers
        return kept(key, lambda: self._longest(wanted))

    @property
    def _numbers(self) -> tuple[float | bytes, ...]:
        arrays = self.rows, self.widths, self.parameters.vector
        return self.speed, self.maps.digest, *(array.tobytes() for array in arrays)

    def _steepest(self) -> Held:
        low, high = 0.0, _STEEPEST
        if not self._holds(low):
            level = self._margins(self._drive(low, HALF_AN_HOUR, self.rows[:1]), self.rows[:1])[0]
            return Held(0.0, [], BODIES[int(level.argmin())] if level.min() <= 0 else "force")
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if self._holds(middle) else (low, middle)
        table = self._drive(high, HALF_AN_HOUR, self.rows[:1])
        margins = self._margins(table, self.rows[:1])[0]
        if margins.min() > 0:
            return Held(low, [], "force")
        body = int(margins.argmin())
        flatter = low * (1 - _NEARBY)
        steeper, nearby = (
            self._margins(self._drive(grade, HALF_AN_HOUR, rows), rows)[:, body]
            for grade, rows in ((low, self.rows), (flatter, self.rows[:1]))
        )
        slope = (steeper[0] - nearby[0]) / (low - flatter)
        return Held(low, self._moves(steeper, slope), BODIES[body])

    def _longest(self, wanted: Value) -> Held:
        grade = wanted.number or 0.0
        number, by = self._lasting(grade, self.rows[0])
        if not number:
            # However it is moved, nobody is told less than nothing.
            return Held(number, [], by)
        ends, shares = ends_of(wanted) if wanted.band else ([grade] * 2, [1.0, 1.0])
        widths = np.hstack([self.widths, np.array([shares]).T])
        if by in BODIES and number > 2 * _STEP:
            return Held(number, self._warming(grade, ends, number, BODIES.index(by), widths), by)
        column = [
            number,
            *self._times(grade, self.rows[1:]),
            *(self._times(end, self.rows[:1])[0] for end in ends),
        ]
        # What counts is how much shorter it may be, by all of it at most. Where the other end of a
        # band is held for an hour, that must not drown it.
        return Held(number, shifts_of(np.minimum(column, 2 * number), widths), by)

    def _warming(
        self, grade: float, ends: list[float], seconds: float, body: int, widths: Array
    ) -> list[float]:
        """Shift of the time at which a body is too warm, along how fast it warms then."""
        once = self.rows[:1]
        longer = self._margins(self._drive(grade, seconds, self.rows), self.rows)[:, body]
        graded = [self._margins(self._drive(end, seconds, once), once)[0, body] for end in ends]
        shorter = self._margins(self._drive(grade, seconds - _STEP, once), once)[0, body]
        slope = (longer[0] - shorter) / _STEP
        return shifts_of(-np.array([*longer, *graded]) / slope, widths)

    def _times(self, grade: float, rows: Array) -> list[float]:
        """How long each row holds a grade, an hour at most."""
        table = self._drive(grade, AN_HOUR, rows)
        cool = self._margins(table, rows).min(axis=1) > 0
        held = cool & (table["largest_miss"] <= HELD) & (table["ended_by"] == 0)
        pairs = zip(rows, held, strict=True)
        return [AN_HOUR if all_of_it else self._lasting(grade, row)[0] for row, all_of_it in pairs]

    def _lasting(self, grade: float, row: Array) -> tuple[float, str]:
        """How long one vehicle holds a grade, an hour at most, and what ends it."""
        trace = self._trace(grade, AN_HOUR)
        parameters = parameters_from(row)
        result = run(trace, parameters, self.maps, form())
        missing = np.flatnonzero(trace.speeds[: len(result.speed)] - result.speed > HELD)
        ends = {"nothing": AN_HOUR}
        if missing.size:
            ends["force"] = float(trace.times[max(0, missing[0] - 1)])
        if result.ended != "end of trace":
            # The pack cannot feed even what is always on.
            ends["force"] = min(ends.get("force", AN_HOUR), float(trace.times[result.steps]))
        for body in BODIES:
            limit, span = (getattr(parameters, f"{word}_{body}") for word in ("limit", "span"))
            reached = _reached(getattr(result, body), trace.times, limit - span)
            if reached is not None:
                ends[body] = reached
        by = min(ends, key=lambda name: (ends[name], name == "nothing"))
        return ends[by], by

    def _moves(self, margins: Array, slope: float) -> list[float]:
        """By how much grade or time must give way where an input moves the margin."""
        return shifts_of(-margins / slope, self.widths)

    def _holds(self, grade: float) -> bool:
        table = self._drive(grade, HALF_AN_HOUR, self.rows[:1])
        warm = self._margins(table, self.rows[:1]).min() <= 0
        return not warm and float(table["largest_miss"][0]) < HELD and not table["ended_by"][0]

    def _drive(self, grade: float, seconds: float, rows: Array) -> Any:
        return run_rows(self._trace(grade, seconds), rows, self.maps, form(), workers=1)

    def _trace(self, grade: float, seconds: float) -> Trace:
        count = max(1, round(seconds / _STEP))
        return Trace(np.full(count, seconds / count), np.full(count + 1, self.speed), grade)

    def _margins(self, table: Any, rows: Array) -> Array:
        """By how much every body stays below where power is taken back, row by row."""
        columns = []
        for body in BODIES:
            limit, span = (rows[:, PLACES[f"{word}_{body}"]] for word in ("limit", "span"))
            columns.append(limit - span - table[f"peak_{body}"])
        return np.array(columns).T


def _reached(temperatures: Array, times: Array, limit: float) -> float | None:
    """Time at which a temperature reaches a limit, between steps on a straight line."""
    places = np.flatnonzero(temperatures >= limit)
    if not places.size:
        return None
    place = int(places[0])
    if place == 0:
        return 0.0
    before, after = temperatures[place - 1 : place + 1]
    share = (limit - before) / (after - before)
    return float(times[place - 1] + share * (times[place] - times[place - 1]))
