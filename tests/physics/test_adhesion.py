"""Axle forces under acceleration, and the forces at which wheels slide."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, cos, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import adhesion as ad

G = 9.80665
masses = st.floats(500.0, 3000.0)
bases = st.floats(1.8, 3.2)
shares = st.floats(0.3, 0.7)
heights = st.floats(0.3, 0.9)
frictions = st.floats(0.05, 1.0)
accelerations = st.floats(-6.0, 6.0)
grades = st.floats(-0.4, 0.4)


@given(masses, bases, shares, heights, accelerations, grades)
def test_both_axles_carry_the_weight_and_the_transfer_moves_between_them(
    mass: float, base: float, share: float, height: float, a: float, grade: float
) -> None:
    front = ad.front_axle_force(mass, base, share * base, height, a, grade)
    rear = ad.rear_axle_force(mass, base, share * base, height, a, grade)
    weight = mass * G * cos(atan(grade))
    assert front + rear == pytest.approx(weight)
    moved = ad.load_transfer(mass, a + G * sin(atan(grade)), height, base)
    assert rear == pytest.approx(share * weight + moved, abs=1e-6)


@given(masses, bases, shares, heights, accelerations, grades)
def test_a_vehicle_turned_round_has_its_axles_exchanged(
    mass: float, base: float, share: float, height: float, a: float, grade: float
) -> None:
    front = ad.front_axle_force(mass, base, share * base, height, a, grade)
    rear = ad.rear_axle_force(mass, base, (1 - share) * base, height, -a, -grade)
    assert front == pytest.approx(rear, abs=1e-6)


@given(frictions, masses, bases, shares, heights, grades)
def test_at_the_greatest_force_friction_is_just_used_up(
    mu: float, mass: float, base: float, share: float, height: float, grade: float
) -> None:
    x = share * base
    assume(base - x > mu * height)
    slope = G * sin(atan(grade))
    force = ad.greatest_force_front(mu, mass, base, x, height, grade)
    at_limit = ad.front_axle_force(mass, base, x, height, force / mass - slope, grade)
    assert force == pytest.approx(mu * at_limit)
    force = ad.greatest_force_rear(mu, mass, base, x, height, grade)
    at_limit = ad.rear_axle_force(mass, base, x, height, force / mass - slope, grade)
    assert force == pytest.approx(mu * at_limit)
    assert ad.front_axle_force(mass, base, x, height, force / mass - slope, grade) >= 0
    every = ad.greatest_force_all(mu, mass, grade)
    assert ad.greatest_force_front(mu, mass, base, x, height, grade) < every
    assert force <= every * (1 + 1e-12)


@given(frictions, bases, shares, heights)
def test_on_the_steepest_grade_the_weight_along_it_is_the_greatest_force(
    mu: float, base: float, share: float, height: float
) -> None:
    x = share * base
    assume(base - x > mu * height)
    for grade, force in (
        (ad.steepest_grade_front(mu, base, x, height), ad.greatest_force_front),
        (ad.steepest_grade_rear(mu, base, x, height), ad.greatest_force_rear),
    ):
        assert force(mu, 1000.0, base, x, height, grade) == pytest.approx(
            1000 * G * sin(atan(grade))
        )
    grade = ad.steepest_grade_all(mu)
    assert ad.greatest_force_all(mu, 1000.0, grade) == pytest.approx(1000 * G * sin(atan(grade)))


@given(frictions, bases, shares, heights)
def test_braking_is_driving_backwards(mu: float, base: float, share: float, height: float) -> None:
    x = share * base
    assume(x > mu * height)
    front = ad.greatest_braking_front(mu, base, x, height)
    assert 1000 * front == pytest.approx(
        ad.greatest_force_rear(mu, 1000.0, base, base - x, height, 0.0)
    )
    assert 1000 * front == pytest.approx(
        mu * ad.front_axle_force(1000.0, base, x, height, -front, 0.0)
    )
    rear = ad.greatest_braking_rear(mu, base, x, height)
    assert 1000 * rear == pytest.approx(
        mu * ad.rear_axle_force(1000.0, base, x, height, -rear, 0.0)
    )
    assert front + rear == pytest.approx(
        mu * G * (1 + mu * height * (front - rear) / (mu * G * base)), rel=1e-9
    )
    assert rear < ad.greatest_braking_all(mu) * (1 + 1e-12)


def test_on_a_wet_road_a_tail_light_rear_drive_brakes_little() -> None:
    """Friction 0.2, 2.5 m, centre of gravity at 1.1 m and 0.55 m high: by hand."""
    assert ad.greatest_braking_rear(0.2, 2.5, 1.1, 0.55) == pytest.approx(0.826614, rel=1e-6)
    assert ad.greatest_braking_front(0.2, 2.5, 1.1, 0.55) == pytest.approx(1.148896, rel=1e-6)
    assert ad.greatest_braking_all(0.2) == pytest.approx(1.96133)


REFUSED: list[tuple[Callable[[], float], str]] = [
    (lambda: ad.front_axle_force(1e3, 0.0, 1.0, 0.5, 0.0, 0.0), "above zero"),
    (lambda: ad.rear_axle_force(1e3, 0.0, 1.0, 0.5, 0.0, 0.0), "above zero"),
    (lambda: ad.load_transfer(1e3, 5.0, 0.5, 0.0), "above zero"),
    (lambda: ad.greatest_force_front(-0.1, 1e3, 2.5, 1.0, 0.5, 0.0), "not be below zero"),
    (lambda: ad.steepest_grade_front(0.5, 0.0, 1.0, 0.5), "not be below zero"),
    (lambda: ad.greatest_braking_rear(0.5, 2.5, 1.0, -0.5), "not be below zero"),
    (lambda: ad.greatest_force_rear(1.0, 1e3, 2.5, 2.0, 0.51, 0.0), "front wheels would lift"),
    (lambda: ad.steepest_grade_rear(1.0, 2.5, 2.0, 0.51), "front wheels would lift"),
    (lambda: ad.greatest_braking_front(1.0, 2.5, 0.5, 0.51), "rear wheels would lift"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_what_cannot_be_is_refused(call: Callable[[], float], words: str) -> None:
    with pytest.raises(FormulaError, match=words):
        call()


def test_at_the_edge_of_lifting_there_is_still_an_answer() -> None:
    assert ad.greatest_force_rear(1.0, 1e3, 2.5, 2.0, 0.5, 0.0) == pytest.approx(1e3 * G)
    assert ad.greatest_braking_front(1.0, 2.5, 0.5, 0.5) == pytest.approx(G)
