"""What the driven wheels can put on the road before they slide.

    loads     front_axle_force, rear_axle_force, load_transfer
    driving   greatest_force_front, greatest_force_rear, greatest_force_all
    climbing  steepest_grade_front, steepest_grade_rear, steepest_grade_all
              steepest_grade_front_backwards, steepest_grade_rear_backwards
              steepest_grade_shared_front, steepest_grade_shared_rear
    braking   greatest_braking_front, greatest_braking_rear, greatest_braking_all
              greatest_braking_shared_front, greatest_braking_shared_rear, weaker_braking,
              grade_of_braking

A rigid body on two axles: what accelerates it acts at the road, its weight at the height of the
centre of gravity, so load moves to the rear. Lift of the air and the rolling of the axle that is
not driven are neglected. Distances in m: ``cg_distance`` behind the front axle, ``cg_height`` over
the floor. ``friction`` is the coefficient between tyre and road; both wheels of an axle slide
together, as with a locked differential or on an even road.
"""

from __future__ import annotations

from math import atan, cos, sin

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Acceleration, Force, Fraction, Grade, Length, Mass, Position, Ratio

STANDARD_GRAVITY = 9.80665  # m/s²

STATICS = Source("Moments about the wheels on the road, rigid body", "", "computed")
FRICTION = Source(
    "Moments about the wheels on the road, with friction at its limit", "", "computed"
)

ASKED = {
    "friction": ("coefficient of friction between tyre and road", "0.8"),
    "mass": ("mass of the vehicle", "1240 kg"),
    "wheelbase": ("wheelbase", "2540 mm"),
    "cg_distance": ("centre of gravity behind the front axle", "1150 mm"),
    "cg_height": ("height of the centre of gravity", "560 mm"),
    "acceleration": ("acceleration, braking below zero", "2 m/s²"),
    "grade": ("grade, uphill above zero", "12 %"),
    "base": ("wheelbase, or track where the acceleration is sideways", "2540 mm"),
    "front_share": ("share of the force that the front wheels make", "60 %"),
    "deceleration": ("deceleration on the level", "6 m/s²"),
    "front": ("deceleration at which the front wheels slide", "6.5 m/s²"),
    "rear": ("deceleration at which the rear wheels slide", "5.8 m/s²"),
}


@formula("N_f", STATICS)
def front_axle_force(
    mass: Mass,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    acceleration: Acceleration,
    grade: Grade,
) -> Force:
    """Force of the road on the front axle, square to it, while accelerating on a slope.

    N = m·(g·cos α·(L - x) - (a + g·sin α)·h)/L with α = atan s; ``acceleration`` a in m/s²
    forward, braking below zero. A result below zero means that the axle lifts.
    """
    if wheelbase <= 0:
        raise FormulaError("the wheelbase must be above zero")
    return (
        mass
        * (
            STANDARD_GRAVITY * cos(atan(grade)) * (wheelbase - cg_distance)
            - (acceleration + STANDARD_GRAVITY * sin(atan(grade))) * cg_height
        )
        / wheelbase
    )


@formula("N_r", STATICS)
def rear_axle_force(
    mass: Mass,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    acceleration: Acceleration,
    grade: Grade,
) -> Force:
    """Force of the road on the rear axle, square to it, while accelerating on a slope.

    N = m·(g·cos α·x + (a + g·sin α)·h)/L with α = atan s; ``acceleration`` a in m/s² forward,
    braking below zero. A result below zero means that the axle lifts.
    """
    if wheelbase <= 0:
        raise FormulaError("the wheelbase must be above zero")
    return (
        mass
        * (
            STANDARD_GRAVITY * cos(atan(grade)) * cg_distance
            + (acceleration + STANDARD_GRAVITY * sin(atan(grade))) * cg_height
        )
        / wheelbase
    )


@formula("ΔN", STATICS)
def load_transfer(mass: Mass, acceleration: Acceleration, cg_height: Length, base: Length) -> Force:
    """Force that an acceleration moves from one axle to the other, or from side to side.

    ΔN = m·a·h/L, with ``acceleration`` a in m/s² along ``base`` L in m: the wheelbase, or the
    track where the acceleration is sideways.
    """
    if base <= 0:
        raise FormulaError("the wheelbase or track must be above zero")
    return mass * acceleration * cg_height / base


