"""Every conversion factor in the project, each exact and each written once.

The seven numbers at the top are defined, not measured; all other factors follow from them. They
are kept as fractions so that nothing is rounded before a typed number is converted.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from wattwright import kinds
from wattwright.errors import UnitsError
from wattwright.unit_hints import ABSOLUTE_MARKS, EXAMPLES, GAUGE_MARKS, HINTS

INCH = Fraction("0.0254")  # international yard and pound agreement, 1959
POUND = Fraction("0.45359237")  # the same
GRAVITY = Fraction("9.80665")  # standard acceleration, 3rd CGPM, 1901
ATMOSPHERE = Fraction(101325)  # 10th CGPM, 1954
ICE_POINT = Fraction("273.15")  # 0 °C in kelvin
IMPERIAL_GALLON = Fraction("0.00454609")  # United Kingdom, 1985
BTU_PER_POUND = Fraction(2326)  # J/kg for one Btu(IT) per pound, 1956

NANO, MICRO, MILLI = Fraction(1, 10**9), Fraction(1, 10**6), Fraction(1, 1000)
CENTI, KILO, MEGA = Fraction(1, 100), Fraction(1000), Fraction(10**6)
MINUTE, HOUR, DAY = Fraction(60), Fraction(3600), Fraction(86400)
FOOT = 12 * INCH
YARD = 3 * FOOT
MILE = 1760 * YARD
OUNCE = POUND / 16
STONE = 14 * POUND
POUND_FORCE = POUND * GRAVITY
HORSEPOWER = 550 * FOOT * POUND_FORCE
METRIC_HORSEPOWER = 75 * GRAVITY
PSI = POUND_FORCE / INCH**2
US_GALLON = 231 * INCH**3
LITRE = MILLI
BTU = BTU_PER_POUND * POUND
FAHRENHEIT = Fraction(5, 9)  # kelvin in one degree Fahrenheit of difference
FAHRENHEIT_ZERO = ICE_POINT / FAHRENHEIT - 32

# ASTM B258: 36 AWG is 0.005 in, 4/0 AWG is 0.46 in, and 39 equal ratios lie between.
AWG_REFERENCE = INCH * 5 / 1000
AWG_RATIO = 92
AWG_LARGEST, AWG_SMALLEST = -3, 40


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind: SI is ``(number + shift) * up / down``.

    Numerator and denominator are kept apart because 9 / 1000 is rounded once, and 9 * 0.001
    twice. ``then`` is the smaller unit that may follow, as inches follow feet. ``slope`` marks an
    angle typed for a grade, whose tangent is wanted.
    """

    symbol: str
    up: float
    down: float
    shift: float = 0.0
    then: str = ""
    slope: bool = False
    names: tuple[str, ...] = ()

    def to_si(self, number: float) -> float:
        """Convert an amount typed in this unit."""
        return (number + self.shift) * self.up / self.down

    def span_to_si(self, number: float) -> float:
        """Convert a difference, for which the zero of the scale does not matter."""
        return number * self.up / self.down

    def from_si(self, number: float) -> float:
        """Convert an amount to be shown in this unit."""
        return number * self.down / self.up - self.shift

    def span_from_si(self, number: float) -> float:
        """Convert a difference to be shown."""
        return number * self.down / self.up


@dataclass(frozen=True, slots=True)
class Family:
    """All that is known about writing and reading one kind."""

    exact: Mapping[str, Unit]
    initial: Mapping[str, Unit]
    caseless: Mapping[str, Unit]
    bare: Unit | None
    hints: Mapping[str, str]
    examples: tuple[str, ...]

    def find(self, typed: str) -> Unit | None:
        """Return the unit a spelling stands for, forgiving case where nothing else fits."""
        unit = self.exact.get(typed)
        if unit is None:
            key = spelling(typed)
            unit = self.exact.get(key) or self.initial.get(key[:1] + key[1:].casefold())
            unit = unit or self.caseless.get(key.casefold())
        return unit


_SLASH = re.compile(r" ?/ ?| per ")
_BRACKET = re.compile(r" ?\(([A-Za-z]+)\)")
_PRODUCT = re.compile(r"(?<=[\w°])[ ·*.\-]+(?=\w)")
# Old drawings are lettered in capitals, and no unit is prefixed mega twice.
_CAPITAL_MM = re.compile(r"^MM(?![A-Za-z])")
_POWERS = str.maketrans({"²": "2", "³": "3", "^": None})


