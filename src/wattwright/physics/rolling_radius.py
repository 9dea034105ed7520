"""How far a wheel rolls in a turn, and how high the axle stands, from the size on the sidewall.

    read_size                                  a size as typed: width, aspect, rim, construction
    design_diameter                            of a size that states its aspect ratio
    rolling_circumference, cross_ply_circumference   from the outer diameter
    measured_circumference                     from a distance rolled: better than any size
    rolling_radius, turns_per_kilometre
    static_radius_low, static_radius_high      height of the axle over the floor, a band

A size without an aspect ratio (155R13) is not 80 or 82 % by some rule: its diameter was printed
in a table. All rows of that table are from memory; they may be shown, but a limit that rests on
one needs a measured circumference. ``TyreSize.limits`` says which is which.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from math import floor

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Count, Length, Ratio
from wattwright.tables import load

# Nominal rim diameters, by the code in the size: the code in inches, rounded to a millimetre.
RIM_DIAMETER = {
    10.0: 0.254,
    12.0: 0.305,
    13.0: 0.330,
    14.0: 0.356,
    15.0: 0.381,
    16.0: 0.406,
    17.0: 0.432,
    18.0: 0.457,
    19.0: 0.483,
    20.0: 0.508,
}
# Half a millimetre rounds up, also where the product falls a hair short in binary.
HALF_UP = 0.5 + 1e-9
RADIAL = 3.05
CROSS_PLY = 2.99
STATIC_LOW, STATIC_HIGH = 0.92, 0.96

DESIGNATION = Source(
    "Definition of the size designation, UN Regulation No. 30 and ISO 4000-1",
    "D = d + 2H",
    "computed",
)
FACTORS = Source("ETRTO Standards Manual", "general data, rolling circumference", "memory")
ROLLING = Source("Definition of the rolling circumference", "", "computed")
STATIC = Source("Static loaded radius of car tyres", "", "practice")

MEASURE = (
    "measure the rolling circumference: mark tyre and floor, roll ten turns straight with the "
    "car loaded and the tyres at pressure, and divide the distance by ten"
)

_SERVICE = r"(?:\s+[0-9A-Z/() .]+)?"
_ASPECT = re.compile(
    rf"(?:P|LT)?\s*(\d{{3}})\s*/\s*(\d{{2,3}})\s*([SHVZ]?R|-|D)\s*(\d{{2}})\s*(C?){_SERVICE}"
)
_FULL = re.compile(rf"(\d{{3}})\s*[SHV]?R\s*(\d{{2}})\s*(C?){_SERVICE}")
_INCH = re.compile(r"\d{1,2}[.,]\d{1,2}\s*(?:[SHV]?R|-|/|X)\s*\d{2}.*")

ASKED = {
    "rim_code": ("code of the rim, as on the sidewall", "13"),
    "width": ("width of the tyre", "155 mm"),
    "aspect": ("height of the sidewall over the width", "0.8"),
    "diameter": ("outer diameter of the new tyre", "578 mm"),
    "distance": ("distance rolled", "17.6 m"),
    "turns": ("turns of the wheel", "10"),
    "circumference": ("rolling circumference", "1760 mm"),
}


@dataclass(frozen=True, slots=True)
class TyreSize:
    """A tyre size as read; lengths in m. ``aspect`` is None where the size states none."""

    text: str
    width: float
    aspect: float | None
    rim_code: float
    radial: bool
    commercial: bool
    diameter: float
    source: Source

    @property
    def limits(self) -> bool:
        """True where a limit may rest on the diameter."""
        return self.source.flag != "memory"


def read_size(text: str) -> TyreSize:
    """Read a tyre size as typed, such as 155/80R13, 165/65 R14 79T or 185R14C."""
    typed = " ".join(text.upper().split())
    if found := _ASPECT.fullmatch(typed):
        width, aspect, construction, rim, commercial = found.groups()
        return _with_aspect(
            int(width), int(aspect), int(rim), construction.endswith("R"), bool(commercial)
        )
    if found := _FULL.fullmatch(typed):
        width, rim, commercial = found.groups()
        return _full_profile(int(width), int(rim), bool(commercial))
    if _INCH.fullmatch(typed):
        raise FormulaError(f"{text}: no diameter follows from a size in inches; {MEASURE}")
    raise FormulaError(
        f"{text}: not a tyre size; write it as on the sidewall, such as 155/80R13 or 185R14C, or "
        f"{MEASURE}"
    )


def _with_aspect(width: int, aspect: int, rim: int, radial: bool, commercial: bool) -> TyreSize:
    mark = "R" if radial else "-"
    text = f"{width}/{aspect}{mark}{rim}{'C' if commercial else ''}"
    try:
        diameter = design_diameter(rim, width / 1000, aspect / 100)
    except FormulaError as error:
        raise FormulaError(f"{text}: {error}") from None
    return TyreSize(
        text, width / 1000, aspect / 100, float(rim), radial, commercial, diameter, DESIGNATION
    )


def _full_profile(width: int, rim: int, commercial: bool) -> TyreSize:
    text = f"{width}R{rim}{'C' if commercial else ''}"
    table = load("tyre_full_profile")
    if text not in table.rows:
        raise FormulaError(
            f"{text}: a size without an aspect ratio has its diameter in a table, which has "
            f"{', '.join(table.rows)}; {MEASURE}"
        )
    row = table.row(text)
    diameter = row.number("outer_diameter_mm") / 1000
    return TyreSize(text, width / 1000, None, float(rim), True, commercial, diameter, row.source)


@formula("D", DESIGNATION, valid={"width": (0.125, 0.355), "aspect": (0.25, 0.85)})
def design_diameter(rim_code: Count, width: Length, aspect: Ratio) -> Length:
    """Outer diameter of a new tyre, from a size that states its aspect ratio.

    D = d + 2·H, with d the nominal diameter of the rim ``rim_code`` and H = ``width`` (m) times
    ``aspect``, both rounded to a whole millimetre. That rounding is from memory; it moves D by
    1.5 mm at most.
    """
    if rim_code not in RIM_DIAMETER:
        raise FormulaError(f"no rim of code {rim_code:g}; known are 10 and 12 to 20")
    if not (0.1 <= width <= 0.4 and 0.2 <= aspect <= 1):
        raise FormulaError("no car tyre is this wide, or this tall for its width")
    return RIM_DIAMETER[rim_code] + 2 * floor(1000 * width * aspect + HALF_UP) / 1000


@formula("C", FACTORS)
def rolling_circumference(diameter: Length) -> Length:
    """Distance a radial tyre rolls in one turn, from its outer diameter.

    C = 3.05·D, with ``diameter`` D of the new tyre in m, loaded, at 60 km/h.
    """
    return RADIAL * diameter


@formula("C", FACTORS)
def cross_ply_circumference(diameter: Length) -> Length:
    """Distance a cross-ply tyre rolls in one turn, from its outer diameter.

    C = 2.99·D, with ``diameter`` D of the new tyre in m, loaded.
    """
    return CROSS_PLY * diameter


@formula("C", ROLLING)
def measured_circumference(distance: Length, turns: Count) -> Length:
    """Distance a wheel rolls in one turn, from a distance rolled.

    C = s/n, with ``distance`` s in m over ``turns`` n of the wheel.
    """
    if not (distance > 0 and turns > 0):
        raise FormulaError("the distance and the turns must be above zero")
    return distance / turns


@formula("r", ROLLING)
def rolling_radius(circumference: Length) -> Length:
    """Radius of a rigid wheel that would roll as far in a turn.

    r = C/(2·π), with ``circumference`` C in m.
    """
    return circumference / (2 * math.pi)


@formula("n", ROLLING)
def turns_per_kilometre(circumference: Length) -> Count:
    """Turns of the wheel in a kilometre.

    n = 1000 m/C, with ``circumference`` C in m.
    """
    if circumference <= 0:
        raise FormulaError("the circumference must be above zero")
    return 1000 / circumference


@formula("r_s", STATIC)
def static_radius_low(diameter: Length) -> Length:
    """Least height of a loaded wheel's centre over the floor.

    r = 0.92·D/2, with ``diameter`` D in m. A band for checking a tape, never a limit.
    """
    return STATIC_LOW * diameter / 2


@formula("r_s", STATIC)
def static_radius_high(diameter: Length) -> Length:
    """Greatest height of a loaded wheel's centre over the floor.

    r = 0.96·D/2, with ``diameter`` D in m. A band for checking a tape, never a limit.
    """
    return STATIC_HIGH * diameter / 2