@formula("F_max", FRICTION)
def greatest_force_front(
    friction: Ratio,
    mass: Mass,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    grade: Grade,
) -> Force:
    """Greatest driving force of a driven front axle.

    F = µ·m·g·cos α·(L - x)/(L + µ·h): the more it pulls, the less load it has.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0):
        raise FormulaError("friction, wheelbase and height must not be below zero")
    return (
        friction
        * mass
        * STANDARD_GRAVITY
        * cos(atan(grade))
        * (wheelbase - cg_distance)
        / (wheelbase + friction * cg_height)
    )


@formula("F_max", FRICTION)
def greatest_force_rear(
    friction: Ratio,
    mass: Mass,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    grade: Grade,
) -> Force:
    """Greatest driving force of a driven rear axle.

    F = µ·m·g·cos α·x/(L - µ·h): the more it pushes, the more load it has, until the front lifts.
    """
    if wheelbase - cg_distance < friction * cg_height:
        raise FormulaError("the front wheels would lift before the rear ones slide")
    return (
        friction
        * mass
        * STANDARD_GRAVITY
        * cos(atan(grade))
        * cg_distance
        / (wheelbase - friction * cg_height)
    )


@formula("F_max", FRICTION)
def greatest_force_all(friction: Ratio, mass: Mass, grade: Grade) -> Force:
    """Greatest driving force where all wheels are driven, shared as they are loaded.

    F = µ·m·g·cos α.
    """
    return friction * mass * STANDARD_GRAVITY * cos(atan(grade))


@formula("s_max", FRICTION)
def steepest_grade_front(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Grade:
    """Steepest grade that a driven front axle holds on, at steady speed.

    s = µ·(L - x)/(L + µ·h).
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0):
        raise FormulaError("friction, wheelbase and height must not be below zero")
    return friction * (wheelbase - cg_distance) / (wheelbase + friction * cg_height)