def spelling(typed: str) -> str:
    """Bring the many ways of spelling a product, a quotient and a power to one."""
    key = _SLASH.sub("/", typed.translate(_POWERS))
    key = _PRODUCT.sub("·", _BRACKET.sub(r"·\1", key))
    return _CAPITAL_MM.sub("mm", key).rstrip(".")


def _unit(
    symbol: str,
    factor: Fraction | int,
    names: str = "",
    *,
    shift: Fraction | int = 0,
    pi: bool = False,
    then: str = "",
    slope: bool = False,
) -> Unit:
    exact = Fraction(factor)
    up = exact.numerator * math.pi if pi else float(exact.numerator)
    aliases = tuple(name for name in names.split("|") if name)
    return Unit(symbol, up, float(exact.denominator), float(shift), then, slope, aliases)


def _prefixed(symbols: str, base: str, scale: Fraction | int, names: str) -> list[Unit]:
    """Return ``base`` under each decimal prefix given, ``-`` standing for none."""
    steps = {"n": NANO, "µ": MICRO, "m": MILLI, "c": CENTI, "k": KILO, "M": MEGA}
    units = []
    for prefix in symbols:
        lead = "" if prefix == "-" else prefix
        spelt = [lead + name for name in names.split("|") if name]
        if lead == "µ":
            spelt += ["u" + name for name in (base, *names.split("|")) if name]
        units.append(_unit(lead + base, steps.get(lead, Fraction(1)) * scale, "|".join(spelt)))
    return units


def _angles(*, slope: bool) -> list[Unit]:
    degree = Fraction(1, 180)
    return [
        _unit("°", degree, "deg|degs|degree|degrees", pi=True, then="'", slope=slope),
        _unit("'", degree / 60, "arcmin|min", pi=True, then='"', slope=slope),
        _unit('"', degree / 3600, "arcsec|sec|''", pi=True, slope=slope),
        _unit("rad", 1, "radian|radians", slope=slope),
        _unit("mrad", MILLI, slope=slope),
    ]


_PRESSURES = [
    *_prefixed("-kM", "Pa", 1, ""),
    _unit("hPa", 100),
    _unit("bar", 100 * KILO),
    _unit("mbar", 100),
    _unit("atm", ATMOSPHERE),
    _unit("psi", PSI, "lb/in²|lbs/in²|lbf/in²|lb/sq in"),
    _unit("kgf/cm²", GRAVITY / CENTI**2, "kg/cm²"),
]


def _pressures(marks: tuple[str, ...]) -> list[Unit]:
    return [
        replace(unit, names=(*unit.names, *(unit.symbol + mark for mark in marks)))
        for unit in _PRESSURES
    ]


_LENGTHS = [
    _unit("mm", MILLI, "millimetre|millimetres|millimeter|millimeters"),
    _unit("cm", CENTI, "centimetre|centimetres|centimeter|centimeters"),
    _unit("m", 1, "metre|metres|meter|meters"),
    _unit("km", KILO, "kilometre|kilometres|kilometer|kilometers"),
    _unit("µm", MICRO, "um|micron|microns"),
    _unit("in", INCH, "\"|''|inch|inches|ins"),
    _unit("ft", FOOT, "'|foot|feet", then="in"),
    _unit("yd", YARD, "yard|yards|yds"),
    _unit("mi", MILE, "mile|miles"),
    _unit("thou", INCH / 1000, "mil|mils"),
]
_AREAS = [
    _unit("mm²", MILLI**2, "sq mm|square millimetres|square millimeters"),
    _unit("cm²", CENTI**2, "sq cm|square centimetres|square centimeters"),
    _unit("m²", 1, "sq m|square metre|square metres|square meter|square meters"),
    _unit("in²", INCH**2, "sq in|square inch|square inches"),
    _unit("ft²", FOOT**2, "sq ft|square foot|square feet"),
]
_KCMIL = _unit("kcmil", 250 * (INCH / 1000) ** 2, "MCM", pi=True)
_LB_FT = "lb·ft|ft·lb|lbs·ft|ft·lbs|lbf·ft|ft·lbf|foot pounds|pound feet"
_LB_IN = "lb·in|in·lb|lbs·in|in·lbs|lbf·in|in·lbf|inch pounds|pound inches"

