"""What is warmed by a use: motors, inverters, cells and two coolants, each one temperature."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.motor import inverter_of
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
    largest,
    smallest,
    worked,
)

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
    motors, inverters = list(own.motors.values()), _feeding(own)
    cooled = not loop.pack_coolant.absent and said(loop.pack_coolant)
    capacities = {
        "motor": _as_weak(smallest, around_run.total, [_capacity(each) for each in motors])
        or lacking(HEAT_CAPACITY, NO_MOTOR),
        "inverter": _as_weak(smallest, around_run.total, [i.heat_capacity for i in inverters])
        or lacking(HEAT_CAPACITY, _NO_INVERTER),
        "drive_coolant": loop.drive_coolant,
        "pack": cells.heat_capacity,
        "pack_coolant": loop.pack_coolant if cooled else _NO_COOLANT,
    }
    paths = [_resistance(each) for each in motors]
    to_coolant = [loop.inverter_to_coolant for _ in inverters]
    path = _as_weak(largest, heat_flow.parallel, paths)
    plate = _as_weak(smallest, around_run.total, to_coolant)
    return {
        **{f"heat_capacity_{name}": value for name, value in capacities.items()},
        "motor_resistance": path or lacking(THERMAL_RESISTANCE, NO_MOTOR),
        "inverter_to_coolant": plate or lacking(THERMAL_CONDUCTANCE, _NO_INVERTER),
        "drive_coolant_to_ambient": loop.radiator,
        "pack_to_coolant": loop.pack_to_coolant if cooled else _NO_PATH,
        "pack_coolant_to_ambient": loop.pack_radiator if cooled else _NO_PATH,
        "pack_to_ambient": loop.pack_to_air,
        **_limits(own, cells),
    }


def _limits(own: Own, cells: PackCells) -> dict[str, Value]:
    """Where nothing is given any more and how far below that it begins; the earliest of several."""
    motors, inverters = list(own.motors.values()), _feeding(own)
    kinds = (TEMPERATURE, TEMPERATURE_DIFFERENCE)
    limits = {
        "motor": _earliest([(m.winding_limit, m.derating_span) for m in motors])
        or tuple(lacking(kind, NO_MOTOR) for kind in kinds),
        "inverter": _earliest([(i.highest_temperature, i.derating_span) for i in inverters])
        or tuple(lacking(kind, _NO_INVERTER) for kind in kinds),
        "pack": (cells.highest_temperature, cells.derating_span),
    }
    return {
        f"{word}_{name}": value
        for name, pair in limits.items()
        for word, value in zip(("limit", "span"), pair, strict=True)
    }


def _earliest(pairs: list[tuple[Value, Value]]) -> tuple[Value, Value] | None:
    """The lowest limit and the widest span; none where there is none."""
    if not pairs:
        return None
    limits, spans = zip(*pairs, strict=True)
    return smallest(*limits), largest(*spans)


def _feeding(own: Own) -> list[Inverter]:
    """Inverters that feed a motor; another one has no part in the heat."""
    found = (inverter_of(own.inverters, motor) for motor in own.motors.values())
    return list({id(each): each for each in found if each is not None}.values())


def _as_weak(
    weakest: Callable[..., Value], total: Callable[..., float], each: list[Value]
) -> Value | None:
    """All together as if each were like the one that stands least; none where there is none.

    Of several on one shaft each carries as much, so that one which cools badly decides.
    """
    if len(each) < 2:
        return each[0] if each else None
    return worked(total, [weakest(*each)] * len(each))


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
