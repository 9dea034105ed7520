"""How warm every row of a use gets when its way is driven for hours, from the heat of one round.

A first look, to find the rows that are worth driving to the end: heat is taken as even over the
round, and the temperatures go through backward Euler steps, which never overshoot. What is stated
comes from the loop itself.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wattwright.use_pass.lots import Lot
from wattwright.use_pass.rows import PLACES
from wattwright.uses.inputs import Array
from wattwright.uses.results import BODIES

# Steps are doubled so often: 256 of them over the whole time.
_DOUBLINGS = 8
_NUMBER = {body: number for number, body in enumerate(BODIES)}


def warmed(lot: Lot, seconds: float) -> Array:
    """Temperatures after so many seconds, K: one row each, and the bodies in their order."""
    rows, time = lot.rows, np.maximum(lot.time, 1e-9)
    lost, share = lot.table["drive_loss"] / time, rows[:, PLACES["motor_loss_share"]]
    heats = {
        "motor": lost * share,
        "inverter": lost * (1.0 - share),
        "pack": lot.table["pack_heat"] / time,
    }
    capacities = _columns(rows, [f"heat_capacity_{body}" for body in BODIES])
    # Behind the temperatures above ambient stands a one, which brings the heat in.
    change = np.zeros((len(rows), len(BODIES) + 1, len(BODIES) + 1))
    _lead(change, "motor", "drive_coolant", 1.0 / rows[:, PLACES["motor_resistance"]])
    for one, other in (("inverter", "coolant"), ("pack", "coolant")):
        into = "drive_coolant" if one == "inverter" else "pack_coolant"
        _lead(change, one, into, rows[:, PLACES[f"{one}_to_{other}"]])
    for body in ("drive_coolant", "pack_coolant", "pack"):
        place = _NUMBER[body]
        change[:, place, place] -= rows[:, PLACES[f"{body}_to_ambient"]]
    for body, heat in heats.items():
        change[:, _NUMBER[body], -1] = heat
    change[:, :-1] /= capacities[:, :, None]
    step = np.linalg.inv(np.eye(len(BODIES) + 1) - change * (seconds / 2**_DOUBLINGS))
    for _ in range(_DOUBLINGS):
        step = step @ step
    ambient = rows[:, [PLACES["ambient"]]]
    above = _columns(rows, [f"start_{body}" for body in BODIES]) - ambient
    begun = np.hstack([above, np.ones((len(rows), 1))])
    return np.asarray(ambient + (step @ begun[:, :, None])[:, :-1, 0])


def _columns(rows: Array, names: list[str]) -> Array:
    return rows[:, [PLACES[name] for name in names]]


def _lead(change: NDArray[np.float64], one: str, other: str, conductance: Array) -> None:
    """Let heat flow between two bodies."""
    here, there = _NUMBER[one], _NUMBER[other]
    for body, away in ((here, there), (there, here)):
        change[:, body, body] -= conductance
        change[:, body, away] += conductance
