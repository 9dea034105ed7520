"""How steep a hill is held for long, and how long one is held, until something is too warm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from wattwright.descriptions.duty import BODIES, HELD
from wattwright.use_pass.kept import kept
from wattwright.use_pass.lots import form
from wattwright.use_pass.rows import PLACES, moved_rows, parameters_of, shifts_of
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

    def time(self, grade: float) -> Held:
        """How long a grade is held, an hour at most."""
        return kept(("longest", grade, *self._numbers), lambda: self._longest(grade))

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

    def _longest(self, grade: float) -> Held:
        trace = self._trace(grade, AN_HOUR)
        result = run(trace, self.parameters, self.maps, form())
        missing = np.flatnonzero(trace.speeds[: len(result.speed)] - result.speed > HELD)
        ends = {"force": missing[0] if missing.size else len(trace.steps) + 1}
        if result.ended != "end of trace":
            # The pack cannot feed even what is always on.
            ends["force"] = min(ends["force"], result.steps)
        for body in BODIES:
            begins = getattr(self.parameters, f"limit_{body}") - getattr(
                self.parameters, f"span_{body}"
            )
            warm = np.flatnonzero(getattr(result, body) >= begins)
            ends[body] = warm[0] if warm.size else len(trace.steps) + 1
        by = min(ends, key=lambda name: ends[name])
        place = int(ends[by])
        if place > len(trace.steps):
            return Held(AN_HOUR, [], "nothing")
        if by == "force" or place < 2:
            return Held(float(trace.times[max(0, place - 1)]), [], by)
        number = BODIES.index(by)
        seconds = float(trace.times[place])
        longer = self._margins(self._drive(grade, seconds, self.rows), self.rows)[:, number]
        shorter = self._margins(self._drive(grade, seconds - _STEP, self.rows[:1]), self.rows[:1])[
            0, number
        ]
        slope = (longer[0] - shorter) / _STEP
        exact = seconds - longer[0] / slope
        return Held(float(exact), self._moves(longer, slope), BODIES[number])

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
