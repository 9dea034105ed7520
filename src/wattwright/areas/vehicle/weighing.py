"""What weighings tell beyond the ledger: height of the centre of gravity, and the weigh-in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wattwright.areas.vehicle.ledger import Frame, weighed
from wattwright.build.presence import said
from wattwright.build.vehicle import Lift, Weighing
from wattwright.descriptions.vehicle import LiftResult, LoadState, WeighIn
from wattwright.kinds import MASS
from wattwright.physics import axle_loads, cg_height, weigh_in
from wattwright.values import (
    Value,
    allowance,
    band_of,
    constant,
    doubted,
    either,
    exceeds,
    hard_bands,
    without_band,
    worked,
)


@dataclass(frozen=True, slots=True, eq=False)
class Lifted:
    """What a weighing with one axle lifted gives."""

    angle: Value
    gain: Value
    height: Value


def height_of(weighing: Weighing, scales: LoadState, frame: Frame) -> Value:
    """Take the height of the centre of gravity as known, or from the lift."""
    height = _lifted(weighing.lift, scales, frame).height
    if weighing.lift.suspension_locked is not True:
        height = doubted(height, "nobody has said that the suspension was locked during the lift")
    return either(weighing.cg_height, height, asking=1)


def _lifted(lift: Lift, scales: LoadState, frame: Frame) -> Lifted:
    from_height = worked(cg_height.lift_angle_from_height, lift.height, frame.wheelbase)
    angle = either(lift.angle, from_height)
    level = either(
        lift.floor_level, scales.front if lift.lifted == "rear" else scales.rear, asking=1
    )
    gain = worked(cg_height.gain_on_floor_axle, level, lift.floor_lifted)
    height = worked(
        cg_height.cg_height, scales.mass, frame.wheelbase, gain, angle, lift.axle_height
    )
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
    reached = worked(cg_height.height_band, *parts, without_band(lifted.angle))
    needed = worked(cg_height.angle_for_accuracy, *parts, lift.wanted)
    return LiftResult(about, lifted.height, reached, lift.wanted, needed)


def compare_weigh_in(weighing: Weighing, expected: LoadState, frame: Frame) -> Iterator[WeighIn]:
    """Hold the scales against the ledger, where a weigh-in was begun."""
    if not said(weighing):
        return
    scales = weighed(weighing, frame)
    disagreement: dict[str, Value] = {}
    accuracy: dict[str, Value] = {}
    for axle, seen, booked in (
        ("front", scales.front, expected.front),
        ("rear", scales.rear, expected.rear),
    ):
        gap = worked(weigh_in.unexplained, seen, booked)
        disagreement[axle] = without_band(gap)
        accuracy[axle] = worked(weigh_in.joint_accuracy, hard_bands(gap))
    yield WeighIn(
        disagreement,
        accuracy,
        any(exceeds(disagreement[axle], accuracy[axle]) for axle in disagreement),
        *_missing(scales, expected, frame),
    )


def _missing(scales: LoadState, expected: LoadState, frame: Frame) -> tuple[Value, Value, Value]:
    front = worked(weigh_in.unexplained, scales.front, expected.front)
    rear = worked(weigh_in.unexplained, scales.rear, expected.rear)
    moments = (
        worked(weigh_in.unexplained_moment, scales.front_moment, expected.front_moment),
        worked(weigh_in.unexplained_moment, scales.rear_moment, expected.rear_moment),
    )
    return (
        worked(weigh_in.missing_mass, front, rear),
        worked(weigh_in.missing_distance, front, rear, frame.wheelbase),
        worked(weigh_in.missing_offset, *moments, front, rear),
    )


def _unexplained(axle: str, seen: WeighIn) -> Value:
    disagreement, accuracy = seen.disagreement[axle], seen.accuracy[axle]
    if not exceeds(disagreement, accuracy):
        return constant(MASS, 0.0, "explained")
    band = worked(weigh_in.excess, disagreement, accuracy)
    label = f"weigh-in: what is unexplained on the {axle} axle"
    return allowance(f"weigh_in.unexplained.{axle}", label, band)


def with_unexplained(state: LoadState, weigh_ins: Iterable[WeighIn]) -> LoadState:
    """Widen the loads of the conversion by what the weigh-in left unexplained.

    The load stays as the ledger has it; its band grows and it rests on an assumption, so that
    every finding that depends on it is provisional until the gap is closed.
    """
    for seen in (each for each in weigh_ins if each.disagrees):
        unexplained = {}
        for axle in ("front", "rear"):
            unexplained[axle] = _unexplained(axle, seen)
        front = worked(axle_loads.with_unexplained, state.front, unexplained["front"])
        rear = worked(axle_loads.with_unexplained, state.rear, unexplained["rear"])
        both = worked(axle_loads.both_axles, unexplained["front"], unexplained["rear"])
        mass = worked(axle_loads.with_unexplained, state.mass, both)
        state = LoadState(mass, front, rear, state.front_moment, state.rear_moment)
    return state