_UNITS: dict[kinds.Kind, list[Unit]] = {
    kinds.MASS: [
        _unit("kg", 1, "kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes"),
        _unit("g", MILLI, "gram|grams|gramme|grammes"),
        _unit("mg", MICRO),
        _unit("t", KILO, "tonne|tonnes"),
        _unit("lb", POUND, "lbs|pound|pounds|lbm", then="oz"),
        _unit("oz", OUNCE, "ounce|ounces"),
        _unit("st", STONE, "stone|stones", then="lb"),
    ],
    kinds.LENGTH: _LENGTHS,
    kinds.POSITION: _LENGTHS,
    kinds.AREA: _AREAS,
    kinds.WIRE_SIZE: [_AREAS[0], _AREAS[3], _KCMIL],
    kinds.VOLUME: [
        *_prefixed("-mc", "L", LITRE, "l|litre|litres|liter|liters"),
        _unit("mm³", MILLI**3, "cu mm"),
        _unit("cm³", CENTI**3, "cc|ccm|cu cm"),
        _unit("m³", 1, "cu m|cubic metre|cubic metres|cubic meter|cubic meters"),
        _unit("in³", INCH**3, "cu in|cubic inch|cubic inches"),
        _unit("ft³", FOOT**3, "cu ft|cubic foot|cubic feet"),
        _unit("gal(US)", US_GALLON, "US gal|US gallon|US gallons"),
        _unit("gal(imp)", IMPERIAL_GALLON, "gal(UK)|imp gal|imperial gallon|imperial gallons"),
        _unit("qt(US)", US_GALLON / 4, "US qt|US quart|US quarts"),
    ],
    kinds.ANGLE: _angles(slope=False),
    kinds.GRADE: [
        _unit("%", CENTI, "percent|per cent|pct"),
        _unit("‰", MILLI, "mm/m"),
        _unit("m/m", 1, "ft/ft|in/in"),
        _unit("in/ft", INCH / FOOT),
        *_angles(slope=True),
    ],
    kinds.FRACTION: [_unit("%", CENTI, "percent|per cent|pct"), _unit("‰", MILLI)],
    kinds.RATIO: [],
    kinds.COUNT: [],
    kinds.TIME: [
        _unit("s", 1, "sec|secs|second|seconds"),
        _unit("ms", MILLI, "millisecond|milliseconds"),
        _unit("min", MINUTE, "mins|minute|minutes", then="s"),
        _unit("h", HOUR, "hr|hrs|hour|hours", then="min"),
        _unit("d", DAY, "day|days"),
    ],
    kinds.SPEED: [
        _unit("km/h", KILO / HOUR, "kph|kmh|kmph|km/hr|km/hour"),
        _unit("m/s", 1, "metres/second|meters/second"),
        _unit("mph", MILE / HOUR, "mi/h|mile/hour|miles/hour"),
        _unit("ft/s", FOOT, "fps|feet/second"),
    ],
    kinds.ROTATIONAL_SPEED: [
        _unit("rpm", Fraction(1, 30), "r/min|rev/min|revs/min|1/min", pi=True),
        _unit("rps", 2, "r/s|rev/s|revs/s", pi=True),
        _unit("rad/s", 1, "rad/sec"),
        _unit("°/s", Fraction(1, 180), "deg/s", pi=True),
    ],
    kinds.ANGULAR_ACCELERATION: [_unit("rad/s²", 1, "rad/s^2|rad/s/s|1/s²")],
    kinds.ACCELERATION: [
        _unit("m/s²", 1, "m/s/s"),
        _unit("g", GRAVITY, "gn|gee|gees"),
        _unit("ft/s²", FOOT, "ft/s/s"),
    ],
    kinds.FORCE: [
        *_prefixed("-kM", "N", 1, "newton|newtons"),
        _unit("daN", 10),
        _unit("lbf", POUND_FORCE, "lbsf|pound force|pounds force"),
        _unit("kgf", GRAVITY, "kp|kilogram force"),
    ],
    kinds.TORQUE: [
        _unit("N·m", 1, "newton metre|newton metres|newton meter|newton meters"),
        _unit("kN·m", KILO),
        _unit("N·cm", CENTI),
        _unit("N·mm", MILLI),
        _unit("lb·ft", POUND_FORCE * FOOT, _LB_FT),
        _unit("lb·in", POUND_FORCE * INCH, _LB_IN),
        _unit("kgf·m", GRAVITY, "m·kgf"),
        _unit("kgf·cm", GRAVITY * CENTI, "cm·kgf"),
    ],
    kinds.ENERGY: [
        *_prefixed("-kM", "J", 1, "joule|joules"),
        *_prefixed("-kM", "Wh", HOUR, "W·h|watt hour|watt hours"),
        _unit("Btu", BTU),
    ],
    kinds.POWER: [
        *_prefixed("-mkM", "W", 1, "watt|watts"),
        _unit("hp", HORSEPOWER, "bhp|horsepower"),
        _unit("PS", METRIC_HORSEPOWER, "metric hp|hp(metric)"),
        _unit("Btu/h", BTU / HOUR, "Btu/hr"),
    ],
    kinds.ENERGY_PER_DISTANCE: [
        _unit("Wh/km", HOUR / KILO, "W·h/km"),
        _unit("kWh/km", HOUR, "kW·h/km"),
        _unit("kWh/100 km", HOUR / 100, "kW·h/100 km"),
        _unit("Wh/mi", HOUR / MILE, "Wh/mile|W·h/mi|W·h/mile"),
        _unit("kWh/mi", KILO * HOUR / MILE, "kWh/mile"),
        _unit("kWh/100 mi", KILO * HOUR / MILE / 100, "kWh/100 miles"),
        _unit("J/m", 1, "kJ/km"),
        _unit("MJ/km", KILO),
    ],
    kinds.GAUGE_PRESSURE: _pressures(GAUGE_MARKS),
    kinds.ABSOLUTE_PRESSURE: _pressures(ABSOLUTE_MARKS),
    kinds.TEMPERATURE: [
        _unit("°C", 1, "C|deg C|degree C|degrees C|Celsius", shift=ICE_POINT),
        _unit("°F", FAHRENHEIT, "F|deg F|degrees F|Fahrenheit", shift=FAHRENHEIT_ZERO),
        _unit("K", 1, "kelvin|kelvins"),
    ],
    kinds.TEMPERATURE_DIFFERENCE: [
        _unit("K", 1, "°C|C|deg C|degrees C|Celsius|kelvin|kelvins"),
        _unit("°F", FAHRENHEIT, "F|deg F|degrees F|Fahrenheit"),
    ],
    kinds.VOLTAGE: _prefixed("-µmk", "V", 1, "volt|volts|V DC|V AC"),
    kinds.CURRENT: _prefixed("-µmk", "A", 1, "amp|amps|ampere|amperes|A DC|A AC"),
    kinds.RESISTANCE: _prefixed("-µmkM", "Ω", 1, "ohm|ohms"),
    kinds.RESISTANCE_PER_VOLT: _prefixed("-kM", "Ω/V", 1, "ohm/V|ohms/V|ohm/volt|ohms/volt"),
    kinds.CAPACITANCE: [*_prefixed("-nµm", "F", 1, "farad|farads"), _unit("pF", MILLI * NANO)],
    kinds.FLUX_LINKAGE: [*_prefixed("-mµ", "Wb", 1, "weber|webers|V·s")],
    kinds.INDUCTANCE: [*_prefixed("-mµ", "H", 1, "henry|henries")],
    kinds.INERTIA: [_unit("kg·m²", 1), _unit("kg·cm²", CENTI**2), _unit("lb·ft²", POUND * FOOT**2)],
    kinds.DRAG_LINEAR: [
        _unit("N/(km/h)", Fraction(18, 5)),
        _unit("N·s/m", 1, "N/(m/s)"),
        _unit("lbf/mph", POUND_FORCE * HOUR / MILE, "lb/mph"),
    ],
    kinds.DRAG_SQUARE: [
        _unit("N/(km/h)²", Fraction(18, 5) ** 2),
        _unit("N·s²/m²", 1, "N/(m/s)²"),
        _unit("lbf/mph²", POUND_FORCE * (HOUR / MILE) ** 2, "lb/mph²"),
    ],
    kinds.CHARGE: [
        _unit("C", 1, "coulomb|coulombs"),
        *_prefixed("-mk", "Ah", HOUR, "A·h|amp hour|amp hours"),
    ],
    kinds.FLOW: [
        *_prefixed("-m", "L/min", LITRE / MINUTE, "l/min|litres/minute|liters/minute"),
        _unit("lpm", LITRE / MINUTE),
        _unit("L/s", LITRE, "l/s"),
        _unit("L/h", LITRE / HOUR, "l/h|L/hr"),
        _unit("m³/s", 1),
        _unit("m³/h", 1 / HOUR, "m³/hr"),
        _unit("gal(US)/min", US_GALLON / MINUTE, "US gal/min|US gpm|gpm(US)"),
        _unit("gal(imp)/min", IMPERIAL_GALLON / MINUTE, "imp gal/min|gal(UK)/min"),
        _unit("ft³/min", FOOT**3 / MINUTE, "cfm|cu ft/min"),
    ],
    kinds.FREQUENCY: [*_prefixed("-kM", "Hz", 1, "hertz"), _unit("1/s", 1)],
    kinds.COPPER_LOSS: [_unit("W/(N·m)²", 1)],
    kinds.IRON_LOSS: [_unit("W·s/rad", 1, "W/(rad/s)")],
    kinds.WINDAGE_LOSS: [_unit("W·s³/rad³", 1, "W/(rad/s)³")],
    kinds.STRESS: [
        _unit("MPa", KILO**2, "N/mm²"),
        _unit("GPa", KILO**3, "kN/mm²"),
        _unit("Pa", 1),
        _unit("ksi", KILO * PSI),
        _unit("psi", PSI),
    ],
    kinds.HEAT_CAPACITY: [*_prefixed("-k", "J/K", 1, "J/°C"), _unit("Wh/K", HOUR)],
    kinds.THERMAL_CONDUCTANCE: [*_prefixed("-k", "W/K", 1, "W/°C")],
    kinds.THERMAL_EXPANSION: [_unit("µm/(m·K)", MICRO, "µm/m·K|µm/(m·°C)|um/(m·K)")],
    kinds.THERMAL_RESISTANCE: [*_prefixed("-m", "K/W", 1, "°C/W"), _unit("K/kW", MILLI)],
    kinds.SPRING_RATE: [
        _unit("N/mm", KILO, "kN/m"),
        _unit("N/m", 1),
        _unit("lbf/in", POUND_FORCE / INCH, "lb/in|lbs/in|lb/inch|lbs/inch"),
        _unit("lbf/ft", POUND_FORCE / FOOT, "lb/ft"),
        _unit("kgf/mm", GRAVITY / MILLI, "kg/mm"),
    ],
    kinds.DENSITY: [
        _unit("kg/m³", 1, "g/L|g/l"),
        _unit("g/cm³", KILO, "g/cc|g/mL|g/ml|kg/L|kg/l|kg/dm³|t/m³"),
        _unit("lb/ft³", POUND / FOOT**3, "lb/cu ft"),
        _unit("lb/in³", POUND / INCH**3, "lb/cu in"),
    ],
    kinds.RESISTANCE_PER_LENGTH: [
        *_prefixed("-mµ", "Ω/m", 1, "ohm/m|ohms/m"),
        *_prefixed("-m", "Ω/km", MILLI, "ohm/km|ohms/km"),
        *_prefixed("-m", "Ω/ft", 1 / FOOT, "ohm/ft|ohms/ft"),
        _unit("Ω/kft", 1 / (KILO * FOOT), "Ω/1000 ft|ohm/kft|ohms/kft|ohm/1000 ft|ohms/1000 ft"),
    ],
    kinds.RESISTIVITY: [
        *_prefixed("-nµ", "Ω·m", 1, "ohm·m"),
        _unit("µΩ·cm", MICRO * CENTI, "uΩ·cm|µohm·cm|uohm·cm"),
        _unit("Ω·mm²/m", MICRO, "ohm·mm²/m"),
        _unit("Ω·mm²/km", NANO, "ohm·mm²/km"),
    ],
    kinds.TEMPERATURE_COEFFICIENT: [
        _unit("%/K", CENTI, "%/°C"),
        _unit("1/K", 1, "1/°C|per K|per °C"),
        _unit("ppm/K", MICRO, "ppm/°C"),
    ],
    kinds.MASS_PER_LENGTH: [
        _unit("kg/m", 1),
        _unit("g/m", MILLI, "kg/km"),
        _unit("lb/ft", POUND / FOOT, "lbs/ft"),
        _unit("lb/1000 ft", POUND / (KILO * FOOT), "lb/kft|lbs/kft|lbs/1000 ft"),
    ],
    # Not kA²·s: makers of fuses print it for a thousand A²·s, and by the SI it is a million.
    kinds.JOULE_INTEGRAL: [_unit("A²·s", 1)],
    kinds.WITHSTAND_DENSITY: [
        _unit("A·√s/mm²", MICRO**-1, "A·s^0.5/mm²"),
        _unit("A·√s/m²", 1),
    ],
    kinds.THERMAL_RESISTIVITY: [
        _unit("K·m/W", 1, "m·K/W|°C·m/W"),
        _unit("K·cm/W", CENTI, "°C·cm/W|cm·K/W"),
    ],
    kinds.THERMAL_RESISTANCE_OF_LENGTH: [
        _unit("K·m/W", 1, "m·K/W|°C·m/W|K/(W/m)"),
        _unit("K·ft/W", FOOT, "°C·ft/W"),
    ],
    kinds.HEAT_PER_LENGTH: [_unit("W/m", 1), _unit("W/ft", 1 / FOOT)],
    kinds.HEAT_TRANSFER: [
        _unit("W/(m²·K)", 1, "W/m²/K|W/m²·K|W/(m²·°C)"),
        _unit("Btu/(h·ft²·°F)", BTU / HOUR / FOOT**2 / FAHRENHEIT),
    ],
    kinds.HEAT_CAPACITY_PER_LENGTH: [_unit("J/(K·m)", 1, "J/(m·K)|J/m/K"), _unit("kJ/(K·m)", KILO)],
    kinds.HEAT_CAPACITY_BY_VOLUME: [
        _unit("MJ/(K·m³)", KILO**2, "J/(K·cm³)|MJ/(m³·K)"),
        _unit("J/(K·mm³)", KILO**3),
        _unit("J/(K·m³)", 1, "J/(m³·K)"),
    ],
    kinds.MOMENT_OF_MASS: [
        _unit("kg·m", 1, "m·kg"),
        _unit("kg·cm", CENTI),
        _unit("kg·mm", MILLI, "mm·kg"),
        _unit("lb·ft", POUND * FOOT, "ft·lb|lbs·ft"),
        _unit("lb·in", POUND * INCH, "in·lb|lbs·in"),
    ],
}

