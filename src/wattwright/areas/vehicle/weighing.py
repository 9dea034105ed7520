"""What weighings tell beyond the ledger: height of the centre of gravity, and the weigh-in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wattwright.areas.vehicle.ledger import Frame, weighed
from wattwright.build.presence import said
from wattwright.build.vehicle import Lift, Weighing
from wattwright.descriptions.vehicle import LiftResult, LoadState, WeighIn
from wattwright.kinds import ANGLE
from wattwright.physics import axle_loads, cg_height, weigh_in
from wattwright.values import (
    Value,
    band_of,
    bands_of,
    constant,
    doubt,
    doubted,
    either,
    exceeds,
    hard_bands,
    without_band,
    worked,
)

_SMALLEST_TILT = constant(ANGLE, cg_height.SMALLEST_TILT, "below it no scales are fine enough")
# What may be typed as a height of the centre of gravity may come out as one.
_LIKELY_HEIGHT = (0.2, 2.0)


@dataclass(frozen=True, slots=True, eq=False)
class Lifted:
    """What a weighing with one axle lifted gives."""

    angle: Value
    gain: Value
    height: Value


def height_of(weighing: Weighing, scales: LoadState, frame: Frame) -> Value:
    """Take the height of the centre of gravity as known, or from the lift."""
    return either(weighing.cg_height, _lifted(weighing.lift, scales, frame).height, asking=1)


def _lifted(lift: Lift, scales: LoadState, frame: Frame) -> Lifted:
    from_height = worked(cg_height.lift_angle_from_height, lift.height, frame.wheelbase)
    angle = either(lift.angle, from_height, asking=1 if said(lift.height) else 0)
    level = either(
        lift.floor_level, scales.front if lift.lifted == "rear" else scales.rear, asking=1
    )
    gain = worked(cg_height.gain_on_floor_axle, level, lift.floor_lifted)
    height = worked(
        cg_height.cg_height, scales.mass, frame.wheelbase, gain, angle, lift.axle_height
    )
    if lift.suspension_locked is not True:
        height = doubted(height, "nobody has said that the suspension was locked during the lift")
    low, high = _LIKELY_HEIGHT
    if height.number is not None and not low <= height.number <= high:
        height = doubted(height, "no road vehicle has its centre of gravity at such a height")
    return Lifted(angle, gain, height)


def lift_results(donor: Weighing, conversion: Weighing, frame: Frame) -> Iterator[LiftResult]:
    """Work out every lift that was begun, and what tilt it should have had."""
    for about, weighing in (("donor", donor), ("conversion", conversion)):
        if said(weighing.lift):
            scales = weighed(weighing, frame)
            lifted = _lifted(weighing.lift, scales, frame)
            yield _lift_result(about, weighing.lift, scales.mass, lifted, frame)


def _lift_result(about: str, lift: Lift, mass: Value, lifted: Lifted, frame: Frame) -> LiftResult:
    gain_band = band_of(lifted.gain, "± of the gain")
    angle_band = band_of(lifted.angle, "± of the tilt")
    parts = (
        without_band(worked(cg_height.scales_part, mass, frame.wheelbase, gain_band)),
        without_band(worked(cg_height.level_part, lifted.height, lift.axle_height, angle_band)),
    )
    reached = worked(cg_height.band_reached, bands_of(lifted.height))
    needed = worked(cg_height.angle_for_accuracy, *parts, lift.wanted)
    if exceeds(_SMALLEST_TILT, needed):
        needed = _SMALLEST_TILT
    return LiftResult(about, lifted.height, reached, lift.wanted, needed)


def compare_weigh_in(weighing: Weighing, expected: LoadState, frame: Frame) -> Iterator[WeighIn]:
    """Hold the scales against the ledger, where a weigh-in was begun."""
    if not said(weighing):
        return
    scales = weighed(weighing, frame)
    gap = LoadState(
        worked(weigh_in.unexplained, scales.mass, expected.mass),
        worked(weigh_in.unexplained, scales.front, expected.front),
        worked(weigh_in.unexplained, scales.rear, expected.rear),
        worked(weigh_in.unexplained_moment, scales.front_moment, expected.front_moment),
        worked(weigh_in.unexplained_moment, scales.rear_moment, expected.rear_moment),
    )
    disagreement = {"front": without_band(gap.front), "rear": without_band(gap.rear)}
    accuracy = {
        "front": worked(weigh_in.joint_accuracy, hard_bands(gap.front)),
        "rear": worked(weigh_in.joint_accuracy, hard_bands(gap.rear)),
    }
    yield WeighIn(
        gap,
        disagreement,
        accuracy,
        any(exceeds(disagreement[axle], accuracy[axle]) for axle in disagreement),
        worked(weigh_in.missing_mass, gap.front, gap.rear),
        worked(weigh_in.missing_distance, gap.front, gap.rear, frame.wheelbase),
        worked(weigh_in.missing_offset, gap.front_moment, gap.rear_moment, gap.front, gap.rear),
    )


def with_unexplained(state: LoadState, weigh_ins: Iterable[WeighIn]) -> LoadState:
    """Let the scales win where they disagree with the ledger.

    The gap is added to the loads of the conversion, so that they are what was weighed, changed
    only by what is planned beyond it. Nobody knows what the gap is or whether it stays, so one
    doubt as wide as the gap goes with it: whatever rests on it is provisional.
    """
    for seen in (each for each in weigh_ins if each.disagrees):
        gap = seen.gap
        share = doubt(
            "weigh_in.unexplained",
            "what the scales show and the book does not",
            "look for it at the place that vehicle.missing_x and vehicle.missing_y name, as heavy "
            "as vehicle.missing_mass says; then write it into [part] or [donor.removed]",
        )
        load, moment = axle_loads.with_unexplained, axle_loads.with_unexplained_moment
        state = LoadState(
            worked(load, state.mass, _known(gap.mass), share),
            worked(load, state.front, _known(gap.front), share),
            worked(load, state.rear, _known(gap.rear), share),
            worked(moment, state.front_moment, _known(gap.front_moment), share),
            worked(moment, state.rear_moment, _known(gap.rear_moment), share),
        )
    return state


def _known(gap: Value) -> Value:
    return either(gap, constant(gap.kind, 0.0, "not weighed"))
