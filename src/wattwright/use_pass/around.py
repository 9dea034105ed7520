"""All runs of one use: with every input as it is, and with each at either end of its band."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from wattwright.descriptions.duty import WINDOWS, CurrentShare, Demand, Variant
from wattwright.errors import UseError
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.use_pass.rows import (
    NOISE,
    PLACES,
    moved_rows,
    parameters_of,
    shifts_of,
    that_can_be_driven,
)
from wattwright.uses import compiled
from wattwright.uses.inputs import Maps, Parameters, Trace
from wattwright.uses.profile import Profile
from wattwright.uses.results import HELD_BACK_BY, Run
from wattwright.uses.runs import run, run_rows
from wattwright.uses.traces import largest_rms, trace_of
from wattwright.uses.until import until_reserve
from wattwright.values import Value

Array: TypeAlias = NDArray[np.float64]

# A torque below this share of the largest counts as none when reversals are counted.
_SLACK = 0.05
_BINS = 24
# More steps than this are no use on one charge, and would not fit into memory.
_MOST_STEPS = 2_000_000
# Share of the way that has to be driven for its results to stand for it; common practice.
_ENOUGH = 0.95
# A speed missing by less is held, m/s.
HELD = 0.05
# Energies per distance that are sums of columns of the summary.
_AT_WHEEL = ("rolling", "air", "climb", "brakes", "kinetic")
# Runs kept from one assessment to the next.
_KEPT = 64
_MEMO: OrderedDict[str, Any] = OrderedDict()


@dataclass(frozen=True, eq=False)
class Around:
    """Results of a use around the run with all inputs as they are.

    ``moved`` are the inputs that have a band, each with what it is called; ``table`` has one row
    for the run, two for each of those, and one for each variant that is driven at the same speeds.
    """

    demand: Demand
    trace: Trace
    maps: Maps
    parameters: Parameters
    moved: tuple[tuple[str, Value], ...]
    widths: Array
    table: Any
    rows: Array
    variants: tuple[Variant, ...]
    run: Run

    @classmethod
    def of(cls, demand: Demand) -> Around:
        """Drive a use. Raises UseError where what is known contradicts itself."""
        if not isinstance(demand.profile, Profile) or demand.maps is None:
            raise UseError("the way or the motor is not known")
        maps = demand.maps()
        rounds = max(1, round(demand.repeat.number or 1.0))
        once = trace_of(demand.profile)
        if len(once.steps) * rounds > _MOST_STEPS:
            raise UseError(f"{rounds} times over it is too long for one run; repeat it less often")
        trace = once if rounds == 1 else trace_of(demand.profile, rounds)
        parameters = parameters_of(demand.inputs)
        moved, rows, widths = moved_rows(demand.inputs, parameters)
        variants, otherwise = that_can_be_driven(demand.variants())
        rows = np.vstack([rows, *otherwise])
        table = _driven(trace, rows, maps)
        base = run(trace, parameters, maps, form())
        return cls(demand, trace, maps, parameters, moved, widths, table, rows, variants, base)

    def result(self, name: str) -> tuple[float, list[float]]:
        """One result of the run, and its shift over the band of each input."""
        column = self.column(name)
        base = float(column[0])
        return base, shifts_of(column[: 1 + 2 * len(self.moved)], self.widths)

    def column(self, name: str) -> Array:
        """One result of every run."""
        table = self.table
        match name:
            case "consumption":
                return self._each(table["chemistry"] - table["pack_heat"])
            case "at_wheel":
                return self._each(sum(table[part] for part in _AT_WHEEL))
            case "motor_mean":
                return self._mean(table["drive_loss"] * self._motor_share)
            case "inverter_mean":
                return self._mean(table["drive_loss"] * (1 - self._motor_share))
            case "pack_mean":
                return self._mean(table["pack_heat"])
            case "driveline_mean":
                return self._mean(table["driveline_loss"])
            case "largest_miss":
                return self._missing
        if name.endswith("_each"):
            return self._each(table[name.removesuffix("_each")])
        return np.asarray(table[name], dtype=np.float64)

    @cached_property
    def _missing(self) -> Array:
        """Most speed missing; where the pack ends before the use, all that is still wanted."""
        missing = np.array(self.table["largest_miss"])
        for row in np.flatnonzero(self.table["ended_by"]):
            left = self.trace.speeds[int(self.table["ended_at"][row]) :]
            missing[row] = max(missing[row], left.max(initial=0.0))
        return missing

    @property
    def _motor_share(self) -> Array:
        return self.rows[:, PLACES["motor_loss_share"]]

    def _each(self, energy: Any) -> Array:
        """Energy for the distance driven."""
        # Up and down the same hill leaves a height that is nothing but round-off.
        energy = np.where(np.abs(energy) < NOISE * np.abs(self.table["chemistry"]), 0.0, energy)
        return np.asarray(energy / np.maximum(self.table["distance"], 1e-9), dtype=np.float64)

    def _mean(self, energy: Any) -> Array:
        ended = self.table["ended_at"].astype(int)
        return np.asarray(energy / np.maximum(self.trace.times[ended], 1e-9), dtype=np.float64)

    @property
    def not_driven(self) -> str:
        """Why the way was not driven to its end; empty where it was, be it a little later."""
        wanted = float(
            ((self.trace.speeds[1:] + self.trace.speeds[:-1]) / 2 * self.trace.steps).sum()
        )
        if self.run.ended == "end of trace" and self.run.distance >= _ENOUGH * wanted:
            return ""
        why = "held back" if self.run.ended == "end of trace" else self.run.ended
        far, whole = (write(each, LENGTH, "metric") for each in (self.run.distance, wanted))
        return f"the use {self.demand.name} is not driven to its end: {why}, {far} of {whole}"

    @property
    def _never_moved(self) -> bool:
        return self.run.ended != "end of trace" and self.run.distance == 0.0

    # ---------------------------------------------------------------------------------- range

    def range(self) -> tuple[float | None, list[float]]:
        """Range down to the reserve, and its shifts; none where the use does not take charge.

        The run itself is repeated to the very end. How far the others would go follows from what
        they take for their distance and what the pack holds for them.
        """
        reserve = self.demand.reserve.number or 0.0
        estimates = self._estimates(self.table, self.rows, reserve)
        if self._never_moved or estimates[0] <= 0:
            return 0.0, []
        if not np.isfinite(estimates[0]):
            return None, []
        far = float(estimates[0])
        if self.trace.speeds[0] == self.trace.speeds[-1]:
            far = until_reserve(self.trace, self.parameters, self.maps, reserve, form()).distance
        # A recording that ends faster than it began cannot be driven twice in a row as it is.
        if not np.isfinite(far):
            return None, []
        column = far * estimates / estimates[0]
        return far, shifts_of(column[: 1 + 2 * len(self.moved)], self.widths)

    def range_shares(self) -> dict[str, float]:
        """Range over that of the run, where one thing is done otherwise."""
        reserve = self.demand.reserve.number or 0.0
        estimates = self._estimates(self.table, self.rows, reserve)
        if self._never_moved or not 0 < estimates[0] < np.inf:
            return {}
        first = 1 + 2 * len(self.moved)
        shares = {}
        for place, variant in enumerate(self.variants):
            estimate = estimates[first + place]
            if variant.faster != 1.0:
                row = self.rows[first + place][None]
                faster = Trace(
                    self.trace.steps / variant.faster,
                    self.trace.speeds * variant.faster,
                    self.trace.grades,
                    self.trace.on,
                )
                table = _driven(faster, row, self.maps)
                estimate = self._estimates(table, row, reserve)[0]
            if np.isfinite(estimate):
                shares[variant.says] = float(estimate / estimates[0])
        return shares

    def _estimates(self, table: Any, rows: Array, reserve: float) -> Array:
        """How far each run would go, by what it takes for its distance; endless where nothing."""
        held = self._held(reserve, rows)
        with np.errstate(divide="ignore", invalid="ignore"):
            far = table["distance"] * held / table["chemistry"]
        return np.where(table["chemistry"] > 0, far, np.inf)

    def _held(self, reserve: float, rows: Array) -> Array:
        """Energy that leaves the cells between the charge at the start and the reserve."""
        charges, volts = self.maps.charges, self.maps.open_circuit
        starts = rows[:, PLACES["start_charge"]]
        places = np.unique(np.concatenate((charges, starts, [reserve])))
        heights = np.interp(places, charges, volts)
        below = np.concatenate(
            ([0.0], np.cumsum(np.diff(places) * (heights[1:] + heights[:-1]) / 2))
        )
        between = np.interp(starts, places, below) - np.interp(reserve, places, below)
        capacity = rows[:, PLACES["capacity"]]
        return np.asarray(between * capacity * rows[:, PLACES["voltage_scale"]])

    # ------------------------------------------------------------------- from the run itself

    def behind(self) -> tuple[float, dict[str, float]]:
        """Distance at which most speed is missing, and the time held back by each cause."""
        place = min(int(self.run.shortfall.at), len(self._along) - 1)
        steps = self.trace.steps[: self.run.steps]
        causes = self.run.held_back_by.astype(int)
        times = {
            why: float(steps[causes == number].sum())
            for number, why in enumerate(HELD_BACK_BY)
            if number
        }
        return float(self._along[place]), {why: time for why, time in times.items() if time}

    @cached_property
    def _along(self) -> Array:
        means = (self.run.speed[1:] + self.run.speed[:-1]) / 2
        return np.concatenate(([0.0], np.cumsum(means * self.trace.steps[: self.run.steps])))

    def phase_shares(self, share_of: CurrentShare) -> dict[float, float]:
        """Root mean squares of the phase current over its highest, by window and over the whole."""
        torque_share = np.abs(self.run.torque) / np.maximum(self._torque_limits(), 1e-9)
        points = zip(torque_share, self.run.motor_speed, self.run.voltage, strict=True)
        turning = self.run.motor_speed > 0
        current = np.array([share_of(*map(float, point)) for point in points])
        return self._windows(np.where(turning, current, 0.0))

    def _torque_limits(self) -> Array:
        """Largest torque at the speed and the voltage of every step."""
        maps, result = self.maps, self.run
        by_voltage = np.array(
            [
                np.interp(result.motor_speed, maps.torque_speeds, limits)
                for limits in maps.torque_limits.T
            ]
        )
        place = np.interp(
            result.voltage, maps.torque_voltages, np.arange(len(maps.torque_voltages))
        )
        low = np.minimum(place.astype(int), len(maps.torque_voltages) - 2)
        share, step = place - low, np.arange(len(low))
        limits = by_voltage[low, step] * (1 - share) + by_voltage[low + 1, step] * share
        return np.asarray(limits * self.parameters.torque_scale)

    def _windows(self, current: Array) -> dict[float, float]:
        """Largest root mean square in any window, and over the whole at nought."""
        steps = self.trace.steps[: self.run.steps]
        whole = largest_rms(steps, current, float(steps.sum()))
        # Where a run is shorter than a window, the whole run is the window.
        found = {
            seconds: largest_rms(steps, current, min(seconds, float(steps.sum())))
            for seconds in WINDOWS
        }
        return {**found, 0.0: whole}

    def torques(self) -> tuple[float, float, int, tuple[tuple[float, float], ...]]:
        """Largest and smallest torque of the motors, changes of sign, and the time at each."""
        torque, steps = self.run.torque, self.trace.steps[: self.run.steps]
        if not len(torque):
            return 0.0, 0.0, 0, ()
        slack = _SLACK * max(float(np.abs(torque).max()), 1e-9)
        signs = np.sign(torque[np.abs(torque) > slack])
        reversals = int((np.diff(signs) != 0).sum())
        moving = torque != 0
        if not moving.any():
            return 0.0, 0.0, reversals, ()
        # One torque alone, as at a steady speed, is no range to be cut into pieces.
        ends = (min(0.0, float(torque.min())), max(0.0, float(torque.max())))
        shares, edges = np.histogram(torque[moving], _BINS, ends, weights=steps[moving])
        middles = (edges[1:] + edges[:-1]) / 2
        whole = steps.sum()
        by_torque = tuple(
            (float(m), float(s / whole)) for m, s in zip(middles, shares, strict=True) if s
        )
        return ends[1], ends[0], reversals, by_torque


def reach(demand: Demand) -> float | None:
    """Distance a use goes down to the reserve, in m; none where something is missing for it.

    And none where the speed cannot be held: what is driven instead is not what was asked.
    """
    values = (*demand.inputs.values(), demand.reserve)
    if demand.maps is None or not isinstance(demand.profile, Profile):
        return None
    if not all(value.known for value in values):
        return None
    parameters = parameters_of(demand.inputs)
    trace, maps = trace_of(demand.profile), demand.maps()
    once = run(trace, parameters, maps, form())
    if once.shortfall.speed > HELD or once.ended != "end of trace":
        return None
    far = until_reserve(trace, parameters, maps, demand.reserve.number or 0.0, form())
    return far.distance if np.isfinite(far.distance) else None


def _driven(trace: Trace, rows: Array, maps: Maps) -> Any:
    """Drive every row; what was driven before is not driven again."""
    key = _digest(trace, rows, maps)
    if key in _MEMO:
        _MEMO.move_to_end(key)
        return _MEMO[key]
    found = _MEMO[key] = run_rows(trace, rows, maps, form())
    if len(_MEMO) > _KEPT:
        _MEMO.popitem(last=False)
    return found


def form() -> bool | None:
    """The compiled form wherever it is there: a use is driven often enough for it to pay."""
    return True if compiled.available() else None


def _digest(trace: Trace, rows: Array, maps: Maps) -> str:
    seen = hashlib.sha256()
    parts: tuple[Any, ...] = (trace.steps, trace.speeds, trace.grades, trace.on, rows, *maps.flat)
    for part in parts:
        seen.update(str(part.shape).encode())
        seen.update(np.ascontiguousarray(part).tobytes())
    return seen.hexdigest()
