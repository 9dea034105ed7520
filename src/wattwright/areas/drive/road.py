"""What the road takes, by whichever data the builder has."""

from __future__ import annotations

from wattwright.build.presence import said
from wattwright.build.road import Road, Window
from wattwright.descriptions.drive import RoadLoad
from wattwright.kinds import COUNT, DRAG_LINEAR, FORCE, FRACTION, MASS
from wattwright.physics import air, road_load
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    given,
    is_nought,
    lacking,
    worked,
)

_NO_LINEAR = constant(DRAG_LINEAR, 0.0, "taken as nought")
_CALM = constant(FORCE, 0.0, "calm")
_REFERENCE_EXTRA = constant(MASS, 100.0, "driver and things, as the regulation counts")
# How far bodies of one mass differ in what the air takes; common practice.
_BETWEEN_BODIES = 0.25


def describe_road(own: Road, kerb: Value) -> RoadLoad:
    """Take what is known best: coefficients, a coast-down, drag and area, else a default."""
    if said(own.f0) or said(own.f2):
        rolling = worked(road_load.coefficient_of_constant, own.f0, own.mass)
        linear = own.f1 if said(own.f1) else _NO_LINEAR
        return RoadLoad(rolling, linear, own.f2, own.headwind)
    if own.coast_down:
        return _coasted(own)
    if said(own.drag_coefficient) or said(own.frontal_area):
        pressure = worked(air.isa_pressure, worked(air.geopotential_height, own.altitude))
        density = worked(air.air_density, pressure, own.air_temperature)
        square = worked(road_load.air_square, density, own.drag_coefficient, own.frontal_area)
    else:
        square = _default_square(kerb)
    return RoadLoad(own.rolling_coefficient, _NO_LINEAR, square, own.headwind)


def _coasted(own: Road) -> RoadLoad:
    """Fit the windows of a coast-down; the air is taken to be the same while driving."""
    mass = worked(road_load.equivalent_mass_by_share, own.mass, own.rotating_share)
    windows = list(own.coast_down.values())
    forces = [_force(mass, window) for window in windows]
    speeds = [worked(road_load.mid_speed, w.from_speed, w.to_speed) for w in windows]
    count = constant(COUNT, float(len(windows)), "windows")
    constant_part = _above_nought(worked(road_load.fitted_constant, count, forces, speeds))
    square = _above_nought(worked(road_load.fitted_square, count, forces, speeds))
    rolling = worked(road_load.coefficient_of_constant, constant_part, own.mass)
    return RoadLoad(rolling, _NO_LINEAR, square, own.headwind)


def _above_nought(part: Value) -> Value:
    """Refuse a fit in which rolling or air would push."""
    if part.number is None or part.number > 0:
        return part
    lack = Lack(
        "road.coast_down",
        "road: the windows of the coast-down",
        "they contradict each other: rolling or air would push the vehicle",
        "look for a mistyped time or speed; else take all windows again, each way twice, no wind",
        60,
    )
    return lacking(part.kind, lack)


def _force(mass: Value, window: Window) -> Value:
    return worked(road_load.coast_down_force, mass, window.from_speed, window.to_speed, window.time)


def _default_square(kerb: Value) -> Value:
    """Air of a test bench's default load, where nobody has said anything of the body."""
    origin = Given(
        "road.drag_coefficient",
        "drag of the body: how far it may be from the default by mass",
        Origin.TYPICAL,
        "default load by mass",
        _BETWEEN_BODIES,
        "± 25 % between bodies of one mass",
        how="drag coefficient from a book about the model, area from a photograph; better: a "
        "coast-down",
        minutes=35,
    )
    reference = worked(road_load.reference_mass, kerb, _REFERENCE_EXTRA)
    square = worked(road_load.default_square, reference)
    return worked(road_load.square_within, square, given(FRACTION, 0.0, origin))


class Taking:
    """Road load of one mass on the level, with the wind."""

    def __init__(self, road: RoadLoad, mass: Value) -> None:
        constant_part = worked(road_load.rolling_constant, mass, road.rolling)
        if is_nought(road.headwind):
            self.f0, self.f1, self.f2 = constant_part, road.f1, road.f2
            self.f0_of_wind = _CALM
        else:
            self.f0_of_wind = worked(road_load.constant_in_wind, _CALM, road.f2, road.headwind)
            self.f0 = worked(road_load.constant_in_wind, constant_part, road.f2, road.headwind)
            self.f1 = worked(road_load.linear_in_wind, road.f1, road.f2, road.headwind)
            self.f2 = road.f2
        self.known = all(value.known for value in (self.f0, self.f1, self.f2))

    def at(self, speed: Value) -> Value:
        """Road load at a speed."""
        return worked(road_load.road_load, self.f0, self.f1, self.f2, speed)

    def number(self, speed: float) -> float:
        """Work out the same in plain numbers."""
        f0, f1, f2 = ((value.number or 0.0) for value in (self.f0, self.f1, self.f2))
        return f0 + f1 * speed + f2 * speed**2
