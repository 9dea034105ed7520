"""How far a use leads: down to the charge that is to be left, and where one thing is otherwise."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import inf, sqrt

import numpy as np
from numpy.typing import NDArray

from wattwright.descriptions.duty import HELD, Demand
from wattwright.errors import UseError
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.use_pass.around import Around
from wattwright.use_pass.lots import Lot, driven, driven_once, driven_to
from wattwright.use_pass.rows import PLACES, ends_of, parameters_from, parameters_of, shifts_of
from wattwright.use_pass.warming import warmed
from wattwright.uses.inputs import Array, Parameters, Trace
from wattwright.uses.moved import closed, faster
from wattwright.uses.profile import Profile
from wattwright.uses.results import BODIES
from wattwright.uses.runs import at_once
from wattwright.uses.traces import trace_of
from wattwright.uses.until import Reach
from wattwright.uses.wanted import LITTLE

# So large a pack that a round does not lower its charge.
_ENDLESS = 1000.0
_BY_CHARGE = ("charge", "nothing", "pack cannot feed")


@dataclass(frozen=True, eq=False)
class Far:
    """Range in m and its shift over the band of each input; none where it never ends.

    The last shift is that over the band of the charge that is to be left. ``held_back`` says from
    where on it is not driven as wanted, and why; empty where it is to the end.
    """

    number: float | None
    shifts: list[float]
    held_back: str = ""


class Reaching:
    """A use repeated down to the reserve, with all inputs as they are and each at its ends.

    The run itself is repeated to the very end, or to where it is held back. How far the others
    would go follows from what they take for their distance and what the pack holds for them; but
    one that would be held back on the way is repeated as well.
    """

    def __init__(self, around: Around) -> None:
        self.around = around
        self.reserve = around.demand.reserve.number or 0.0
        self.estimates = _estimates(around, around.lot, self.reserve)
        # What is not driven as wanted from the first time on is doubted as a whole. A speed that
        # is not held any longer leads no farther.
        speeds = around.trace.speeds
        steady = bool((speeds == speeds[0]).all())
        self.missing = around.missing if steady or not around.not_driven else np.inf

    def far(self) -> Far:
        """Range down to the reserve, and its shifts."""
        if self.around.never_moved or self.estimates[0] <= 0:
            return Far(0.0, [])
        number = self._first.distance
        if not np.isfinite(self.estimates[0]) or not np.isfinite(number):
            return Far(None, [])
        return Far(number, [*self._shifts(number), self._by_reserve(number)], self._held_back)

    def _shifts(self, number: float) -> list[float]:
        """Shift over the band of each input.

        Whatever holds it back does so at much the same place: on the last hill, or from a warm
        pack on. So all inputs that lead there are counted as one together, beside the energy.
        """
        rows = slice(1 + 2 * len(self.around.stated))
        by_energy = number * self.estimates[rows] / self.estimates[0]
        smooth = np.array(shifts_of(by_energy, self.around.widths))
        sudden = np.array(shifts_of(self._distances[rows], self.around.widths)) - smooth
        count = np.count_nonzero(np.abs(sudden) > LITTLE * number)
        shifts: list[float] = (smooth + sudden / sqrt(max(1, int(count)))).tolist()
        return shifts

    def shares(self) -> dict[str, tuple[float, str]]:
        """Range over that of the run, where one thing is done otherwise, and a doubt about it."""
        around = self.around
        if around.never_moved or not 0 < self.estimates[0] < np.inf:
            return {}
        first = 1 + 2 * len(around.stated)
        shares = {}
        for place, variant in enumerate(around.variants, start=first):
            lot, row = around.lot, place
            share = self._distances[place] / self._distances[0]
            if variant.faster != 1.0:
                numbers = around.lot.rows[place][None]
                lot, row = driven([(faster(around.trace, variant.faster), numbers)], around.maps), 0
                share = _estimates(around, lot, self.reserve)[0] / self.estimates[0]
            if np.isfinite(share):
                shares[variant.says] = (float(share), _short(around, lot, row, variant.says))
        return shares

    @cached_property
    def _first(self) -> Reach:
        around = self.around
        return self._repeated(around.trace, around.parameters)

    def _repeated(self, trace: Trace, parameters: Parameters) -> Reach:
        return driven_to(closed(trace), parameters, self.around.maps, self.reserve, self.missing)

    @cached_property
    def _held_back(self) -> str:
        """Say from where on it is held back, if it is."""
        if self._first.limit in _BY_CHARGE:
            return ""
        place = write(self._first.distance, LENGTH, "metric")
        name = self.around.demand.name
        return f"{name} is held back from {place} on: {self._first.limit}"

    @cached_property
    def _distances(self) -> Array:
        """Range of every row."""
        number = self._first.distance
        found = np.array(number * self.estimates / self.estimates[0])
        found[0] = number
        traces = [trace for trace, rows in self.around.parts for _ in rows]
        rows = self.around.lot.rows

        def one(place: int) -> float:
            try:
                return self._repeated(traces[place], parameters_from(rows[place])).distance
            except UseError:
                # At that end alone it contradicts itself, and tells no more than its energy does.
                return inf

        suspects = [place for place in self._suspects() if place]
        for place, distance in zip(suspects, at_once(one, suspects), strict=True):
            # What never ends has no distance of its own to tell.
            if np.isfinite(distance):
                found[place] = distance
        return found

    def _suspects(self) -> list[int]:
        """Rows that may be held back before the reserve.

        Each is driven once more with the charge held at the reserve, where the pack is weakest,
        and as warm from the beginning as it gets in the end. One that is driven as wanted then is
        held back nowhere.
        """
        around = self.around
        if self._held_back:
            return list(range(len(around.lot.rows)))
        if not np.isfinite(self.missing):
            return []
        rows = np.array(around.lot.rows)
        rows[:, PLACES["capacity"]] *= _ENDLESS
        rows[:, PLACES["start_charge"]] = self.reserve
        starts = [PLACES[f"start_{body}"] for body in BODIES]
        # As long as the run goes, and a good deal longer for those that go farther.
        warm = warmed(around.lot, 1.5 * self._first.time)
        rows[:, starts] = np.maximum(rows[:, starts], warm)
        ends = np.cumsum([0, *(len(each) for _, each in around.parts)])
        parts = [
            (trace, rows[begin:end])
            for (trace, _), (begin, end) in zip(around.parts, pairwise(ends), strict=True)
        ]
        lot = driven(parts, around.maps)
        found: list[int] = np.flatnonzero(
            _are_short(around, lot) | (lot.table["ended_by"] != 0)
        ).tolist()
        return found

    def _by_reserve(self, number: float) -> float:
        """Shift of the range over the band of the charge that is to be left."""
        around, reserve = self.around, self.around.demand.reserve
        if not reserve.band:
            return 0.0
        first = Lot(*(part[:1] for part in vars(around.lot).values()))
        ends, widths = ends_of(reserve, 0.0, float(first.rows[0, PLACES["start_charge"]]))
        each = [_estimates(around, first, end)[0] / self.estimates[0] for end in ends]
        column = [number, *(number * share for share in each)]
        return shifts_of(np.array(column), np.array([widths]).T)[0]


def _short(around: Around, lot: Lot, row: int, says: str) -> str:
    """Say that the way is not driven as wanted where one thing is otherwise; else nothing."""
    short = _are_short(around, lot)[row]
    return f"{around.demand.name} is not driven as wanted if: {says}" if short else ""


def _are_short(around: Around, lot: Lot) -> NDArray[np.bool_]:
    """Rows that are not driven as wanted."""
    table = lot.table
    little = LITTLE * (table["distance"] + table["distance_short"])
    return np.asarray((table["largest_miss"] > around.missing) | (table["distance_short"] > little))


def _estimates(around: Around, lot: Lot, reserve: float) -> Array:
    """How far each run would go, by what it takes for its distance; endless where nothing."""
    held = _held(around, reserve, lot.rows)
    table = lot.table
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = table["distance"] * held / table["chemistry"]
    return np.where(table["chemistry"] > 0, distance, np.inf)


def _held(around: Around, reserve: float, rows: Array) -> Array:
    """Energy that leaves the cells between the charge at the start and the reserve."""
    charges, volts = around.maps.charges, around.maps.open_circuit
    starts = rows[:, PLACES["start_charge"]]
    places = np.array(sorted({*charges.tolist(), *starts.tolist(), reserve}))
    heights = np.interp(places, charges, volts)
    below = np.concatenate(([0.0], np.cumsum(np.diff(places) * (heights[1:] + heights[:-1]) / 2)))
    between = np.interp(starts, places, below) - np.interp(reserve, places, below)
    return np.asarray(between * rows[:, PLACES["capacity"]] * rows[:, PLACES["voltage_scale"]])


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
    once = driven_once(trace, parameters, maps)
    if once.shortfall.speed > HELD or once.ended != "end of trace":
        return None
    found = driven_to(trace, parameters, maps, demand.reserve.number or 0.0, HELD)
    return found.distance if found.limit in ("charge", "pack cannot feed") else None