# A kind that needs no unit reads a bare number in this one.
_BARE: dict[kinds.Kind, Unit] = dict.fromkeys(
    (kinds.FRACTION, kinds.RATIO, kinds.COUNT), _unit("", 1)
)


def wire_area(gauge: int) -> float:
    """Area of a wire by its gauge number; 4/0 is -3."""
    return math.pi / 4 * (float(AWG_REFERENCE) * math.pow(AWG_RATIO, (36 - gauge) / 39)) ** 2


def article(name: str) -> str:
    """Put the article before a word."""
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def _index(units: list[Unit]) -> tuple[dict[str, Unit], dict[str, Unit], dict[str, Unit]]:
    """Index units by every spelling: as it stands, but for case after its initial, but for case.

    A spelling that opens with a prefix m or M is left out of the last, for milli is not mega.
    """
    exact: dict[str, Unit] = {}
    for unit in units:
        for name in (unit.symbol, *unit.names):
            key = spelling(name)
            for form in (name, key, key.replace("·", "")):
                if exact.setdefault(form, unit) is not unit:
                    raise UnitsError(f"{form!r} is declared twice, as {exact[form].symbol!r} too")
    lowered = {form.casefold() for form in exact} | {""}
    initial: dict[str, Unit] = {}
    caseless: dict[str, Unit | None] = {}
    for form, unit in exact.items():
        initial.setdefault(form[:1] + form[1:].casefold(), unit)
        if form[:1] not in ("m", "M") or form[1:].casefold() not in lowered:
            folded = form.casefold()
            caseless[folded] = unit if caseless.get(folded, unit) is unit else None
    return exact, initial, {form: unit for form, unit in caseless.items() if unit is not None}


@cache
def family(name: str) -> Family:
    """Return what is known about one kind; put together when first asked for."""
    kind = kinds.KINDS.get(name)
    if kind is None or kind not in _UNITS:
        raise UnitsError(f"no units are known for {name!r}")
    exact, initial, caseless = _index(_UNITS[kind])
    hints = {spelling(typed).casefold(): why for typed, why in HINTS.get(kind, {}).items()}
    more = (example for example in EXAMPLES.get(kind, "").split("|") if example)
    return Family(exact, initial, caseless, _BARE.get(kind), hints, (kind.example, *more))


def kinds_of(typed: str) -> list[str]:
    """Return the names of the kinds that a unit's spelling belongs to."""
    if spelling(typed).casefold() == "awg":
        return [kinds.WIRE_SIZE.name]
    return [kind.name for kind in _UNITS if family(kind.name).find(typed) is not None]
