"""Results around a run: straight lines through it, ratios, sums, of any kind of quantity."""

from __future__ import annotations

import pytest

from wattwright.errors import FormulaError
from wattwright.given import Given, Origin
from wattwright.kinds import LENGTH, MASS, RATIO, TEMPERATURE
from wattwright.physics import around_run
from wattwright.values import constant, given, worked


def test_a_band_away_is_one() -> None:
    assert around_run.bands_away(110.0, 100.0, 10.0) == 1.0
    assert around_run.bands_away(100.0, 100.0, 10.0) == 0.0
    with pytest.raises(FormulaError, match="above zero"):
        around_run.bands_away(1.0, 1.0, 0.0)


def test_a_result_moves_by_its_shift_for_every_band() -> None:
    assert around_run.result_around(100.0, [10.0, -4.0], [0.5, 2.0]) == 97.0


def test_a_result_keeps_the_kind_and_carries_the_band_of_its_input() -> None:
    mass = given(MASS, 1000.0, Given("vehicle.mass", "mass", Origin.MEASURED, "1000 kg", 20.0))
    away = worked(around_run.bands_away, mass, constant(MASS, 1000.0), constant(MASS, mass.band))
    base, shift = constant(LENGTH, 80e3), constant(LENGTH, -1500.0)
    said = worked(around_run.result_around, base, [shift], [away])
    assert (said.kind, said.number) == (LENGTH, 80e3)
    assert said.band == pytest.approx(1500.0)
    assert [(x.path, shift) for x, shift in said.effects.items()] == [
        ("vehicle.mass", pytest.approx(-1500.0))
    ]


def test_times_and_total_hold_for_any_kind() -> None:
    twice = worked(around_run.times, constant(MASS, 3.0), constant(RATIO, 2.0))
    assert (twice.kind, twice.number) == (MASS, 6.0)
    summed = worked(around_run.total, [constant(TEMPERATURE, 1.0), constant(TEMPERATURE, 2.0)])
    assert (summed.kind, summed.number) == (TEMPERATURE, 3.0)
    assert around_run.ratio_to(3.0, 4.0) == 0.75
    with pytest.raises(FormulaError, match="nothing"):
        around_run.ratio_to(1.0, 0.0)
