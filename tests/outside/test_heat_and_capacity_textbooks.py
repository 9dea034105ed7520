"""Heat of lumped bodies, heaters and cells, against textbooks.

Incropera and others, Fundamentals of Heat and Mass Transfer, 7th ed., section 3.1: resistances in
parallel, and the loss of a wall as area over resistance (from memory).
Linden, Handbook of Batteries, 3rd ed., table 1.2: a lithium-ion cell of 3.8 V (from memory).
Specific heat of lithium-ion cells about 1.0 kJ/(kg·K), and 150 Wh/kg of salvaged modules: common
practice. 1 kWh is 3.6 MJ.
"""

from __future__ import annotations

import pytest

from wattwright.errors import FormulaError
from wattwright.physics import (
    acceleration,
    fed_by_pack,
    heat_flow,
    pack_capacity,
    pack_voltage,
)


def test_two_equal_paths_have_half_the_resistance() -> None:
    assert heat_flow.parallel([0.04, 0.04]) == pytest.approx(0.02)
    assert heat_flow.parallel([0.03]) == pytest.approx(0.03)
    # 1/(1/30 + 1/60) = 20.
    assert heat_flow.parallel([0.030, 0.060]) == pytest.approx(0.020)
    with pytest.raises(FormulaError):
        heat_flow.parallel([0.03, 0.0])


def test_a_heater_makes_up_for_what_a_cabin_loses() -> None:
    # A wall of 80 W/K between 18 °C and -7 °C loses 2 kW; a heat pump of 2.5 takes 800 W for it.
    assert heat_flow.heater_power(80.0, 291.15, 266.15, 1.0) == pytest.approx(2000.0)
    assert heat_flow.heater_power(80.0, 291.15, 266.15, 2.5) == pytest.approx(800.0)
    assert heat_flow.heater_power(80.0, 291.15, 300.0, 1.0) == 0.0
    with pytest.raises(FormulaError):
        heat_flow.heater_power(80.0, 291.15, 266.15, 0.0)


def test_modules_of_150_wh_a_kilogram_would_warm_by_540_k() -> None:
    # 1 kg holds 0.150 x 3.6 MJ = 540 kJ and warms by 1 K for each kJ: 540 K.
    assert heat_flow.heat_capacity_by_energy(540e3, 540.0) == pytest.approx(1000.0)
    with pytest.raises(FormulaError):
        heat_flow.heat_capacity_by_energy(540e3, 0.0)


def test_power_is_taken_back_before_the_limit() -> None:
    assert heat_flow.derating_begins(413.15, 20.0) == pytest.approx(393.15)


def test_energy_is_charge_times_voltage() -> None:
    # 50 Ah at 3.8 V are 190 Wh.
    assert pack_capacity.energy_held(50 * 3600.0, 3.8) == pytest.approx(190 * 3600.0)


def test_capacity_falls_in_the_cold_and_with_age() -> None:
    full = 100 * 3600.0
    assert pack_capacity.at_temperature(full, 0.8, 263.15, 298.15) == full
    assert pack_capacity.at_temperature(full, 0.8, 263.15, 263.15) == pytest.approx(0.8 * full)
    # Half way between 25 °C and -10 °C: half of what is lost.
    assert pack_capacity.at_temperature(full, 0.8, 263.15, 280.65) == pytest.approx(0.9 * full)
    assert pack_capacity.at_temperature(full, 0.8, 263.15, 318.15) == full
    assert pack_capacity.aged(full, 0.75) == 0.75 * full
    with pytest.raises(FormulaError):
        pack_capacity.at_temperature(full, 0.8, 300.0, 263.15)


def test_the_wall_gives_more_than_arrives() -> None:
    assert pack_capacity.wall_energy(600.0, 0.8) == pytest.approx(750.0)
    with pytest.raises(FormulaError):
        pack_capacity.wall_energy(600.0, 0.0)


def test_resistance_grows_evenly_by_ratio_in_the_cold() -> None:
    # To double over 25 K is to grow by the square root of two over half of them.
    cold = pack_voltage.resistance_when_cold(0.1, 2.0, 273.15, 273.15)
    half = pack_voltage.resistance_when_cold(0.1, 2.0, 273.15, 285.65)
    assert cold == pytest.approx(0.2)
    assert half == pytest.approx(0.1 * 2**0.5)
    assert pack_voltage.resistance_when_cold(0.1, 2.0, 273.15, 318.15) == pytest.approx(0.1)
    with pytest.raises(FormulaError):
        pack_voltage.resistance_when_cold(0.1, 2.0, 298.15, 273.15)


def test_half_the_losses_at_half_the_missing_efficiency() -> None:
    # At 80 % a quarter of the shaft's power is lost; at 88.89 % an eighth.
    assert fed_by_pack.loss_scale(0.8, 0.8) == pytest.approx(1.0)
    assert fed_by_pack.loss_scale(8 / 9, 0.8) == pytest.approx(0.5)
    with pytest.raises(FormulaError):
        fed_by_pack.loss_scale(0.8, 1.0)


def test_a_tonne_sped_up_by_one_metre_a_second_squared_takes_a_kilonewton() -> None:
    assert acceleration.inertia_force(1000.0, 1.0) == 1000.0
