"""Tyre sizes as people type them, and the radii that follow."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics import rolling_radius as rr
from wattwright.tables import load


@pytest.mark.parametrize(
    ("typed", "text", "millimetres"),
    [
        ("155/80R13", "155/80R13", 578),
        ("165/65 R14", "165/65R14", 570),
        ("165/65 r 14 79t", "165/65R14", 570),
        ("P185/65R15", "185/65R15", 621),
        ("175/70 SR13 82S", "175/70R13", 576),
        ("185/75R14C 102/100R 8PR", "185/75R14C", 634),
        (" 155 / 80 - 13 ", "155/80-13", 578),
        ("155/80D13", "155/80-13", 578),
        ("205/55ZR16", "205/55R16", 632),
        ("185R14C", "185R14C", 650),
        ("145R12", "145R12", 542),
        ("155 sr 13", "155R13", 578),
        ("165HR15", "165R15", 646),
    ],
)
def test_a_size_is_read_as_people_type_it(typed: str, text: str, millimetres: float) -> None:
    size = rr.read_size(typed)
    assert size.text == text
    assert size.diameter == pytest.approx(millimetres / 1000, abs=1e-9)
    assert size.commercial is text.endswith("C")
    assert size.radial is ("-" not in text)
    assert rr.read_size(size.text) == size


def test_what_a_size_says() -> None:
    size = rr.read_size("165/65R14")
    assert (size.width, size.aspect, size.rim_code) == (0.165, 0.65, 14.0)
    assert size.diameter == rr.design_diameter(size.rim_code, size.width, size.aspect)
    full = rr.read_size("145R12")
    assert (full.width, full.aspect, full.rim_code) == (0.145, None, 12.0)


def test_a_diameter_from_memory_makes_no_limit_and_one_by_rule_may() -> None:
    assert rr.read_size("155/80R13").limits
    assert rr.read_size("155/80R13").source is declaration(rr.design_diameter).source
    for row in load("tyre_full_profile"):
        size = rr.read_size(row.cells["size"])
        assert size.source is row.source
        assert size.limits is row.limits is False
        assert "from memory" in str(size.source)


@pytest.mark.parametrize("typed", ["5.60-15", "5,20-13", "6.00-16 6PR", "5.60/15", "7.00R16"])
def test_a_size_in_inches_is_refused_with_what_would_do(typed: str) -> None:
    words = rf"{re.escape(typed)}: no diameter follows .* roll ten turns"
    with pytest.raises(FormulaError, match=words):
        rr.read_size(typed)


@pytest.mark.parametrize("typed", ["", "R13", "155/80", "1555/80R13", "155/80R13 ?", "31x10.5R15"])
def test_what_is_not_a_size_is_refused_with_how_to_write_it(typed: str) -> None:
    with pytest.raises(FormulaError, match=r"not a tyre size; write it as on the sidewall"):
        rr.read_size(typed)


def test_a_full_profile_that_is_not_in_the_table_is_not_computed() -> None:
    with pytest.raises(FormulaError, match=r"125R12: .* which has 145R10, .* roll ten turns"):
        rr.read_size("125R12")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("155/80R11", "155/80R11: no rim of code 11"),
        ("155/80R24", "no rim of code 24"),
        ("155/10R13", "no car tyre is this wide"),
        ("455/50R20", "no car tyre is this wide"),
        ("155/800R13", "no car tyre is this wide"),
    ],
)
def test_a_size_that_no_car_has_is_refused(typed: str, words: str) -> None:
    with pytest.raises(FormulaError, match=words):
        rr.read_size(typed)


def test_rims_are_inches_rounded_to_a_millimetre() -> None:
    for code, diameter in rr.RIM_DIAMETER.items():
        assert 1000 * diameter == pytest.approx(round(25.4 * code), abs=1e-9)


@given(
    st.sampled_from(sorted(rr.RIM_DIAMETER)), st.integers(25, 67), st.sampled_from(range(40, 85, 5))
)
def test_rounding_moves_a_diameter_by_no_more_than_is_said(
    rim: float, fives: int, aspect: int
) -> None:
    width = 5 * fives
    exact = 25.4 * rim + 2 * width * aspect / 100
    diameter = 1000 * rr.design_diameter(rim, width / 1000, aspect / 100)
    assert abs(diameter - exact) <= 1.5 + 1e-6
    # whole millimetres, and a half goes up whatever binary makes of it
    height = (width * aspect + 50) // 100
    assert diameter == pytest.approx(round(25.4 * rim) + 2 * height, abs=1e-6)


@given(st.floats(0.4, 0.8))
def test_radius_circumference_and_turns_belong_together(diameter: float) -> None:
    circumference = rr.rolling_circumference(diameter)
    radius = rr.rolling_radius(circumference)
    assert 2 * math.pi * radius == pytest.approx(circumference)
    assert rr.turns_per_kilometre(circumference) * circumference == pytest.approx(1000.0)
    # A rolling tyre is a little smaller than a free one, and the axle stands lower still.
    assert rr.static_radius_low(diameter) < rr.static_radius_high(diameter) < radius < diameter / 2
    assert rr.cross_ply_circumference(diameter) < circumference


def test_ten_turns_on_the_floor() -> None:
    assert rr.measured_circumference(17.64, 10.0) == pytest.approx(1.764)


@pytest.mark.parametrize(("distance", "turns"), [(0.0, 10.0), (17.0, 0.0), (-17.0, -10.0)])
def test_no_distance_or_no_turns_is_refused(distance: float, turns: float) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        rr.measured_circumference(distance, turns)


def test_a_wheel_that_rolls_nowhere_has_no_turns_per_kilometre() -> None:
    with pytest.raises(FormulaError, match="above zero"):
        rr.turns_per_kilometre(0.0)
