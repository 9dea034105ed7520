"""Height of the centre of gravity: from an axle-lift weighing, and from parts.

    cg_height, lift_angle_from_height, gain_on_floor_axle      one axle lifted, suspension locked
    scales_part, level_part, height_band, band_reached, angle_for_accuracy
                                                               how well that can be known
    height_after                                              parts taken out and put in

The other axle gains load as the vehicle is tilted; the gain grows with the height of the centre
of gravity above the line through the wheel centres. With a small tilt the gain is no larger than
the error of the scales.

Sources: the lift formula follows from moments about the axle that stays on the floor; ISO 10392
describes the method.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, atan, sin, sqrt, tan

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Length, Mass, MomentOfMass, Position

LIFT = Source(
    "Static equilibrium of a tilted vehicle, the axle-lift method of ISO 10392", "", "computed"
)
FIRST_ORDER = Source("First-order error of the lift formula", "", "computed")
# Below it no scales tell the gain from their own error.
SMALLEST_TILT = 0.02
DEFINITION = Source("Definition", "", "computed")

ASKED = {
    "mass": ("mass of the vehicle", "1240 kg"),
    "wheelbase": ("wheelbase", "2540 mm"),
    "gain": ("load that the axle on the floor gains", "42 kg"),
    "cg_height.angle": ("tilt of the vehicle", "12°"),
    "height_band.angle": ("tilt of the vehicle", "12°"),
    "axle_height": ("height of the wheel centres over the floor", "280 mm"),
    "lift": ("height by which the axle was lifted", "600 mm"),
    "gain_on_floor_axle.level": ("load on the axle while level", "600 kg"),
    "lifted": ("load on the axle while the other is lifted", "642 kg"),
    "gain_band": ("band of the gain", "1.5 kg"),
    "height": ("height of the centre of gravity", "560 mm"),
    "angle_band": ("band of the tilt", "0.2°"),
    "scales": ("band that the scales would cause at 45°", "8 mm"),
    "level": ("band that the level would cause at its best angle, halved", "1 mm"),
    "wanted": ("band wanted of the height", "20 mm"),
    "bands": ("band of the height from each input", "12 mm; 5 mm; 3 mm"),
    "masses": ("masses", "420 kg; 310 kg; 95 kg"),
    "heights": ("height of each mass over the floor", "500 mm; 450 mm; 800 mm"),
    "mass_before": ("mass before", "1180 kg"),
    "height_before": ("height of the centre of gravity before", "560 mm"),
    "moment_taken_out": ("moment over the floor of what was taken out", "90 kg·m"),
    "moment_put_in": ("moment over the floor of what was put in", "110 kg·m"),
    "mass_after": ("mass after", "1240 kg"),
}


@formula("h", LIFT, valid={"angle": (SMALLEST_TILT, 0.60)})
def cg_height(
    mass: Mass, wheelbase: Length, gain: Mass, angle: Angle, axle_height: Length
) -> Length:
    """Height of the centre of gravity from one axle-lift weighing, suspension locked."""
    if mass <= 0 or angle <= 0:
        raise FormulaError("the mass and the angle must be above zero")
    return axle_height + wheelbase * gain / (mass * tan(angle))


@formula("α", Source("Right triangle over the wheelbase", "", "computed"))
def lift_angle_from_height(lift: Length, wheelbase: Length) -> Angle:
    """Tilt of the vehicle when one axle has been lifted by a height."""
    if not 0 < lift < wheelbase:
        raise FormulaError("the lift must be above zero and below the wheelbase")
    return asin(lift / wheelbase)


@formula("Δm", DEFINITION)
def gain_on_floor_axle(level: Mass, lifted: Mass) -> Mass:
    """Load the axle on the floor gains when the other is lifted."""
    return lifted - level


@formula("k", FIRST_ORDER)
def scales_part(mass: Mass, wheelbase: Length, gain_band: Mass) -> Length:
    """Band of the height that the scales would cause at 45°."""
    return wheelbase * gain_band / mass


@formula("q", FIRST_ORDER)
def level_part(height: Length, axle_height: Length, angle_band: Angle) -> Length:
    """Band of the height that the level would cause at its best angle, halved."""
    return abs(height - axle_height) * angle_band


@formula("Δh", FIRST_ORDER)
def height_band(scales: Length, level: Length, angle: Angle) -> Length:
    """Band of the height that scales and level cause at some tilt."""
    return sqrt((scales / tan(angle)) ** 2 + (2 * level / sin(2 * angle)) ** 2)


@formula("Δh", FIRST_ORDER)
def band_reached(bands: Sequence[Length]) -> Length:
    """Band of the height from the bands of everything it was worked out from."""
    return sqrt(sum(band * band for band in bands))


@formula("α_min", FIRST_ORDER)
def angle_for_accuracy(scales: Length, level: Length, wanted: Length) -> Angle:
    """Smallest tilt at which scales and level give the height as closely as wanted.

    With t = tan α the band squared is (k/t)² + (q(1 + t²)/t)²; equal to the wanted band squared
    that is a quadratic in t², of which the smaller root counts.
    """
    if wanted**2 <= 2 * level**2 or (wanted**2 - 2 * level**2) ** 2 < 4 * level**2 * (
        scales**2 + level**2
    ):
        raise FormulaError("no tilt is enough with these scales and this level")
    return atan(
        sqrt(
            2
            * (scales**2 + level**2)
            / (
                wanted**2
                - 2 * level**2
                + sqrt((wanted**2 - 2 * level**2) ** 2 - 4 * level**2 * (scales**2 + level**2))
            )
        )
    )


@formula("M_z", DEFINITION, gradient=lambda masses, heights: (list(heights), list(masses)))
def height_moment(masses: Sequence[Mass], heights: Sequence[Position]) -> MomentOfMass:
    """Moment of several masses above the floor."""
    return sum(m * z for m, z in zip(masses, heights, strict=True))


@formula("h", Source("Static equilibrium of a rigid body", "", "computed"))
def height_after(
    mass_before: Mass,
    height_before: Length,
    moment_taken_out: MomentOfMass,
    moment_put_in: MomentOfMass,
    mass_after: Mass,
) -> Length:
    """Height of the centre of gravity after things were taken out and put in."""
    return (mass_before * height_before - moment_taken_out + moment_put_in) / mass_after
