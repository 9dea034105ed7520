"""What the vehicle does in one step: the speed reached, and the forces and torque behind it."""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence

from wattwright.uses import places as at
from wattwright.uses.limits import (
    Pack,
    coasting_speed,
    left_of,
    motor_loss,
    needed,
    own_power,
    pull,
    reachable_speed,
    regen_torque,
    resisting,
    why_held_back,
)

Floats = Sequence[float]
Places = MutableSequence[int]
Motion = tuple[float, float, float, float, float, float, float, int]


def move(
    state: Floats,
    wanted: float,
    top: float,
    step: float,
    sine: float,
    p: Floats,
    maps: Floats,
    places: Places,
    pack: Pack,
) -> Motion:
    """What the vehicle does in one step; ``top`` is its speed at the motor's highest, m/s."""
    before = state[at.SPEED]
    why = at.BY_NOTHING
    if wanted > top:
        wanted = top
        why = at.BY_HIGHEST_SPEED
    if before <= 0.0 and wanted <= 0.0:
        return 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, why
    mean = 0.5 * (before + wanted)
    force = needed(before, wanted, step, sine, p)
    geared = p[at.RATIO] / p[at.ROLLING_RADIUS]
    cool = min(
        left_of(state[at.MOTOR], p[at.LIMIT_MOTOR], p[at.SPAN_MOTOR]),
        left_of(state[at.INVERTER], p[at.LIMIT_INVERTER], p[at.SPAN_INVERTER]),
    )
    warm_pack = left_of(state[at.PACK], p[at.LIMIT_PACK], p[at.SPAN_PACK])
    if force <= 0.0:
        taken = pack[3] * warm_pack + own_power(p)
        torque, loss = regen_torque(-force, mean, geared, p, maps, places, pack[0], cool, taken)
        brake = min(0.0, force + torque * geared / p[at.DRIVELINE_EFFICIENCY])
        return wanted, step, -torque, loss, force, brake, mean * geared, why
    traction = (pack[2] - own_power(p)) * warm_pack
    torque, loss, by_motor, by_pack = pull(
        mean * geared, force / geared, p, maps, places, pack, cool, traction
    )
    if by_motor >= 0.0 and by_pack >= 0.0:
        return wanted, step, torque, loss, force, 0.0, mean * geared, why
    why = why_held_back(by_motor, by_pack, state, p)
    return held_back(before, wanted, step, sine, p, maps, places, pack, cool, traction, why)


def held_back(
    before: float,
    wanted: float,
    step: float,
    sine: float,
    p: Floats,
    maps: Floats,
    places: Places,
    pack: Pack,
    cool: float,
    traction: float,
    why: int,
) -> Motion:
    """What the vehicle does in a step in which it cannot do what is wanted; as ``move``.

    On a hill that is too steep it rolls to a stand, held there by the brakes; in the step in which
    it comes to a stand the motor is taken not to pull.
    """
    coasted = coasting_speed(before, step, sine, p)
    after = reachable_speed(
        before, wanted, max(0.0, coasted), step, sine, p, maps, places, pack, cool, traction
    )
    geared = p[at.RATIO] / p[at.ROLLING_RADIUS]
    speed = 0.5 * (before + after) * geared
    if after <= 0.0:
        if before <= 0.0:
            return 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, why
        moving = min(step, p[at.EQUIVALENT_MASS] * before / resisting(0.5 * before, sine, p))
        return 0.0, moving, 0.0, motor_loss(speed, 0.0, p, maps, places), 0.0, 0.0, speed, why
    if after <= coasted:
        return after, step, 0.0, motor_loss(speed, 0.0, p, maps, places), 0.0, 0.0, speed, why
    force = needed(before, after, step, sine, p)
    torque, loss, _, _ = pull(speed, force / geared, p, maps, places, pack, cool, traction)
    return after, step, torque, loss, force, 0.0, speed, why


def drive_power(motion: Motion) -> float:
    """DC power of motor and inverter while the vehicle moves, W."""
    return motion[at.PULLED] * motion[at.TURNING] + motion[at.LOST]
