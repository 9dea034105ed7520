"""What comes of each use: energy, range, currents, temperatures, torques."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from wattwright.descriptions.drive import Demands
from wattwright.descriptions.duty import (
    BODIES,
    PARTS,
    WINDOWS,
    Behind,
    Demand,
    Driven,
    Duties,
    Duty,
    Energy,
    HillDemand,
    HillDuty,
    HillHeld,
    SteadyDuty,
    Turning,
    Windowed,
)
from wattwright.errors import StoppedError, UseError
from wattwright.kinds import (
    COUNT,
    CURRENT,
    ENERGY_PER_DISTANCE,
    FRACTION,
    GRADE,
    LENGTH,
    POWER,
    SPEED,
    TEMPERATURE,
    TIME,
    TORQUE,
    VOLTAGE,
    Kind,
)
from wattwright.once import once
from wattwright.physics import around_run, gearing, heat_flow, pack_capacity
from wattwright.use_pass.stating import FROM_RUN, Stating, of_base
from wattwright.uses.profile import Profile
from wattwright.values import Lack, Value, constant, doubted, lacking, worked

if TYPE_CHECKING:
    from wattwright.use_pass.around import Around
    from wattwright.use_pass.reaching import Reaching


# Energy and charge follow from the length of the way; currents and temperatures hardly do.
_BY_LENGTH = (ENERGY_PER_DISTANCE, FRACTION)
_Asked = TypeVar("_Asked")
_Said = TypeVar("_Said")


def duties(wanted: Demands, stopped: Callable[[], bool] = lambda: False) -> Duties:
    """Drive everything that is asked for; raise StoppedError where ``stopped`` says so between."""

    def go_on(drive: Callable[[_Asked], _Said], asked: _Asked) -> _Said:
        if stopped():
            raise StoppedError("working this build out was stopped; nothing of it is lost")
        return drive(asked)

    return Duties(
        {demand.name: go_on(duty_of, demand) for demand in wanted.uses},
        {word: go_on(steady_of, demand) for word, demand in wanted.steady.items()},
        go_on(hill_of, wanted.hill) if wanted.hill else None,
        {word: go_on(hill_held, demand) for word, demand in wanted.held.items()},
    )


def duty_of(demand: Demand) -> Duty:
    """Drive one use, and say what it takes and what it leaves."""
    return _Saying(demand).duty()


def steady_of(demand: Demand) -> SteadyDuty:
    """Hold a speed, and say what it takes."""
    say = _Saying(demand)
    pack = say.of("consumption", ENERGY_PER_DISTANCE)
    return SteadyDuty(
        demand,
        say.range(),
        say.of("at_wheel", ENERGY_PER_DISTANCE),
        pack,
        worked(pack_capacity.wall_energy, pack, demand.wall_efficiency),
        say.driven,
    )


def hill_of(demand: Demand) -> HillDuty:
    """Climb a hill, and say what it warms."""
    say = _Saying(demand)
    return HillDuty(
        demand,
        {body: say.of(f"peak_{body}", TEMPERATURE) for body in BODIES},
        {body: say.taken_back(body) for body in BODIES},
        say.missing(),
        say.of("rms_600_s", CURRENT),
        say.driven,
    )


def hill_held(demand: HillDemand) -> HillHeld:
    """Climb at a speed, until something is too warm."""
    lacks = _lacking((*demand.inputs.values(), demand.steepest), demand.maps is not None)
    if lacks or demand.maps is None:
        return _nothing_held(lacks)
    from wattwright.use_pass.hills import HillRuns

    wanted = demand.grade.number
    try:
        runs = HillRuns.of(demand.speed, dict(demand.inputs), demand.maps())
        grade = runs.grade()
        time = runs.time(demand.grade) if wanted is not None else None
    except UseError as error:
        return _nothing_held((Lack("", "hills", f"cannot be driven: {error}"),))
    state = Stating(runs.moved)
    steepest = demand.steepest if grade.by == "force" else state(GRADE, grade.number, grade.shifts)
    if time is None:
        said = HillHeld(steepest, grade.by, Value(TIME, None, lacks=demand.grade.lacks), "")
    else:
        graded = Stating((*runs.moved, ("grade wanted", demand.grade)))
        said = HillHeld(steepest, grade.by, graded(TIME, time.number, time.shifts), time.by)
    return _within_grip(said, demand)


def _within_grip(held: HillHeld, demand: HillDemand) -> HillHeld:
    """Hold no hill on which the driven wheels slip; doubt it where nobody knows when they do."""
    slips, wanted = demand.slips, demand.grade.number
    if slips.number is None:
        doubt = "the grade at which the driven wheels slip is not known"
        return replace(held, grade=doubted(held.grade, doubt), time=doubted(held.time, doubt))
    near = slips.band + demand.grade.band
    if wanted is not None and abs(slips.number - wanted) < near and held.time.known:
        doubt = "the wanted grade is within the bands of the one at which the driven wheels slip"
        held = replace(held, time=doubted(held.time, doubt))
    if held.grade.number is not None and slips.number < held.grade.number:
        held = replace(held, grade=slips, grade_ended_by="grip")
    if wanted is not None and slips.number < wanted:
        slipping = constant(TIME, 0.0, "the driven wheels slip")
        for doubt in held.time.doubts:
            slipping = doubted(slipping, doubt)
        held = replace(held, time=slipping, time_ended_by="grip")
    return held


def _nothing_held(lacks: tuple[Lack, ...]) -> HillHeld:
    return HillHeld(Value(GRADE, None, lacks=lacks), "", Value(TIME, None, lacks=lacks), "")


class _Saying:
    """States what comes of a use, or what is missing to drive it."""

    def __init__(self, demand: Demand) -> None:
        self.demand = demand
        self.lacks = _lacks(demand)
        self.around: Around | None = None
        if not self.lacks:
            from wattwright.use_pass.around import Around

            try:
                self.around = Around.of(demand)
            except UseError as error:
                self.lacks = (Lack("", f"the use {demand.name}", f"cannot be driven: {error}"),)
        reserve = ("charge that is to be left", demand.reserve)
        self._stated = Stating((*self.around.stated, reserve) if self.around else ())

    def duty(self) -> Duty:
        """Everything there is to say."""
        demand = self.demand
        pack = self.of("consumption", ENERGY_PER_DISTANCE)
        windows = {seconds: self.of(f"rms_{seconds:.0f}_s", CURRENT) for seconds in WINDOWS}
        current = Windowed(windows, self.of("rms_whole", CURRENT))
        peak = self.of("peak_current", CURRENT)
        reach = self.range()
        return Duty(
            demand,
            reach,
            Energy(
                self.of("at_wheel", ENERGY_PER_DISTANCE),
                pack,
                worked(pack_capacity.wall_energy, pack, demand.wall_efficiency),
                self.of("recovered_each", ENERGY_PER_DISTANCE),
                {part: self.of(f"{part}_each", ENERGY_PER_DISTANCE) for part in PARTS},
            ),
            self.of("last_charge", FRACTION),
            self._behind(),
            {body: self.of(f"peak_{body}", TEMPERATURE) for body in BODIES},
            {body: self.taken_back(body) for body in BODIES},
            {part: self.of(f"{part}_mean", POWER) for part in ("motor", "inverter", "pack")}
            | {"driveline": self.of("driveline_mean", POWER)},
            current,
            peak,
            self.of("peak_charge_current", CURRENT),
            self.of("lowest_voltage", VOLTAGE),
            {name: self._phase(name, current) for name in demand.phase},
            self._links(),
            self._range_if(reach),
            self.driven,
        )

    @property
    def driven(self) -> Driven | None:
        """The run itself."""
        return Driven(self.around.trace, self.around.run) if self.around else None

    def of(self, name: str, kind: Kind) -> Value:
        """One result with the influence of every input."""
        if self.around is None:
            return Value(kind, None, lacks=self.lacks)
        base, shifts = self.around.result(name)
        said = self._unless_short(self._stated(kind, base, shifts))
        return self._of_way(said) if kind in _BY_LENGTH else said

    def missing(self) -> Value:
        """Most speed missing: what it says holds, however far it came."""
        if self.around is None:
            return Value(SPEED, None, lacks=self.lacks)
        return self._of_way(self._stated(SPEED, *self.around.result("largest_miss")))

    def _unless_short(self, value: Value) -> Value:
        """Doubt what comes of a way not driven as wanted to its end: it may fail, never pass."""
        short = self.around.not_driven if self.around else ""
        return doubted(value, short) if short else value

    def _of_way(self, value: Value) -> Value:
        """Pass the doubts about how long the way is on to what follows from its length."""
        for doubt in self.demand.doubts:
            value = doubted(value, doubt)
        return value

    def range(self) -> Value:
        """How far it goes down to the reserve."""
        if self.around is None:
            return Value(LENGTH, None, lacks=self.lacks)
        try:
            found = self._reaching.far()
        except UseError as error:
            lack = Lack("", f"the range in {self.demand.name}", f"cannot be told: {error}")
            return lacking(LENGTH, lack)
        if found.number is None:
            why = "this use does not lower the charge, so it could go on for ever"
            return lacking(LENGTH, Lack("", f"the range in {self.demand.name}", why))
        said = self._of_way(self._unless_short(self._stated(LENGTH, found.number, found.shifts)))
        return doubted(said, found.held_back) if found.held_back else said

    @once
    def _reaching(self) -> Reaching:
        from wattwright.use_pass.reaching import Reaching

        if self.around is None:
            raise TypeError("only what is driven reaches anywhere")
        return Reaching(self.around)

    def taken_back(self, body: str) -> Value:
        """Temperature from which a body is held back."""
        inputs = self.demand.inputs
        if f"limit_{body}" not in inputs:
            return Value(TEMPERATURE, None, lacks=self.lacks)
        return worked(heat_flow.derating_begins, inputs[f"limit_{body}"], inputs[f"span_{body}"])

    def _behind(self) -> Behind:
        speed = self.missing()
        if self.around is None:
            return Behind(speed, Value(LENGTH, None, lacks=self.lacks), {})
        where, times = self.around.behind()
        return Behind(
            speed,
            constant(LENGTH, where, FROM_RUN),
            {why: constant(TIME, seconds, FROM_RUN) for why, seconds in times.items()},
        )

    def _phase(self, name: str, pack: Windowed) -> Windowed:
        """Phase currents, which move as the pack's current of the same window does."""
        highest, share_of = self.demand.phase[name]
        if self.around is None:
            missing = Value(CURRENT, None, lacks=self.lacks)
            return Windowed(dict.fromkeys(WINDOWS, missing), missing)
        shares = self.around.phase_shares(share_of)
        every = {**pack.by_window, 0.0: pack.whole}
        said = {
            seconds: worked(
                around_run.times,
                worked(
                    around_run.times,
                    highest,
                    constant(FRACTION, shares[seconds], "share of the highest, from the run"),
                ),
                of_base(value),
            )
            for seconds, value in every.items()
        }
        return Windowed({seconds: said[seconds] for seconds in WINDOWS}, said[0.0])

    def _links(self) -> dict[str, Turning]:
        """Torques along the driveline."""
        links = {}
        pulled, held = self.of("largest_torque", TORQUE), self.of("smallest_torque", TORQUE)
        for name, shaft in self.demand.shafts.items():
            if self.around is None:
                missing = Value(TORQUE, None, lacks=self.lacks)
                links[name] = Turning(missing, missing, Value(COUNT, None, lacks=self.lacks), ())
                continue
            reversals, by_torque = self.around.torques()
            passed = shaft.ratio, shaft.efficiency
            largest = worked(gearing.wheel_torque, pulled, *passed)
            # Braking comes from the road, and more of it is felt outside than at the motor.
            smallest = worked(gearing.wheel_torque_driven_back, held, *passed)
            driving = (shaft.ratio.number or 0.0) * (shaft.efficiency.number or 0.0)
            braking = (shaft.ratio.number or 0.0) / (shaft.efficiency.number or 1.0)
            links[name] = Turning(
                largest,
                smallest,
                constant(COUNT, float(reversals), FROM_RUN),
                tuple(
                    (torque * (driving if torque > 0 else braking), share)
                    for torque, share in by_torque
                ),
            )
        return links

    def _range_if(self, reach: Value) -> dict[str, Value]:
        """Range where one thing is done otherwise."""
        if self.around is None or not reach.known:
            return {}
        found = {}
        for says, (share, doubt) in self._reaching.shares().items():
            of_range = constant(FRACTION, share, "of the range, from the run")
            value = worked(around_run.times, reach, of_range)
            found[says] = doubted(value, doubt) if doubt else value
        return found


def _lacks(demand: Demand) -> tuple[Lack, ...]:
    """Everything that is missing to drive a use."""
    values = [*demand.inputs.values(), demand.repeat, demand.reserve]
    if not isinstance(demand.profile, Profile):
        values += demand.profile
    return _lacking(values, demand.maps is not None)


def _lacking(values: Sequence[Value], mapped: bool) -> tuple[Lack, ...]:
    found = {lack: None for value in values for lack in value.lacks}
    if not found and not (mapped and all(value.known for value in values)):
        found[Lack("", "the use", "motor or pack are not known well enough")] = None
    return tuple(found)
