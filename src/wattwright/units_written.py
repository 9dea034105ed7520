"""Writing numbers: the unit and the digits a reader expects."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, get_args

from wattwright import kinds
from wattwright.errors import UnitsError
from wattwright.kinds import Kind
from wattwright.unit_table import (
    AWG_LARGEST,
    AWG_RATIO,
    AWG_REFERENCE,
    AWG_SMALLEST,
    Unit,
    article,
    family,
    wire_area,
)

Taste = Literal["metric", "inch", "mixed"]
TASTES: tuple[Taste, ...] = get_args(Taste)


def _nearest_gauge(area: float) -> str | None:
    """Return the gauge within two per cent of ``area``, the tolerance on drawn wire."""
    if area <= 0.0:
        return None
    diameter = math.sqrt(4 / math.pi * area)
    gauge = round(36 - 39 * math.log(diameter / float(AWG_REFERENCE), AWG_RATIO))
    if not AWG_LARGEST <= gauge <= AWG_SMALLEST:
        return None
    name = str(gauge) if gauge > 0 else f"{1 - gauge}/0"
    return f"{name} AWG" if abs(wire_area(gauge) / area - 1.0) <= 0.02 else None


@dataclass(frozen=True, slots=True)
class Rung:
    """A unit to write in, for amounts below ``below`` (SI).

    ``digits`` are shown, without trailing zeros beyond ``keep`` decimals and never more than
    ``most`` decimals.
    """

    unit: Unit
    below: float
    digits: int
    keep: int
    most: int | None


@dataclass(frozen=True, slots=True)
class Ladder:
    """The units one kind is written in, smallest amounts first, and the usual one."""

    rungs: tuple[Rung, ...]
    usual: Rung


# The units written, metric then inch, smallest amounts first: `<` gives the SI amount below which
# a unit is used and `*` marks the usual one.
_WRITTEN: dict[kinds.Kind, tuple[str, str]] = {
    kinds.MASS: ("g<1 *kg", "oz<0.45 *lb"),
    kinds.LENGTH: ("*mm<10 m<1e4 km", "*in<10 ft<1609 mi"),
    kinds.POSITION: ("*mm<10 m<1e4 km", "*in<10 ft<1609 mi"),
    kinds.AREA: ("mm²<0.01 *m²", "in²<0.1 *ft²"),
    kinds.WIRE_SIZE: ("*mm²", "*mm²"),
    kinds.VOLUME: ("mL<1e-3 *L<10 m³", "in³<3.7e-3 *gal(US)"),
    kinds.ANGLE: ("*°", "*°"),
    kinds.GRADE: ("*%", "*%"),
    kinds.FRACTION: ("*%", "*%"),
    kinds.RATIO: ("*", "*"),
    kinds.COUNT: ("*", "*"),
    kinds.TIME: ("ms<0.1 s<120 *min<7200 h<172800 d", "ms<0.1 s<120 *min<7200 h<172800 d"),
    kinds.SPEED: ("*km/h", "*mph"),
    kinds.ROTATIONAL_SPEED: ("*rpm", "*rpm"),
    kinds.ACCELERATION: ("*m/s²<19 g", "*ft/s²<19 g"),
    kinds.FORCE: ("*N<1e4 kN", "*lbf"),
    kinds.TORQUE: ("*N·m", "*lb·ft"),
    kinds.ENERGY: ("J<1e4 Wh<3.6e6 *kWh", "J<1e4 Wh<3.6e6 *kWh"),
    kinds.POWER: ("mW<0.1 W<1000 *kW", "mW<0.1 W<1000 *hp"),
    kinds.ENERGY_PER_DISTANCE: ("*Wh/km", "*Wh/mi"),
    kinds.GAUGE_PRESSURE: ("*bar", "*psi"),
    kinds.ABSOLUTE_PRESSURE: ("*kPa", "*psi"),
    kinds.TEMPERATURE: ("*°C", "*°F"),
    kinds.TEMPERATURE_DIFFERENCE: ("*K", "*°F"),
    kinds.VOLTAGE: ("mV<1 *V", "mV<1 *V"),
    kinds.CURRENT: ("mA<1 *A", "mA<1 *A"),
    kinds.RESISTANCE: ("µΩ<1e-3 mΩ<1 *Ω<1e4 kΩ<1e6 MΩ", "µΩ<1e-3 mΩ<1 *Ω<1e4 kΩ<1e6 MΩ"),
    kinds.RESISTANCE_PER_VOLT: ("*Ω/V<1e4 kΩ/V", "*Ω/V<1e4 kΩ/V"),
    kinds.CAPACITANCE: ("nF<1e-6 *µF<1 F", "nF<1e-6 *µF<1 F"),
    kinds.CHARGE: ("mAh<3600 *Ah", "mAh<3600 *Ah"),
    kinds.FLOW: ("*L/min", "*gal(US)/min"),
    kinds.ANGULAR_ACCELERATION: ("*rad/s²", "*rad/s²"),
    kinds.FREQUENCY: ("*Hz<1e4 kHz", "*Hz<1e4 kHz"),
    kinds.COPPER_LOSS: ("*W/(N·m)²", "*W/(N·m)²"),
    kinds.IRON_LOSS: ("*W·s/rad", "*W·s/rad"),
    kinds.WINDAGE_LOSS: ("*W·s³/rad³", "*W·s³/rad³"),
    kinds.STRESS: ("*MPa", "*ksi"),
    kinds.HEAT_CAPACITY: ("*kJ/K", "*kJ/K"),
    kinds.THERMAL_CONDUCTANCE: ("*W/K", "*W/K"),
    kinds.THERMAL_EXPANSION: ("*µm/(m·K)", "*µm/(m·K)"),
    kinds.THERMAL_RESISTANCE: ("*K/kW", "*K/kW"),
    kinds.SPRING_RATE: ("*N/mm", "*lbf/in"),
    kinds.DENSITY: ("*kg/m³", "*lb/ft³"),
    kinds.FLUX_LINKAGE: ("mWb<1 *Wb", "mWb<1 *Wb"),
    kinds.INDUCTANCE: ("µH<1e-3 *mH<1 H", "µH<1e-3 *mH<1 H"),
    kinds.INERTIA: ("*kg·m²", "*lb·ft²"),
    kinds.DRAG_LINEAR: ("*N/(km/h)", "*lbf/mph"),
    kinds.DRAG_SQUARE: ("*N/(km/h)²", "*lbf/mph²"),
    kinds.RESISTANCE_PER_LENGTH: ("*Ω/km", "*Ω/kft"),
    kinds.RESISTIVITY: ("*Ω·mm²/km", "*Ω·mm²/km"),
    kinds.TEMPERATURE_COEFFICIENT: ("*%/K", "*%/K"),
    kinds.MASS_PER_LENGTH: ("g/m<1 *kg/m", "*lb/ft"),
    kinds.JOULE_INTEGRAL: ("*A²·s", "*A²·s"),
    kinds.WITHSTAND_DENSITY: ("*A·√s/mm²", "*A·√s/mm²"),
    kinds.THERMAL_RESISTIVITY: ("*K·m/W", "*K·m/W"),
    kinds.THERMAL_RESISTANCE_OF_LENGTH: ("*K·m/W", "*K·ft/W"),
    kinds.HEAT_PER_LENGTH: ("*W/m", "*W/ft"),
    kinds.HEAT_TRANSFER: ("*W/(m²·K)", "*W/(m²·K)"),
    kinds.HEAT_CAPACITY_PER_LENGTH: ("*J/(K·m)", "*J/(K·m)"),
    kinds.HEAT_CAPACITY_BY_VOLUME: ("*MJ/(K·m³)", "*MJ/(K·m³)"),
    kinds.MOMENT_OF_MASS: ("*kg·m", "*lb·ft"),
}
# Significant digits, least and most decimals, where four digits and no padding would read oddly.
_DIGITS: dict[str, tuple[int, int, int | None]] = {
    "mm": (3, 0, None),
    "in": (3, 2, None),
    "lb": (3, 0, None),
    "bar": (3, 2, None),
    # Fewer digits would round -459.67 °F to below absolute zero.
    "°C": (5, 0, 2),
    "°F": (5, 0, 2),
}


def _ladder(written: str, known: Mapping[str, Unit]) -> Ladder:
    rungs = []
    usual = 0
    for place, step in enumerate(written.split(" ")):
        symbol, _, below = step.lstrip("*").partition("<")
        if step.startswith("*"):
            usual = place
        rungs.append(Rung(known[symbol], float(below or "inf"), *_DIGITS.get(symbol, (4, 0, None))))
    return Ladder(tuple(rungs), rungs[usual])


@cache
def _ladders(name: str) -> dict[str, Ladder]:
    known = family(name)
    units = known.exact if known.bare is None else {**known.exact, "": known.bare}
    metric, inch = (_ladder(written, units) for written in _WRITTEN[kinds.KINDS[name]])
    return {"metric": metric, "inch": inch, "mixed": metric}


def unit_of(kind: Kind, taste: Taste = "metric") -> str:
    """Return the symbol of the unit that ``kind`` is usually written in."""
    return _ladders(kind.name)[taste].usual.unit.symbol


def write(number: float, kind: Kind, taste: Taste = "metric", band: float | None = None) -> str:
    """Write an SI number, to the digits its band supports or to about four."""
    if taste == "mixed":
        metric = write(number, kind, "metric", band)
        inch = _written(number, kind, "inch", band, less=1)
        return metric if inch == metric else f"{metric} ({inch})"
    return _written(number, kind, taste, band)


def _written(number: float, kind: Kind, taste: Taste, band: float | None, less: int = 0) -> str:
    if not (math.isfinite(number) and math.isfinite(band or 0.0) and (band or 0.0) >= 0.0):
        raise UnitsError(f"{number} ± {band} cannot be written as {article(kind.name)}")
    if kind.name == kinds.WIRE_SIZE.name and taste == "inch" and band is None:
        gauge = _nearest_gauge(number)
        if gauge is not None:
            return gauge
    ladder = _ladders(kind.name)[taste]
    size = max(abs(number), band or 0.0)
    rung = next(r for r in ladder.rungs if size < r.below) if size else ladder.usual
    value = rung.unit.from_si(number)
    if not math.isfinite(value):
        raise UnitsError(f"{number} is too large to be written as {article(kind.name)}")
    amount, around = _digits(value, rung, max(0, rung.keep - less)), ""
    if band is not None:
        amount, around = _to_band(value, rung.unit.span_from_si(band), amount)
    gap = "" if rung.unit.symbol in ("", "°") else " "
    return f"{amount}{gap}{rung.unit.symbol}{around}"


def _digits(value: float, rung: Rung, keep: int) -> str:
    size = abs(value)
    if size >= 1e7 or (0.0 < size < 1e-4 and rung.most is None):
        return f"{value:.4g}".replace("e+0", "e").replace("e+", "e")
    places = max(rung.digits - 1 - math.floor(math.log10(size)), keep) if size else keep
    places = max(0, places if rung.most is None else min(places, rung.most))
    head, _, tail = f"{value:.{places}f}".partition(".")
    tail = tail.rstrip("0").ljust(keep, "0")
    text = f"{head}.{tail}" if tail else head
    return text if float(text) else text.lstrip("-")


def _to_band(value: float, band: float, amount: str) -> tuple[str, str]:
    """Write a value to the last of two digits of its band."""
    if band == 0.0:
        return amount, " ± 0"
    if max(abs(value), band) >= 1e15 or band < 1e-9:
        return f"{value:.9g}", f" ± {band:.2g}"
    rounded = float(f"{band:.1e}")
    places = 1 - math.floor(math.log10(rounded))
    head, _, tail = f"{rounded:.{max(places, 0)}f}".partition(".")
    tail = tail.rstrip("0")
    places = len(tail) if places > 0 else places
    # Adding zero turns a rounded -0.0 into 0.0.
    shown = f"{round(value, places) + 0.0:.{max(places, 0)}f}"
    return shown, f" ± {head}.{tail}" if tail else f" ± {head}"
