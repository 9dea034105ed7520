"""A small complete build with round numbers, and ways to change it.

Every value stands on a line of its own as ``path = text``, so that a test can replace, add or
leave out one value and knows on which line it stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from wattwright.areas import AREAS, Area
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, parse_build
from wattwright.errors import BuildError, Problem
from wattwright.findings import Figure, Finding

SMALL: dict[str, str] = {
    "format": "1",
    "build.name": '"Small build"',
    "donor.wheelbase": '"2.5 m ± 0, measured"',
    "donor.gross_limit": '"1600 kg, datasheet"',
    "donor.front.track": '"1.4 m ± 0, measured"',
    "donor.front.limit": '"800 kg, datasheet"',
    "donor.rear.track": '"1.25 m ± 0, measured"',
    "donor.rear.limit": '"900 kg, datasheet"',
    "donor.weighed.fl": '"310 kg ± 1, measured, scale, 2026-03-14"',
    "donor.weighed.fr": '"290 kg ± 1, measured, scale, 2026-03-14"',
    "donor.weighed.rl": '"190 kg ± 1, measured, scale, 2026-03-14"',
    "donor.weighed.rr": '"210 kg ± 1, measured, scale, 2026-03-14"',
    "donor.weighed.aboard.tank": '"20 kg ± 1, measured"',
    "donor.weighed.cg_height": '"0.6 m ± 0.02, measured"',
    "donor.removed.engine.mass": '"150 kg ± 1, measured"',
    "donor.removed.engine.at.x": '"0.25 m ± 0, measured"',
    "donor.removed.engine.at.y": '"0 m ± 0, measured"',
    "donor.removed.engine.at.z": '"0.6 m ± 0, measured"',
    "place.driver.role": '"driver"',
    "place.driver.at.x": '"1.25 m ± 0, measured"',
    "place.driver.at.y": '"-0.35 m ± 0, measured"',
    "place.driver.at.z": '"0.7 m ± 0, measured"',
    "place.bench.role": '"seat"',
    "place.bench.at.x": '"1.25 m ± 0, measured"',
    "place.bench.at.y": '"0.35 m ± 0, measured"',
    "place.bench.at.z": '"0.7 m ± 0, measured"',
    "place.bed.role": '"load"',
    "place.bed.full": '"300 kg, datasheet"',
    "place.bed.at.x": '"2.5 m ± 0, measured"',
    "place.bed.at.y": '"0 m ± 0, measured"',
    "place.bed.at.z": '"0.9 m ± 0, measured"',
    "place.tank.role": '"tank"',
    "place.tank.full": '"40 kg, datasheet"',
    "place.tank.at.x": '"2 m ± 0, measured"',
    "place.tank.at.y": '"0.5 m ± 0, measured"',
    "place.tank.at.z": '"0.5 m ± 0, measured"',
    "case.market.says": '"crates on the bed"',
    "case.market.aboard.driver": '"80 kg ± 0, measured"',
    "case.market.aboard.bed": '"100 kg ± 2, measured"',
    "part.motor.mass": '"60 kg ± 0.5, measured"',
    "part.motor.state": '"fitted"',
    "part.motor.at.x": '"0.5 m ± 0, measured"',
    "part.motor.at.y": '"0 m ± 0, measured"',
    "part.motor.at.z": '"0.5 m ± 0, measured"',
    "part.module.count": '"4, measured"',
    "part.module.mass": '"25 kg, datasheet"',
    "part.module.state": '"fitted"',
    "part.module.at.x": '"2 m ± 0, measured"',
    "part.module.at.y": '"0.2 m ± 0, measured"',
    "part.module.at.z": '"0.8 m ± 0, measured"',
    "part.charger.mass": '"10 kg ± 8"',
    "part.charger.state": '"here"',
    "part.charger.at.x": '"2.25 m ± 0, measured"',
    "part.charger.at.y": '"-0.4 m ± 0, measured"',
    "part.charger.at.z": '"0.7 m ± 0, measured"',
    "part.heater.mass": '"500 kg"',
    "part.heater.state": '"removed"',
    "tyre.front.load_index": '"80, measured"',
    "tyre.front.speed_symbol": '"S, measured"',
    "tyre.front.pressure": '"2.5 bar ± 0, measured"',
    "tyre.front.rated_pressure": '"2.5 bar, datasheet"',
    "tyre.rear.load_index": '"80, measured"',
    "tyre.rear.speed_symbol": '"S, measured"',
    "tyre.rear.pressure": '"2.5 bar ± 0, measured"',
    "tyre.rear.rated_pressure": '"2.5 bar, datasheet"',
    "targets.top_speed": '"100 km/h ± 0, measured"',
    **{
        f"rules.{rule}.{key}": text
        for rule, value in (
            ("mass_change", "20 %"),
            ("split_change", "20 %"),
            ("side_imbalance", "10 %"),
            ("occupant_mass", "75 kg"),
        )
        for key, text in (
            ("value", f'"{value}"'),
            ("answered_by", '"engineer"'),
            ("date", '"2026-03-14"'),
        )
    },
}

WEIGH_IN: dict[str, str] = {
    "weigh_in.aboard": "{}",
    "weigh_in.fl": '"270 kg ± 1, measured"',
    "weigh_in.fr": '"260 kg ± 1, measured"',
    "weigh_in.rl": '"220 kg ± 1, measured"',
    "weigh_in.rr": '"240 kg ± 1, measured"',
}

LIFT: dict[str, str] = {
    "donor.weighed.lift.angle": '"12° ± 0.1°, measured"',
    "donor.weighed.lift.floor_lifted": '"630 kg ± 1, measured"',
    "donor.weighed.lift.axle_height": '"0.3 m ± 0, measured"',
    "donor.weighed.lift.suspension_locked": "true",
    "donor.weighed.lift.wanted": '"30 mm, datasheet"',
}


# The small build made electric: two cells side by side, 96 of them in a row, on one motor with its
# inverter, a charger, a converter and a contactor.
ELECTRIC: dict[str, str] = {
    "pack.chemistry": '"NMC"',
    "pack.series": '"96"',
    "pack.parallel": '"2"',
    "pack.charge_limit": '"4.2 V, datasheet"',
    "pack.discharge_limit": '"3 V, datasheet"',
    "pack.cell_resistance": '"2 mΩ ± 0.1, measured"',
    "pack.joints": '"20 mΩ ± 1, measured"',
    "pack.cold_factor": '"3, datasheet"',
    "pack.cold_temperature": '"-20 °C ± 0, datasheet"',
    "pack.age_factor": '"1.5, datasheet"',
    "pack.regen_current_full": '"50 A"',
    "pack.discharge_current": '"400 A"',
    "drive.driven": '"rear"',
    "drive.final_ratio": '"4"',
    "drive.rolling_circumference": '"2 m ± 0.01, measured"',
    "drive.gear.first.ratio": '"2"',
    "drive.gear.second.ratio": '"1"',
    "drive.coldest_magnets": '"-20 °C ± 0, datasheet"',
    "drive.flux_loss": '"10 %, datasheet"',
    "drive.hottest_magnets": '"20 °C ± 0, datasheet"',
    "drive.differential": '"open"',
    "part.motor.saturation": '"0 %, datasheet"',
    "part.motor.kind": '"motor"',
    "part.motor.pole_pairs": '"3"',
    "part.motor.flux": '"66 mWb ± 0.5, measured"',
    "part.motor.ld": '"0.3 mH ± 0.01, measured"',
    "part.motor.lq": '"0.3 mH ± 0.01, measured"',
    "part.motor.rs": '"20 mΩ ± 1, measured"',
    "part.motor.current_limit": '"240 A, datasheet"',
    "part.motor.max_speed": '"8000 rpm, datasheet"',
    "part.inverter.kind": '"inverter"',
    "part.inverter.mass": '"12 kg ± 0.1, measured"',
    "part.inverter.voltage_low": '"200 V, datasheet"',
    "part.inverter.voltage_high": '"450 V, datasheet"',
    "part.inverter.phase_current": '"300 A, datasheet"',
    "part.charger.kind": '"charger"',
    "part.charger.voltage_low": '"250 V, datasheet"',
    "part.charger.voltage_high": '"430 V, datasheet"',
    "part.converter.kind": '"dcdc"',
    "part.converter.mass": '"3 kg ± 0.1, measured"',
    "part.converter.voltage_low": '"200 V, datasheet"',
    "part.converter.voltage_high": '"410 V, datasheet"',
    "part.contactor.kind": '"contactor"',
    "part.contactor.mass": '"1 kg ± 0.1, measured"',
    "part.contactor.voltage_low": '"none"',
    "part.contactor.voltage_high": '"900 V, datasheet"',
    **{
        f"part.{name}.at.{axis}": f'"{place} m ± 0, measured"'
        for name in ("inverter", "converter", "contactor")
        for axis, place in (("x", 0.5), ("y", 0), ("z", 0.8))
    },
}

# The same on the road, with round numbers and hardly a loss, so that all of it follows by hand.
DRIVEN: dict[str, str] = {
    "road.f0": '"98.0665 N, datasheet"',
    "road.f2": '"0.04 N/(km/h)², datasheet"',
    "road.mass": '"1000 kg, datasheet"',
    "road.rotating_share": '"0 %, datasheet"',
    "drive.gear.first.efficiency": '"90 %, datasheet"',
    "drive.gear.second.efficiency": '"100 %, datasheet"',
    "drive.final_efficiency": '"95 %, datasheet"',
    "drive.reverse": '"motor"',
    "drive.shift_time": '"1 s, datasheet"',
    "drive.auxiliary": '"500 W, datasheet"',
    "drive.start.time": '"3 s"',
    "drive.start.friction": '"0.5, datasheet"',
    "drive.regen.torque": '"40 N·m"',
    "drive.regen.friction": '"0.2, datasheet"',
    "drive.link.gearbox.turns_with": '"motor"',
    "drive.link.gearbox.torque": '"150 N·m, datasheet"',
    "drive.link.propshaft.turns_with": '"propshaft"',
    "drive.link.propshaft.diameter": '"60 mm, datasheet"',
    "drive.link.propshaft.bore": '"56 mm, datasheet"',
    "drive.link.propshaft.yield_strength": '"240 MPa, datasheet"',
    "drive.link.half_shaft.turns_with": '"wheel"',
    "drive.link.half_shaft.torque": '"900 N·m, datasheet"',
    "part.motor.efficiency": '"90 %, datasheet"',
    "part.motor.inertia": '"0.02 kg·m², datasheet"',
    "part.motor.continuous_torque": '"40 N·m, datasheet"',
    "part.motor.continuous_power": '"20 kW, datasheet"',
    "part.motor.heat_capacity": '"4 kJ/K, datasheet"',
    "part.motor.thermal_resistance": '"60 K/kW, datasheet"',
    "part.motor.winding_limit": '"140 °C, datasheet"',
    "part.motor.warm": '"60 °C, datasheet"',
    "part.inverter.stall_current": '"200 A, datasheet"',
    "part.inverter.stall_time": '"5 s, datasheet"',
    "part.inverter.current": '"150 A, datasheet"',
    "part.contactor.current": '"200 A, datasheet"',
    "targets.hill_grade": '"20 %"',
    "targets.hill_speed": '"30 km/h"',
    "targets.zero_to_fifty": '"8 s"',
    "rules.stop_lamp_from.value": '"1.3 m/s²"',
    "rules.stop_lamp_from.answered_by": '"engineer"',
    "rules.stop_lamp_from.date": '"2026-03-14"',
}


# What a use over time needs beside that, all of it exact.
CHARGED: dict[str, str] = {
    "pack.capacity": '"100 Ah, datasheet"',
    "pack.capacity_cold": '"80 %, datasheet"',
    "pack.capacity_left": '"75 %, datasheet"',
    "pack.continuous_current": '"120 A, datasheet"',
    "pack.regen_current": '"100 A"',
    "pack.heat_capacity": '"120 kJ/K, datasheet"',
    "pack.charge_cold_from": '"0 °C, datasheet"',
    "pack.charge_cold_full": '"15 °C, datasheet"',
    "pack.highest_temperature": '"55 °C, datasheet"',
    "pack.derating_span": '"8 K, datasheet"',
    "pack.charge_taper_from": '"90 %, datasheet"',
    "part.motor.loss_share": '"75 %, datasheet"',
    "part.motor.derating_span": '"20 K, datasheet"',
    "part.inverter.derating_span": '"10 K, datasheet"',
    "targets.speed_missing": '"2 km/h"',
    "part.inverter.heat_capacity": '"7 kJ/K, datasheet"',
    "part.inverter.highest_temperature": '"85 °C, datasheet"',
    "part.charger.wall_efficiency": '"80 %, datasheet"',
    "cooling.drive_coolant": '"16 kJ/K, datasheet"',
    "cooling.radiator": '"120 W/K, datasheet"',
    "cooling.inverter_to_coolant": '"150 W/K, datasheet"',
    "cooling.pack_to_air": '"4 W/K, datasheet"',
    "cabin.temperature": '"18 °C"',
    "cabin.heat_loss": '"80 W/K, datasheet"',
    "cabin.heater_gain": '"1, datasheet"',
}

# A short way out on one day, at one speed.
DAY: dict[str, str | None] = {
    "use.day.stretch.10_out.length": '"5 km, datasheet"',
    "use.day.stretch.10_out.speed": '"60 km/h"',
    "use.day.outside_temperature": '"15 °C ± 0"',
    "road.air_temperature": '"15 °C ± 0"',
    "use.day.heater_power": '"300 W"',
    "use.day.acceleration": '"0.5 m/s², datasheet"',
    "use.day.braking": '"0.5 m/s², datasheet"',
}


def build_text(
    changes: Mapping[str, str | None] | None = None, base: Mapping[str, str] = SMALL
) -> str:
    """Write the small build with changes; a change to None leaves the value out."""
    lines = {**base, **(changes or {})}
    return "".join(f"{path} = {text}\n" for path, text in lines.items() if text is not None)


def line_of(text: str, path: str) -> int:
    """Line on which a value stands in a text written by ``build_text``."""
    starts = [line.partition(" = ")[0] for line in text.splitlines()]
    return starts.index(path) + 1


def opened(
    changes: Mapping[str, str | None] | None = None, base: Mapping[str, str] = SMALL
) -> Opened:
    """Read the small build with changes."""
    return parse_build(build_text(changes, base).encode())


def assessed(
    changes: Mapping[str, str | None] | None = None,
    base: Mapping[str, str] = SMALL,
    areas: tuple[Area, ...] = AREAS,
) -> Assessment:
    """Assess the small build with changes."""
    return assess(opened(changes, base), areas)


def electric(changes: Mapping[str, str | None] | None = None) -> Assessment:
    """Assess the small build made electric, with changes."""
    return assessed(changes, {**SMALL, **ELECTRIC})


def finding(assessment: Assessment, address: str) -> Finding:
    """Take a finding by its address."""
    said = assessment.by_address[address]
    assert isinstance(said, Finding), address
    return said


def figure(assessment: Assessment, address: str) -> Figure:
    """Take a figure by its address."""
    said = assessment.by_address[address]
    assert isinstance(said, Figure), address
    return said


def number(assessment: Assessment, address: str) -> float:
    """Number of a finding or figure, which must be known."""
    found = assessment.by_address[address].value.number
    assert found is not None, address
    return found


def problems_of(text: str | bytes) -> tuple[Problem, ...]:
    """Read a text that must be refused, and return what is wrong with it."""
    try:
        parse_build(text.encode() if isinstance(text, str) else text)
    except BuildError as error:
        return error.problems
    raise AssertionError("the text was read without a problem")


def write_build(folder: Path, changes: Mapping[str, str | None] | None = None) -> Path:
    """Write the small build with changes into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "build.toml").write_text(build_text(changes), encoding="utf-8")
    return folder
