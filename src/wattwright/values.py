"""Values: what is known, how well, and from where.

A value has a number or lacks one, a kind, and either what was *given* or the *step* that worked
it out. ``worked`` is the only way to combine values. It carries linear effects: how far a result
shifts over each input's band. The band, what a finding rests on, the working and the most useful
next measurement all come from that one record.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum

from wattwright.errors import FormulaError
from wattwright.formula import Formula, declaration
from wattwright.kinds import Kind


class Origin(Enum):
    """Where a number comes from."""

    MEASURED = "measured"
    DATASHEET = "datasheet"
    TYPICAL = "typical"
    ASSUMED = "assumed"
    COMPUTED = "computed"
    RULE = "rule"


class State(Enum):
    """What is known about an input."""

    KNOWN = "known"
    UNKNOWN = "unknown"
    NOT_GIVEN = "not given"
    NONE = "none"


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """One input as it stands in the build, a table or a rule.

    ``band`` is the 95 % half-width in SI; ``band_note`` says where it comes from when the builder
    typed none. ``confirmed`` matters for rules: somebody entitled to answer has answered.
    """

    path: str
    label: str
    origin: Origin
    text: str
    band: float = 0.0
    band_note: str = ""
    detail: str = ""
    date: str = ""
    line: int | None = None
    confirmed: bool = True
    how: str = ""
    minutes: float = 10.0

    @property
    def soft(self) -> bool:
        """True where a finding that rests on this can only be provisional."""
        if self.origin is Origin.RULE:
            return not self.confirmed
        return self.origin in (Origin.TYPICAL, Origin.ASSUMED)


@dataclass(frozen=True, slots=True)
class Lack:
    """Something missing: which input, why, and how to get it."""

    path: str
    label: str
    why: str
    how: str = ""
    minutes: float = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """How a value was worked out: the function and the values it was given."""

    fn: Callable[..., float]
    arguments: tuple[Value | tuple[Value, ...], ...]

    def flat(self) -> Iterable[Value]:
        """Every value that went in, sequences opened."""
        for argument in self.arguments:
            if isinstance(argument, Value):
                yield argument
            else:
                yield from argument


@dataclass(frozen=True, slots=True, eq=False)
class Value:
    """A number with its meaning and its history, or the lack of one."""

    kind: Kind
    number: float | None
    given: Given | None = None
    step: Step | None = None
    effects: Mapping[Given, float] = field(default_factory=dict)
    lacks: tuple[Lack, ...] = ()
    absent: bool = False
    doubts: tuple[str, ...] = ()
    label: str = ""

    @property
    def state(self) -> State:
        """What is known about it."""
        if self.absent:
            return State.NONE
        if self.number is not None:
            return State.KNOWN
        if any(lack.why == State.NOT_GIVEN.value for lack in self.lacks):
            return State.NOT_GIVEN
        return State.UNKNOWN

    @property
    def known(self) -> bool:
        """True where there is a number."""
        return self.number is not None

    @property
    def band(self) -> float:
        """95 % half-width in SI, inputs taken as independent of each other."""
        return math.sqrt(sum(shift * shift for shift in self.effects.values()))


def given(kind: Kind, number: float, origin: Given) -> Value:
    """Make a value that stands in the build, with the band its origin carries."""
    return Value(kind, number, given=origin, effects={origin: origin.band})


def constant(kind: Kind, number: float, label: str = "") -> Value:
    """Make an exact number that needs no source, such as an empty ledger's nought."""
    return Value(kind, number, label=label)


def lacking(kind: Kind, lack: Lack) -> Value:
    """Make a value that somebody still has to find out."""
    return Value(kind, None, lacks=(lack,))


def nonexistent(kind: Kind) -> Value:
    """Make a value that is known not to exist."""
    return Value(kind, None, absent=True)


def either(*values: Value, asking: int = 0) -> Value:
    """Take the first value that has a number, in order of preference.

    Where none has one, the value at place ``asking`` speaks for all: it is the one that the
    builder is asked to find out.
    """
    for value in values:
        if value.known:
            return value
    if not values[asking].absent:
        return values[asking]
    return next((value for value in values if not value.absent), values[0])


def without_band(value: Value) -> Value:
    """Take a number as it stands: two readings differ by what they differ by."""
    return replace(value, effects={})


def band_of(value: Value, label: str) -> Value:
    """Take the band of a value as a number of its own, exact."""
    if value.number is None:
        return value
    return Value(value.kind, value.band, label=label)


def hard_bands(value: Value) -> tuple[Value, ...]:
    """List the bands that weighed, measured and printed inputs bring to a value."""
    return tuple(
        Value(value.kind, abs(shift), label=f"± of {origin.path}")
        for origin, shift in value.effects.items()
        if not origin.soft and shift
    )


