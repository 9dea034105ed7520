"""What motor, pack and temperatures allow within one step: pulling, and braking by the motor.

Road load is f0 + f1 v + f2 v² at the mean speed of the step, and the kinetic energy follows the
equivalent mass, so that force times distance balances to the last digit.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import exp, sqrt

from wattwright.uses import places as at
from wattwright.uses.look_up import on_curve, on_grid

Floats = Sequence[float]
Places = MutableSequence[int]
Pack = tuple[float, float, float, float]

GRAVITY = 9.80665  # m/s²
WARM = 298.15  # K, where the resistance factor is one
# Rounds of a search, of which some ten are used, and when it is near enough, in m/s and N·m.
ROUNDS = 60
NEAR = 1e-10


def left_of(temperature: float, limit: float, span: float) -> float:
    """Share of full power that a temperature leaves: one below the span, nought at the limit."""
    if temperature <= limit - span:
        return 1.0
    return max(0.0, (limit - temperature) / span)


def pack_now(
    state: Floats, p: Floats, maps: Floats, places: Places, cold_rate: float, step: float
) -> tuple[float, float, float, float]:
    """Open-circuit voltage, resistance, and the most power the pack gives and takes, W."""
    charge = state[at.CHARGE]
    open_circuit = on_curve(charge, maps, places, at.CHARGES, at.OPEN_CIRCUIT)
    open_circuit *= p[at.VOLTAGE_SCALE]
    resistance = p[at.RESISTANCE]
    if state[at.PACK] < WARM:
        resistance *= exp(cold_rate * (WARM - state[at.PACK]))
    # Beyond half the open-circuit voltage more current gives less power.
    furthest = min(open_circuit - p[at.LOWEST_VOLTAGE], 0.5 * open_circuit)
    current = p[at.DISCHARGE_CURRENT]
    if current * resistance > furthest:
        current = max(0.0, furthest / resistance)
    given = current * (open_circuit - current * resistance)
    current = p[at.REGEN_CURRENT]
    if charge > p[at.REGEN_TAPER_FROM]:
        taper = min(1.0, (charge - p[at.REGEN_TAPER_FROM]) / (1.0 - p[at.REGEN_TAPER_FROM]))
        current += (p[at.REGEN_CURRENT_FULL] - current) * taper
    if state[at.PACK] < p[at.REGEN_COLD_FULL]:
        span = p[at.REGEN_COLD_FULL] - p[at.REGEN_COLD_FROM]
        current *= max(0.0, state[at.PACK] - p[at.REGEN_COLD_FROM]) / span
    if current * resistance > p[at.HIGHEST_VOLTAGE] - open_circuit:
        current = max(0.0, (p[at.HIGHEST_VOLTAGE] - open_circuit) / resistance)
    if current * step > (1.0 - charge) * p[at.CAPACITY]:
        current = max(0.0, (1.0 - charge) * p[at.CAPACITY] / step)
    return open_circuit, resistance, given, current * (open_circuit + current * resistance)


def own_power(p: Floats) -> float:
    """Power of everything but the motor, W."""
    return p[at.AUXILIARY] + p[at.HEATER]


def resisting(mean: float, sine: float, p: Floats) -> float:
    """Force of road load and climb at a speed, N."""
    return p[at.F0] + mean * (p[at.F1] + mean * p[at.F2]) + p[at.MASS] * GRAVITY * sine


def needed(before: float, after: float, step: float, sine: float, p: Floats) -> float:
    """Force at the wheels that brings the vehicle from one speed to another, N."""
    inertia = p[at.EQUIVALENT_MASS] * (after - before) / step
    return resisting(0.5 * (before + after), sine, p) + inertia


def coasting_speed(before: float, step: float, sine: float, p: Floats) -> float:
    """Speed after a step without any force of motor or brakes; below nought where it stops."""
    linear = p[at.F1] + 2.0 * p[at.EQUIVALENT_MASS] / step
    constant = resisting(0.0, sine, p) - 2.0 * p[at.EQUIVALENT_MASS] * before / step
    if constant >= 0.0:
        return -1.0 if before <= 0.0 else -before
    root = sqrt(max(0.0, linear * linear - 4.0 * p[at.F2] * constant))
    return -4.0 * constant / (linear + root) - before


def motor_loss(speed: float, torque: float, p: Floats, maps: Floats, places: Places) -> float:
    """Loss of motor and inverter, W."""
    return on_grid(speed, torque, maps, places, at.LOSS_SPEEDS, at.LOSSES) * p[at.LOSS_SCALE]


def torque_limit(speed: float, voltage: float, p: Floats, maps: Floats, places: Places) -> float:
    """Most torque of the motor at a speed and a DC voltage, N·m."""
    most = on_grid(speed, voltage, maps, places, at.TORQUE_SPEEDS, at.TORQUE_LIMITS)
    return most * p[at.TORQUE_SCALE]


def pull(
    speed: float,
    ideal: float,
    p: Floats,
    maps: Floats,
    places: Places,
    pack: Pack,
    cool: float,
    traction: float,
) -> tuple[float, float, float, float]:
    """Torque of the motor, its loss, and what torque is spare up to the limits of motor and pack.

    ``speed`` of the motor, rad/s; ``ideal`` torque that gears without loss would ask of it, N·m;
    ``cool`` is the share of torque that temperatures leave, ``traction`` the power that the pack
    has left for the motor, W. The limit of the motor is that at the voltage which this very power
    leaves. Spare is below nought where it is too much.
    """
    torque = ideal / p[at.DRIVELINE_EFFICIENCY]
    loss = motor_loss(speed, torque, p, maps, places)
    power = torque * speed + loss
    root = sqrt(max(0.0, pack[0] * pack[0] - 4.0 * (power + own_power(p)) * pack[1]))
    by_motor = torque_limit(speed, 0.5 * (pack[0] + root), p, maps, places) * cool - torque
    by_pack = traction - power
    # In torque; a power missing at a speed near nought is a torque beyond all bounds.
    if speed > 1.0:
        by_pack /= speed
    return torque, loss, by_motor, by_pack


def spare_torque(
    before: float,
    after: float,
    step: float,
    sine: float,
    p: Floats,
    maps: Floats,
    places: Places,
    pack: Pack,
    cool: float,
    traction: float,
) -> float:
    """Torque that is spare where the vehicle goes from one speed to another, N·m."""
    geared = p[at.RATIO] / p[at.ROLLING_RADIUS]
    ideal = needed(before, after, step, sine, p) / geared
    speed = 0.5 * (before + after) * geared
    _, _, by_motor, by_pack = pull(speed, ideal, p, maps, places, pack, cool, traction)
    return min(by_motor, by_pack)


def reachable_speed(
    before: float,
    wanted: float,
    lowest: float,
    step: float,
    sine: float,
    p: Floats,
    maps: Floats,
    places: Places,
    pack: Pack,
    cool: float,
    traction: float,
) -> float:
    """Largest speed at the end of a step for which the motor has the torque and the pack the power.

    ``wanted`` is too much and ``lowest`` is what coasting gives. A secant that halves the weight of
    an end which does not move closes in from both sides; the side within the limits is returned.
    """
    low, high = lowest, wanted
    at_low = spare_torque(before, low, step, sine, p, maps, places, pack, cool, traction)
    if at_low <= 0.0:
        return low
    at_high = spare_torque(before, high, step, sine, p, maps, places, pack, cool, traction)
    side = 0
    for _ in range(ROUNDS):
        if high - low <= NEAR:
            break
        middle = low + (high - low) * at_low / (at_low - at_high)
        spare = spare_torque(before, middle, step, sine, p, maps, places, pack, cool, traction)
        if spare >= 0.0:
            low, at_low = middle, spare
            if side == 1:
                at_high *= 0.5
            side = 1
            if spare <= NEAR:
                break
        else:
            high, at_high = middle, spare
            if side == -1:
                at_low *= 0.5
            side = -1
    return low


def why_held_back(by_motor: float, by_pack: float, state: Floats, p: Floats) -> int:
    """Tell which limit a pull exceeds."""
    motor = left_of(state[at.MOTOR], p[at.LIMIT_MOTOR], p[at.SPAN_MOTOR])
    inverter = left_of(state[at.INVERTER], p[at.LIMIT_INVERTER], p[at.SPAN_INVERTER])
    if by_pack < by_motor:
        warm = left_of(state[at.PACK], p[at.LIMIT_PACK], p[at.SPAN_PACK]) < 1.0
        return at.BY_PACK_TEMPERATURE if warm else at.BY_PACK_POWER
    if motor < 1.0 and motor <= inverter:
        return at.BY_MOTOR_TEMPERATURE
    return at.BY_INVERTER_TEMPERATURE if inverter < 1.0 else at.BY_TORQUE


def regen_torque(
    force: float,
    mean: float,
    geared: float,
    p: Floats,
    maps: Floats,
    places: Places,
    open_circuit: float,
    cool: float,
    taken: float,
) -> tuple[float, float]:
    """Braking torque of the motor where a braking force is needed, both above nought, and its loss.

    ``mean`` speed of the vehicle m/s, ``geared`` that of the motor over it, rad/m. ``taken`` is the
    power that the pack and everything else on it can take up, W. The limit of the motor is that at
    the open-circuit voltage, a little less than while it charges.
    """
    speed = mean * geared
    fade = (mean - p[at.REGEN_FADE_LOW]) / (p[at.REGEN_FADE_HIGH] - p[at.REGEN_FADE_LOW])
    torque = p[at.REGEN_TORQUE] * min(1.0, max(0.0, fade))
    if torque > 0.0:
        torque = min(torque, torque_limit(speed, open_circuit, p, maps, places) * cool)
        most = min(force, p[at.MASS] * p[at.REGEN_DECELERATION])
        torque = min(torque, most * p[at.DRIVELINE_EFFICIENCY] / geared)
    loss = motor_loss(speed, torque, p, maps, places)
    over = torque * speed - loss - taken
    if over <= 0.0:
        return torque, loss
    return less_regen(speed, torque, over, p, maps, places, taken)


def less_regen(
    speed: float,
    torque: float,
    over: float,
    p: Floats,
    maps: Floats,
    places: Places,
    taken: float,
) -> tuple[float, float]:
    """Braking torque at which no more comes back than can be taken up, and its loss."""
    low, high, at_high = 0.0, torque, over
    low_loss = motor_loss(speed, low, p, maps, places)
    at_low = -low_loss - taken
    side = 0
    for _ in range(ROUNDS):
        if at_low >= 0.0 or high - low <= NEAR * torque:
            break
        middle = low - (high - low) * at_low / (at_high - at_low)
        loss = motor_loss(speed, middle, p, maps, places)
        over = middle * speed - loss - taken
        if over <= 0.0:
            low, low_loss, at_low = middle, loss, over
            if side == 1:
                at_high *= 0.5
            side = 1
        else:
            high, at_high = middle, over
            if side == -1:
                at_low *= 0.5
            side = -1
    return low, low_loss
