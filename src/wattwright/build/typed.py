"""One leaf as a builder types it: quantity, origin, details.

    "2540 mm ± 3, measured, tape, 2026-03-14"
    "640 kg, datasheet, plate under the bonnet"
    "45 kg"        no origin: assumed
    "unknown"      on the list of things to find out
    "none"         known not to exist, where the field allows it

A record may say ``origin = "measured, tape, 2026-03-14"``; it speaks for every quantity that stands
directly in that record and names no origin of its own, not for the records inside it: a part's
mass and its place are measured with different tools.
"""

from __future__ import annotations

import datetime
import difflib
import re
from dataclasses import dataclass

from wattwright.build.fields import Quantity
from wattwright.errors import UnitsError
from wattwright.tables import load
from wattwright.units import Reading, read
from wattwright.values import Given, Lack, Origin, State, Value, given, lacking, nonexistent

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
# Words of a path that add nothing to a label: the name of the part is enough.
_UNNAMED = frozenset("at size part place case donor removed rules targets".split())
_ORIGINS = {origin.value: origin for origin in Origin if origin is not Origin.RULE}


@dataclass(frozen=True, slots=True)
class Credit:
    """Origin of a number as typed: the word, when, and by what."""

    origin: Origin
    detail: str = ""
    date: str = ""


ASSUMED = Credit(Origin.ASSUMED)
AS_MARKED = Credit(Origin.DATASHEET, "as marked on the part")
DECIDED = Credit(Origin.RULE, "the builder's own decision")


@dataclass(frozen=True, slots=True)
class Field:
    """Where a leaf stands: its path, its words, its line and its declaration."""

    path: str
    label: str
    line: int | None
    declared: Quantity


def labelled(owners: tuple[str, ...], declared: Quantity) -> str:
    """Put what a leaf belongs to before its label."""
    owner = " ".join(piece for piece in owners if piece not in _UNNAMED).replace("_", " ")
    return f"{owner}: {declared.label}" if owner else declared.label


def read_credit(text: str) -> Credit:
    """Read ``measured, tape, 2026-03-14``; raise UnitsError on an unknown origin."""
    word, *details = [piece.strip() for piece in text.split(",")]
    origin = _ORIGINS.get(word.casefold())
    if origin is None:
        near = difflib.get_close_matches(word.casefold(), _ORIGINS, n=1)
        hint = f"; did you mean {near[0]}?" if near else "."
        raise UnitsError(
            f"{word!r} is no origin{hint} Write measured, datasheet, typical, assumed or computed "
            "after the quantity, for example: 412 kg, measured, hanging scale, 2026-03-14"
        )
    date = ""
    words = []
    for detail in details:
        if _DATE.fullmatch(detail):
            date = checked_date(detail)
        elif detail:
            words.append(detail)
    return Credit(origin, ", ".join(words), date)


def checked_date(text: str) -> str:
    """Read a date, or raise UnitsError with the form it takes."""
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise UnitsError(f"{text} is no date; write year-month-day, such as 2026-03-14") from None


def read_leaf(typed: str | int | float, field: Field, inherited: Credit | None) -> Value:
    """Turn a typed leaf into a value. Raises UnitsError with what is wrong and what would do."""
    text = str(typed).strip()
    declared = field.declared
    word = text.casefold()
    if word == State.UNKNOWN.value:
        return lacking(declared.kind, lack(field, State.UNKNOWN.value))
    if word == State.NONE.value:
        if not declared.may_be_none:
            raise UnitsError(
                f'{declared.label} cannot be "none": something holds here; write "unknown" '
                "until it is known"
            )
        return nonexistent(declared.kind)
    quantity, comma, rest = text.partition(", ")
    usual = AS_MARKED if declared.codes else DECIDED if declared.decided else ASSUMED
    credit = read_credit(rest) if comma else inherited or usual
    if declared.codes:
        return _coded(quantity, field, credit, text)
    reading = read(quantity, declared.kind)
    _check_range(reading, quantity, declared)
    return _valued(reading, field, credit, text)


