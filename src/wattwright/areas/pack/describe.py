"""Voltages and resistance of the pack."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.pack import checks
from wattwright.build.pack import Pack
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure
from wattwright.kinds import RATIO
from wattwright.physics import pack_voltage
from wattwright.values import Value, constant, is_nought, worked

_NEW = constant(RATIO, 1.0, "new")
_WARM = constant(RATIO, 1.0, "warm")


def describe(own: Pack) -> PackDescription:
    """Work out what the devices on the pack see."""
    v_max = worked(pack_voltage.series_voltage, own.series, own.charge_limit)
    worst = _resistance(own, own.age_factor, own.cold_factor)
    return PackDescription(
        v_max,
        _while_regenerating(own, v_max, worst),
        worked(pack_voltage.series_voltage, own.series, own.discharge_limit),
        _resistance(own, _NEW, _WARM),
        worst,
    )


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
