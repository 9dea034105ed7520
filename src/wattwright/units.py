"""Reading quantities as builders type them, and writing them back.

Inside the program every number is SI; here is where typed text becomes one and a number becomes
text again. Nothing is guessed: what can be read two ways is refused, with the way to write it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import Literal

from wattwright import kinds
from wattwright.errors import UnitsError
from wattwright.kinds import Kind
from wattwright.unit_table import (
    AWG_LARGEST,
    AWG_RATIO,
    AWG_REFERENCE,
    AWG_SMALLEST,
    Family,
    Unit,
    family,
    kinds_of,
    spelling,
)

Taste = Literal["metric", "inch", "mixed"]

LONGEST = 200


@dataclass(frozen=True, slots=True)
class Reading:
    """A quantity as typed and as understood.

    ``number`` and ``band`` (the 95 % half-width typed behind ±) are in SI. ``note`` says what
    reading had to decide.
    """

    number: float
    band: float | None
    text: str
    note: str = ""


class _RefusedError(Exception):
    """Why a text cannot be read; :func:`read` adds the text and what was expected."""


_LOOKALIKES: dict[int, str | None] = str.maketrans(
    {
        **dict.fromkeys("−‐‑‒–﹣－", "-"),
        **dict.fromkeys("⋅∙•‧×", "·"),
        **dict.fromkeys("′’‘`´", "'"),
        **dict.fromkeys("″”“", '"'),
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("\u200b\u200e\u200f\u2060\ufeff"),
        **dict.fromkeys("⁄∕", "/"),
        **dict(zip("\u03bc\u2126\u212a℃℉", ("µ", "Ω", "K", "°C", "°F"), strict=True)),
        **{
            sign: f" {n}/{d}"
            for sign, n, d in zip("½¼¾⅓⅔⅛⅜⅝⅞", "113121357", "244338888", strict=True)
        },
    }
)
_PLUS_MINUS = re.compile(r" ?(?:±|\+ ?/? ?-) ?")
_NUMBER = re.compile(
    r"([+-]? ?)(?:(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+)"
    r"|([1-9][0-9]{0,2}(?: [0-9]{3})+(?![0-9])(?:[.,][0-9]+)?|\.?[0-9][0-9.,]*)"
    r"([eE][+-]?[0-9]+)?) ?"
)
_PLAIN = re.compile(r"[0-9]+\.?[0-9]*|\.[0-9]+")
_COMMA_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?")
_DOT_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:(?:\.[0-9]{3})+,[0-9]+|(?:\.[0-9]{3}){2,})")
_DECIMAL_COMMA = re.compile(r"[0-9]+,(?:[0-9]{1,2}|[0-9]{4,})|0,[0-9]{3}")
_NEXT_NUMBER = re.compile(r"\.?[0-9]")
_BRACKETED = re.compile(r"\(([^()±]+)±([^()±]+)\) ?([^0-9±+-].*)")
_PERCENT = re.compile(r"%|per ?cent|pct")
_AWG = re.compile(r"AWG[ #-]*([0-9]/0|[0-9]{1,4})|#?([0-9]/0|[0-9]{1,4})[ -]?AWG", re.IGNORECASE)
_ONE_IN = re.compile(r"(.+?) ?(?:\bin\b|:) ?(.+)")
_TO_ONE = re.compile(r"(.+?) ?(?:\bto\b|:) ?(.+)")


def read(text: str, kind: Kind) -> Reading:
    """Read a typed quantity, or raise :class:`UnitsError` with the way to write it."""
    known = family(kind.name)
    try:
        if len(text) > LONGEST:
            raise _RefusedError(f"longer than {LONGEST} characters")
        plain = text if text.isascii() else text.translate(_LOOKALIKES)
        return _reading(text, " ".join(plain.split()), kind, known)
    except _RefusedError as refused:
        raise UnitsError(f"{_quoted(text)}: {refused}; {_expected(kind)}") from None


def examples(kind: Kind) -> tuple[str, ...]:
    """Return texts that can be read as ``kind``, the plainest first."""
    return family(kind.name).examples


def _quoted(text: str) -> str:
    shown = "".join(sign if sign.isprintable() else "?" for sign in text[:60])
    return f'"{shown}…"' if len(text) > len(shown) else f'"{shown}"'


def _article(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def _expected(kind: Kind) -> str:
    *most, last = examples(kind)
    such = f"{', '.join(most)} or {last}" if most else last
    return f"expected {_article(kind.name)} such as {such}"


def _reading(text: str, plain: str, kind: Kind, known: Family) -> Reading:
    if plain.startswith("(") and (match := _BRACKETED.fullmatch(plain)):
        plain = f"{match[1].strip()} {match[3]} ± {match[2].strip()}"
    value, *bands = _PLUS_MINUS.split(plain) if "±" in plain or "+" in plain else (plain,)
    if len(bands) > 1:
        raise _RefusedError("more than one ±")
    if not value:
        raise _RefusedError("no number was typed")
    number, unit, note = _value(value, bands[0] if bands else "", kind, known)
    if not math.isfinite(number):
        raise _RefusedError("too large")
    if number < 0.0 and kind.name == kinds.TEMPERATURE.name:
        raise _RefusedError("below absolute zero")
    if kind.name == kinds.COUNT.name and (number < 0.0 or not number.is_integer()):
        raise _RefusedError("a count is a whole number, zero or more")
    if not bands:
        return Reading(number, None, text, note)
    band, band_note = _band(bands[0], number, unit or known.bare, kind, known)
    return Reading(number, band, text, "; ".join(n for n in (note, band_note) if n))


def _value(value: str, behind: str, kind: Kind, known: Family) -> tuple[float, Unit | None, str]:
    """Return the value in SI, its unit if it was typed in one, and a note.

    ``behind`` is what follows ±, where the unit of the value may stand: 25 ± 0.1 mm.
    """
    if kind.name == kinds.WIRE_SIZE.name and (gauge := _AWG.fullmatch(value)):
        return _wire_area(gauge[1] or gauge[2]), None, ""
    if kind.name in _PAIRS and (pair := _PAIRS[kind.name].fullmatch(value)):
        quotient = _quotient(pair[1], pair[2])
        if quotient is not None:
            return quotient[0], None, quotient[1]
    sign, amount, rest, note = _number(value)
    if not rest and behind and known.bare is None:
        rest = _number(behind)[2]
        if _PERCENT.fullmatch(rest) and known.find(rest) is None:
            rest = ""
    unit = known.find(rest) if rest else known.bare
    if unit is None:
        return _parts(sign, amount, rest, known), None, note
    number = unit.to_si(sign * amount)
    return (_tangent(number) if unit.slope else number), unit, note


_PAIRS = {kinds.GRADE.name: _ONE_IN, kinds.RATIO.name: _TO_ONE}


def _quotient(first: str, second: str) -> tuple[float, str] | None:
    """Divide two bare numbers, or return nothing if either is anything else."""
    if not (_NUMBER.fullmatch(first) and _NUMBER.fullmatch(second)):
        return None
    sign, over, _, note = _number(first)
    under_sign, under, _, under_note = _number(second)
    if under_sign * under <= 0.0:
        raise _RefusedError("the second number must be more than zero")
    return sign * over / under, note or under_note


def _parts(sign: float, amount: float, rest: str, known: Family) -> float:
    """Add up amounts in ever smaller units, as 7 ft 4 in or 1 h 30 min."""
    total = 0.0
    larger: Unit | None = None
    while True:
        following = _NEXT_NUMBER.search(rest)
        name = rest[: following.start()] if following else rest
        # Drawings put a dash between feet and inches: 7'-4".
        dashed = following is not None and name.startswith("'")
        unit = known.find(name.rstrip(" -") if dashed else name.rstrip())
        if unit is None:
            raise _RefusedError(_unknown(name.strip(), rest, known))
        if larger is not None and not (
            larger.then == unit.symbol and unit.to_si(amount) < larger.to_si(1.0)
        ):
            raise _RefusedError("two numbers that do not add up to one amount")
        total += unit.to_si(amount)
        if following is None:
            return sign * (_tangent(total) if unit.slope else total)
        if not unit.then or not amount.is_integer():
            raise _RefusedError("two numbers that do not add up to one amount")
        _, amount, rest, _ = _number(rest[following.start() :])
        larger = unit


def _tangent(angle: float) -> float:
    if abs(angle) >= math.pi / 2:
        raise _RefusedError("a slope is less than 90°")
    return math.tan(angle)


def _band(
    band: str, number: float, unit: Unit | None, kind: Kind, known: Family
) -> tuple[float, str]:
    """Return the half-width in SI, and a note."""
    sign, amount, rest, note = _number(band) if band else (1.0, 0.0, "", "")
    if not band or sign < 0.0:
        raise _RefusedError("what follows ± is zero or more")
    if _PERCENT.fullmatch(rest) and (unit is None or unit.symbol != "%"):
        if kind.name == kinds.FRACTION.name:
            raise _RefusedError("write % on both sides of ±, or on neither")
        if kind.name == kinds.TEMPERATURE.name:
            raise _RefusedError("a temperature has no per cent; write ± in °C or °F")
        width = abs(number) * amount / 100
        note = f"± {band} read as a share of the grade" if kind.name == kinds.GRADE.name else note
    else:
        unit = known.find(rest) if rest else unit
        if unit is None:
            refusal = _unknown(rest, rest, known)
            awg = kind.name == kinds.WIRE_SIZE.name and rest.casefold() == "awg"
            raise _RefusedError("write ± in mm² or %" if awg else f"behind ±, {refusal}")
        width = unit.span_to_si(amount)
        if unit.slope:
            # The tangent steepens with the angle, and the band with it.
            width *= 1.0 + number * number
    if not math.isfinite(width):
        raise _RefusedError("too large")
    return width, note


def _number(text: str) -> tuple[float, float, str, str]:
    """Return the sign, the amount, what stands behind the number, and a note."""
    match = _NUMBER.match(text)
    if match is None:
        raise _RefusedError("there is no number where one should be")
    lead, whole, over, under, digits, exponent = match.groups()
    sign = -1.0 if "-" in lead else 1.0
    rest = text[match.end() :]
    if digits is None:
        if int(under) == 0:
            raise _RefusedError("a fraction of zero parts")
        if whole and int(over) >= int(under):
            raise _RefusedError("the fraction behind a whole number is less than one")
        return sign, int(whole or 0) + int(over) / int(under), rest, ""
    if _PLAIN.fullmatch(digits):
        return sign, float(digits + (exponent or "")), rest, ""
    amount, note = _separated(digits, exponent or "")
    return sign, amount, rest, note


def _separated(digits: str, exponent: str) -> tuple[float, str]:
    """Read a number holding commas, spaces or several dots, if only one reading is possible."""
    packed = digits.replace(" ", "")
    if packed != digits and _PLAIN.fullmatch(packed) and not exponent:
        return float(packed), ""
    if _DECIMAL_COMMA.fullmatch(packed):
        return float(packed.replace(",", ".") + exponent), ""
    if packed == digits and not exponent:
        if _COMMA_THOUSANDS.fullmatch(digits):
            amount = float(digits.replace(",", ""))
            alone = len(digits) <= len("999,999") and "." not in digits
            return amount, f"{digits} read as {_in_words(int(amount))}" if alone else ""
        if _DOT_THOUSANDS.fullmatch(digits):
            return float(digits.replace(".", "").replace(",", ".")), ""
    raise _RefusedError(f"{digits} is not one number beyond doubt; write 1040 or 1.04")


_ONES = (
    "zero",
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
    *("eighteen", "nineteen"),
)
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def _in_words(number: int) -> str:
    thousands, below = divmod(number, 1000)
    if thousands:
        joint = " and " if 0 < below < 100 else " "
        return f"{_in_words(thousands)} thousand" + (joint + _in_words(below) if below else "")
    hundreds, below = divmod(number, 100)
    if hundreds:
        return f"{_ONES[hundreds]} hundred" + (f" and {_in_words(below)}" if below else "")
    tens, ones = divmod(number, 10)
    return _ONES[number] if number < 20 else _TENS[tens - 2] + (f"-{_ONES[ones]}" if ones else "")


def _unknown(name: str, rest: str, known: Family) -> str:
    """Say what is wrong with a unit, going by the unit alone or by all behind the number."""
    if not name or name[0] in ".,/+-":
        return "two numbers, or one that cannot be read" if rest else "the unit is missing"
    for typed in (rest, name):
        hint = known.hints.get(spelling(typed).casefold())
        if hint:
            return hint
        others = kinds_of(typed)
        if others:
            return f"{typed} is {' or '.join(_article(other) for other in others)}"
    if not known.exact:
        return "it takes no unit"
    near = [form for form in known.exact if form.casefold() == name.casefold()]
    near = near or get_close_matches(name, known.exact, n=1)
    return f"unknown unit {_quoted(name)}" + (f"; did you mean {near[0]}" if near else "")


def _wire_diameter(gauge: int) -> float:
    return float(AWG_REFERENCE) * math.pow(AWG_RATIO, (36 - gauge) / 39)


def _wire_area(typed: str) -> float:
    aughts = typed.endswith("/0") or not typed.strip("0")
    count = int(typed[0]) if "/" in typed else len(typed)
    gauge = 1 - count if aughts else int(typed)
    if not AWG_LARGEST <= gauge <= AWG_SMALLEST or (aughts and count == 0):
        raise _RefusedError(f"AWG sizes read here run from 4/0 to {AWG_SMALLEST}")
    return math.pi / 4 * _wire_diameter(gauge) ** 2


def _nearest_gauge(area: float) -> str | None:
    """Return the gauge within two per cent of ``area``, the tolerance on drawn wire."""
    if area <= 0.0:
        return None
    diameter = math.sqrt(4 / math.pi * area)
    gauge = round(36 - 39 * math.log(diameter / float(AWG_REFERENCE), AWG_RATIO))
    if not AWG_LARGEST <= gauge <= AWG_SMALLEST:
        return None
    name = str(gauge) if gauge > 0 else f"{1 - gauge}/0"
    return f"{name} AWG" if abs(_wire_area(name) / area - 1.0) <= 0.02 else None


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
    kinds.TIME: ("ms<1 s<120 *min<7200 h<172800 d", "ms<1 s<120 *min<7200 h<172800 d"),
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
    kinds.FREQUENCY: ("*Hz<1e4 kHz", "*Hz<1e4 kHz"),
    kinds.SPRING_RATE: ("*N/mm", "*lbf/in"),
    kinds.DENSITY: ("*kg/m³", "*lb/ft³"),
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
        raise UnitsError(f"{number} ± {band} cannot be written as {_article(kind.name)}")
    if kind.name == kinds.WIRE_SIZE.name and taste == "inch" and band is None:
        gauge = _nearest_gauge(number)
        if gauge is not None:
            return gauge
    ladder = _ladders(kind.name)[taste]
    size = max(abs(number), band or 0.0)
    rung = next(r for r in ladder.rungs if size < r.below) if size else ladder.usual
    value = rung.unit.from_si(number)
    if not math.isfinite(value):
        raise UnitsError(f"{number} is too large to be written as {_article(kind.name)}")
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
