"""The blanks of a sum: what each asks for, and how what was typed into it is read."""

from __future__ import annotations

import re
from dataclasses import dataclass

from wattwright.errors import UnitsError, visible
from wattwright.formula import Argument, Formula
from wattwright.given import Given, Origin
from wattwright.kinds import Kind
from wattwright.units import Reading, Taste, read, unit_of, write
from wattwright.values import Value, given

LONGEST_LIST = 2000
_BETWEEN = re.compile(r"[;\n]|,\s")
_PLUS_MINUS = re.compile(r"±|\+/?-")
_BEGINS_A_NUMBER = re.compile(r"[+\-−]?\.?[0-9]")
_BARE = re.compile(r"[-+−±/:0-9.,eE\s]+")
# A number and, without a second number in it, the unit behind.
_WITH_UNIT = re.compile(
    r"[+\-−]?\.?[0-9][0-9.,]*(?:[eE][+-]?[0-9]+)?\s*([^\s0-9.,:/+-]\S*(?:\s[^\s0-9.]\S*)*)"
)


@dataclass(frozen=True, slots=True)
class Blank:
    """One argument of a sum, as a person is asked for it.

    ``name`` is the key that its text is handed over under, ``word`` how the formula writes it,
    ``many`` says that it takes a list. ``valid`` is the range in SI that the source vouches for.
    """

    name: str
    word: str
    label: str
    kind: Kind
    many: bool
    example: str
    valid: tuple[float, float] | None

    def unit(self, taste: Taste = "metric") -> str:
        """Return the unit that it is usually written in, empty where it takes none."""
        return unit_of(self.kind, taste)

    def range(self, taste: Taste = "metric") -> str:
        """Say in words which range the source vouches for; empty where it names none."""
        if self.valid is None:
            return ""
        low, high = (write(end, self.kind, taste) for end in self.valid)
        return f"{low} to {high}"


@dataclass(frozen=True, slots=True)
class Entry:
    """What was typed into a blank, as understood."""

    blank: Blank
    values: tuple[Value, ...]
    notes: tuple[str, ...]

    @property
    def argument(self) -> Value | tuple[Value, ...]:
        """What the formula takes: a value, or several."""
        return self.values if self.blank.many else self.values[0]

    @property
    def number(self) -> object:
        """The plain number that the formula takes, or the list of them."""
        numbers = [value.number for value in self.values]
        return numbers if self.blank.many else numbers[0]


def blank_for(formula: Formula, argument: Argument) -> Blank:
    """Make the blank for an argument of a formula."""
    asked = formula.asked(argument)
    return Blank(
        argument.name,
        argument.name.replace("_", " "),
        asked.label,
        argument.kind,
        argument.many,
        asked.example,
        formula.valid.get(argument.name),
    )


def read_into(blank: Blank, text: str) -> Entry:
    """Read what was typed into a blank. Raises UnitsError with what is wrong and what would do."""
    if not text.strip():
        raise UnitsError(f"nothing was typed; write for example {blank.example}")
    readings = _several(text, blank) if blank.many else (read(text, blank.kind),)
    values = tuple(
        _value(reading, blank, place, len(readings)) for place, reading in enumerate(readings, 1)
    )
    return Entry(blank, values, tuple(reading.note for reading in readings if reading.note))


def _value(reading: Reading, blank: Blank, place: int, size: int) -> Value:
    """Take a number as it was typed: without ± it has no band."""
    label = f"{blank.label}, {place} of {size}" if size > 1 else blank.label
    text = visible(reading.text.strip())
    origin = Given(blank.name, label, Origin.ASSUMED, text, reading.band or 0.0)
    return given(blank.kind, reading.number, origin)


def _several(text: str, blank: Blank) -> tuple[Reading, ...]:
    """Read a list; blanks separate as well as semicolons do where only one reading is possible."""
    if len(text) > LONGEST_LIST:
        raise UnitsError(f"the list is longer than {LONGEST_LIST} characters")
    if _BETWEEN.search(text):
        pieces = [piece.strip() for piece in _BETWEEN.split(text) if piece.strip()]
        if not pieces:
            raise UnitsError(f"nothing was typed; write for example {blank.example}")
        return _read_all(pieces, blank)
    pieces = _amounts(text)
    if len(pieces) > 1 and _is_one(text, blank.kind):
        raise UnitsError(
            f"{text.strip()} is one amount or {len(pieces)}; put a semicolon between amounts, or "
            "one behind if it is a single one"
        )
    return _read_all(pieces, blank)


def _read_all(pieces: list[str], blank: Blank) -> tuple[Reading, ...]:
    """Read each piece; a unit behind the last one alone is that of all.

    Where a bare number means something by itself it is not: 0.97 and 96 % are not both per cent.
    """
    bare = [_BARE.fullmatch(piece) is not None for piece in pieces]
    if any(bare) and not all(bare):
        if _is_one("1", blank.kind):
            raise UnitsError("write the unit behind each amount, or behind none")
        unit = _unit_of(pieces[-1])
        if unit and all(bare[:-1]):
            pieces = [*(f"{piece} {unit}" for piece in pieces[:-1]), pieces[-1]]
    return tuple(read(piece, blank.kind) for piece in pieces)


def _amounts(text: str) -> list[str]:
    """Split at blanks, before each number that does not follow ±."""
    pieces: list[str] = []
    before = ""
    for word in text.split():
        if pieces and (_PLUS_MINUS.fullmatch(before) or not _BEGINS_A_NUMBER.match(word)):
            pieces[-1] += f" {word}"
        else:
            pieces.append(word)
        before = word
    return pieces


def _is_one(text: str, kind: Kind) -> bool:
    try:
        read(text, kind)
    except UnitsError:
        return False
    return True


def _unit_of(piece: str) -> str:
    for part in _PLUS_MINUS.split(piece, maxsplit=1):
        match = _WITH_UNIT.fullmatch(part.strip())
        if match:
            return match[1]
    return ""
