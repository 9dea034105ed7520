"""The answer of a sum: the result with its band, the working, doubts, and what moves it.

Whatever a person can type leads to an answer; what cannot be read or worked out is said in it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from wattwright.errors import FormulaError, UnitsError, visible
from wattwright.formula import Formula
from wattwright.kinds import Kind, difference_of
from wattwright.quick_sums.blanks import Blank, Entry, read_into
from wattwright.units import Taste, write
from wattwright.values import Given, Value, worked
from wattwright.working import formula_text, numbers_text, steps_of


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the working: how the formula writes it, what it is, and its number."""

    symbol: str
    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Working:
    """How a result comes about. ``numbers`` is the formula with numbers put in."""

    rows: tuple[Row, ...]
    formula: str
    numbers: str
    source: str
    method: str


@dataclass(frozen=True, slots=True)
class Effect:
    """How far the band of one amount typed moves the result, to first order.

    ``name`` is the blank, ``amount`` the shift in SI, ``shift`` the same as shown.
    """

    name: str
    label: str
    typed: str
    shift: str
    amount: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What a sum says to what was typed.

    ``errors`` stand each beside its blank, all of them at once. ``problem`` says why there is no
    result though every blank could be read. Where both are empty there is a ``result``, with a ±
    if one was typed; ``value`` holds it in SI. ``notes`` say what reading had to decide.
    """

    errors: Mapping[str, str] = field(default_factory=dict)
    problem: str = ""
    result: str = ""
    value: Value | None = None
    working: Working | None = None
    doubts: tuple[str, ...] = ()
    effects: tuple[Effect, ...] = ()
    notes: tuple[str, ...] = ()


def answer(
    formula: Formula, blanks: Sequence[Blank], texts: Mapping[str, str], taste: Taste
) -> Answer:
    """Work a formula out from what was typed into its blanks."""
    entries, errors = _read(blanks, texts)
    if errors:
        return Answer(errors)
    value = worked(formula.fn, *(entry.argument for entry in entries))
    working = Working(
        tuple(_row(entry, taste) for entry in entries),
        formula_text(formula),
        _with_numbers(value, taste),
        str(formula.source),
        formula.method,
    )
    notes = tuple(note for entry in entries for note in entry.notes)
    if value.number is None:
        return Answer(problem=_problem(formula, entries), working=working, notes=notes)
    effects, band, lost = _moved(value)
    result = _shown(value.number, value.kind, taste, band)
    shown = Row(formula.symbol, formula.says, result)
    return Answer(
        result=result,
        value=value,
        working=replace(working, rows=(*working.rows, shown)),
        doubts=(*_beyond(formula, entries, taste), *lost),
        effects=_effects(effects, value.kind, taste),
        notes=notes,
    )


def _read(
    blanks: Sequence[Blank], texts: Mapping[str, str]
) -> tuple[tuple[Entry, ...], dict[str, str]]:
    """Read every blank, and collect what is wrong with each."""
    entries: list[Entry] = []
    errors: dict[str, str] = {}
    for blank in blanks:
        try:
            entries.append(read_into(blank, texts.get(blank.name, "")))
        except UnitsError as error:
            errors[blank.name] = visible(str(error))
    lists = [entry for entry in entries if entry.blank.many]
    for entry in lists[1:]:
        first, size = lists[0], len(entry.values)
        if size != len(first.values):
            errors[entry.blank.name] = (
                f"there are {size} here and {len(first.values)} under {first.blank.label}; write "
                "one for each of those"
            )
    names = [blank.name for blank in blanks]
    for name in texts:
        if name not in names:
            errors[visible(name)] = f"no such blank; there are {', '.join(names)}"
    return tuple(entries), errors


def _row(entry: Entry, taste: Taste) -> Row:
    texts = [
        _shown(value.number or 0.0, value.kind, taste, value.band or None) for value in entry.values
    ]
    return Row(entry.blank.word, entry.blank.label, "; ".join(texts))


def _shown(number: float, kind: Kind, taste: Taste, band: float | None) -> str:
    try:
        return write(number, kind, taste, band)
    except UnitsError:
        # Finite in SI, yet beyond all numbers in the unit it is usually written in.
        return f"{number:.6g} {kind.si}".rstrip()


def _with_numbers(value: Value, taste: Taste) -> str:
    try:
        return numbers_text(steps_of(value)[-1], taste, {})
    except UnitsError:
        return ""


def _problem(formula: Formula, entries: Sequence[Entry]) -> str:
    """Say in words why the formula has no number for these."""
    try:
        formula.fn(*(entry.number for entry in entries))
    except FormulaError as error:
        return visible(str(error))
    except ZeroDivisionError:
        return "with these numbers the formula divides by zero"
    except OverflowError:
        return "with these numbers the result is too large to be worked out"
    except ValueError:
        return "with these numbers the formula has no result, as a root of less than zero has none"
    return "with these numbers the result is not a finite number"


def _moved(value: Value) -> tuple[Mapping[Given, float], float | None, tuple[str, ...]]:
    """Effects of what was typed, the band they make, and doubts about it."""
    try:
        effects, band, doubts = value.effects, value.band, value.doubts
    except (ArithmeticError, ValueError):
        band = math.inf
    if not math.isfinite(band):
        return {}, None, ("how far the ± typed move the result cannot be worked out",)
    return effects, band or None, tuple(each for each in doubts if each not in value.noted)


def _beyond(formula: Formula, entries: Sequence[Entry], taste: Taste) -> tuple[str, ...]:
    outside = formula.beyond([entry.number for entry in entries])
    blanks = {entry.blank.name: entry.blank for entry in entries}
    return tuple(
        f"{blanks[argument.name].label} is outside {blanks[argument.name].range(taste)}, "
        "the range that the source vouches for"
        for argument in outside
    )


def _effects(effects: Mapping[Given, float], kind: Kind, taste: Taste) -> tuple[Effect, ...]:
    """List what moves the result, the furthest first."""
    moved = sorted(effects.items(), key=lambda pair: -abs(pair[1]))
    return tuple(
        Effect(origin.path, origin.label, origin.text, _signed(shift, kind, taste), shift)
        for origin, shift in moved
        if shift
    )


def _signed(shift: float, kind: Kind, taste: Taste) -> str:
    text = _shown(shift, difference_of(kind), taste, None)
    return text if text.startswith("-") else f"+{text}"
