"""Reading quantities as builders type them, and writing them back.

Inside the program every number is SI; here is where typed text becomes one and a number becomes
text again. Nothing is guessed: what can be read two ways is refused, with the way to write it.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches

from wattwright import kinds
from wattwright.errors import UnitsError
from wattwright.kinds import Kind
from wattwright.unit_table import (
    AWG_LARGEST,
    AWG_SMALLEST,
    Family,
    Unit,
    article,
    family,
    kinds_of,
    spelling,
    wire_area,
)
from wattwright.units_written import TASTES, Taste, unit_of, write

__all__ = [
    "LONGEST",
    "TASTES",
    "Reading",
    "Taste",
    "column_unit",
    "examples",
    "read",
    "unit_of",
    "write",
]

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
# As near as this, a number is what the same digits would be in another unit.
_SAME_DIGITS = 0.1
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


def column_unit(typed: str, kind: Kind) -> str:
    """Return the symbol of the unit that heads a column, or raise :class:`UnitsError`.

    A number of the column, a blank and the symbol together are what :func:`read` reads.
    """
    known = family(kind.name)
    plain = " ".join(typed.translate(_LOOKALIKES).split())
    unit = known.find(plain) if plain else None
    if unit is not None:
        return unit.symbol
    if not plain and known.bare is not None:
        return ""
    raise UnitsError(f"{_quoted(typed)}: {_unknown(plain, plain, known)}; {_expected(kind)}")


def same_digits_in(text: str, kind: Kind, wanted: float) -> str:
    """Name the unit in which the digits of a text would come nearest to a number, SI.

    Empty where none comes within a tenth of it, or where it is the unit that was typed.
    """
    found = _NUMBER.match(" ".join(text.translate(_LOOKALIKES).split()))
    if found is None or not wanted:
        return ""
    typed = read(text, kind).number
    near: dict[str, float] = {}
    for unit in family(kind.name).exact.values():
        try:
            number = read(f"{found[0].strip()} {unit.symbol}", kind).number
        except UnitsError:
            continue
        if number != typed and abs(number / wanted - 1.0) < _SAME_DIGITS:
            near[unit.symbol] = abs(number / wanted - 1.0)
    return min(near, key=lambda symbol: near[symbol], default="")


def _quoted(text: str) -> str:
    shown = "".join(sign if sign.isprintable() else "?" for sign in text[:60])
    return f'"{shown}…"' if len(text) > len(shown) else f'"{shown}"'


def _expected(kind: Kind) -> str:
    *most, last = examples(kind)
    such = f"{', '.join(most)} or {last}" if most else last
    return f"expected {article(kind.name)} such as {such}"


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
        return wire_area(_gauge(gauge[1] or gauge[2])), None, ""
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
            return f"{typed} is {' or '.join(article(other) for other in others)}"
    if not known.exact:
        return "it takes no unit"
    near = [form for form in known.exact if form.casefold() == name.casefold()]
    near = near or get_close_matches(name, known.exact, n=1)
    return f"unknown unit {_quoted(name)}" + (f"; did you mean {near[0]}" if near else "")


def _gauge(typed: str) -> int:
    aughts = typed.endswith("/0") or not typed.strip("0")
    count = int(typed[0]) if "/" in typed else len(typed)
    gauge = 1 - count if aughts else int(typed)
    if not AWG_LARGEST <= gauge <= AWG_SMALLEST or (aughts and count == 0):
        raise _RefusedError(f"AWG sizes read here run from 4/0 to {AWG_SMALLEST}")
    return gauge
