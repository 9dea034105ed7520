"""How long it takes to gain speed.

    closed forms   acceleration, inertia_force, time_at_force, time_at_power,
                   time_at_force_then_power
    over points    speeds_between, speed_widths, time_over_points, times_along
    with gears     time_with_shifts, speed_after_shift

Masses are equivalent masses: what rotates has to be sped up too. Forces over points are what is
left after the road load.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import accumulate, pairwise

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Acceleration, Count, Force, Mass, Power, Speed, Time

NEWTON = Source("Second law of motion", "", "computed")
ENERGY = Source("Balance of power and kinetic energy", "", "computed")

FEWEST, MOST = 16, 4096  # steps that are tried between two speeds

ASKED = {
    "surplus": ("force left after the road load", "2100 N"),
    "equivalent_mass": ("mass of the vehicle with what rotates", "1290 kg"),
    "acceleration": ("acceleration", "1.5 m/s²"),
    "force": ("force at the road", "2100 N"),
    "power": ("power at the wheels", "45 kW"),
    "from_speed": ("speed at the start", "0 km/h"),
    "to_speed": ("speed at the end", "60 km/h"),
    "widths": ("step of speed that each force stands for", "10 km/h; 20 km/h; 10 km/h"),
    "forces": ("force left at each step", "2400 N; 2100 N; 1500 N"),
    "times": ("time in each gear", "4 s; 6 s"),
    "shifts": ("number of shifts", "1"),
    "shift_time": ("time that a shift takes", "0.8 s"),
    "speed": ("speed before the shift", "50 km/h"),
    "resistance": ("road load", "350 N"),
}


@formula("a", NEWTON)
def acceleration(surplus: Force, equivalent_mass: Mass) -> Acceleration:
    """Acceleration by the force that the road leaves.

    a = F/m, with ``surplus`` F in N and ``equivalent_mass`` m in kg.
    """
    if equivalent_mass <= 0:
        raise FormulaError("the mass must be above zero")
    return surplus / equivalent_mass


@formula("F", NEWTON)
def inertia_force(equivalent_mass: Mass, acceleration: Acceleration) -> Force:
    """Force that speeds the vehicle up, or where below zero slows it down.

    m a: ``equivalent_mass`` m in kg with all that rotates, ``acceleration`` a in m/s².
    """
    return equivalent_mass * acceleration


@formula("t", NEWTON)
def time_at_force(equivalent_mass: Mass, force: Force, from_speed: Speed, to_speed: Speed) -> Time:
    """Time from one speed to another at a constant force.

    t = m·(v₂ - v₁)/F, with ``equivalent_mass`` m in kg, ``force`` F in N, speeds in m/s.
    """
    if force <= 0:
        raise FormulaError("without a force left over no speed is gained")
    return equivalent_mass * (to_speed - from_speed) / force


@formula("t", ENERGY)
def time_at_power(equivalent_mass: Mass, power: Power, from_speed: Speed, to_speed: Speed) -> Time:
    """Time from one speed to another at a constant power.

    t = m·(v₂² - v₁²)/(2·P), with ``equivalent_mass`` m in kg, ``power`` P in W at the wheels,
    speeds in m/s, no road load.
    """
    if power <= 0:
        raise FormulaError("without a power left over no speed is gained")
    return equivalent_mass * (to_speed**2 - from_speed**2) / (2 * power)


@formula("t", ENERGY)
def time_at_force_then_power(
    equivalent_mass: Mass, force: Force, power: Power, from_speed: Speed, to_speed: Speed
) -> Time:
    """Time from one speed to another at a constant force until the power is reached.

    t = m·(v_b - v₁)/F + m·(v₂² - v_b²)/(2·P) with v_b = P/F, kept between the two speeds;
    ``equivalent_mass`` m in kg, ``force`` F in N, ``power`` P in W at the wheels, no road load.
    """
    if not (force > 0 and power > 0 and to_speed >= from_speed):
        raise FormulaError("force and power must be above zero, and the speed must rise")
    return equivalent_mass * (
        min(to_speed, max(from_speed, power / force)) - from_speed
    ) / force + equivalent_mass * (
        to_speed**2 - min(to_speed, max(from_speed, power / force)) ** 2
    ) / (2 * power)


def speed_widths(speeds: Sequence[float]) -> list[float]:
    """Speed that each point stands for: half the way to either neighbour, in m/s."""
    if len(speeds) < 2 or any(low >= high for low, high in pairwise(speeds)):
        raise FormulaError("two points or more are needed, at rising speeds")
    steps = [high - low for low, high in pairwise(speeds)]
    return [
        (before + after) / 2 for before, after in zip([0.0, *steps], [*steps, 0.0], strict=True)
    ]


@formula(
    "t",
    NEWTON,
    method=(
        "trapezoids of m/F over speed: a point's width is half the way to either neighbour, and "
        "points are doubled until the time no longer moves"
    ),
)
def time_over_points(
    equivalent_mass: Mass, widths: Sequence[Speed], forces: Sequence[Force]
) -> Time:
    """Time to gain speed by a force that changes with speed.

    t = Σ m·Δv/F, with ``equivalent_mass`` m in kg, ``widths`` Δv in m/s as ``speed_widths`` gives
    them, ``forces`` F in N left after the road load.
    """
    if any(force <= 0 for force in forces):
        raise FormulaError("at some speed on the way no force is left to gain more")
    return sum(equivalent_mass * width / force for width, force in zip(widths, forces, strict=True))


def speeds_between(
    from_speed: float,
    to_speed: float,
    force_at: Callable[[float], float],
    tolerance: float = 1e-3,
) -> list[float]:
    """Choose points close enough that halving every step moves the time by less than a share."""
    coarse = _evenly(from_speed, to_speed, FEWEST)
    before = _time(coarse, force_at)
    while len(coarse) <= MOST:
        fine = _evenly(from_speed, to_speed, 2 * (len(coarse) - 1))
        time = _time(fine, force_at)
        if abs(time - before) <= tolerance * time:
            return fine
        coarse, before = fine, time
    raise FormulaError("the force changes too abruptly for the time to settle")


def times_along(
    equivalent_mass: float, speeds: Sequence[float], forces: Sequence[float]
) -> list[float]:
    """Time at which each speed is reached, from nought at the first: a curve to draw."""
    steps = [0.0]
    for (low, high), (weak, strong) in zip(pairwise(speeds), pairwise(forces), strict=True):
        widths = speed_widths([low, high])
        steps.append(time_over_points(equivalent_mass, widths, [weak, strong]))
    return list(accumulate(steps))


def _evenly(from_speed: float, to_speed: float, steps: int) -> list[float]:
    return [from_speed + (to_speed - from_speed) * step / steps for step in range(steps + 1)]


def _time(speeds: Sequence[float], force_at: Callable[[float], float]) -> float:
    return time_over_points(1.0, speed_widths(speeds), [force_at(speed) for speed in speeds])


@formula(
    "t",
    Source("Sum of times", "", "computed"),
    gradient=lambda times, shifts, shift_time: ([1.0] * len(times), shift_time, shifts),
)
def time_with_shifts(times: Sequence[Time], shifts: Count, shift_time: Time) -> Time:
    """Time through several gears, with what the shifts take.

    Σt + n·t_s, with ``times`` in each gear in s, ``shifts`` n and ``shift_time`` t_s in s.
    """
    return sum(times) + shifts * shift_time


@formula("v", NEWTON)
def speed_after_shift(
    speed: Speed, resistance: Force, equivalent_mass: Mass, shift_time: Time
) -> Speed:
    """Speed at which the next gear takes hold, after the road has slowed the vehicle.

    v - F·t/m, with ``speed`` v in m/s before the shift, road load ``resistance`` F in N taken as
    constant, ``equivalent_mass`` m in kg and ``shift_time`` t in s.
    """
    if equivalent_mass <= 0:
        raise FormulaError("the mass must be above zero")
    return speed - resistance * shift_time / equivalent_mass
