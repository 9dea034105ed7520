"""What a reading tells: whether it is what was expected, and whether it can be meant.

The instrument is part of it. One that may be off by more than the limit tells nothing, whatever it
shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.bench.instruments import Meter, that_would_do, together
from wattwright.bench.sheet import Line
from wattwright.build.catalogue import find
from wattwright.build.fields import Quantity
from wattwright.errors import UnitsError
from wattwright.findings import Check, Verdict
from wattwright.formula import Source
from wattwright.kinds import Kind, difference_of
from wattwright.units import Taste, read, same_digits_in, write
from wattwright.values import Given, Origin, Value, given

# Ten times off is a slip of the decimal point.
_SLIP = (8.0, 12.5)
# So many bands away, and so large a share, nobody expected it.
_FAR, _FAR_SHARE = 4.0, 0.25
_NOBODY = Source("Expected from the build, or a limit of the sheet", "", "computed")


@dataclass(frozen=True, slots=True)
class Told:
    """A reading in numbers, and what it tells.

    ``verdict`` is empty where there is nothing to hold it against. ``better`` names an instrument
    that would tell; ``questions`` are what makes it look like a slip.
    """

    number: float
    band: float
    text: str
    verdict: str
    says: str
    better: str
    questions: tuple[str, ...]


def told(
    text: str,
    kind: Kind,
    line: Line | None,
    meter: Meter | None,
    every: tuple[Meter, ...],
    path: str = "",
    taste: Taste = "metric",
) -> Told:
    """Read what was typed and say what it tells. Raises UnitsError where it cannot be read."""
    reading = read(text, kind)
    band = reading.band
    if band is None:
        band = meter.band(reading.number, kind) if meter else kind.measured * abs(reading.number)
        if meter is None and not kind.true_zero:
            band = kind.measured
    verdict, says, better = "", "", ""
    expected = line.expected if line is not None else None
    if line is not None and line.limit is not None and line.limit.number is not None:
        verdict, says, better = _held(reading.number, band, kind, line, every, taste)
    elif expected is not None and expected.number is not None:
        verdict, says = _as_expected(reading.number, band, kind, expected, taste)
    questions = tuple(_questions(reading.number, band, text, kind, expected, path, taste))
    return Told(
        reading.number,
        band,
        write(reading.number, kind, taste, band or None),
        verdict,
        says,
        better,
        questions,
    )


def _held(
    number: float, band: float, kind: Kind, line: Line, every: tuple[Meter, ...], taste: Taste
) -> tuple[str, str, str]:
    """Hold a reading against the limit of its line."""
    limit = line.limit
    if limit is None or limit.number is None:
        return "", "", ""
    check = Check("sheet", line.act, "", "limit of this line", kind, _NOBODY, near=0.0)
    origin = Given("", "reading", Origin.MEASURED, "", band)
    value = given(kind, number, origin)
    stated = {"at most": check.at_most, "at least": check.at_least}[line.sense](value, limit)
    bound = f"{line.sense} {write(limit.number, kind, taste)}"
    # A reading that is over the limit by less than it may be off, on an instrument that is off by
    # more than all of the limit, does not say that anything is wrong either.
    blind = band > abs(limit.number) and abs(number - limit.number) <= band
    if blind or stated.verdict is Verdict.UNKNOWN:
        meter = that_would_do(every, kind, limit.number)
        better = f"{meter.says} ({meter.accuracy})" if meter else "a finer instrument"
        off = write(band, difference_of(kind), taste)
        says = f"the instrument may be off by {off}: it cannot tell {bound}"
        return Verdict.UNKNOWN.value, says, better
    return stated.verdict.value, bound, ""


def _as_expected(
    number: float, band: float, kind: Kind, expected: Value, taste: Taste
) -> tuple[str, str]:
    """Say whether a reading is what the build led to expect, as well as both are known."""
    gap = number - (expected.number or 0.0)
    joint = together(band, expected.band)
    shown = write(expected.number or 0.0, kind, taste, expected.band or None)
    if abs(gap) <= joint:
        return "as expected", f"{shown} was expected"
    way = "more" if gap > 0 else "less"
    off = write(abs(gap), difference_of(kind), taste)
    return "not as expected", f"{shown} was expected: {off} {way}"


def _questions(
    number: float,
    band: float,
    text: str,
    kind: Kind,
    expected: Value | None,
    path: str,
    taste: Taste,
) -> Iterator[str]:
    """Whatever makes a reading look like a slip of the pen."""
    declared = _declared(path)
    if declared is not None and declared.range is not None:
        low, high = declared.range
        if not low <= number <= high:
            ends = " to ".join(declared.allowed or ())
            yield f"{text} is outside what this can be, {ends}"
    if expected is None or not expected.number or not number:
        return
    ratio = number / expected.number
    shown = write(expected.number, kind, taste, expected.band or None)
    for times, words in ((ratio, "ten times as much as"), (1 / ratio, "a tenth of")):
        if _SLIP[0] < times < _SLIP[1]:
            yield f"{text} is {words} the {shown} expected: is the decimal point where it belongs?"
            return
    away = abs(number - expected.number)
    if away <= _FAR * together(band, expected.band) or abs(ratio - 1) < _FAR_SHARE:
        return
    unit = same_digits_in(text, kind, expected.number)
    if unit:
        yield f"{text} was not expected, {shown} was: was it read in {unit}?"
    else:
        yield f"{text} is far from the {shown} expected"


def _declared(path: str) -> Quantity | None:
    if not path:
        return None
    found = find(path)
    declared = found.slot.declared if found is not None else None
    return declared if isinstance(declared, Quantity) else None


def kind_of(path: str) -> Kind | None:
    """Kind of the field at a path; none where it is no field that holds a quantity."""
    try:
        declared = _declared(path)
    except UnitsError:
        return None
    return declared.kind if declared is not None else None
