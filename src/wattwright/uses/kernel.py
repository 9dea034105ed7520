"""The loop over a trace: what one step takes from the pack, and what it leaves behind.

Every function here and in the modules it uses takes floats and flat sequences. The plain loop
runs them as they stand; ``compiled`` compiles the same functions. Both do the same operations in
the same order.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import log, sqrt

from wattwright.uses import places as at
from wattwright.uses.heat import prepare_heat, warm
from wattwright.uses.limits import WARM, own_power, pack_now
from wattwright.uses.motion import Motion, drive_power, move
from wattwright.uses.record import (
    account_pack,
    account_road,
    account_whole,
    begin,
    note_peaks,
    note_short,
    write_state,
    write_step,
)
from wattwright.uses.windows import largest_means

Vector = MutableSequence[float]
Floats = Sequence[float]
Places = MutableSequence[int]

# Lengths of step as near as this are one: what they do to temperatures is worked out once.
SAME_STEP = 1e-9


def drive(
    steps: Floats,
    wanted: Floats,
    sines: Floats,
    on: Floats,
    times: Floats,
    begins: Sequence[int],
    shares: Floats,
    p: Floats,
    maps: Floats,
    state: Vector,
    places: Places,
    room: Vector,
    squares: Vector,
    summary: Vector,
    states: Vector,
    channels: Vector,
) -> None:
    """Drive a trace from a state on, and leave the state at its end, a summary and the traces.

    ``steps`` s, ``wanted`` speeds m/s at every instant, ``sines`` of the slope over every step,
    ``on`` 0 where it stands switched off, else 1; ``times`` s of the instants; ``begins`` and
    ``shares`` of the windows. ``p`` are the parameters, ``state`` speed, charge and temperatures.
    ``places``, ``room`` and ``squares`` are space to work in. ``states`` and ``channels`` are
    filled unless they are empty.
    """
    count = len(steps)
    keep = len(channels) > 0
    cold_rate = log(p[at.COLD_FACTOR]) / (WARM - p[at.COLD_TEMPERATURE])
    top = p[at.HIGHEST_MOTOR_SPEED] * p[at.ROLLING_RADIUS] / p[at.RATIO]
    prepared = -1.0
    own = own_power(p)
    state[at.SPEED] = min(state[at.SPEED], top)
    first_speed = state[at.SPEED]
    begin(state, summary)
    squares[0] = 0.0
    ended, reason = count, at.END_OF_TRACE
    if keep:
        write_state(state, states, 0, count + 1)
    for k in range(count):
        step = steps[k]
        if abs(step - prepared) > SAME_STEP * step:
            prepare_heat(room, step, p)
            prepared = step
        pack = pack_now(state, p, maps, places, cold_rate, step)
        motion = move(state, wanted[k + 1], top, step, sines[k], p, maps, places, pack)
        power = own * on[k] + drive_power(motion) * (motion[at.MOVING] / step)
        under = pack[0] * pack[0] - 4.0 * power * pack[1]
        if own * on[k] > pack[2] or under < 0.0:
            ended, reason = k, at.CANNOT_FEED
            break
        root = sqrt(under)
        current = 2.0 * power / (pack[0] + root)
        voltage = 0.5 * (pack[0] + root)
        if keep:
            write_step(motion, power, current, voltage, channels, k, count, step)
        account_road(summary, state, motion, sines[k], p)
        account_pack(summary, pack, step, on[k], power, current, voltage, p)
        note_short(summary, state, motion, wanted[k], wanted[k + 1], step, k + 1)
        go_on(state, motion, room, p, step, current, current * current * pack[1])
        note_peaks(summary, state)
        squares[k + 1] = squares[k] + current * current * step
        if keep:
            write_state(state, states, k + 1, count + 1)
        if state[at.CHARGE] <= p[at.END_CHARGE]:
            ended, reason = k + 1, at.EMPTY
            break
    account_whole(summary, p, first_speed, state[at.SPEED])
    summary[at.ENDED_AT] = ended
    summary[at.ENDED_BY] = reason
    summary[at.LAST_CHARGE] = state[at.CHARGE]
    largest_means(squares, times, begins, shares, summary)


def go_on(
    state: Vector,
    motion: Motion,
    room: Floats,
    p: Floats,
    step: float,
    current: float,
    pack_heat: float,
) -> None:
    """Bring speed, charge and temperatures to the end of a step."""
    heat = motion[at.LOST] * motion[at.MOVING] / step
    of_motor = heat * p[at.MOTOR_LOSS_SHARE]
    state[at.SPEED] = motion[at.AFTER]
    state[at.CHARGE] -= current * step / p[at.CAPACITY]
    warm(state, room, p, of_motor, heat - of_motor, pack_heat)


def set_out(state: Vector, p: Floats, speed: float) -> None:
    """Put a state to the beginning of a run."""
    state[at.SPEED] = speed
    state[at.CHARGE] = p[at.START_CHARGE]
    for body in range(5):
        state[at.MOTOR + body] = p[at.START_MOTOR + body]


def drive_rows(
    first: int,
    behind: int,
    afresh: int,
    steps: Floats,
    wanted: Floats,
    sines: Floats,
    on: Floats,
    times: Floats,
    begins: Sequence[int],
    shares: Floats,
    rows: Sequence[Floats],
    maps: Floats,
    state: Vector,
    places: Places,
    room: Vector,
    squares: Vector,
    summaries: Sequence[Vector],
    states: Vector,
    channels: Vector,
) -> None:
    """Drive one trace with each row of parameters from ``first`` up to the one ``behind``.

    Unless ``afresh`` is nought each sets out anew; else it goes on from where the state stands.
    Traces are kept of the last row, where there is room for them.
    """
    for row in range(first, behind):
        if afresh != 0:
            set_out(state, rows[row], wanted[0])
        drive(
            steps,
            wanted,
            sines,
            on,
            times,
            begins,
            shares,
            rows[row],
            maps,
            state,
            places,
            room,
            squares,
            summaries[row],
            states,
            channels,
        )
