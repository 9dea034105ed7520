"""The pass between describing and judging: the vehicle goes through every use.

Floats go in: a use is driven once with all inputs as they are and once with each at either end of
its band, all in one call. Values come out that carry the influence of every input.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

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
    Turning,
    Windowed,
)
from wattwright.errors import UseError
from wattwright.kinds import (
    COUNT,
    CURRENT,
    ENERGY_PER_DISTANCE,
    FRACTION,
    LENGTH,
    POWER,
    SPEED,
    TEMPERATURE,
    TIME,
    TORQUE,
    VOLTAGE,
    Kind,
)
from wattwright.physics import around_run, heat_flow, pack_capacity
from wattwright.uses.profile import Profile
from wattwright.values import Lack, Value, constant, lacking, worked

if TYPE_CHECKING:
    from wattwright.runs_around import Around

_FROM_RUN = "from the run"


def duties(uses: Sequence[Demand], steady: Mapping[str, Demand], hill: Demand | None) -> Duties:
    """Drive everything that is asked for."""
    return Duties(
        {demand.name: duty_of(demand) for demand in uses},
        {word: duty_of(demand) for word, demand in steady.items()},
        duty_of(hill) if hill else None,
    )


def duty_of(demand: Demand) -> Duty:
    """Drive one use, and say what it takes and what it leaves."""
    return _Saying(demand).duty()


class _Saying:
    """States what comes of a use, or what is missing to drive it."""

    def __init__(self, demand: Demand) -> None:
        self.demand = demand
        self.lacks = _lacks(demand)
        self.around: Around | None = None
        if not self.lacks:
            from wattwright.runs_around import Around

            try:
                self.around = Around.of(demand)
            except UseError as error:
                self.lacks = (Lack("", f"the use {demand.name}", f"cannot be driven: {error}"),)
        self.away = [
            worked(
                around_run.bands_away,
                value,
                constant(value.kind, value.number or 0.0, f"{label} of the run"),
                constant(value.kind, value.band, f"band of {label}"),
            )
            for label, value in (self.around.moved if self.around else ())
        ]

    def duty(self) -> Duty:
        """Everything there is to say."""
        demand = self.demand
        pack = self._of("consumption", ENERGY_PER_DISTANCE)
        windows = {seconds: self._of(f"rms_{seconds:.0f}_s", CURRENT) for seconds in WINDOWS}
        current = Windowed(windows, self._of("rms_whole", CURRENT))
        peak = self._of("peak_current", CURRENT)
        reach = self._range()
        return Duty(
            demand,
            reach,
            Energy(
                self._of("at_wheel", ENERGY_PER_DISTANCE),
                pack,
                worked(pack_capacity.wall_energy, pack, demand.wall_efficiency),
                self._of("recovered_each", ENERGY_PER_DISTANCE),
                {part: self._of(f"{part}_each", ENERGY_PER_DISTANCE) for part in PARTS},
            ),
            self._of("last_charge", FRACTION),
            self._behind(),
            {body: self._of(f"peak_{body}", TEMPERATURE) for body in BODIES},
            {body: self._taken_back(body) for body in BODIES},
            {part: self._of(f"{part}_mean", POWER) for part in ("motor", "inverter", "pack")}
            | {"driveline": self._of("driveline_mean", POWER)},
            current,
            peak,
            self._of("peak_charge_current", CURRENT),
            self._of("lowest_voltage", VOLTAGE),
            {name: self._phase(name, current) for name in demand.phase},
            self._links(peak),
            self._range_if(reach),
            Driven(self.around.trace, self.around.run) if self.around else None,
        )

    def _of(self, name: str, kind: Kind) -> Value:
        """One result with the influence of every input."""
        if self.around is None:
            return Value(kind, None, lacks=self.lacks)
        base, shifts = self.around.result(name)
        return self._stated(kind, base, shifts)

    def _stated(self, kind: Kind, base: float, shifts: Sequence[float]) -> Value:
        moving = [place for place, shift in enumerate(shifts) if shift]
        moves = [constant(kind, shifts[place], self._label(place)) for place in moving]
        away = [self.away[place] for place in moving]
        return worked(around_run.result_around, constant(kind, base, _FROM_RUN), moves, away)

    def _label(self, place: int) -> str:
        return self.around.moved[place][0] if self.around else ""

    def _range(self) -> Value:
        if self.around is None:
            return Value(LENGTH, None, lacks=self.lacks)
        base, shifts = self.around.range()
        if base is None:
            why = "this use does not lower the charge, so it could go on for ever"
            return lacking(LENGTH, Lack("", f"the range in {self.demand.name}", why))
        return self._stated(LENGTH, base, shifts)

    def _taken_back(self, body: str) -> Value:
        inputs = self.demand.inputs
        if f"limit_{body}" not in inputs:
            return Value(TEMPERATURE, None, lacks=self.lacks)
        return worked(heat_flow.derating_begins, inputs[f"limit_{body}"], inputs[f"span_{body}"])

    def _behind(self) -> Behind:
        speed = self._of("largest_miss", SPEED)
        if self.around is None:
            return Behind(speed, Value(LENGTH, None, lacks=self.lacks), {})
        where, times = self.around.behind()
        return Behind(
            speed,
            constant(LENGTH, where, _FROM_RUN),
            {why: constant(TIME, seconds, _FROM_RUN) for why, seconds in times.items()},
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
                _of_base(value),
            )
            for seconds, value in every.items()
        }
        return Windowed({seconds: said[seconds] for seconds in WINDOWS}, said[0.0])

    def _links(self, peak: Value) -> dict[str, Turning]:
        """Torques along the driveline, which move as the highest current of the pack does."""
        links = {}
        for name, shaft in self.demand.shafts.items():
            if self.around is None:
                missing = Value(TORQUE, None, lacks=self.lacks)
                links[name] = Turning(missing, missing, Value(COUNT, None, lacks=self.lacks), ())
                continue
            most, least, reversals, by_torque = self.around.torques()
            passed = worked(around_run.times, shaft.ratio, shaft.efficiency)
            largest, smallest = (
                worked(
                    around_run.times,
                    worked(around_run.times, constant(TORQUE, number, _FROM_RUN), ratio),
                    _of_base(peak),
                )
                # Braking comes from the road, and more of it is felt outside than at the motor.
                for number, ratio in ((most, passed), (least, shaft.ratio))
            )
            ratio = shaft.ratio.number or 0.0
            links[name] = Turning(
                largest,
                smallest,
                constant(COUNT, float(reversals), _FROM_RUN),
                tuple((torque * ratio, share) for torque, share in by_torque),
            )
        return links

    def _range_if(self, reach: Value) -> dict[str, Value]:
        """Range where one thing is done otherwise."""
        if self.around is None or not reach.known:
            return {}
        return {
            says: worked(
                around_run.times, reach, constant(FRACTION, share, "of the range, from the run")
            )
            for says, share in self.around.range_shares().items()
        }


def _of_base(value: Value) -> Value:
    """How a value moves, as a share of itself; of nothing there is nothing to move."""
    if not value.number:
        return constant(FRACTION, 1.0, _FROM_RUN)
    return worked(around_run.ratio_to, value, constant(value.kind, value.number, _FROM_RUN))


def _lacks(demand: Demand) -> tuple[Lack, ...]:
    """Everything that is missing to drive a use."""
    values = [*demand.inputs.values(), demand.repeat, demand.reserve]
    if not isinstance(demand.profile, Profile):
        values += demand.profile
    found = {lack: None for value in values for lack in value.lacks}
    unknown = any(not value.known for value in values)
    if not found and (unknown or demand.maps is None):
        found[Lack("", f"the use {demand.use}", "motor or pack are not known well enough")] = None
    return tuple(found)
