"""Temperatures of motor, inverter, pack and two coolants, exactly over a step of constant heat.

Above ambient the temperatures follow x' = A x + q/C with constant heat q, so that over a step
x → E x + G q with E = exp(A t) and G the integral of exp(A s)/C. Both are worked out once per
length of step, by a series over a small part of it and doubling, which needs no inverse: a body
that is connected to nothing is no special case, and no step is too long.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence

from wattwright.uses import places as at

Vector = MutableSequence[float]
Floats = Sequence[float]

# Three by three for the drive at 0, two by two for the pack behind it; E first, then G.
DRIVE_DECAY, DRIVE_GAIN, PACK_DECAY, PACK_GAIN = 0, 9, 18, 22
# Room for the rates, and for one matrix while two are multiplied.
RATES, SPARE = 26, 35
HEAT_ROOM = 44
# Terms of the series: over so small a part what is left out is below the last digit.
TERMS = 8
SMALL_PART = 0.02


def prepare_heat(room: Vector, step: float, p: Floats) -> None:
    """Work out what a step of a length does to all temperatures."""
    for place in range(RATES, SPARE):
        room[place] = 0.0
    coolant = p[at.HEAT_CAPACITY_DRIVE_COOLANT]
    of_motor = 1.0 / p[at.MOTOR_RESISTANCE]
    room[RATES] = -of_motor / p[at.HEAT_CAPACITY_MOTOR]
    room[RATES + 2] = of_motor / p[at.HEAT_CAPACITY_MOTOR]
    room[RATES + 4] = -p[at.INVERTER_TO_COOLANT] / p[at.HEAT_CAPACITY_INVERTER]
    room[RATES + 5] = p[at.INVERTER_TO_COOLANT] / p[at.HEAT_CAPACITY_INVERTER]
    room[RATES + 6] = of_motor / coolant
    room[RATES + 7] = p[at.INVERTER_TO_COOLANT] / coolant
    leaving = of_motor + p[at.INVERTER_TO_COOLANT] + p[at.DRIVE_COOLANT_TO_AMBIENT]
    room[RATES + 8] = -leaving / coolant
    exponential(room, 3, step, DRIVE_DECAY, DRIVE_GAIN)
    for row in range(3):
        room[DRIVE_GAIN + 3 * row] /= p[at.HEAT_CAPACITY_MOTOR]
        room[DRIVE_GAIN + 3 * row + 1] /= p[at.HEAT_CAPACITY_INVERTER]
    pack, coolant = p[at.HEAT_CAPACITY_PACK], p[at.HEAT_CAPACITY_PACK_COOLANT]
    room[RATES] = -(p[at.PACK_TO_COOLANT] + p[at.PACK_TO_AMBIENT]) / pack
    room[RATES + 1] = p[at.PACK_TO_COOLANT] / pack
    room[RATES + 2] = p[at.PACK_TO_COOLANT] / coolant
    room[RATES + 3] = -(p[at.PACK_TO_COOLANT] + p[at.PACK_COOLANT_TO_AMBIENT]) / coolant
    exponential(room, 2, step, PACK_DECAY, PACK_GAIN)
    for row in range(2):
        room[PACK_GAIN + 2 * row] /= pack


def exponential(room: Vector, size: int, step: float, decay: int, gain: int) -> None:
    """Write exp(A t) at ``decay`` and its integral at ``gain``, for the rates A in the room."""
    fastest = 0.0
    for place in range(size):
        fastest = max(fastest, -room[RATES + place * size + place])
    doublings = 0
    while fastest * step > SMALL_PART:
        step *= 0.5
        doublings += 1
    # The integral by Horner's rule: t (1 + A t/2 (1 + A t/3 (1 + ...))), then exp = 1 + A times it.
    for place in range(size * size):
        room[gain + place] = 0.0
    add_along(room, size, gain, 1.0)
    for term in range(TERMS, 1, -1):
        times(room, size, RATES, gain, step / term)
        add_along(room, size, gain, 1.0)
    for place in range(size * size):
        room[gain + place] *= step
        room[decay + place] = room[gain + place]
    times(room, size, RATES, decay, 1.0)
    add_along(room, size, decay, 1.0)
    for _ in range(doublings):
        add_along(room, size, decay, 1.0)
        times(room, size, decay, gain, 1.0)
        add_along(room, size, decay, -1.0)
        times(room, size, decay, decay, 1.0)


def add_along(room: Vector, size: int, place: int, amount: float) -> None:
    """Add an amount along the diagonal of a matrix."""
    for entry in range(size):
        room[place + entry * size + entry] += amount


def times(room: Vector, size: int, left: int, right: int, scale: float) -> None:
    """Replace the matrix at ``right`` by left times right times a scale."""
    for row in range(size):
        for column in range(size):
            total = 0.0
            for inner in range(size):
                total += room[left + row * size + inner] * room[right + inner * size + column]
            room[SPARE + row * size + column] = total * scale
    for entry in range(size * size):
        room[right + entry] = room[SPARE + entry]


def warm(
    state: Vector,
    room: Floats,
    p: Floats,
    motor_heat: float,
    inverter_heat: float,
    pack_heat: float,
) -> None:
    """Bring the temperatures over one step; heats in W, constant over it."""
    ambient = p[at.AMBIENT]
    motor = state[at.MOTOR] - ambient
    inverter = state[at.INVERTER] - ambient
    coolant = state[at.DRIVE_COOLANT] - ambient
    for row in range(3):
        keep, put = DRIVE_DECAY + 3 * row, DRIVE_GAIN + 3 * row
        kept = room[keep] * motor + room[keep + 1] * inverter + room[keep + 2] * coolant
        state[at.MOTOR + row] = (
            ambient + kept + room[put] * motor_heat + room[put + 1] * inverter_heat
        )
    pack = state[at.PACK] - ambient
    coolant = state[at.PACK_COOLANT] - ambient
    for row in range(2):
        keep, put = PACK_DECAY + 2 * row, PACK_GAIN + 2 * row
        kept = room[keep] * pack + room[keep + 1] * coolant
        state[at.PACK + row] = ambient + kept + room[put] * pack_heat
