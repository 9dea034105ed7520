"""Rows of numbers that a use is driven with: all inputs as they are, and each at its ends."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from wattwright.descriptions.duty import Variant
from wattwright.errors import UseError
from wattwright.uses.inputs import NAMES, Array, Parameters
from wattwright.uses.limits import WARM
from wattwright.values import Value

# A shift by so little of the result is arithmetic noise.
NOISE = 1e-9
# Numbers that end at one, whatever their bands say.
_AT_MOST_ONE = ("driveline_efficiency", "motor_loss_share", "start_charge", "regen_taper_from")
PLACES = {name: place for place, name in enumerate(NAMES)}
# What a run divides by the distance between, with what contradicts itself where there is none.
_IN_ORDER: tuple[tuple[str, str | float, str], ...] = (
    ("regen_cold_from", "regen_cold_full", "cold cells are charged as warm ones are"),
    ("regen_fade_low", "regen_fade_high", "braking does not fade from high to low speed"),
    ("cold_temperature", WARM, "the cold temperature of the cells lies above 25 °C"),
    ("lowest_voltage", "highest_voltage", "the lowest voltage is not below the highest"),
)


def parameters_of(inputs: Mapping[str, Value]) -> Parameters:
    """Numbers of a run, all inputs as they are. Raises UseError where they contradict."""
    return Parameters(**{name: value.number or 0.0 for name, value in inputs.items()})


def parameters_from(row: Array) -> Parameters:
    """Numbers of a run out of one row.

    One that is moved alone may pass another that is never smaller; that one then goes with it.
    """
    numbers = dict(zip(NAMES, row.tolist(), strict=True))
    numbers["equivalent_mass"] = max(numbers["equivalent_mass"], numbers["mass"])
    numbers["regen_current"] = max(numbers["regen_current"], numbers["regen_current_full"])
    return Parameters(**numbers)


def moved_rows(
    inputs: Mapping[str, Value], parameters: Parameters
) -> tuple[tuple[tuple[str, Value], ...], Array, Array]:
    """Rows of numbers with each input at either end of its band, and how far that really is.

    Inputs that are one and the same value move together.
    """
    together: dict[int, list[str]] = {}
    for name, value in inputs.items():
        together.setdefault(id(value), []).append(name)
    first = parameters.vector
    moved, rows, widths = [], [first], []
    for names in together.values():
        value = inputs[names[0]]
        if not value.band:
            continue
        ends, shares = ends_of(value, *_within(names[0], value))
        for number in ends:
            row = first.copy()
            for name in names:
                row[PLACES[name]] = number
            _check(row)
            rows.append(row)
        moved.append((names[0].replace("_", " "), value))
        widths.append(shares)
    return tuple(moved), np.array(rows), np.array(widths).reshape(-1, 2).T


def ends_of(
    value: Value, least: float = -math.inf, most: float = math.inf
) -> tuple[list[float], list[float]]:
    """Both ends of a band, kept between two bounds, and how much of the band is gone to each."""
    number = value.number or 0.0
    ends = [min(max(number + sign * value.band, least), most) for sign in (1.0, -1.0)]
    shares = [max(abs(end - number) / value.band, 1e-12) for end in ends]
    return ends, shares


def _within(name: str, value: Value) -> tuple[float, float]:
    """Bounds between which a moved number has a meaning for a run."""
    most = 1.0 if name in _AT_MOST_ONE else math.inf
    if name == "cold_factor":
        return 1.0, most
    # No mass and no capacity is nought or below, however badly it is known.
    return (-math.inf if name in ("f0", "f1") else 0.02 * (value.number or 0.0)), most


def _check(row: Array) -> None:
    """Refuse numbers whose bands reach across each other: between them there would be nothing."""
    for low, high, says in _IN_ORDER:
        below, above = (
            row[PLACES[each]] if isinstance(each, str) else each for each in (low, high)
        )
        if below >= above:
            raise UseError(f"at one end of a band {says}")


def shifts_of(column: Array, widths: Array) -> list[float]:
    """Shift over each band, by whichever end moves it further.

    ``column`` is a result of the run and of both ends of every band; ``widths`` how much of the
    band was gone to either end.
    """
    base = column[0]
    up, down = (column[1::2] - base) / widths[0], (base - column[2::2]) / widths[1]
    shifts = np.where(np.abs(up) >= np.abs(down), up, down)
    if not np.isfinite(shifts).all():
        raise UseError("it has no end at one end of a band, so that nothing near can be told")
    noise = NOISE * max(abs(float(base)), float(np.abs(shifts).max(initial=0.0)))
    return [float(shift) if abs(shift) > noise else 0.0 for shift in shifts]


def that_can_be_driven(
    variants: tuple[Variant, ...],
) -> tuple[tuple[Variant, ...], list[Array]]:
    """Leave out what contradicts itself, such as a pack so cold that it holds nothing."""
    kept, rows = [], []
    for variant in variants:
        try:
            rows.append(Parameters(**variant.numbers).vector)
        except UseError:
            continue
        kept.append(variant)
    return tuple(kept), rows
