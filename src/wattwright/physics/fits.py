"""Fits: sizes and play from limits, and what warmth does to the end float of a shaft.

    sizes      off_middle, half_tolerance
    play       play, loosest, tightest, offset_of_play
    keys       key_in_hub
    length     grown, warm_end_float, face_distance, moved

Limits are deviations from the nominal size, as ISO 286 states them: an upper and a lower one, of
the hole and of the shaft. Play below zero is interference: the shaft is wider than the hole.
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length, Position, TemperatureDifference, ThermalExpansion

LIMITS = Source("ISO 286-1, limits of size and fits: definitions", "", "computed")
GROWTH = Source("Linear thermal expansion", "definition of the coefficient", "computed")
GEOMETRY = Source("Geometry of a pin in a hole", "", "computed")

ASKED = {
    "nominal": ("nominal diameter", "30 mm"),
    "measured": ("measured diameter", "30.01 mm"),
    "upper": ("upper deviation", "0.021 mm"),
    "lower": ("lower deviation", "0 mm"),
    "hole": ("diameter of the hole", "30.01 mm"),
    "shaft": ("diameter of the shaft", "29.99 mm"),
    "hole_upper": ("upper deviation of the hole", "0.021 mm"),
    "hole_lower": ("lower deviation of the hole", "0 mm"),
    "shaft_upper": ("upper deviation of the shaft", "-0.007 mm"),
    "shaft_lower": ("lower deviation of the shaft", "-0.020 mm"),
    "height": ("height of the key", "7 mm"),
    "shaft_depth": ("depth of the slot in the shaft", "4 mm"),
    "slack": ("play in diameter", "0.04 mm"),
    "length": ("length that grows", "300 mm"),
    "expansion": ("thermal expansion of the material", "11.7 µm/(m·K)"),
    "warmer": ("how much warmer than when measured", "60 K"),
    "cold": ("end float when measured", "0.8 mm"),
    "inner": ("growth of the shaft", "0.21 mm"),
    "outer": ("growth of the housing", "0.35 mm"),
    "stands_out": ("how far it stands out from the motor's face", "38 mm"),
    "plate": ("thickness of the adaptor between the faces", "22 mm"),
    "before": ("where the face was", "15.5 mm"),
    "now": ("where it is now", "16 mm"),
}


@formula("Δ", LIMITS)
def off_middle(measured: Length, nominal: Length, upper: Position, lower: Position) -> Position:
    """How far a diameter is from the middle of its limits, all in m."""
    return measured - nominal - (upper + lower) / 2


@formula("t", LIMITS)
def half_tolerance(upper: Position, lower: Position) -> Length:
    """Half of what lies between two limits, in m."""
    if upper < lower:
        raise FormulaError("the upper deviation must not be below the lower one")
    return (upper - lower) / 2


@formula("s", LIMITS)
def play(hole: Length, shaft: Length) -> Position:
    """Play of a shaft in a hole, in diameter: below zero it is a press fit. All in m."""
    return hole - shaft


@formula("s_max", LIMITS)
def loosest(hole_upper: Position, shaft_lower: Position) -> Position:
    """Most play that limits allow: widest hole, thinnest shaft. All in m."""
    return hole_upper - shaft_lower


@formula("s_min", LIMITS)
def tightest(hole_lower: Position, shaft_upper: Position) -> Position:
    """Least play that limits allow: narrowest hole, thickest shaft. All in m."""
    return hole_lower - shaft_upper


@formula("e", GEOMETRY)
def offset_of_play(slack: Position) -> Length:
    """How far a spigot may sit off the middle of its hole.

    e = max(0, s)/2, with the play s in diameter, in m: nothing where it is pressed.
    """
    return max(0.0, slack) / 2


@formula("h", GEOMETRY)
def key_in_hub(height: Length, shaft_depth: Length) -> Length:
    """Height of a key that stands in the hub: all of it less the slot in the shaft, in m."""
    if not 0 < shaft_depth < height:
        raise FormulaError("the slot is shallower than the key is high")
    return height - shaft_depth


@formula("ΔL", GROWTH)
def grown(length: Length, expansion: ThermalExpansion, warmer: TemperatureDifference) -> Position:
    """How much longer a length becomes when it is warmer.

    ΔL = α·L·ΔT: ``expansion`` α in 1/K, ``length`` L in m, ``warmer`` ΔT in K. Holds for metals
    from frost to boiling oil, over which α changes by a few per cent.
    """
    return expansion * length * warmer


@formula("f", GROWTH)
def warm_end_float(cold: Length, inner: Position, outer: Position) -> Position:
    """End float of a shaft between two stops once it and its housing are warm.

    The shaft takes up float as it grows, the housing gives it back. All in m.
    """
    return cold + outer - inner


@formula("z", LIMITS)
def face_distance(stands_out: Length, plate: Length) -> Position:
    """How far a face stands beyond the adaptor: what it stands out from the motor, less the plate.

    Both in m from the motor's face; below zero the face stays inside the adaptor.
    """
    return stands_out - plate


@formula("Δ", LIMITS)
def moved(before: Position, now: Position) -> Position:
    """How far a face has moved towards the gearbox, all in m."""
    return now - before
