"""What a run over time is given: every input, by the name of the parameter that it is."""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.areas.drive.bodies import bodies
from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.performance import Scene
from wattwright.areas.drive.road import Taking
from wattwright.build.drive import Gear
from wattwright.descriptions.drive import RoadLoad
from wattwright.descriptions.pack import PackDescription
from wattwright.kinds import FRACTION, MASS, RATIO, SPEED, TEMPERATURE
from wattwright.physics import air, around_run, fed_by_pack, pack_capacity, road_load
from wattwright.values import Value, constant, lacking, largest, worked

_FULL = constant(FRACTION, 1.0, "full")
_CALM = constant(SPEED, 0.0, "calm")
_WARM = constant(TEMPERATURE, pack_capacity.WARM, "warm cells")
_HALF_EFFICIENT = 0.5  # only where nothing is known, and then nothing comes of it
_STARTS = tuple(
    f"start_{body}" for body in ("motor", "inverter", "drive_coolant", "pack", "pack_coolant")
)
_WARM_STARTS = ("start_motor", "start_inverter", "start_drive_coolant")


@dataclass(frozen=True, eq=False)
class Situation:
    """What a use is driven in: load, gear, air, wind, and the state of the pack."""

    mass: Value
    gear: Gear
    outside: Value
    heater: Value
    headwind: Value = _CALM
    start_charge: Value = _FULL
    aged: bool = False
    warm: Value | None = None


class RunInputs:
    """Inputs of one vehicle, for any situation."""

    def __init__(self, scene: Scene, pack: PackDescription) -> None:
        self.scene = scene
        self.own = scene.own
        self.pack = pack
        self.bodies = bodies(scene.own, pack.cells)
        self.motor = self._motor()

    def of(self, at: Situation) -> dict[str, Value]:
        """Everything that a run is given, by the names of its parameters."""
        if not self.scene.drive.models:
            return {"mass": lacking(MASS, NO_MOTOR)}
        starts = dict.fromkeys(("ambient", *_STARTS), at.outside)
        if at.warm is not None:
            starts |= dict.fromkeys(_WARM_STARTS, at.warm)
        return {
            **self._vehicle(at),
            **self.motor,
            **self._cells(at),
            **starts,
            **self.bodies,
            "auxiliary": self.own.drive.auxiliary,
            "heater": at.heater,
            "start_charge": at.start_charge,
        }

    def _vehicle(self, at: Situation) -> dict[str, Value]:
        scene = self.scene
        taking = Taking(self._road(at), at.mass)
        in_gear = scene.in_gear(at.gear)
        return {
            "mass": at.mass,
            "equivalent_mass": scene.equivalent_mass(at.gear, at.mass),
            "f0": taking.f0,
            "f1": taking.f1,
            "f2": taking.f2,
            "f0_of_wind": taking.f0_of_wind,
            "rolling_radius": scene.radius,
            "ratio": in_gear.ratio,
            "driveline_efficiency": in_gear.efficiency,
            "regen_deceleration": scene.braking_within(at.outside),
        }

    def _road(self, at: Situation) -> RoadLoad:
        """Bring the air to the temperature outside, and its wind."""
        road, own = self.scene.road, self.own.road
        pressure = worked(air.isa_pressure, worked(air.geopotential_height, own.altitude))
        then, now = (
            worked(air.air_density, pressure, temperature)
            for temperature in (own.air_temperature, at.outside)
        )
        square = worked(road_load.square_at_density, road.f2, then, now)
        return RoadLoad(road.rolling, road.f1, square, at.headwind)

    def _motor(self) -> dict[str, Value]:
        drive, fed = self.scene.drive, self.scene.fed["half"]
        if not drive.models:
            return {}
        efficiency = fed.loss_band()
        as_it_is = constant(FRACTION, efficiency.number or _HALF_EFFICIENT, "of the maps")
        return {
            "torque_scale": _of_itself(drive.peak),
            "loss_scale": worked(fed_by_pack.loss_scale, efficiency, as_it_is),
            "motor_loss_share": largest(*(m.loss_share for m in self.own.motors.values())),
            "highest_motor_speed": drive.max_speed,
            "regen_torque": self.scene.regen,
        }

    def _cells(self, at: Situation) -> dict[str, Value]:
        cells = self.pack.cells
        resistance, capacity = cells.resistance, cells.capacity
        if at.aged:
            resistance = worked(around_run.times, resistance, cells.age_factor)
            capacity = worked(pack_capacity.aged, capacity, cells.capacity_left)
        return {
            "voltage_scale": _of_itself(self.pack.half.open_circuit),
            "resistance": resistance,
            "cold_factor": cells.cold_factor,
            "cold_temperature": cells.cold_temperature,
            "capacity": worked(
                pack_capacity.at_temperature,
                capacity,
                cells.capacity_cold,
                cells.cold_temperature,
                at.outside,
                _WARM,
            ),
            "discharge_current": cells.discharge_current,
            "regen_current": cells.regen_current,
            "regen_current_full": cells.regen_current_full
            if (cells.regen_current_full.number or 0.0) <= (cells.regen_current.number or 0.0)
            else cells.regen_current,
            "regen_taper_from": cells.charge_taper_from,
            "regen_cold_from": cells.charge_cold_from,
            "regen_cold_full": cells.charge_cold_full,
            "lowest_voltage": self.pack.v_min,
            "highest_voltage": self.pack.v_max,
        }


def _of_itself(value: Value) -> Value:
    """A scale of one on what a map was made with, which moves as the value does."""
    if not value.known:
        return Value(RATIO, None, lacks=value.lacks)
    return worked(
        around_run.ratio_to, value, constant(value.kind, value.number or 1.0, "of the map")
    )
