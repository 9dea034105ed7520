"""Ways of heat out of a cable."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import cable_paths


@given(st.floats(1.0, 10.0), st.floats(1e-3, 0.02), st.floats(1.01, 2.0), st.floats(1.01, 2.0))
def test_two_layers_of_one_stuff_are_one(
    resistivity: float, inside: float, first: float, second: float
) -> None:
    one = cable_paths.insulation_path(resistivity, inside, inside * first)
    two = cable_paths.insulation_path(resistivity, inside * first, inside * first * second)
    both = cable_paths.insulation_path(resistivity, inside, inside * first * second)
    assert cable_paths.whole_path(one, [two], 1) == pytest.approx(both)


def test_a_thin_layer_is_thickness_by_circumference() -> None:
    found = cable_paths.insulation_path(5.0, 10e-3, 10.02e-3)
    assert found == pytest.approx(5.0 * 0.01e-3 / (math.pi * 10.01e-3), rel=1e-4)


def test_the_middle_of_a_bar_that_heats_itself() -> None:
    """q‴·r²/(4·k) with q′ = q‴·π·r²: q′·ρ/(4π), summed here over a hundred thousand rings."""
    rings, radius, resistivity = 100_000, 0.01, 8.0
    rise, width = 0.0, radius / rings
    for ring in range(rings):
        r = (ring + 0.5) * width
        through = (r / radius) ** 2
        rise += through * resistivity * width / (2 * math.pi * r)
    assert cable_paths.bundle_path(resistivity) == pytest.approx(rise, rel=1e-6)


@pytest.mark.parametrize(("cables", "exact"), [(3, 2.155), (7, 3.0), (19, 5.0), (37, 7.0)])
def test_a_bundle_is_as_thick_as_cables_laid_round_each_other(cables: int, exact: float) -> None:
    assert cable_paths.bundle_diameter(cables, 1.0) == pytest.approx(exact, rel=0.08)


def test_a_duct_passes_more_when_full_and_when_warm() -> None:
    # 5.2/(1 + 0.1·(1.4 + 0.011·50)·20)
    assert cable_paths.duct_path(0.020, 323.15, 5.2, 1.4, 0.011) == pytest.approx(1.06122, rel=1e-5)
    paths = [cable_paths.duct_path(d, 323.15, 5.2, 1.4, 0.011) for d in (0.01, 0.02, 0.04)]
    assert paths == sorted(paths, reverse=True)
    warm = cable_paths.duct_path(0.020, 343.15, 5.2, 1.4, 0.011)
    assert warm < paths[1]


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (cable_paths.insulation_path, (5.0, 0.01, 0.009)),
        (cable_paths.insulation_path, (5.0, 0.0, 0.009)),
        (cable_paths.bundle_diameter, (0.0, 0.01)),
        (cable_paths.duct_path, (0.0, 323.15, 5.2, 1.4, 0.011)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]
