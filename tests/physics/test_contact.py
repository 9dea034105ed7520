"""Contacts, by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import contact


def test_a_lug_by_hand() -> None:
    # 4 mV at 200 A: 20 µΩ, 0.8 W, by 5 K/W 4 K
    assert contact.from_drop(4e-3, 200.0) == pytest.approx(20e-6)
    assert contact.contact_heat(200.0, 20e-6) == pytest.approx(0.8)
    assert contact.contact_temperature(200.0, 20e-6, 5.0, 313.15) == pytest.approx(317.15)


@given(st.floats(1.0, 500.0), st.floats(0.1, 50.0), st.floats(1.0, 60.0))
def test_the_largest_resistance_gives_just_the_rise(
    current: float, path: float, rise: float
) -> None:
    allowed = contact.allowed_resistance(rise, current, path)
    assert contact.contact_temperature(current, allowed, path, 300.0) == pytest.approx(300.0 + rise)


@given(st.floats(250.0, 400.0), st.floats(0.0, 0.3))
def test_spots_are_hotter_than_the_metal_around(body: float, drop: float) -> None:
    assert contact.hottest_spot(body, drop) >= body
    assert contact.hottest_spot(body, 0.0) == pytest.approx(body)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (contact.from_drop, (4e-3, 0.0)),
        (contact.contact_temperature, (200.0, -1e-6, 5.0, 313.15)),
        (contact.allowed_resistance, (30.0, 0.0, 5.0)),
        (contact.hottest_spot, (300.0, -0.1)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]
