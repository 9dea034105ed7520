"""Every use with all that it is driven with: which gear, which load, which air, which pack."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache, partial
from math import ceil

from wattwright.areas.drive.driveline import NO_GEAR
from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.maps import maps_of
from wattwright.areas.drive.performance import Scene, best_gear
from wattwright.areas.drive.run_inputs import RunInputs, Situation
from wattwright.areas.drive.ways import doubts_of, profile_of
from wattwright.build.devices import Charger
from wattwright.build.drive import Gear
from wattwright.build.presence import said
from wattwright.build.uses import Season, Use
from wattwright.build.vehicle import Targets
from wattwright.descriptions.drive import Demands, GearPull
from wattwright.descriptions.duty import HELD, Demand, HillDemand, Shaft, Variant, WayInput
from wattwright.descriptions.pack import PackDescription
from wattwright.kinds import (
    COUNT,
    FRACTION,
    MASS,
    POWER,
    RATIO,
    SPEED,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
)
from wattwright.physics import around_run, heat_flow
from wattwright.units import read
from wattwright.uses.profile import Profile, of_speed
from wattwright.values import (
    Given,
    Origin,
    Value,
    constant,
    given,
    is_nought,
    lacking,
    largest,
    smallest,
    worked,
)

_ONCE = constant(COUNT, 1.0, "once")
# A speed missing by less is held.
_HELD = constant(SPEED, HELD, "as good as held")
# So large a pack that a hill does not lower its charge.
_ENDLESS = constant(RATIO, 1000.0, "held at this charge")
# What is done otherwise to see what it costs.
_LOAD = read("100 kg", MASS).number
_HEADWIND = read("20 km/h", SPEED).number
_COLDER = read("10 K", TEMPERATURE_DIFFERENCE).number
_HEATER = read("1 kW", POWER).number
_FASTER = 1.1
# Speeds held on the level, and for how long one is looked at, in seconds.
_STEADY = {text: read(text, SPEED).number for text in ("30 km/h", "50 km/h", "80 km/h")}
_STEADY_SECONDS = 1200
# Speeds and days for which the range is drawn.
_SPEED_STEP = read("10 km/h", SPEED).number
_TEMPERATURES = ("-10 °C", "5 °C", "20 °C")
# Typical, where no charger says how much of what the wall gives comes out of the pack again.
_WALL, _WALL_BAND = "88 %", "5 %"


def demands(
    scene: Scene, pack: PackDescription, pulls: Mapping[str, GearPull], slips: Value
) -> Demands:
    """Put together every use the builder named, in every season, and what is asked of all.

    ``slips`` is the grade at which the driven wheels slip, driver aboard.
    """
    using = _Using(scene, pack, pulls, slips)
    uses = list(using.uses())
    wanted = said(scene.own.targets.hill_length) and bool(scene.drive.models and scene.runs)
    hill = using.hill() if wanted else None
    if not (scene.drive.models and scene.runs and pack.cells.capacity.known):
        # Without what the pack holds there is nothing to be said of range, unless a use asks it.
        return Demands(tuple(uses), {}, hill, {}, dict)
    steady = {word: using.steady(word, speed) for word, speed in _STEADY.items()}
    return Demands(
        tuple(uses),
        {word: demand for word, demand in steady.items() if demand is not None},
        hill,
        dict(using.held()),
        using.at_speeds,
    )


class _Using:
    """One vehicle, put through things."""

    def __init__(
        self, scene: Scene, pack: PackDescription, pulls: Mapping[str, GearPull], slips: Value
    ) -> None:
        self.scene = scene
        self.slips = slips
        self.own = scene.own
        self.pack = pack
        self.pulls = pulls
        self.inputs = RunInputs(scene, pack)
        fed = scene.fed["half"]
        # Worked out once, and only where something is driven.
        self.maps = cache(partial(maps_of, fed, pack)) if fed.known else None
        parts = self.own.high_voltage.values()
        chargers = [part.wall_efficiency for part in parts if isinstance(part, Charger)]
        self.wall = smallest(*chargers) if chargers else _typical_wall()

    def uses(self) -> Iterator[Demand]:
        """Every use as it is, and in every season."""
        for name, use in self.own.use.items():
            gear = self._gear(use.gear)
            profile = profile_of(name, use)
            seasons: list[tuple[str, Season | None]] = [("", None), *self.own.season.items()]
            for word, season in seasons:
                if gear is None:
                    yield self._nothing(name, word, profile, use)
                    continue
                situation = self._situation(use, gear, season)
                demand = replace(
                    self.demand(name, situation, profile, use.repeat),
                    missing=self.own.targets.speed_missing,
                    way=partial(_way_inputs, name, use),
                    doubts=doubts_of(profile),
                )
                if word:
                    # Seasons change little of what motor and driveline bear.
                    yield replace(demand, season=word, phase={}, shafts={})
                else:
                    yield replace(demand, variants=partial(self._variants, situation, use))

    def _situation(self, use: Use, gear: Gear, season: Season | None) -> Situation:
        outside = use.outside_temperature
        if season and said(season.outside_temperature):
            outside = season.outside_temperature
        return Situation(
            self.scene.masses[use.case],
            gear,
            outside,
            self._heater_of(use, season, outside),
            season.headwind if season and said(season.headwind) else use.headwind,
            use.start_charge,
            season.aged if season else False,
        )

    def _heater_of(self, use: Use, season: Season | None, outside: Value) -> Value:
        """What the season says, else the use; in other weather than that of the use, the cabin."""
        if season and said(season.heater_power):
            return season.heater_power
        same = season is None or not said(season.outside_temperature)
        # Where nobody heats on this way, nobody does so in any weather.
        if is_nought(use.heater_power) or (same and said(use.heater_power)):
            return use.heater_power
        return self._heater(outside)

    def _heater(self, outside: Value) -> Value:
        cabin = self.own.cabin
        return worked(
            heat_flow.heater_power, cabin.heat_loss, cabin.temperature, outside, cabin.heater_gain
        )

    def steady(self, word: str, speed: float, outside: Value | None = None) -> Demand | None:
        """Hold a speed on the level, driver aboard, in the highest gear; none beyond its reach."""
        gears = [run for run in self.scene.runs.items() if self._reaches(run[0], speed)]
        if not gears:
            return None
        gear = self.own.forward[gears[-1][0]]
        outside = outside or self.own.road.air_temperature
        situation = Situation(
            self.scene.driver, gear, outside, self._heater(outside), self.own.road.headwind
        )
        return self.demand(word, situation, of_speed(word, speed, 0.0, _STEADY_SECONDS), _ONCE)

    def at_speeds(self) -> dict[float, list[tuple[float, float]]]:
        """Range at steady speeds, driver aboard, by the temperature outside, in plain numbers."""
        from wattwright.use_pass.reaching import reach

        found: dict[float, list[tuple[float, float]]] = {}
        for text in _TEMPERATURES:
            number = read(text, TEMPERATURE).number
            outside = constant(TEMPERATURE, number, text)
            points = []
            for step in range(2, 14):
                demand = self.steady("steady", step * _SPEED_STEP, outside)
                far = reach(demand) if demand is not None else None
                if far is not None:
                    points.append((step * _SPEED_STEP, far))
            found[number] = points
        return found

    def hill(self) -> Demand:
        """Climb the hill wanted at the speed wanted: as heavy as it gets, hot, the pack low."""
        wanted = self.own.targets
        speed, grade = wanted.hill_speed.number, wanted.hill_grade.number
        profile: Profile | tuple[Value, ...]
        length = wanted.hill_length.number
        if speed is None or grade is None or length is None:
            profile = (wanted.hill_speed, wanted.hill_grade, wanted.hill_length)
        else:
            profile = of_speed("hill", speed, grade, ceil(length / speed))
        reaching = [name for name in self.scene.runs if self._reaches(name, speed or 0.0)]
        # The gear that multiplies most leaves the motor least to do.
        gear = self.own.forward[(reaching or list(self.scene.runs))[0]]
        full = self.scene.masses["full"]
        # A case of the builder's own may be heavier; without the full one nobody knows.
        heaviest = max(self.scene.masses.values(), key=lambda mass: mass.number or 0.0)
        heaviest = heaviest if full.known else full
        low = replace(self._hot(heaviest, gear), start_charge=self.pack.cells.low_charge)
        demand = self.demand("hill", low, profile, _ONCE)
        inputs = dict(demand.inputs)
        if "capacity" in inputs:
            # Low, as it may be at the foot of the hill, and held there all the way up.
            inputs["capacity"] = worked(around_run.times, inputs["capacity"], _ENDLESS)
        way = partial(_hill_inputs, wanted)
        return replace(demand, inputs=inputs, missing=wanted.speed_missing, way=way)

    def held(self) -> Iterator[tuple[str, HillDemand]]:
        """Hills at the speeds that are looked at, driver aboard, on a hot day, warm already."""
        for place, (word, speed) in enumerate(_STEADY.items()):
            reaching = [name for name in self.scene.runs if self._reaches(name, speed)]
            if not reaching:
                continue
            situation = self._hot(self.scene.driver, self.own.forward[reaching[0]])
            yield (
                word,
                HillDemand(
                    speed,
                    self.own.targets.hill_grade,
                    self.inputs.of(situation),
                    self.maps,
                    self.pulls[reaching[0]].climbs[place].peak,
                    self.slips,
                ),
            )

    def _hot(self, mass: Value, gear: Gear) -> Situation:
        """A hot day, wind as on the road, heater off, the warmest of the motors warm already."""
        warm = largest(*(motor.warm for motor in self.own.motors.values()))
        off, outside = constant(POWER, 0.0, "off"), self.own.targets.hill_outside
        return Situation(mass, gear, outside, off, self.own.road.headwind, warm=warm)

    def _reaches(self, gear: str, speed: float) -> bool:
        limit = self.scene.runs[gear].half.limit.number
        return limit is not None and limit >= speed

    def demand(
        self,
        name: str,
        situation: Situation,
        profile: Profile | tuple[Value, ...],
        repeat: Value,
    ) -> Demand:
        """Put one use together."""
        return Demand(
            name,
            "",
            profile,
            self.inputs.of(situation),
            self.maps,
            repeat,
            self.pack.cells.low_charge,
            self.wall,
            _HELD,
            phase=self.scene.phase,
            shafts=self._shafts(situation.gear),
        )

    def _nothing(
        self, name: str, word: str, profile: Profile | tuple[Value, ...], use: Use
    ) -> Demand:
        lack = NO_GEAR if self.scene.drive.models else NO_MOTOR
        inputs = {"mass": lacking(MASS, lack)}
        low = self.pack.cells.low_charge
        return Demand(name, word, profile, inputs, None, use.repeat, low, self.wall, _HELD)

    def _gear(self, named: str) -> Gear | None:
        """Take the gear named, else the one with the largest reserve, else the highest."""
        gears = self.own.forward
        if named:
            return gears.get(named)
        best = best_gear(self.pulls)
        if best:
            return gears[best]
        return gears[list(self.scene.runs)[-1]] if self.scene.runs else None

    def _shafts(self, gear: Gear) -> dict[str, Shaft]:
        in_gear = self.scene.in_gear(gear)
        one = constant(RATIO, 1.0, "on the shaft of the motors")
        none_lost = constant(FRACTION, 1.0, "nothing between")
        return {
            "motor": Shaft(one, none_lost),
            "propshaft": Shaft(gear.ratio, gear.efficiency),
            "wheel": Shaft(in_gear.ratio, in_gear.efficiency),
        }

    def _variants(self, at: Situation, use: Use) -> tuple[Variant, ...]:
        """What the same way takes where one thing is done otherwise."""

        def moved(value: Value, by: float) -> Value:
            return constant(value.kind, (value.number or 0.0) + by, value.label)

        colder = moved(at.outside, -_COLDER)
        situations = {
            "10 % faster": at,
            "100 kg more": replace(at, mass=moved(at.mass, _LOAD)),
            "headwind of 20 km/h": replace(at, headwind=moved(at.headwind, _HEADWIND)),
            "10 K colder": replace(
                at,
                outside=colder,
                heater=at.heater if said(use.heater_power) else self._heater(colder),
            ),
            "heater 1 kW more": replace(at, heater=moved(at.heater, _HEATER)),
            "pack at the end of its life": replace(at, aged=True),
        }
        found = []
        for says, situation in situations.items():
            inputs = self.inputs.of(situation)
            if all(value.known for value in inputs.values()):
                numbers = {name: value.number or 0.0 for name, value in inputs.items()}
                found.append(Variant(says, numbers, _FASTER if situation is at else 1.0))
        return tuple(found)


def _way_inputs(name: str, use: Use) -> tuple[WayInput, ...]:
    # Only what is driven needs traces.
    from wattwright.areas.drive.way_inputs import way_inputs

    return way_inputs(name, use)


def _hill_inputs(wanted: Targets) -> tuple[WayInput, ...]:
    from wattwright.areas.drive.way_inputs import hill_inputs

    return hill_inputs(wanted)


def _typical(path: str, label: str, number: str, band: str) -> Value:
    width = read(band, FRACTION).number
    origin = Given(path, label, Origin.TYPICAL, number, width, f"± {band}, common practice")
    return given(FRACTION, read(number, FRACTION).number, origin)


def _typical_wall() -> Value:
    label = "energy out of the pack while driving over energy out of the wall for it"
    return _typical("part.NAME.wall_efficiency", label, _WALL, _WALL_BAND)
