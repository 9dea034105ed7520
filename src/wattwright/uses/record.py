"""What a step adds to the summary, and what is written down of it."""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence

from wattwright.uses import places as at
from wattwright.uses.limits import GRAVITY, Pack
from wattwright.uses.motion import Motion

Vector = MutableSequence[float]
Floats = Sequence[float]


def begin(state: Floats, summary: Vector) -> None:
    """Clear a summary and enter what holds at the beginning."""
    for column in range(at.COLUMNS):
        summary[column] = 0.0
    for body in range(5):
        summary[at.PEAK_MOTOR + body] = state[at.MOTOR + body]
    summary[at.LOWEST_HELD] = 1e300


def account_road(summary: Vector, state: Floats, motion: Motion, sine: float, p: Floats) -> None:
    """Add the energies of a step between road and motor shaft, J, and note its extremes."""
    moving = motion[at.MOVING]
    mean = 0.5 * (state[at.SPEED] + motion[at.AFTER])
    distance = mean * moving
    at_shaft = motion[at.PULLED] * motion[at.TURNING] * moving
    summary[at.DISTANCE] += distance
    summary[at.LARGEST_TORQUE] = max(summary[at.LARGEST_TORQUE], motion[at.PULLED])
    summary[at.SMALLEST_TORQUE] = min(summary[at.SMALLEST_TORQUE], motion[at.PULLED])
    summary[at.AIR] += mean * (p[at.F1] + mean * p[at.F2]) * distance
    summary[at.CLIMB] += p[at.MASS] * GRAVITY * sine * distance
    summary[at.BRAKES] -= motion[at.BRAKED] * distance
    summary[at.DRIVE_LOSS] += motion[at.LOST] * moving
    summary[at.DRIVELINE_LOSS] += at_shaft - (motion[at.PUSHED] - motion[at.BRAKED]) * distance


def account_pack(
    summary: Vector,
    pack: Pack,
    step: float,
    on: float,
    power: float,
    current: float,
    voltage: float,
    p: Floats,
) -> None:
    """Add the energies of a step at the pack, J, and note its extremes."""
    summary[at.CHEMISTRY] += pack[0] * current * step
    summary[at.PACK_HEAT] += current * current * pack[1] * step
    summary[at.AUXILIARY_ENERGY] += p[at.AUXILIARY] * on * step
    summary[at.HEATER_ENERGY] += p[at.HEATER] * on * step
    if power < 0.0:
        summary[at.RECOVERED] -= power * step
    summary[at.PEAK_CURRENT] = max(summary[at.PEAK_CURRENT], current)
    summary[at.PEAK_CHARGE_CURRENT] = max(summary[at.PEAK_CHARGE_CURRENT], -current)
    summary[at.LOWEST_HELD] = min(summary[at.LOWEST_HELD], voltage)
    summary[at.HIGHEST_HELD] = max(summary[at.HIGHEST_HELD], voltage)


def account_whole(summary: Vector, p: Floats, first_speed: float, last_speed: float) -> None:
    """Enter the energies that follow from the run as a whole, J."""
    summary[at.ROLLING] = (p[at.F0] - p[at.F0_OF_WIND]) * summary[at.DISTANCE]
    summary[at.AIR] += p[at.F0_OF_WIND] * summary[at.DISTANCE]
    gained = last_speed * last_speed - first_speed * first_speed
    summary[at.KINETIC] = 0.5 * p[at.EQUIVALENT_MASS] * gained


def note_short(
    summary: Vector,
    state: Floats,
    motion: Motion,
    wanted_before: float,
    wanted_after: float,
    step: float,
    instant: int,
) -> None:
    """Note by how much a step stays behind the trace."""
    wanted = 0.5 * (wanted_before + wanted_after) * step
    driven = 0.5 * (state[at.SPEED] + motion[at.AFTER]) * motion[at.MOVING]
    summary[at.DISTANCE_SHORT] += wanted - driven
    missed = wanted_after - motion[at.AFTER]
    if missed > summary[at.LARGEST_MISS]:
        summary[at.LARGEST_MISS] = missed
        summary[at.LARGEST_MISS_AT] = instant


def note_peaks(summary: Vector, state: Floats) -> None:
    """Note the highest temperatures."""
    for body in range(5):
        place = at.PEAK_MOTOR + body
        summary[place] = max(summary[place], state[at.MOTOR + body])


def write_state(state: Floats, states: Vector, instant: int, instants: int) -> None:
    """Write down speed, charge and temperatures at an instant."""
    for kind in range(at.STATES):
        states[kind * instants + instant] = state[kind]


def write_step(
    motion: Motion,
    power: float,
    current: float,
    voltage: float,
    channels: Vector,
    k: int,
    count: int,
    step: float,
) -> None:
    """Write down what is constant over a step; powers are means over all of it."""
    channels[at.WHEEL_FORCE * count + k] = motion[at.PUSHED]
    channels[at.BRAKE_FORCE * count + k] = motion[at.BRAKED]
    channels[at.TORQUE * count + k] = motion[at.PULLED]
    channels[at.MOTOR_SPEED * count + k] = motion[at.TURNING]
    channels[at.SHAFT_POWER * count + k] = (
        motion[at.PULLED] * motion[at.TURNING] * motion[at.MOVING] / step
    )
    channels[at.DC_POWER * count + k] = power
    channels[at.CURRENT * count + k] = current
    channels[at.VOLTAGE * count + k] = voltage
    channels[at.HELD_BACK_BY * count + k] = motion[at.WHY]
