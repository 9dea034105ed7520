"""How far a use leads: down to the charge that is to be left, and where one thing is otherwise."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wattwright.descriptions.duty import HELD, Demand
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.use_pass.around import Around
from wattwright.use_pass.lots import Lot, driven, driven_once, driven_to
from wattwright.use_pass.rows import PLACES, ends_of, parameters_of, shifts_of
from wattwright.uses.inputs import Array, Trace
from wattwright.uses.profile import Profile
from wattwright.uses.traces import trace_of
from wattwright.uses.wanted import LITTLE

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


def far(around: Around) -> Far:
    """Range down to the reserve, and its shifts.

    The run itself is repeated to the very end, or to where it is held back. How far the others
    would go follows from what they take for their distance and what the pack holds for them.
    """
    reserve = around.demand.reserve.number or 0.0
    estimates = _estimates(around, around.lot, reserve)
    if around.never_moved or estimates[0] <= 0:
        return Far(0.0, [])
    if not np.isfinite(estimates[0]):
        return Far(None, [])
    number, held_back = _repeated(around, reserve, float(estimates[0]))
    # A recording that ends faster than it began cannot be driven twice in a row as it is.
    if not np.isfinite(number):
        return Far(None, [])
    column = number * estimates[: 1 + 2 * len(around.stated)] / estimates[0]
    shifts = shifts_of(column, around.widths)
    return Far(number, [*shifts, _by_reserve(around, number, estimates[0])], held_back)


def _repeated(around: Around, reserve: float, estimate: float) -> tuple[float, str]:
    """Repeat the run, and say from where on it is held back where it is."""
    speeds = around.trace.speeds
    if speeds[0] != speeds[-1]:
        return estimate, ""
    # What is not driven as wanted from the first time on is doubted as a whole. A speed that is
    # not held any longer leads no farther.
    steady = bool((speeds == speeds[0]).all())
    missing = around.missing if steady or not around.not_driven else np.inf
    every = around.trace, around.parameters, around.maps
    reach = driven_to(*every, reserve, missing)
    if reach.limit in _BY_CHARGE:
        return reach.distance, ""
    place = write(reach.distance, LENGTH, "metric")
    name = around.demand.name
    return reach.distance, f"{name} is held back from {place} on: {reach.limit}"


def _by_reserve(around: Around, number: float, estimate: float) -> float:
    """Shift of the range over the band of the charge that is to be left."""
    reserve = around.demand.reserve
    if not reserve.band:
        return 0.0
    first = Lot(*(part[:1] for part in vars(around.lot).values()))
    ends, widths = ends_of(reserve, 0.0, float(first.rows[0, PLACES["start_charge"]]))
    column = [number, *(number * _estimates(around, first, end)[0] / estimate for end in ends)]
    return shifts_of(np.array(column), np.array([widths]).T)[0]


def range_shares(around: Around) -> dict[str, tuple[float, str]]:
    """Range over that of the run, where one thing is done otherwise, and a doubt about it."""
    reserve = around.demand.reserve.number or 0.0
    estimates = _estimates(around, around.lot, reserve)
    if around.never_moved or not 0 < estimates[0] < np.inf:
        return {}
    first = 1 + 2 * len(around.stated)
    shares = {}
    for place, variant in enumerate(around.variants, start=first):
        lot, row, estimate = around.lot, place, estimates[place]
        if variant.faster != 1.0:
            numbers = around.lot.rows[place][None]
            lot, row = driven([(_faster(around.trace, variant.faster), numbers)], around.maps), 0
            estimate = _estimates(around, lot, reserve)[0]
        if np.isfinite(estimate):
            doubt = _short(around, lot, row, variant.says)
            shares[variant.says] = (float(estimate / estimates[0]), doubt)
    return shares


def _faster(trace: Trace, times: float) -> Trace:
    return Trace(trace.steps / times, trace.speeds * times, trace.grades, trace.on)


def _short(around: Around, lot: Lot, row: int, says: str) -> str:
    """Say that the way is not driven as wanted where one thing is otherwise; else nothing."""
    table = lot.table[row]
    far = LITTLE * (table["distance"] + table["distance_short"])
    if table["largest_miss"] <= around.missing and table["distance_short"] <= far:
        return ""
    return f"{around.demand.name} is not driven as wanted if: {says}"


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
    places = np.unique(np.concatenate((charges, starts, [reserve])))
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
