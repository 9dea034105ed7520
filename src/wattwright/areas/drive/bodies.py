"""What is warmed by a use: motors, inverters, cells and two coolants, each one temperature."""

from __future__ import annotations

from collections.abc import Iterable

from wattwright.areas.drive.fed import NO_MOTOR, of_all
from wattwright.areas.drive.own import Own
from wattwright.build.devices import Inverter
from wattwright.build.motor import Motor
from wattwright.build.presence import said
from wattwright.descriptions.pack import PackCells
from wattwright.kinds import (
    HEAT_CAPACITY,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    THERMAL_CONDUCTANCE,
    THERMAL_RESISTANCE,
    Kind,
)
from wattwright.physics import around_run, heat_flow
from wattwright.units import read
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    given,
    lacking,
    smallest,
)

# Below its limit a body begins to be held back by so much; settings of inverters and managements.
_SPANS = {"motor": "20 K", "inverter": "10 K", "pack": "8 K"}
_BASIS = "common practice"
_NO_INVERTER = Lack(
    "part.NAME",
    "the inverter",
    "not given",
    "give the part that is the inverter kind = inverter",
    5,
)
# Bodies that are not there keep and pass on next to nothing.
_NO_COOLANT = constant(HEAT_CAPACITY, 100.0, "no coolant")
_NO_PATH = constant(THERMAL_CONDUCTANCE, 0.0, "no coolant")


def bodies(own: Own, cells: PackCells) -> dict[str, Value]:
    """Heat capacities, paths of heat and limits, by the names of the run's parameters."""
    loop = own.cooling
    motors, inverters = list(own.motors.values()), list(own.inverters.values())
    cooled = not loop.pack_coolant.absent and said(loop.pack_coolant)
    capacities = {
        "motor": of_all(HEAT_CAPACITY, around_run.total, [_capacity(each) for each in motors]),
        "inverter": _of_inverters(inverters, HEAT_CAPACITY, (i.heat_capacity for i in inverters)),
        "drive_coolant": loop.drive_coolant,
        "pack": cells.heat_capacity,
        "pack_coolant": loop.pack_coolant if cooled else _NO_COOLANT,
    }
    paths = [_resistance(each) for each in motors]
    to_coolant = [loop.inverter_to_coolant for _ in inverters]
    return {
        **{f"heat_capacity_{name}": value for name, value in capacities.items()},
        "motor_resistance": of_all(THERMAL_RESISTANCE, heat_flow.parallel, paths),
        "inverter_to_coolant": _of_inverters(inverters, THERMAL_CONDUCTANCE, to_coolant),
        "drive_coolant_to_ambient": loop.radiator,
        "pack_to_coolant": loop.pack_to_coolant if cooled else _NO_PATH,
        "pack_coolant_to_ambient": loop.pack_radiator if cooled else _NO_PATH,
        "pack_to_ambient": loop.pack_to_air,
        **{f"limit_{name}": limit for name, limit in _limits(own, cells).items()},
        **{f"span_{name}": _span(name) for name in _SPANS},
    }


def _limits(own: Own, cells: PackCells) -> dict[str, Value]:
    """Temperature at which nothing is given any more; of several the lowest counts for all."""
    windings = [motor.winding_limit for motor in own.motors.values()]
    plates = [inverter.highest_temperature for inverter in own.inverters.values()]
    return {
        "motor": smallest(*windings) if windings else lacking(TEMPERATURE, NO_MOTOR),
        "inverter": smallest(*plates) if plates else lacking(TEMPERATURE, _NO_INVERTER),
        "pack": cells.highest_temperature,
    }


def _span(name: str) -> Value:
    number = read(_SPANS[name], TEMPERATURE_DIFFERENCE).number
    return constant(TEMPERATURE_DIFFERENCE, number, f"{_SPANS[name]}, {_BASIS}")


def _of_inverters(inverters: list[Inverter], kind: Kind, each: Iterable[Value]) -> Value:
    if not inverters:
        return lacking(kind, _NO_INVERTER)
    return of_all(kind, around_run.total, list(each))


def _capacity(motor: Motor) -> Value:
    return _or_typical(motor.heat_capacity, "4 kJ/K", "2 kJ/K")


def _resistance(motor: Motor) -> Value:
    return _or_typical(motor.thermal_resistance, "30 K/kW", "15 K/kW")


def _or_typical(value: Value, number: str, band: str) -> Value:
    """Take what the builder knows, else what is typical of motors this size, asked for by name."""
    if value.known:
        return value
    lack = value.lacks[0]
    origin = Given(
        lack.path,
        lack.label,
        Origin.TYPICAL,
        number,
        read(band, value.kind).number,
        f"± {band}, motors of this size, {_BASIS}",
        how=lack.how,
        minutes=lack.minutes,
    )
    return given(value.kind, read(number, value.kind).number, origin)
