"""Weighings from the American handbook of aircraft weight and balance.

Source: Aircraft Weight and Balance Handbook, FAA-H-8083-1 (edition 1A, 2007), chapters 2 and 3.
Nose-wheel weighing: 340 lb, 78 in, 2006 lb and 13.2 in were read in a reprint; the full table of
scale readings, the tail-wheel weighing and the weights of the lever are from memory. Printed
results carry one decimal of an inch, so 0.05 in is allowed.

An aeroplane on three wheels is a vehicle with two axles: the nose wheel is the front axle and the
main wheels are the rear axle, or the other way about with a tail wheel. Everything goes through
the program's reading of pounds and inches.
"""

from __future__ import annotations

from wattwright import kinds
from wattwright.physics.axle_loads import (
    axle_load,
    both_axles,
    cg_distance,
    front_axle_load,
    rear_axle_load,
)
from wattwright.units import read


def lb(number: float) -> float:
    return read(f"{number} lb", kinds.MASS).number


def inch(number: float) -> float:
    return read(f"{number} in", kinds.POSITION).number


TOLERANCE = inch(0.05)


def test_nose_wheel_weighing() -> None:
    mains = axle_load(lb(836), lb(830))
    assert abs(both_axles(lb(340), mains) - lb(2006)) <= 1e-9
    behind_nose = cg_distance(lb(340), mains, inch(78))
    assert abs(inch(78) - behind_nose - inch(13.2)) <= TOLERANCE
    # Datum 128 in ahead of the main wheels, the nose wheel at 50 in: 114.8 in.
    assert abs(inch(50) + behind_nose - inch(114.8)) <= TOLERANCE
    # Datum 75 in behind the main wheels: 88.2 in ahead of it.
    assert abs(behind_nose - inch(78) - inch(75) + inch(88.2)) <= TOLERANCE


def test_tail_wheel_weighing() -> None:
    """67 lb on the tail wheel, 222 in behind the mains, of 1218 lb."""
    behind_mains = cg_distance(lb(1218 - 67), lb(67), inch(222))
    assert abs(inch(7.5) + behind_mains - inch(19.7)) <= TOLERANCE
    assert abs(behind_mains - inch(80) + inch(67.8)) <= TOLERANCE


def test_lever_with_three_weights() -> None:
    """100, 200 and 200 lb at 0, 80 and 100 in balance at 72 in; the second at 25 in: at 50 in."""
    masses = [lb(100), lb(200), lb(200)]
    for places, balance in (((0, 80, 100), 72), ((0, 25, 100), 50)):
        found = _balance(masses, [inch(x) for x in places])
        assert abs(found - inch(balance)) <= 1e-9


def _balance(masses: list[float], distances: list[float]) -> float:
    """Support a loaded beam at its ends and find the balance from the two loads."""
    length = max(distances)
    front = front_axle_load(masses, distances, length)
    rear = rear_axle_load(masses, distances, length)
    return cg_distance(front, rear, length)
