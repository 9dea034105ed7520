"""Cables that carry a current for hours: heat in is heat out, and what moves it moves it aright."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright import cylinder_in_air
from wattwright.cylinder_in_air import CableInAir
from wattwright.errors import FormulaError
from wattwright.physics import cable_heat

AIR = 303.15
PER_METRE, ALPHA = 0.554e-3, 0.00393
LAID = {
    "inner": 0.26,
    "loaded": 1.0,
    "diameter": 0.0105,
    "emissivity": 0.9,
    "free": 1.0,
    "ambient": AIR,
    "surface": 320.0,
}


def steady(current: float, resistance: float = PER_METRE, **laid: float) -> float:
    return cable_heat.steady_temperature(current, resistance, ALPHA, **(LAID | laid))


def ampacity(limit: float, resistance: float = PER_METRE, **laid: float) -> float:
    return cable_heat.ampacity(limit, resistance, ALPHA, **(LAID | laid))


laid_anyhow = st.fixed_dictionaries(
    {
        "inner": st.floats(0.0, 3.0),
        "loaded": st.sampled_from([1.0, 2.0, 3.0]),
        "diameter": st.floats(0.002, 0.08),
        "emissivity": st.floats(0.1, 1.0),
        "free": st.floats(0.3, 1.0),
        "ambient": st.floats(253.15, 343.15),
    }
)


@settings(deadline=None)
@given(laid_anyhow, st.floats(5.0, 100.0), st.floats(250.0, 500.0))
def test_heat_in_is_heat_out_to_the_last_digits(
    laid: dict[str, float], rise: float, guess: float
) -> None:
    limit = laid["ambient"] + rise
    current = ampacity(limit, **laid, surface=guess)
    assert steady(current, **laid, surface=guess) == pytest.approx(limit, abs=1e-8)
    made = cable_heat.heat_of_conductor(current, PER_METRE, ALPHA, limit)
    outside = cable_heat.outside_temperature(limit, made, laid["inner"])
    path = cable_heat.outside_path(
        laid["diameter"],
        laid["free"],
        cable_heat.convection(outside, laid["ambient"], laid["diameter"]),
        cable_heat.radiation(outside, laid["ambient"], laid["emissivity"]),
    )
    assert (outside - laid["ambient"]) / path == pytest.approx(laid["loaded"] * made, rel=1e-8)
    # The same by the path as a whole.
    to_air = laid["inner"] + laid["loaded"] * path
    by_path = (limit, laid["ambient"], to_air, PER_METRE, ALPHA)
    assert cable_heat.ampacity_by_path(*by_path) == pytest.approx(current, rel=1e-8)
    back = cable_heat.temperature_by_path(current, PER_METRE, ALPHA, to_air, laid["ambient"])
    assert back == pytest.approx(limit, abs=1e-6)


@pytest.mark.parametrize(
    ("moved", "more"),
    [
        ({"inner": 0.6}, False),
        ({"loaded": 2.0}, False),
        ({"emissivity": 0.3}, False),
        ({"free": 0.6}, False),
        ({"ambient": 323.15}, False),
        ({"diameter": 0.02}, True),
        ({"resistance": 0.4e-3}, True),
    ],
)
def test_each_thing_moves_it_as_it_must(moved: dict[str, float], more: bool) -> None:
    assert (ampacity(343.15, **moved) > ampacity(343.15)) == more
    assert (steady(120.0, **moved) < steady(120.0)) == more


def test_more_current_is_hotter_and_none_is_the_air() -> None:
    temperatures = [steady(current) for current in (0.0, 10.0, 50.0, 100.0, 200.0, 300.0)]
    assert temperatures[0] == pytest.approx(AIR, abs=1e-9)
    assert temperatures == sorted(temperatures)
    assert len(set(temperatures)) == 6


def test_the_guess_of_the_surface_changes_nothing() -> None:
    assert steady(150.0, surface=250.0) == steady(150.0, surface=500.0)
    assert ampacity(363.15, surface=250.0) == ampacity(363.15, surface=500.0)


@given(st.floats(240.0, 500.0), st.floats(240.0, 380.0), st.floats(0.001, 0.2))
def test_formulas_and_search_have_one_law(surface: float, ambient: float, diameter: float) -> None:
    ours = cable_heat.convection(surface, ambient, diameter)
    assert ours == pytest.approx(cylinder_in_air.convection(surface, ambient, diameter), rel=1e-12)
    radiated = cable_heat.radiation(surface, ambient, 0.9)
    assert radiated == pytest.approx(cylinder_in_air.radiation(surface, ambient, 0.9), rel=1e-12)


def test_the_search_gives_the_surface_that_the_formula_ends_on() -> None:
    cable = CableInAir(0.0105, 0.9, 1.0, AIR, 0.26, 1.0)
    surface = cable.steady_surface(150.0**2 * PER_METRE, ALPHA, 293.15)
    assert cable.conductor(surface) == pytest.approx(steady(150.0), abs=1e-9)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (cable_heat.convection, (320.0, 300.0, 0.0)),
        (cable_heat.convection, (-1.0, 300.0, 0.01)),
        (cable_heat.outside_path, (0.01, 0.0, 5.0, 5.0)),
        (cable_heat.outside_path, (0.01, 1.0, 0.0, 0.0)),
        (cable_heat.temperature_by_path, (1000.0, PER_METRE, ALPHA, 3.0, AIR)),
        (cable_heat.temperature_by_path, (10.0, PER_METRE, 0.0, 3.0, AIR)),
        (cable_heat.ampacity_by_path, (300.0, AIR, 3.0, PER_METRE, ALPHA)),
        (cable_heat.ampacity_by_path, (343.15, AIR, 0.0, PER_METRE, ALPHA)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]


def test_a_cable_that_burns_and_air_too_hot_are_refused() -> None:
    with pytest.raises(FormulaError, match="burns first"):
        steady(3000.0)
    with pytest.raises(FormulaError, match="as hot as the conductor"):
        ampacity(AIR)
    with pytest.raises(FormulaError, match="above zero"):
        ampacity(343.15, resistance=0.0)
    with pytest.raises(FormulaError, match="grows"):
        cable_heat.steady_temperature(100.0, PER_METRE, 0.0, **LAID)


def test_the_effective_value_of_a_sine() -> None:
    assert cable_heat.effective_current(141.42135623730951) == pytest.approx(100.0)
