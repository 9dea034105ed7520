"""Curves and grids: what is worked out from them carries their band, their origin or their lack."""

from __future__ import annotations

import pytest

from wattwright.formula import Source, formula
from wattwright.kinds import FRACTION, TORQUE, Fraction, Torque
from wattwright.sampled import Curve, Grid
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    given,
    lacking,
    nonexistent,
    worked,
)

READ_OFF = Given("part.motor.curve", "curve", Origin.DATASHEET, "curve.csv ± 5 %", 0.05)


@formula("T", Source("A book"))
def off_the_curve(torque: Torque, share: Fraction) -> Torque:
    """Torque looked up on a curve."""
    return torque * (1.0 + share)


def looked_up(curve: Curve) -> Value:
    return worked(off_the_curve, constant(TORQUE, curve.y[0] if curve.y else 0.0), curve.share)


def test_a_number_looked_up_keeps_its_value_and_takes_the_band_and_origin_of_the_whole() -> None:
    curve = Curve((0.0, 100.0), (200.0, 100.0), given(FRACTION, 0.0, READ_OFF))
    assert curve.known
    result = looked_up(curve)
    assert result.number == 200.0
    assert result.band == pytest.approx(10.0)
    assert result.effects == {READ_OFF: pytest.approx(10.0)}


def test_what_is_lacking_travels() -> None:
    lack = Lack("part.motor.curve", "curve", "not given", "maker's sheet", 30.0)
    curve = Curve((), (), lacking(FRACTION, lack))
    assert not curve.known
    assert looked_up(curve).lacks == (lack,)


def test_what_does_not_exist_takes_the_result_with_it() -> None:
    curve = Curve((), (), nonexistent(FRACTION))
    assert not curve.known
    assert looked_up(curve).absent


def test_a_grid_is_known_by_its_share() -> None:
    share = given(FRACTION, 0.0, READ_OFF)
    assert Grid((0.0, 1.0), (0.0, 1.0), ((1.0, 1.0), (1.0, 1.0)), share).known
    assert not Grid((), (), (), nonexistent(FRACTION)).known