def allowance(path: str, label: str, band: Value) -> Value:
    """Make a nought that may be off by so much: assumed, with the given band."""
    if band.number is None:
        return band
    text = "taken as nought; the band is what stays unexplained"
    return given(band.kind, 0.0, Given(path, label, Origin.ASSUMED, text, band.number, minutes=60))


def doubted(value: Value, doubt: str) -> Value:
    """Take a value with a doubt about it: a finding that rests on it is not sound."""
    return replace(value, doubts=(*value.doubts, doubt))


def exceeds(value: Value, limit: Value) -> bool:
    """Say whether both are known and the first is further from nought than the limit."""
    known = value.number is not None and limit.number is not None
    return known and abs(value.number or 0.0) > (limit.number or 0.0)


def largest(*values: Value) -> Value:
    """Pick the value with the largest number; one that is lacking speaks first."""
    for value in values:
        if value.number is None:
            return value
    return max(values, key=lambda value: value.number or 0.0)


def worked(fn: Callable[..., float], *arguments: Value | Sequence[Value]) -> Value:
    """Combine values by a declared formula, carrying what is lacking, doubts and effects."""
    formula = declaration(fn)
    step = Step(fn, tuple(a if isinstance(a, Value) else tuple(a) for a in arguments))
    inputs = tuple(step.flat())
    if any(value.absent for value in inputs):
        return Value(formula.kind, None, step=step, absent=True)
    doubts = tuple(dict.fromkeys(doubt for value in inputs for doubt in value.doubts))
    lacks = _lacks(inputs)
    if lacks:
        return Value(formula.kind, None, step=step, lacks=lacks, doubts=doubts)
    numbers = [
        a.number if isinstance(a, Value) else tuple(v.number for v in a) for a in step.arguments
    ]
    try:
        number = _finite(fn(*numbers))
    except (ArithmeticError, ValueError) as error:
        why = f"cannot be worked out: {error}"
        lack = Lack("", formula.says, why)
        return Value(formula.kind, None, step=step, lacks=(lack,), doubts=doubts)
    doubts += tuple(f"{formula.says}: {n}" for n in formula.outside(numbers))
    effects, rough = _effects(formula, step, numbers, number)
    return Value(formula.kind, number, step=step, effects=effects, doubts=doubts + rough)


def _lacks(values: Iterable[Value]) -> tuple[Lack, ...]:
    found = {lack: None for value in values for lack in value.lacks}
    return tuple(found)


def _finite(number: float) -> float:
    if not math.isfinite(number):
        raise FormulaError("the result is not a finite number")
    return number


def _effects(
    formula: Formula, step: Step, numbers: Sequence[object], number: float
) -> tuple[Mapping[Given, float], tuple[str, ...]]:
    """Shift of the result over the band of each input, to first order."""
    effects: dict[Given, float] = {}
    doubts: tuple[str, ...] = ()
    exact = formula.gradient(*numbers) if formula.gradient else None
    for place, argument in enumerate(step.arguments):
        many = not isinstance(argument, Value)
        members = argument if isinstance(argument, tuple) else (argument,)
        for index, value in enumerate(members):
            if not value.effects:
                continue
            if exact is not None:
                slope = exact[place]
                partial = slope[index] if isinstance(slope, Sequence) else slope
            else:
                moved = (place, index if many else None)
                partial = _partial(formula.fn, numbers, number, moved, value.band)
                if math.isnan(partial):
                    partial = 0.0
                    doubts += (f"{formula.says}: the band is too wide to follow",)
            for origin, shift in value.effects.items():
                effects[origin] = effects.get(origin, 0.0) + partial * shift
    return effects, doubts


def _partial(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    moved: tuple[int, int | None],
    band: float,
) -> float:
    """Slope over the band itself: the steeper side where the formula has a bend.

    A narrower step is tried where the formula ends inside the band. Returns NaN where no step
    works; an input without a band moves nothing.
    """
    if band == 0.0:
        return 0.0
    for share in (1.0, 0.1, 0.01):
        width = band * share
        sides = [
            side
            for side in (
                _shift(fn, numbers, number, moved, width),
                _shift(fn, numbers, number, moved, -width),
            )
            if side is not None
        ]
        if sides:
            return max(sides, key=abs)
    return math.nan


def _shift(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    moved: tuple[int, int | None],
    width: float,
) -> float | None:
    place, index = moved
    args = list(numbers)
    before = args[place]
    if index is None:
        args[place] = before + width  # type: ignore[operator]
    else:
        row = list(before)  # type: ignore[call-overload]
        row[index] += width
        args[place] = row
    try:
        return (_finite(fn(*args)) - number) / width
    except (ArithmeticError, ValueError):
        return None
