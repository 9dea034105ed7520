"""All runs of one use: with every input as it is, and with each at either end of its band."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from wattwright.descriptions.duty import HELD, WINDOWS, CurrentShare, Demand, Variant
from wattwright.errors import UseError
from wattwright.kinds import LENGTH, SPEED
from wattwright.units import write
from wattwright.use_pass.lots import Lot, driven, driven_once
from wattwright.use_pass.rows import (
    NOISE,
    PLACES,
    moved_rows,
    parameters_of,
    shifts_of,
    that_can_be_driven,
)
from wattwright.use_pass.way import moved_traces
from wattwright.uses.inputs import Array, Maps, Parameters, Trace
from wattwright.uses.profile import Profile
from wattwright.uses.results import HELD_BACK_BY, Run
from wattwright.uses.traces import largest_rms, repeated, trace_of
from wattwright.uses.wanted import missed, wanted_distance
from wattwright.values import Value

# A torque below this share of the largest counts as none when reversals are counted.
_SLACK = 0.05
_BINS = 24
# More steps than this are no use on one charge, and would not fit into memory.
_MOST_STEPS = 2_000_000
# Energies per distance that are sums of columns of the summary.
_AT_WHEEL = ("rolling", "air", "climb", "brakes", "kinetic")


@dataclass(frozen=True, eq=False)
class Around:
    """Results of a use around the run with all inputs as they are.

    ``stated`` are the inputs that have a band, each with what it is called: those of the vehicle,
    then those of the way. ``lot`` has one row for the run, two for each of those, and one for each
    variant that is driven at the same speeds. ``parts`` are the traces of its rows, in order.
    """

    demand: Demand
    trace: Trace
    maps: Maps
    parameters: Parameters
    stated: tuple[tuple[str, Value], ...]
    widths: Array
    parts: list[tuple[Trace, Array]]
    lot: Lot
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
        trace = repeated(once, rounds)
        parameters = parameters_of(demand.inputs)
        moved, rows, widths = moved_rows(demand.inputs, parameters)
        of_way, traces, way_widths = moved_traces(demand, once, rounds)
        variants, otherwise = that_can_be_driven(demand.variants())
        parts = [(trace, rows), *((each, rows[:1]) for each in traces)]
        if otherwise:
            parts.append((trace, np.vstack(otherwise)))
        stated, widths = (*moved, *of_way), np.hstack([widths, way_widths])
        lot, base = driven(parts, maps), driven_once(trace, parameters, maps)
        return cls(demand, trace, maps, parameters, stated, widths, parts, lot, variants, base)

    def result(self, name: str) -> tuple[float, list[float]]:
        """One result of the run, and its shift over the band of each input."""
        column = self.column(name)
        base = float(column[0])
        return base, shifts_of(column[: 1 + 2 * len(self.stated)], self.widths)

    def column(self, name: str) -> Array:
        """One result of every run."""
        table = self.lot.table
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

    @property
    def _missing(self) -> Array:
        """Most speed missing.

        Where the pack ends on the way it is all of it, whatever the inputs are; what they move is
        where that is, and the speed is taken to move with it.
        """
        far = self.lot.table["distance"]
        if self.run.ended == "end of trace" or not far[0]:
            return self.lot.missing
        return np.asarray(self.lot.missing[0] * (2.0 - far / far[0]))

    @property
    def _motor_share(self) -> Array:
        return self.lot.rows[:, PLACES["motor_loss_share"]]

    def _each(self, energy: Any) -> Array:
        """Energy for the distance driven."""
        # Up and down the same hill leaves a height that is nothing but round-off.
        energy = np.where(np.abs(energy) < NOISE * np.abs(self.lot.table["chemistry"]), 0.0, energy)
        return np.asarray(energy / np.maximum(self.lot.table["distance"], 1e-9), dtype=np.float64)

    def _mean(self, energy: Any) -> Array:
        return np.asarray(energy / np.maximum(self.lot.time, 1e-9), dtype=np.float64)

    @property
    def missing(self) -> float:
        """Speed that may be missing, m/s."""
        allowed = self.demand.missing.number
        return HELD if allowed is None else allowed

    @cached_property
    def not_driven(self) -> str:
        """Why the way was not driven as wanted to its end; empty where it was."""
        of_use = f"the use {self.demand.name} is not driven"
        if self.run.ended != "end of trace":
            return f"{of_use} to its end: {self.run.ended}, {self._of_the_way}"
        match missed(self.run, self.trace, self.parameters, self.missing):
            case "speed":
                short = write(self.run.shortfall.speed, SPEED, "metric")
                return f"{of_use} as wanted: held back, up to {short} missing"
            case "distance":
                return f"{of_use} to its end: held back, {self._of_the_way}"
            case "height":
                return f"{of_use} as wanted: held back, and not as high as the way leads"
            case _:
                return ""

    @property
    def _of_the_way(self) -> str:
        whole = wanted_distance(self.trace)
        return " of ".join(write(each, LENGTH, "metric") for each in (self.run.distance, whole))

    @property
    def never_moved(self) -> bool:
        """Say that it ended before it began."""
        return self.run.ended != "end of trace" and self.run.distance == 0.0

    # ------------------------------------------------------------------- from the run itself

    def behind(self) -> tuple[float, dict[str, float]]:
        """Distance at which most speed is missing, and the time held back by each cause."""
        # Where the pack ends on the way, all of the speed is missing from there on.
        ended = self.run.ended != "end of trace"
        place = self.run.steps if ended else int(self.run.shortfall.at)
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

    def torques(self) -> tuple[int, tuple[tuple[float, float], ...]]:
        """Changes of sign of the motors' torque, and the share of the time at each torque."""
        torque, steps = self.run.torque, self.trace.steps[: self.run.steps]
        if not len(torque):
            return 0, ()
        slack = _SLACK * max(float(np.abs(torque).max()), 1e-9)
        signs = np.sign(torque[np.abs(torque) > slack])
        reversals = int((np.diff(signs) != 0).sum())
        moving = torque != 0
        if not moving.any():
            return reversals, ()
        # One torque alone, as at a steady speed, is no range to be cut into pieces.
        ends = (min(0.0, float(torque.min())), max(0.0, float(torque.max())))
        shares, edges = np.histogram(torque[moving], _BINS, ends, weights=steps[moving])
        middles = (edges[1:] + edges[:-1]) / 2
        whole = steps.sum()
        by_torque = tuple(
            (float(m), float(s / whole)) for m, s in zip(middles, shares, strict=True) if s
        )
        return reversals, by_torque