def not_given(field: Field) -> Value:
    """Make the value of a leaf that nobody wrote: the declared default, flagged, or a lack."""
    declared = field.declared
    if not declared.default:
        return lacking(declared.kind, lack(field, State.NOT_GIVEN.value))
    reading = read(declared.default, declared.kind)
    if not declared.basis:
        return Value(declared.kind, reading.number)
    return _valued(
        reading, field, Credit(Origin.TYPICAL, declared.basis), f"{declared.default} (default)"
    )


def rule_value(value: Value, field: Field, answered_by: str, date: str) -> Value:
    """Turn a rule's typed limit, or its default, into a value of origin rule."""
    if value.number is None:
        return value
    declared = field.declared
    before = value.given
    typed = before is not None and before.origin is not Origin.TYPICAL
    text = before.text if before is not None else declared.default
    return given(
        declared.kind,
        value.number,
        Given(
            field.path,
            field.label,
            Origin.RULE,
            text,
            detail=answered_by if typed else declared.basis,
            date=date if typed else "",
            line=field.line,
            confirmed=typed and bool(answered_by) and bool(date),
            how=declared.how,
            minutes=declared.minutes,
        ),
    )


def lack(field: Field, why: str) -> Lack:
    """Make the entry on the list of things to find out."""
    return Lack(field.path, field.label, why, field.declared.how, field.declared.minutes)


def _valued(reading: Reading, field: Field, credit: Credit, text: str) -> Value:
    band, note = _band(reading, credit.origin, field.declared)
    return _given(reading, field, credit, text, band, note)


def _given(
    reading: Reading, field: Field, credit: Credit, text: str, band: float, note: str
) -> Value:
    declared = field.declared
    return given(
        declared.kind,
        reading.number,
        Given(
            field.path,
            field.label,
            credit.origin,
            text,
            band,
            "; ".join(piece for piece in (note, reading.note) if piece),
            credit.detail,
            credit.date,
            field.line,
            how=declared.how,
            minutes=declared.minutes,
        ),
    )


def _band(reading: Reading, origin: Origin, declared: Quantity) -> tuple[float, str]:
    kind = declared.kind
    width = {
        Origin.MEASURED: kind.measured,
        Origin.ASSUMED: kind.assumed,
        Origin.TYPICAL: kind.assumed,
    }.get(origin)
    # Nothing is assumed exactly: "± 0" would make a guess look firm.
    exactly = reading.band == 0.0 and width == kind.assumed
    if reading.band is not None and not exactly:
        return reading.band, ""
    if not width:
        return 0.0, ""
    band = width * abs(reading.number) if kind.true_zero else width
    if declared.range is not None:
        # A guess of 99 % is not 109 %: what cannot be does not count as possible.
        low, high = declared.range
        band = min(band, reading.number - low, high - reading.number)
    return band, usual_note(origin)


def usual_note(origin: Origin) -> str:
    """Say that a band is the usual one for its origin."""
    return f"± as usual for {origin.value}, none was typed"


def _check_range(reading: Reading, text: str, declared: Quantity) -> None:
    if declared.range is None:
        return
    low, high = declared.range
    if reading.band is not None and reading.band > high - low:
        raise UnitsError(f"{text!r}: the ± is wider than all that is allowed for this field")
    if not low <= reading.number <= high:
        least, most = declared.allowed or ("", "")
        raise UnitsError(f"{text!r} cannot be the {declared.label}; allowed is {least} to {most}")


def _coded(code: str, field: Field, credit: Credit, text: str) -> Value:
    table = load(field.declared.codes)
    row = table.rows.get(code.upper())
    if row is None:
        raise UnitsError(
            f"{code!r} is no {field.declared.label}; known are {', '.join(table.rows)}"
        )
    if not row.limits:
        why = f"{code} means {row.cells['meaning']} only from memory; read it in {row.source.title}"
        return lacking(field.declared.kind, lack(field, why))
    reading = read(row.cells["meaning"], field.declared.kind)
    return _given(reading, field, credit, f"{text} ({row.cells['meaning']})", 0.0, "")