@formula("s_max", FRICTION)
def steepest_grade_rear(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Grade:
    """Steepest grade that a driven rear axle holds on, at steady speed.

    s = µ·x/(L - µ·h), until the front lifts.
    """
    if wheelbase - cg_distance < friction * cg_height:
        raise FormulaError("the front wheels would lift before the rear ones slide")
    return friction * cg_distance / (wheelbase - friction * cg_height)


@formula("s_max", FRICTION)
def steepest_grade_front_backwards(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Grade:
    """Steepest grade that a driven front axle holds on tail first, at steady speed.

    s = µ·(L - x)/(L - µ·h): the front is downhill and has more load, until the rear lifts.
    """
    if cg_distance < friction * cg_height:
        raise FormulaError("the rear wheels would lift before the front ones slide")
    return friction * (wheelbase - cg_distance) / (wheelbase - friction * cg_height)


@formula("s_max", FRICTION)
def steepest_grade_rear_backwards(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Grade:
    """Steepest grade that a driven rear axle holds on tail first, at steady speed.

    s = µ·x/(L + µ·h): the rear is uphill and has less load.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0):
        raise FormulaError("friction, wheelbase and height must not be below zero")
    return friction * cg_distance / (wheelbase + friction * cg_height)


@formula("s_max", FRICTION)
def steepest_grade_shared_front(
    friction: Ratio,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    front_share: Fraction,
) -> Grade:
    """Steepest grade on which front wheels that make a share of the force still hold.

    s = µ·(L - x)/(f·L + µ·h), with ``front_share`` f: a fixed split, so that one axle slides
    before the other. All of the force (f = 1) is a driven front axle alone.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0 and 0 < front_share <= 1):
        raise FormulaError("friction, wheelbase and height must not be below zero, a share above")
    return friction * (wheelbase - cg_distance) / (front_share * wheelbase + friction * cg_height)


@formula("s_max", FRICTION)
def steepest_grade_shared_rear(
    friction: Ratio,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    front_share: Fraction,
) -> Grade:
    """Steepest grade on which rear wheels that make the rest of the force still hold.

    s = µ·x/((1 - f)·L - µ·h), with ``front_share`` f; where the rear gains load faster than it
    needs it, it never slides first, and the result is µ.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0 and 0 <= front_share < 1):
        raise FormulaError("friction, wheelbase and height must not be below zero, a share above")
    return (
        friction
        * cg_distance
        / max((1 - front_share) * wheelbase - friction * cg_height, cg_distance)
    )


@formula("a_max", FRICTION)
def greatest_braking_shared_front(
    friction: Ratio,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    front_share: Fraction,
) -> Acceleration:
    """Deceleration at which front wheels that make a share of the braking slide, on the level.

    a = µ·g·(L - x)/(f·L - µ·h), with ``front_share`` f; where the front gains load faster than it
    needs it, it never slides first, and the result is µ·g.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0 and 0 < front_share <= 1):
        raise FormulaError("friction, wheelbase and height must not be below zero, a share above")
    return (
        friction
        * STANDARD_GRAVITY
        * (wheelbase - cg_distance)
        / max(front_share * wheelbase - friction * cg_height, wheelbase - cg_distance)
    )


@formula("a_max", FRICTION)
def greatest_braking_shared_rear(
    friction: Ratio,
    wheelbase: Length,
    cg_distance: Position,
    cg_height: Length,
    front_share: Fraction,
) -> Acceleration:
    """Deceleration at which rear wheels that make the rest of the braking slide, on the level.

    a = µ·g·x/((1 - f)·L + µ·h), with ``front_share`` f.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0 and 0 <= front_share < 1):
        raise FormulaError("friction, wheelbase and height must not be below zero, a share above")
    return (
        friction
        * STANDARD_GRAVITY
        * cg_distance
        / ((1 - front_share) * wheelbase + friction * cg_height)
    )


@formula("s_max", FRICTION)
def grade_of_braking(deceleration: Acceleration) -> Grade:
    """Grade tail first that loads the axles as a deceleration on the level does.

    s = a/g: tail first uphill, the force at the wheels and the load that moves to the front are
    those of braking.
    """
    return deceleration / STANDARD_GRAVITY


@formula("a_max", Source("The smaller of two limits", "", "computed"))
def weaker_braking(front: Acceleration, rear: Acceleration) -> Acceleration:
    """Deceleration that both axles still hold."""
    return min(front, rear)


@formula("s_max", FRICTION)
def steepest_grade_all(friction: Ratio) -> Grade:
    """Steepest grade that a vehicle with all wheels driven holds on, at steady speed.

    s = µ.
    """
    return friction


@formula("a_max", FRICTION)
def greatest_braking_front(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Acceleration:
    """Greatest deceleration by a driven front axle alone, on the level.

    a = µ·g·(L - x)/(L - µ·h): the more it brakes, the more load it has, until the rear lifts.
    """
    if cg_distance < friction * cg_height:
        raise FormulaError("the rear wheels would lift before the front ones slide")
    return (
        friction * STANDARD_GRAVITY * (wheelbase - cg_distance) / (wheelbase - friction * cg_height)
    )


@formula("a_max", FRICTION)
def greatest_braking_rear(
    friction: Ratio, wheelbase: Length, cg_distance: Position, cg_height: Length
) -> Acceleration:
    """Greatest deceleration by a driven rear axle alone, on the level.

    a = µ·g·x/(L + µ·h): the more it brakes, the less load it has.
    """
    if not (friction >= 0 and wheelbase > 0 and cg_height >= 0):
        raise FormulaError("friction, wheelbase and height must not be below zero")
    return friction * STANDARD_GRAVITY * cg_distance / (wheelbase + friction * cg_height)


@formula("a_max", FRICTION)
def greatest_braking_all(friction: Ratio) -> Acceleration:
    """Greatest deceleration by all wheels, on the level.

    a = µ·g.
    """
    return friction * STANDARD_GRAVITY
