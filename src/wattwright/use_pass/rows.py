"""Rows of numbers that a use is driven with: all inputs as they are, and each at its ends."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from wattwright.descriptions.duty import Variant
from wattwright.errors import UseError
from wattwright.uses.inputs import NAMES, Array, Parameters
from wattwright.values import Value

# A shift by so little of the result is arithmetic noise.
NOISE = 1e-9
# Numbers that end at one, whatever their bands say.
_AT_MOST_ONE = ("driveline_efficiency", "motor_loss_share", "start_charge", "regen_taper_from")
PLACES = {name: place for place, name in enumerate(NAMES)}


def parameters_of(inputs: Mapping[str, Value]) -> Parameters:
    """Numbers of a run, all inputs as they are. Raises UseError where they contradict."""
    return Parameters(**{name: value.number or 0.0 for name, value in inputs.items()})


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
        ends = []
        for sign in (1.0, -1.0):
            row = first.copy()
            number = _within(names[0], (value.number or 0.0) + sign * value.band, value)
            for name in names:
                row[PLACES[name]] = number
            rows.append(row)
            ends.append(max(sign * (number - (value.number or 0.0)) / value.band, 1e-12))
        moved.append((names[0].replace("_", " "), value))
        widths.append(ends)
    return tuple(moved), np.array(rows), np.array(widths).reshape(-1, 2).T


def _within(name: str, number: float, value: Value) -> float:
    """Keep a moved number where the run has a meaning for it."""
    if name in _AT_MOST_ONE:
        number = min(number, 1.0)
    if name == "cold_factor":
        return max(number, 1.0)
    # No mass and no capacity is nought or below, however badly it is known.
    return max(number, 0.02 * (value.number or 0.0)) if name not in ("f0", "f1") else number


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
