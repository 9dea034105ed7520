"""Voltages and resistance of the pack."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.pack import checks
from wattwright.areas.pack.cells import open_circuit, open_circuit_curve, typical_limit
from wattwright.build.pack import Pack
from wattwright.build.presence import said
from wattwright.descriptions.pack import PackCells, PackDescription, PackState
from wattwright.findings import Figure
from wattwright.kinds import FRACTION, RATIO, TEMPERATURE_DIFFERENCE
from wattwright.physics import fed_by_pack, heat_flow, pack_capacity, pack_voltage
from wattwright.units import read
from wattwright.values import Given, Origin, Value, constant, either, given, is_nought, worked

_NEW = constant(RATIO, 1.0, "new")
_WARM = constant(RATIO, 1.0, "warm")
# Modules of 150 Wh/kg and 1.0 kJ/(kg·K); common practice.
_WARMING, _WARMING_BAND = "540 K", "160 K"
_HALF = constant(FRACTION, 0.5, "half charged")


def describe(own: Pack) -> PackDescription:
    """Work out what the devices on the pack see."""
    charge = either(own.charge_limit, typical_limit(own, "charge"))
    discharge = either(own.discharge_limit, typical_limit(own, "discharge"))
    v_max = worked(pack_voltage.series_voltage, own.series, charge)
    usual = _resistance(own, _NEW, _WARM)
    worst = _resistance(own, own.age_factor, own.cold_factor)
    v_min = worked(pack_voltage.series_voltage, own.series, discharge)
    half = _state(own, "half charged, warm", _HALF, usual, v_min)
    return PackDescription(
        v_max,
        _while_regenerating(own, v_max, worst),
        v_min,
        usual,
        worst,
        half,
        _state(own, "nearly empty, cold and aged", own.low_charge, worst, v_min),
        _cells(own, half),
    )


def _cells(own: Pack, half: PackState) -> PackCells:
    charges, voltages = open_circuit_curve(own)
    return PackCells(
        charges,
        tuple((own.series.number or 0.0) * voltage for voltage in voltages),
        half.resistance,
        own.capacity,
        own.capacity_cold,
        own.capacity_left,
        own.cold_factor,
        own.cold_temperature,
        own.age_factor,
        own.discharge_current,
        own.continuous_current,
        own.regen_current if said(own.regen_current) else own.regen_current_full,
        own.regen_current_full,
        own.charge_cold_from,
        own.charge_cold_full,
        own.charge_taper_from,
        own.derating_span,
        own.low_charge,
        own.heat_capacity if said(own.heat_capacity) else _typical_heat_capacity(own, half),
        own.highest_temperature,
    )


def _typical_heat_capacity(own: Pack, half: PackState) -> Value:
    """Heat capacity by the energy the cells hold, as nobody has weighed them for it."""
    lack = next(iter(own.heat_capacity.lacks))
    origin = Given(
        lack.path,
        "pack: by how much its own energy would warm it",
        Origin.TYPICAL,
        _WARMING,
        read(_WARMING_BAND, TEMPERATURE_DIFFERENCE).number,
        "± 30 % between modules, common practice",
        how=lack.how,
        minutes=lack.minutes,
    )
    warming = given(TEMPERATURE_DIFFERENCE, read(_WARMING, TEMPERATURE_DIFFERENCE).number, origin)
    energy = worked(pack_capacity.energy_held, own.capacity, half.open_circuit)
    return worked(heat_flow.heat_capacity_by_energy, energy, warming)


def _state(own: Pack, says: str, charge: Value, resistance: Value, lowest: Value) -> PackState:
    cell = open_circuit(own, charge)
    at_rest = worked(pack_voltage.series_voltage, own.series, cell)
    current = worked(
        fed_by_pack.allowed_current, own.discharge_current, lowest, at_rest, resistance
    )
    power = worked(pack_voltage.power_at_current, current, at_rest, resistance)
    return PackState(says, at_rest, resistance, current, power)


def _while_regenerating(own: Pack, v_max: Value, resistance: Value) -> Value:
    """Take the highest voltage with what regeneration adds; nothing where none is allowed."""
    if is_nought(own.regen_current_full):
        return v_max
    return worked(pack_voltage.voltage_while_charging, v_max, own.regen_current_full, resistance)


def _resistance(own: Pack, ageing: Value, cold: Value) -> Value:
    return worked(
        pack_voltage.pack_resistance,
        own.series,
        own.parallel,
        own.cell_resistance,
        ageing,
        cold,
        own.joints,
    )


def judge(pack: PackDescription) -> Iterator[Figure]:
    """State voltages and resistance; the areas that hang on the pack judge them."""
    yield checks.V_MAX.of(pack.v_max)
    if pack.v_regen is not pack.v_max:
        yield checks.V_REGEN.of(pack.v_regen)
    yield checks.V_MIN.of(pack.v_min)
    yield checks.RESISTANCE_WARM.of(pack.resistance)
    yield checks.RESISTANCE_WORST.of(pack.resistance_worst)
    for word, state in pack.states.items():
        yield checks.OPEN_CIRCUIT.of(state.open_circuit, word)
    for word, state in pack.states.items():
        yield checks.POWER_FED.of(state.power, word)
