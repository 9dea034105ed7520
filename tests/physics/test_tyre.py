"""What a tyre carries."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics.tyre import LOAD_OF_INDEX, load_at_pressure, load_capacity


@pytest.mark.parametrize(("index", "load"), [(50, 190), (80, 450), (91, 615), (100, 800)])
def test_the_load_of_an_index_is_the_printed_one(index: float, load: float) -> None:
    assert load_capacity(float(index)) == load


@pytest.mark.parametrize("index", [0.0, 49.0, 80.5, 999.0])
def test_an_index_that_is_not_printed_is_refused(index: float) -> None:
    with pytest.raises(FormulaError, match=r"no load index .* read the load on the sidewall"):
        load_capacity(index)


def test_every_index_of_the_table_is_known() -> None:
    assert all(load_capacity(index) == load for index, load in LOAD_OF_INDEX.items())


def test_a_softer_tyre_carries_less_by_the_printed_exponent() -> None:
    # 2.0 of 2.5 bar: 0.8 to the power 0.8 is 0.8365
    assert load_at_pressure(450.0, 2.0e5, 2.5e5) == pytest.approx(450.0 * 0.83651, rel=1e-5)
    assert load_at_pressure(450.0, 2.5e5, 2.5e5) == 450.0


def test_more_pressure_than_rated_carries_no_more() -> None:
    assert load_at_pressure(450.0, 3.5e5, 2.5e5) == 450.0
    assert load_at_pressure(900.0, 5.0e5, 4.5e5) == 900.0


def test_below_six_tenths_no_table_gives_a_load() -> None:
    assert load_at_pressure(450.0, 1.5e5, 2.5e5) > 0
    with pytest.raises(FormulaError, match=r"below 0\.6 of the rated pressure"):
        load_at_pressure(450.0, 1.499e5, 2.5e5)


def test_a_commercial_tyre_below_its_rated_pressure_has_no_formula() -> None:
    with pytest.raises(FormulaError, match="commercial tyre"):
        load_at_pressure(900.0, 4.0e5, 4.5e5)
    assert load_at_pressure(900.0, 4.5e5, 4.5e5) == 900.0
    assert load_at_pressure(900.0, 2.9e5, 2.9e5 + 4e3) < 900.0


@given(st.floats(100.0, 2000.0), st.floats(0.6, 1.4), st.floats(0.6, 1.4))
def test_less_pressure_never_carries_more(load: float, one: float, two: float) -> None:
    low, high = sorted((one, two))
    rated = 2.5e5
    assert load_at_pressure(load, low * rated * 1.000001, rated) <= load_at_pressure(
        load, high * rated * 1.000001, rated
    )
