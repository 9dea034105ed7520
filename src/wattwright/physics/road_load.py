"""What the road takes: rolling, air and climb, and how a coast-down tells them.

    parts         rolling_force, air_force, grade_force, road_load
    coefficients  rolling_constant, coefficient_of_constant, air_square, constant_in_wind,
                  linear_in_wind, square_at_density, square_within; reference_mass,
                  default_constant, default_square, default_row
    coast-down    coast_down_force, mid_speed, two_window_square, two_window_constant,
                  fitted_square, fitted_constant, coast_down_time
    inertia       total_inertia, inertia_at_axle, equivalent_mass, equivalent_mass_by_share

Road load is F = f0 + f1·v + f2·v². The constant f0 is rolling (N), f1 grows with speed (N·s/m),
f2 is mostly air (N·s²/m²). Speeds are along the road, a headwind blows against it, and a grade is
rise over run, positive uphill.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, cos, inf, nextafter, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    DRAG_SQUARE,
    Area,
    Count,
    Density,
    DragLinear,
    DragSquare,
    Force,
    Fraction,
    Grade,
    Inertia,
    Length,
    Mass,
    Ratio,
    Speed,
    Time,
)
from wattwright.tables import Row, load
from wattwright.units import read

STANDARD_GRAVITY = 9.80665  # m/s²

STATICS = Source("Equilibrium of a vehicle on a slope", "", "computed")
ROLLING = Source("Definition of the coefficient of rolling resistance", "", "computed")
DRAG = Source("Definition of the drag coefficient", "", "computed")
DEFINITION = Source("Definition of the road load coefficients", "", "computed")
NEWTON = Source("Second law of motion", "", "computed")
COAST_DOWN = Source("UN GTR No. 15", "Annex 4, coast-down with stationary anemometry", "memory")
FIT = Source("Least squares of a straight line over the square of speed", "", "computed")
DEFAULT = Source(
    "UN Regulation No. 83", "Annex 4a, table 3, load of the dynamometer by reference mass"
)

# By the greatest reference mass of each row.
DEFAULT_CONSTANT = {row.number("up_to_kg"): row.number("a_n") for row in load("road_load_default")}
DEFAULT_SQUARE = {
    row.number("up_to_kg"): read(f"{row.cells['b_n_per_kmh2']} N/(km/h)²", DRAG_SQUARE).number
    for row in load("road_load_default")
}
# Rows that were read in a copy of the regulation. Those up to and including 1,080 kg are from
# memory: what rests on them carries a doubt.
DEFAULT_SEEN = {"reference_mass": (nextafter(1_080.0, inf), 2_610.0)}

ASKED = {
    "mass": ("mass of the vehicle", "1240 kg"),
    "grade": ("grade, uphill above zero", "12 %"),
    "rolling_coefficient": ("coefficient of rolling resistance", "0.012"),
    "density": ("density of the air", "1.2 kg/m³"),
    "drag_coefficient": ("drag coefficient", "0.38"),
    "area": ("frontal area", "1.9 m²"),
    "speed": ("road speed", "60 km/h"),
    "headwind": ("headwind, tailwind below zero", "10 km/h"),
    "f0": ("constant part of the road load, f0", "150 N"),
    "f1": ("part that grows with speed, f1", "0.5 N/(km/h)"),
    "f2": ("part that grows with speed squared, f2", "0.03 N/(km/h)²"),
    "share": ("share more, or less where below zero", "0 %"),
    "kerb": ("kerb mass without a driver", "1240 kg"),
    "extra": ("what is added for a driver and his things", "100 kg"),
    "density_then": ("density of the air then", "1.18 kg/m³"),
    "density_now": ("density of the air now", "1.2 kg/m³"),
    "reference_mass": ("mass with a driver and his things", "1340 kg"),
    "equivalent_mass": ("mass of the vehicle with what rotates", "1290 kg"),
    "from_speed": ("speed at the start", "60 km/h"),
    "to_speed": ("speed at the end", "50 km/h"),
    "time": ("time from the one to the other", "12 s"),
    "fast_force": ("road load in the fast window", "420 N"),
    "fast_speed": ("speed in the middle of the fast window", "80 km/h"),
    "slow_force": ("road load in the slow window", "220 N"),
    "slow_speed": ("speed in the middle of the slow window", "40 km/h"),
    "windows": ("number of windows", "3"),
    "forces": ("road load in each window", "420 N; 300 N; 220 N"),
    "speeds": ("speed in the middle of each window", "80 km/h; 60 km/h; 40 km/h"),
    "motor": ("inertia of all that turns with the motor", "0.04 kg·m²"),
    "driveline": ("inertia of all between gearbox and final drive", "0.01 kg·m²"),
    "wheels": ("inertia of all wheels, half-shafts and discs", "3.2 kg·m²"),
    "gear_ratio": ("ratio of the gear", "1.9"),
    "final_ratio": ("ratio of the final drive", "4.1"),
    "inertias": ("inertia of each thing", "0.03 kg·m²; 0.01 kg·m²"),
    "inertia": ("inertia of all that rotates, at the axle", "5.8 kg·m²"),
    "rolling_radius": ("rolling radius", "275 mm"),
    "rotating_share": ("share that what rotates adds", "4 %"),
}


@formula("F_roll", ROLLING)
def rolling_force(mass: Mass, grade: Grade, rolling_coefficient: Ratio) -> Force:
    """Rolling resistance on a slope.

    F = Crr·m·g·cos(atan s), with ``mass`` m in kg, ``grade`` s and ``rolling_coefficient`` Crr
    without a unit.
    """
    return rolling_coefficient * mass * STANDARD_GRAVITY * cos(atan(grade))


@formula("F_air", DRAG)
def air_force(
    density: Density, drag_coefficient: Ratio, area: Area, speed: Speed, headwind: Speed
) -> Force:
    """Force of the air at a speed in a wind.

    F = ρ/2·Cd·A·(v + w)·|v + w|, with ``density`` ρ in kg/m³, ``area`` A in m², ``speed`` v and
    ``headwind`` w in m/s; a tailwind is below zero and may push.
    """
    return density / 2 * drag_coefficient * area * (speed + headwind) * abs(speed + headwind)


@formula("F_grade", STATICS)
def grade_force(mass: Mass, grade: Grade) -> Force:
    """Force that a slope takes, or gives where it falls.

    F = m·g·sin(atan s), with ``mass`` m in kg and ``grade`` s as rise over run.
    """
    return mass * STANDARD_GRAVITY * sin(atan(grade))


@formula("F", DEFINITION)
def road_load(f0: Force, f1: DragLinear, f2: DragSquare, speed: Speed) -> Force:
    """Road load on the level.

    F = f0 + f1·v + f2·v², with f0 in N, f1 in N·s/m, f2 in N·s²/m² and ``speed`` v in m/s.
    """
    return f0 + f1 * speed + f2 * speed**2


@formula("f0", ROLLING)
def rolling_constant(mass: Mass, rolling_coefficient: Ratio) -> Force:
    """Constant part of the road load, from mass and rolling resistance.

    f0 = Crr·m·g, on the level; ``mass`` m in kg.
    """
    return rolling_coefficient * mass * STANDARD_GRAVITY


@formula("f2", DRAG)
def air_square(density: Density, drag_coefficient: Ratio, area: Area) -> DragSquare:
    """Part of the road load that grows with speed squared, from the drag of the body.

    f2 = ρ/2·Cd·A, with ``density`` ρ in kg/m³ and ``area`` A in m².
    """
    return density / 2 * drag_coefficient * area


@formula("f0", DRAG)
def constant_in_wind(f0: Force, f2: DragSquare, headwind: Speed) -> Force:
    """Constant part of the road load in a headwind.

    f0 + f2·w²: what is left of f2·(v + w)² at standstill. Holds while ``headwind`` w (m/s) and
    speed together are not below zero.
    """
    return f0 + f2 * headwind**2


@formula("f1", DRAG)
def linear_in_wind(f1: DragLinear, f2: DragSquare, headwind: Speed) -> DragLinear:
    """Part of the road load that grows with speed, in a headwind.

    f1 + 2·f2·w: the middle term of f2·(v + w)², with ``headwind`` w in m/s.
    """
    return f1 + 2 * f2 * headwind


@formula("f2", Source("A share more or less of a default", "", "computed"))
def square_within(f2: DragSquare, share: Fraction) -> DragSquare:
    """Part that grows with speed squared, a share more or less.

    f2·(1 + s): ``share`` s is nought, and its band is how well the default fits a vehicle.
    """
    return f2 * (1 + share)


@formula("Crr", ROLLING)
def coefficient_of_constant(f0: Force, mass: Mass) -> Ratio:
    """Rolling resistance over weight, from the constant part of a road load.

    Crr = f0/(m·g), with ``mass`` m in kg for which f0 was taken.
    """
    if mass <= 0:
        raise FormulaError("the mass must be above zero")
    return f0 / (mass * STANDARD_GRAVITY)


@formula("m_ref", Source("UN Regulation No. 83", "definition of the reference mass"))
def reference_mass(kerb: Mass, extra: Mass) -> Mass:
    """Mass by which the default load is chosen.

    Kerb mass without driver and 100 kg. Both kg.
    """
    return kerb + extra


@formula("f2", DRAG)
def square_at_density(f2: DragSquare, density_then: Density, density_now: Density) -> DragSquare:
    """Part that grows with speed squared, brought from one density of the air to another.

    f2·ρ₂/ρ₁, both densities in kg/m³; what little of f2 is not air is neglected.
    """
    if density_then <= 0:
        raise FormulaError("the density on the day must be above zero")
    return f2 * density_now / density_then


@formula("f0", DEFAULT, valid=DEFAULT_SEEN)
def default_constant(reference_mass: Mass) -> Force:
    """Constant part of the load that a test bench is set to where no road load is known.

    Made for the load at 80 km/h on rollers: it takes too little at low speed, where the rollers
    themselves resist. ``reference_mass`` in kg is the mass with a driver and his things.
    """
    if not 0 < reference_mass <= max(DEFAULT_CONSTANT):
        raise FormulaError("the table of default loads ends at 2,610 kg")
    return DEFAULT_CONSTANT[min(bound for bound in DEFAULT_CONSTANT if bound >= reference_mass)]


@formula("f2", DEFAULT, valid=DEFAULT_SEEN)
def default_square(reference_mass: Mass) -> DragSquare:
    """Part that grows with speed squared, of the load of a test bench where none is known.

    Made for the load at 80 km/h on rollers: it takes too much far above that speed.
    ``reference_mass`` in kg is the mass with a driver and his things. Vehicles other than
    passenger cars above 1,700 kg, and those with all wheels driven, are set to 1.3 times.
    """
    if not 0 < reference_mass <= max(DEFAULT_SQUARE):
        raise FormulaError("the table of default loads ends at 2,610 kg")
    return DEFAULT_SQUARE[min(bound for bound in DEFAULT_SQUARE if bound >= reference_mass)]


def default_row(reference_mass: float) -> Row:
    """Find the row behind a default, with its source and flag."""
    for row in load("road_load_default"):
        if row.number("over_kg") < reference_mass <= row.number("up_to_kg"):
            return row
    raise FormulaError("the table of default loads ends at 2,610 kg")


@formula("F", COAST_DOWN)
def coast_down_force(
    equivalent_mass: Mass, from_speed: Speed, to_speed: Speed, time: Time
) -> Force:
    """Mean road load while the vehicle coasts from one speed to a lower one.

    F = m·(v₁ - v₂)/t, taken to hold at the middle of the two speeds; ``equivalent_mass`` m in kg
    with what rotates, speeds in m/s, ``time`` t in s.
    """
    if not (from_speed > to_speed >= 0 and time > 0):
        raise FormulaError("a coast-down goes from a speed to a lower one and takes some time")
    return equivalent_mass * (from_speed - to_speed) / time


@formula("v", COAST_DOWN)
def mid_speed(from_speed: Speed, to_speed: Speed) -> Speed:
    """Speed in the middle of a coast-down window.

    v = (v₁ + v₂)/2, in m/s.
    """
    return (from_speed + to_speed) / 2


@formula("f2", FIT)
def two_window_square(
    fast_force: Force, fast_speed: Speed, slow_force: Force, slow_speed: Speed
) -> DragSquare:
    """Part of the road load that grows with speed squared, from two coast-down windows.

    f2 = (F₁ - F₂)/(v₁² - v₂²), with f1 taken as nought; forces in N, speeds in m/s.
    """
    if fast_speed <= slow_speed:
        raise FormulaError("the two windows must be at different speeds, the fast one first")
    return (fast_force - slow_force) / (fast_speed**2 - slow_speed**2)


@formula("f0", FIT)
def two_window_constant(
    fast_force: Force, fast_speed: Speed, slow_force: Force, slow_speed: Speed
) -> Force:
    """Constant part of the road load, from two coast-down windows.

    f0 = (F₂·v₁² - F₁·v₂²)/(v₁² - v₂²), with f1 taken as nought; forces in N, speeds in m/s.
    """
    if fast_speed <= slow_speed:
        raise FormulaError("the two windows must be at different speeds, the fast one first")
    return (slow_force * fast_speed**2 - fast_force * slow_speed**2) / (
        fast_speed**2 - slow_speed**2
    )


@formula("f2", FIT)
def fitted_square(windows: Count, forces: Sequence[Force], speeds: Sequence[Speed]) -> DragSquare:
    """Part of the road load that grows with speed squared, from several coast-down windows.

    Least squares of F = f0 + f2·v² over so many ``windows``, with f1 taken as nought; ``forces``
    in N at the middle ``speeds`` in m/s, two or more of them different.
    """
    if not len(speeds) == len(forces) == windows:
        raise FormulaError("each window has one force and one speed")
    if len(set(speeds)) < 2:
        raise FormulaError("windows at two different speeds or more are needed")
    return (
        windows * sum(force * speed**2 for force, speed in zip(forces, speeds, strict=True))
        - sum(forces) * sum(speed**2 for speed in speeds)
    ) / (
        windows * sum(speed**4 for speed in speeds)
        - sum(speed**2 for speed in speeds) * sum(speed**2 for speed in speeds)
    )


@formula("f0", FIT)
def fitted_constant(windows: Count, forces: Sequence[Force], speeds: Sequence[Speed]) -> Force:
    """Constant part of the road load, from several coast-down windows.

    Least squares of F = f0 + f2·v² over so many ``windows``, with f1 taken as nought; ``forces``
    in N at the middle ``speeds`` in m/s, two or more of them different.
    """
    if not len(speeds) == len(forces) == windows:
        raise FormulaError("each window has one force and one speed")
    if len(set(speeds)) < 2:
        raise FormulaError("windows at two different speeds or more are needed")
    return (
        sum(forces) * sum(speed**4 for speed in speeds)
        - sum(force * speed**2 for force, speed in zip(forces, speeds, strict=True))
        * sum(speed**2 for speed in speeds)
    ) / (
        windows * sum(speed**4 for speed in speeds)
        - sum(speed**2 for speed in speeds) * sum(speed**2 for speed in speeds)
    )


@formula("t", NEWTON)
def coast_down_time(
    equivalent_mass: Mass, f0: Force, f2: DragSquare, from_speed: Speed, to_speed: Speed
) -> Time:
    """Time to coast from one speed to a lower one on the level.

    t = m/√(f0·f2)·(atan(v₁·√(f2/f0)) - atan(v₂·√(f2/f0))), with f1 taken as nought: what a
    coast-down on the road can be compared with. ``equivalent_mass`` m in kg, speeds in m/s.
    """
    if not (f0 > 0 and f2 > 0):
        raise FormulaError("both coefficients must be above zero")
    if not from_speed >= to_speed >= 0:
        raise FormulaError("a coast-down goes from a speed to a lower one")
    return (
        equivalent_mass
        / sqrt(f0 * f2)
        * (atan(from_speed * sqrt(f2 / f0)) - atan(to_speed * sqrt(f2 / f0)))
    )


@formula("J", Source("Kinetic energy of geared masses", "", "computed"))
def inertia_at_axle(
    motor: Inertia, driveline: Inertia, wheels: Inertia, gear_ratio: Ratio, final_ratio: Ratio
) -> Inertia:
    """Inertia of everything that rotates, as felt at the driven axle.

    J = J_m·(i·i₀)² + J_d·i₀² + J_w, with ``motor`` all that turns with the motor, ``driveline``
    all between gearbox and final drive, ``wheels`` all wheels, half-shafts and discs together,
    each in kg·m².
    """
    return motor * (gear_ratio * final_ratio) ** 2 + driveline * final_ratio**2 + wheels


@formula(
    "J",
    Source("Sum of inertias on one shaft", "", "computed"),
    gradient=lambda inertias: ([1.0] * len(inertias),),
)
def total_inertia(inertias: Sequence[Inertia]) -> Inertia:
    """Inertia of everything that turns with one shaft, kg·m²."""
    return sum(inertias)


@formula("m_eq", Source("Kinetic energy of a rolling vehicle", "", "computed"))
def equivalent_mass(mass: Mass, inertia: Inertia, rolling_radius: Length) -> Mass:
    """Mass that would be as hard to accelerate as the vehicle with all that rotates.

    m + J/r², with ``mass`` m in kg, ``inertia`` J at the axle in kg·m² and ``rolling_radius`` r
    in m.
    """
    if rolling_radius <= 0:
        raise FormulaError("the rolling radius must be above zero")
    return mass + inertia / rolling_radius**2


@formula("m_eq", Source("Definition of the share of rotating masses", "", "computed"))
def equivalent_mass_by_share(mass: Mass, rotating_share: Fraction) -> Mass:
    """Equivalent mass where only the share of what rotates is known.

    m·(1 + λ), with ``mass`` m in kg; ``rotating_share`` λ is a few hundredths for wheels alone.
    """
    return mass * (1 + rotating_share)
