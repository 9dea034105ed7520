"""Pack voltage: by hand, the circuit the other way round, and what the tables must hold to."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wattwright import kinds
from wattwright.errors import FormulaError
from wattwright.physics import pack_voltage as pv
from wattwright.tables import load
from wattwright.units import read

CHEMISTRIES = ["NMC", "NMC 811", "NCA", "LFP", "LCO"]

voltages = st.floats(20.0, 800.0)
resistances = st.floats(1e-3, 1.0)
shares = st.floats(0.0, 1.0)


def test_the_highest_voltage_of_a_pack_by_hand() -> None:
    assert pv.series_voltage(60.0, 4.2) == pytest.approx(252.0)
    assert pv.series_voltage(96.0, 4.2) == pytest.approx(403.2)


def test_resistance_by_hand() -> None:
    # 96 in series, 2 in parallel of 1 mΩ: 48 mΩ; aged by a half, doubled by cold, 12 mΩ of joints
    assert pv.pack_resistance(96.0, 2.0, 1e-3, 1.5, 2.0, 12e-3) == pytest.approx(0.156)
    with pytest.raises(FormulaError, match="in parallel"):
        pv.pack_resistance(96.0, 0.0, 1e-3, 1.0, 1.0, 0.0)


def test_load_by_hand() -> None:
    # 350 V behind 0.1 Ω: 100 A leave 340 V, which is 34 kW
    assert pv.voltage_under_load(350.0, 100.0, 0.1) == pytest.approx(340.0)
    assert pv.voltage_while_charging(350.0, 100.0, 0.1) == pytest.approx(360.0)
    assert pv.current_at_power(34e3, 350.0, 0.1) == pytest.approx(100.0)
    assert pv.voltage_at_power(34e3, 350.0, 0.1) == pytest.approx(340.0)
    assert pv.current_at_power(-36e3, 350.0, 0.1) == pytest.approx(-100.0)
    assert pv.power_at_current(100.0, 350.0, 0.1) == pytest.approx(34e3)
    assert pv.power_at_lowest_voltage(340.0, 350.0, 0.1) == pytest.approx(34e3)
    assert pv.charge_current_at_highest_voltage(360.0, 350.0, 0.1) == pytest.approx(100.0)


def test_a_cold_empty_aged_pack_by_hand() -> None:
    """The lowest voltage: 60 cells at 3.4 V and 0.9 mΩ, a quarter more by age, 2.1 by frost."""
    resistance = pv.pack_resistance(60.0, 1.0, 0.9e-3, 1.25, 2.1, 10e-3)
    assert resistance == pytest.approx(0.15175)
    empty = pv.series_voltage(60.0, 3.4)
    lowest = pv.voltage_at_power(20e3, empty, resistance)
    # x² - 204 x + 3035 = 0
    assert lowest == pytest.approx(187.8429, abs=1e-4)
    assert pv.voltage_under_load(
        empty, pv.current_at_power(20e3, empty, resistance), resistance
    ) == pytest.approx(lowest)


@given(voltages, resistances, st.floats(-2.0, 0.999))
def test_current_at_power_is_the_smaller_root(
    open_circuit: float, resistance: float, share: float
) -> None:
    power = share * open_circuit**2 / (4 * resistance)
    current = pv.current_at_power(power, open_circuit, resistance)
    roots = np.roots([resistance, -open_circuit, power])
    assert current == pytest.approx(min(roots.real), rel=1e-6, abs=1e-9)
    voltage = pv.voltage_under_load(open_circuit, current, resistance)
    assert voltage * current == pytest.approx(power, rel=1e-9, abs=1e-9)
    assert pv.voltage_at_power(power, open_circuit, resistance) == pytest.approx(voltage)
    assert voltage >= open_circuit / 2


@given(voltages, resistances)
def test_more_than_a_quarter_of_the_short_circuit_cannot_be_fed(
    open_circuit: float, resistance: float
) -> None:
    most = open_circuit**2 / (4 * resistance)
    assert pv.power_at_lowest_voltage(0.0, open_circuit, resistance) == pytest.approx(most)
    for function in (pv.current_at_power, pv.voltage_at_power):
        assert function(0.999 * most, open_circuit, resistance) > 0
        with pytest.raises(FormulaError, match="cannot feed this power"):
            function(1.001 * most, open_circuit, resistance)


@given(voltages, resistances, shares)
def test_the_power_at_the_lowest_voltage_brings_the_pack_there(
    open_circuit: float, resistance: float, share: float
) -> None:
    lowest = share * open_circuit
    power = pv.power_at_lowest_voltage(lowest, open_circuit, resistance)
    reached = pv.voltage_at_power(power * (1 - 1e-12), open_circuit, resistance)
    assert reached == pytest.approx(max(lowest, open_circuit / 2), rel=1e-5)
    current = (open_circuit - reached) / resistance * (1 - 1e-9)
    assert pv.power_at_current(current, open_circuit, resistance) == pytest.approx(
        power, rel=1e-4, abs=1e-3
    )


def test_without_resistance_nothing_sags() -> None:
    assert pv.current_at_power(35e3, 350.0, 0.0) == pytest.approx(100.0)
    assert pv.voltage_at_power(35e3, 350.0, 0.0) == 350.0
    with pytest.raises(FormulaError, match="without resistance"):
        pv.power_at_lowest_voltage(300.0, 350.0, 0.0)
    with pytest.raises(FormulaError, match="without resistance"):
        pv.charge_current_at_highest_voltage(400.0, 350.0, 0.0)


def test_limits_that_are_passed_before_any_current_flows() -> None:
    with pytest.raises(FormulaError, match="below this voltage before"):
        pv.power_at_lowest_voltage(351.0, 350.0, 0.1)
    with pytest.raises(FormulaError, match="above this voltage before"):
        pv.charge_current_at_highest_voltage(349.0, 350.0, 0.1)
    with pytest.raises(FormulaError, match="beyond the one of largest power"):
        pv.power_at_current(1751.0, 350.0, 0.1)
    with pytest.raises(FormulaError, match="cannot feed"):
        pv.current_at_power(-100.0, 0.0, 0.1)


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
@given(one=shares, two=shares)
def test_a_fuller_cell_has_the_higher_voltage(chemistry: str, one: float, two: float) -> None:
    curve = pv.open_circuit_curve(chemistry)
    low, high = (
        pv.cell_voltage(share, curve.charge_shares, curve.voltages) for share in sorted((one, two))
    )
    assert low <= high + 1e-12
    assert curve.voltages[0] <= low
    assert high <= curve.voltages[-1] * (1 + 1e-12)


@given(shares)
def test_between_points_the_curve_is_straight(share: float) -> None:
    curve = pv.open_circuit_curve("NMC")
    want = np.interp(share, curve.charge_shares, curve.voltages)
    got = pv.cell_voltage(share, curve.charge_shares, curve.voltages)
    assert got == pytest.approx(float(want), rel=1e-12)


@pytest.mark.parametrize("share", [-0.01, 1.01, math.nan])
def test_a_share_outside_the_curve_is_refused(share: float) -> None:
    with pytest.raises(FormulaError, match="within the curve"):
        pv.cell_voltage(share, [0.0, 1.0], [3.0, 4.2])


def test_curves_that_are_none_are_refused() -> None:
    for places, heights in (([], []), ([0.0], [3.0]), ([0.0, 1.0], [3.0])):
        with pytest.raises(FormulaError, match="two points or more"):
            pv.cell_voltage(0.0, places, heights)
        with pytest.raises(FormulaError, match="two points or more"):
            pv.resistance_factor(0.0, places, heights)
    with pytest.raises(FormulaError, match="must grow"):
        pv.cell_voltage(0.5, [0.0, 0.5, 0.5], [3.0, 3.5, 4.0])


def test_a_chemistry_without_a_curve_is_refused_by_name() -> None:
    with pytest.raises(FormulaError, match="no typical curve for lead; there is one for NMC, "):
        pv.open_circuit_curve("lead")


def test_cold_raises_the_resistance() -> None:
    temperatures, factors = zip(*pv.COLD_FACTORS, strict=True)
    assert pv.resistance_factor(298.15, temperatures, factors) == 1.0
    assert pv.resistance_factor(268.15, temperatures, factors) == pytest.approx(2.65)
    assert pv.resistance_factor(340.0, temperatures, factors) == pytest.approx(0.8)
    with pytest.raises(FormulaError, match="above this temperature"):
        pv.resistance_factor(253.0, temperatures, factors)
    assert list(factors) == sorted(factors, reverse=True)
    # Colder costs more and more: the slope steepens towards frost.
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in itertools.pairwise(pv.COLD_FACTORS)]
    assert slopes == sorted(slopes)
    assert pv.COLD.flag == "practice"


def test_every_curve_runs_from_empty_to_full_in_even_steps() -> None:
    assert list(dict.fromkeys(row.cells["chemistry"] for row in load("cell_ocv"))) == CHEMISTRIES
    for chemistry in CHEMISTRIES:
        curve = pv.open_circuit_curve(chemistry)
        assert curve.charge_shares == pytest.approx(np.linspace(0, 1, 21))
        assert all(before < after for before, after in itertools.pairwise(curve.voltages))
        assert "J. Electrochem. Soc." in curve.source.title


def test_cell_limits_can_be_read_and_lie_in_order() -> None:
    """Voltages and temperatures with units, low below high, and what is from memory says so."""
    found: dict[str, dict[str, float]] = {}
    for row in load("cell_limits"):
        quantity = row.cells["quantity"]
        kind = kinds.TEMPERATURE if "temperature" in quantity else kinds.VOLTAGE
        assert row.cells["limit"] == f"{row.cells['chemistry']} {quantity}"
        found.setdefault(row.cells["chemistry"], {})[quantity] = read(
            row.cells["value"], kind
        ).number
        if "temperature" in quantity or "nominal" in quantity:
            assert not row.limits
    assert set(CHEMISTRIES) <= set(found)
    for chemistry, limits in found.items():
        nominal = limits.get("nominal voltage", limits["charge voltage"] - 1e-9)
        assert limits["discharge voltage"] < nominal < limits["charge voltage"], chemistry
        assert limits["lowest charge temperature"] < limits["highest charge temperature"]
        if chemistry != "LTO":
            assert limits["lowest charge temperature"] == pytest.approx(273.15)
            assert limits["lowest discharge temperature"] < limits["lowest charge temperature"]
            assert limits["highest discharge temperature"] > limits["highest charge temperature"]


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
def test_a_full_typical_cell_is_at_its_charge_limit_or_below(chemistry: str) -> None:
    top = read(load("cell_limits").row(f"{chemistry} charge voltage").cells["value"], kinds.VOLTAGE)
    curve = pv.open_circuit_curve(chemistry)
    assert curve.voltages[-1] <= top.number
    assert curve.voltages[-1] == pytest.approx(top.number, abs=0.051)


@pytest.mark.parametrize(
    ("limit", "makes"), [("LFP charge voltage", False), ("NMC charge voltage", True)]
)
def test_a_charge_limit_from_memory_limits_nothing(limit: str, makes: bool) -> None:
    assert load("cell_limits").row(limit).limits is makes


@given(voltages, resistances, resistances, st.floats(0.0, 0.9))
def test_more_resistance_always_sags_more(
    open_circuit: float, one: float, two: float, share: float
) -> None:
    assume(one != two)
    small, large = sorted((one, two))
    power = share * open_circuit**2 / (4 * large)
    sagged = pv.voltage_at_power(power, open_circuit, large)
    assert sagged <= pv.voltage_at_power(power, open_circuit, small)
    assert sagged <= open_circuit
