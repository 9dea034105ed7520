"""Bends."""

from __future__ import annotations

import pytest

from wattwright.errors import FormulaError
from wattwright.physics import cable_laying


def test_a_bend_and_its_multiple() -> None:
    assert cable_laying.bend_radius(16e-3, 5.0) == pytest.approx(80e-3)
    assert cable_laying.bend_multiple(80e-3, 16e-3) == pytest.approx(5.0)


def test_numbers_that_make_no_sense_are_refused() -> None:
    with pytest.raises(FormulaError):
        cable_laying.bend_radius(16e-3, 0.0)
    with pytest.raises(FormulaError):
        cable_laying.bend_multiple(80e-3, 0.0)
