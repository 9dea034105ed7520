"""Loading, shifting and adding weight from the American pilot's handbook.

Source: Pilot's Handbook of Aeronautical Knowledge, FAA-H-8083-25, chapter "Weight and Balance":
the computational method (3,320 lb, 84.8 in), shifting weight (78.5 in), weight to be shifted
(65 lb); and questions of the FAA knowledge tests on the same subject (equipment change, a shift
of 50 in, weight added behind the centre of gravity). Inputs and printed results were read in
copies, except the arms of the computational method, which are from memory. Each result is held
to half a unit of its last printed digit.

No axle is named there, so the loads are carried by two supports at chosen places: the centre of
gravity must not depend on the choice.
"""

from __future__ import annotations

import pytest

from wattwright import kinds
from wattwright.physics.axle_loads import (
    cg_distance,
    front_axle_load,
    group_mass,
    load_after,
    rear_axle_load,
    total,
)
from wattwright.units import read


def lb(number: float) -> float:
    return read(f"{number} lb", kinds.MASS).number


def inch(number: float) -> float:
    return read(f"{number} in", kinds.POSITION).number


Items = list[tuple[float, float]]


def balance(before: Items, out: Items, into: Items, base: float) -> tuple[float, float]:
    """Mass in lb and centre of gravity in inches behind the datum, by the ledger's way."""
    loads = []
    for carried in (front_axle_load, rear_axle_load):
        parts = (
            carried([lb(m) for m, _ in items], [inch(x) for _, x in items], inch(base))
            for items in (before, out, into)
        )
        loads.append(load_after(*parts))
    return total(loads) / lb(1), cg_distance(*loads, inch(base)) / inch(1)


SUPPORTS = pytest.mark.parametrize("base", [60.0, 100.0, 157.5])


@SUPPORTS
def test_computational_method(base: float) -> None:
    loaded = [(2100, 78.3), (340, 85.0), (350, 121.0), (75 * 6, 75.0), (80, 150.0)]
    mass, place = balance(loaded, [], [], base)
    assert mass == pytest.approx(3320, rel=1e-12)
    assert abs(place - 84.8) <= 0.05


@SUPPORTS
def test_shifting_weight(base: float) -> None:
    """8,000 lb at 77.0 in; 100 lb from station 30 to station 150: 78.5 in."""
    mass, place = balance([(8000, 77.0)], [(100, 30)], [(100, 150)], base)
    assert mass == pytest.approx(8000, rel=1e-12)
    assert place == pytest.approx(78.5, abs=1e-9)


@SUPPORTS
def test_weight_to_be_shifted(base: float) -> None:
    """7,800 lb at 81.5 in; 65 lb from 150 to 30 bring it to the limit of 80.5 in."""
    _, place = balance([(7800, 81.5)], [(65, 150)], [(65, 30)], base)
    assert place == pytest.approx(80.5, abs=1e-9)


@SUPPORTS
def test_equipment_change(base: float) -> None:
    """2,886 lb, 101,673.78 lb·in; seats out, cabinet, seat and radio in: 3,003 lb, 36.85 in."""
    before = [(2886, 101673.78 / 2886)]
    seats = group_mass(2, 15)
    mass, place = balance(before, [(seats, 71)], [(97, 71), (20, 71), (30, 94)], base)
    assert mass == pytest.approx(3003, rel=1e-12)
    assert abs(place - 36.85) <= 0.005
    assert abs(mass * place - 110670.78) <= 0.005
    assert abs(place - 101673.78 / 2886 - 1.62) <= 0.005


@SUPPORTS
def test_shift_of_the_centre_of_gravity(base: float) -> None:
    """2,450 lb, 100 lb moved 50 in: 2.04 in."""
    _, place = balance([(2450, 90.0)], [(100, 40)], [(100, 90)], base)
    assert abs(place - 90.0 - 2.04) <= 0.005


@SUPPORTS
def test_weight_added(base: float) -> None:
    """2,900 lb at 115.0 in; 207.1 lb at 130 in bring it to 116.0 in."""
    mass, place = balance([(2900, 115.0)], [], [(207.1, 130)], base)
    assert abs(mass - 3107.1) <= 1e-6
    # Half a tenth of a pound moves it by 0.00023 in.
    assert abs(place - 116.0) <= 0.00025
