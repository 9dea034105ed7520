"""Values: what is known, how well, and from where.

A value has a number or lacks one, a kind, and either what was *given* or the *step* that worked
it out. ``worked`` is the only way to combine values. It carries linear effects: how far a result
shifts over each input's band. The band, what a finding rests on, the working and the most useful
next measurement all come from that one record.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.given import Given, Lack, Origin, State
from wattwright.kinds import ANYTHING, FRACTION, Kind
from wattwright.once import once
from wattwright.slopes import finite, slopes_over

__all__ = [
    "Given",
    "Lack",
    "Origin",
    "State",
    "Step",
    "Value",
    "asked_for",
    "band_of",
    "bands_of",
    "constant",
    "doubt",
    "doubted",
    "either",
    "exceeds",
    "given",
    "hard_bands",
    "is_nought",
    "lacking",
    "largest",
    "nonexistent",
    "smallest",
    "without_band",
    "worked",
]


@dataclass(frozen=True, eq=False)
class Step:
    """How a value was worked out: the function and the values it was given."""

    fn: Callable[..., float]
    arguments: tuple[Value | tuple[Value, ...], ...]

    @once
    def flat(self) -> tuple[Value, ...]:
        """Every value that went in, sequences opened."""
        rows = (a if isinstance(a, tuple) else (a,) for a in self.arguments)
        return tuple(value for row in rows for value in row)


@dataclass(frozen=True, eq=False, init=False)
class Value:
    """A number with its meaning and its history, or the lack of one.

    Effects are worked out when they are first asked for: most figures are never asked.
    ``settled`` says that the number is taken as it stands, without a band.
    """

    kind: Kind
    number: float | None
    given: Given | None = None
    step: Step | None = None
    lacks: tuple[Lack, ...] = ()
    absent: bool = False
    noted: tuple[str, ...] = ()
    label: str = ""
    settled: bool = False

    def __init__(
        self,
        kind: Kind,
        number: float | None,
        given: Given | None = None,
        step: Step | None = None,
        lacks: tuple[Lack, ...] = (),
        absent: bool = False,
        noted: tuple[str, ...] = (),
        label: str = "",
        settled: bool = False,
    ) -> None:
        # A frozen class sets its fields one by one; an assessment makes hundreds of values, and
        # setting all at once takes a third of the time.
        self.__dict__.update(
            kind=kind,
            number=number,
            given=given,
            step=step,
            lacks=lacks,
            absent=absent,
            noted=noted,
            label=label,
            settled=settled,
        )

    @once
    def effects(self) -> Mapping[Given, float]:
        """How far the number shifts over the band of each input, to first order."""
        if self.number is None or self.settled:
            return {}
        if self.given is not None:
            return {self.given: self.given.band}
        return self._carried[0]

    @once
    def doubts(self) -> tuple[str, ...]:
        """Where a formula was used outside its range, or a band could not be followed."""
        if self.step is None:
            return self.noted
        found: list[str] = []
        for argument in self.step.arguments:
            for value in argument if isinstance(argument, tuple) else (argument,):
                if value.step is not None or value.noted:
                    found.extend(value.doubts)
        found.extend(self.noted)
        found.extend(self._carried[1])
        return tuple(dict.fromkeys(found)) if found else ()

    @once
    def _carried(self) -> tuple[Mapping[Given, float], tuple[str, ...]]:
        if self.step is None or self.number is None:
            return {}, ()
        return _effects(self.step, self.number)

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

    @once
    def band(self) -> float:
        """95 % half-width in SI, inputs taken as independent of each other."""
        return math.hypot(*self.effects.values())


def given(kind: Kind, number: float, origin: Given) -> Value:
    """Make a value that stands in the build, with the band its origin carries."""
    return Value(kind, number, given=origin)


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
    builder is asked to find out. One that no measurement would help gives way to another.
    """
    for value in values:
        if value.known:
            return value
    order = sorted(values, key=lambda value: value is not values[asking])
    for value in order:
        if any(lack.path for lack in value.lacks):
            return value
    return next((value for value in order if not value.absent), values[0])


def without_band(value: Value) -> Value:
    """Take a number as it stands: two readings differ by what they differ by."""
    return replace(value, settled=True)


def band_of(value: Value, label: str) -> Value:
    """Take the band of a value as a number of its own, exact."""
    if value.number is None:
        return value
    return Value(value.kind, value.band, label=label)


def bands_of(value: Value) -> tuple[Value, ...]:
    """List the bands that inputs bring to a value, each resting on its input.

    A value that is lacking stands for itself, so that what is worked out from them lacks it too.
    """
    if value.number is None:
        return (value,)
    return tuple(
        given(value.kind, abs(shift), replace(origin, text=f"± of {origin.path}", band=0.0))
        for origin, shift in value.effects.items()
        if shift
    )


def hard_bands(value: Value) -> tuple[Value, ...]:
    """List the bands that weighed, measured and printed inputs bring to a value.

    Typed guesses count for nothing in them, yet what is worked out rests on them too.
    """
    return tuple(
        replace(band, number=0.0) if band.given is not None and band.given.soft else band
        for band in bands_of(value)
    )


def doubt(path: str, label: str, how: str) -> Value:
    """Make a share of nought that may be off by the whole, either way: assumed.

    What is multiplied by one and this share keeps its number and gets a band as wide as itself.
    """
    origin = Given(
        path,
        label,
        Origin.ASSUMED,
        "taken to stay as it is",
        1.0,
        confirmed=False,
        how=how,
        minutes=45,
    )
    return given(FRACTION, 0.0, origin)


def asked_for(value: Value, why: str) -> Value:
    """Turn a value that stands only as a default into something to find out."""
    origin = value.given
    if origin is None:
        return value
    lack = Lack(origin.path, origin.label, why, origin.how, origin.minutes)
    return lacking(value.kind, lack)


def doubted(value: Value, doubt: str) -> Value:
    """Take a value with a doubt about it: a finding that rests on it is not sound."""
    return replace(value, noted=(*value.noted, doubt))


def exceeds(value: Value, limit: Value) -> bool:
    """Say whether both are known and the first is further from nought than the limit."""
    known = value.number is not None and limit.number is not None
    return known and abs(value.number or 0.0) > (limit.number or 0.0)


def is_nought(value: Value) -> bool:
    """Say whether a value is known to be nothing, exactly."""
    return value.number == 0.0 and value.band == 0.0


def largest(*values: Value) -> Value:
    """Pick the value whose band reaches highest; one that is lacking speaks first."""
    for value in values:
        if value.number is None:
            return value
    return max(values, key=lambda value: (value.number or 0.0) + value.band)


def smallest(*values: Value) -> Value:
    """Pick the value whose band reaches lowest; one that is lacking speaks first."""
    for value in values:
        if value.number is None:
            return value
    return min(values, key=lambda value: (value.number or 0.0) - value.band)


def worked(fn: Callable[..., float], *arguments: Value | Sequence[Value]) -> Value:
    """Combine values by a declared formula, carrying what is lacking, doubts and effects.

    A value of another dimension than the formula's argument is refused: arguments that changed
    places must not become numbers.
    """
    formula = declaration(fn)
    kept: list[Value | tuple[Value, ...]] = []
    numbers: list[Any] = []
    for argument, unit in zip(arguments, formula.units, strict=True):
        if isinstance(argument, Value):
            if unit not in (argument.kind.si, ANYTHING.si):
                raise FormulaError(f"{formula.name} was given {argument.kind.name} for {unit}")
            kept.append(argument)
            numbers.append(argument.number)
        else:
            if unit != ANYTHING.si and any(value.kind.si != unit for value in argument):
                raise FormulaError(f"{formula.name} was given another kind for {unit}")
            kept.append(tuple(argument))
            numbers.append([value.number for value in argument])
    step = Step(fn, tuple(kept))
    kind = formula.kind
    if kind is ANYTHING:
        # What holds for any quantity yields the kind of the first one it is given.
        kind = next(value.kind for value in step.flat)
    for given_number in numbers:
        if given_number is None or (given_number.__class__ is list and None in given_number):
            return _lacking_result(kind, step)
    try:
        number = finite(fn(*numbers))
    except (ArithmeticError, ValueError) as error:
        lack = Lack("", formula.says, f"cannot be worked out: {error}")
        return Value(kind, None, step=step, lacks=(lack,))
    if formula.valid:
        noted = tuple(f"{formula.says}: {note}" for note in formula.outside(numbers))
        return Value(kind, number, step=step, noted=noted)
    return Value(kind, number, step=step)


def _lacking_result(kind: Kind, step: Step) -> Value:
    """Join what the arguments lack; one that does not exist takes the result with it."""
    without = [value for value in step.flat if value.number is None]
    if any(value.absent for value in without):
        return Value(kind, None, step=step, absent=True)
    lacks = {lack: None for value in without for lack in value.lacks}
    return Value(kind, None, step=step, lacks=tuple(lacks))


def _effects(step: Step, number: float) -> tuple[Mapping[Given, float], tuple[str, ...]]:
    """Shift of the result over the band of each input, and where a band was too wide for it."""
    direct: dict[Given, float] = {}
    through: list[tuple[Value, float]] = []
    slopes, cut_short = _slopes(step, number)
    for value, slope in slopes:
        if value.settled:
            continue
        if value.given is not None:
            origin = value.given
            direct[origin] = direct.get(origin, 0.0) + slope * origin.band
        elif value.step is not None:
            through.append((value, slope))
    doubt = f"{declaration(step.fn).says}: the band is too wide to follow"
    return _added(direct, through), (doubt,) if cut_short else ()


def _added(direct: dict[Given, float], through: list[tuple[Value, float]]) -> Mapping[Given, float]:
    """Add up effects that come directly and through other values.

    The longest list is copied and the shorter ones are added to it: this is the inner loop of
    every assessment.
    """
    if not through:
        return direct
    longest = max(range(len(through)), key=lambda place: len(through[place][0].effects))
    first, slope = through.pop(longest)
    effects = (
        dict(first.effects)
        if slope == 1.0
        else {origin: slope * shift for origin, shift in first.effects.items()}
    )
    for value, slope in through:
        for origin, shift in value.effects.items():
            effects[origin] = effects.get(origin, 0.0) + slope * shift
    for origin, shift in direct.items():
        effects[origin] = effects.get(origin, 0.0) + shift
    return effects


def _slopes(step: Step, number: float) -> tuple[list[tuple[Value, float]], bool]:
    """Slope of the result along each value: exact where the formula declares its gradient.

    The second of the pair says whether a band leaves the range of the formula.
    """
    formula = declaration(step.fn)
    numbers = [
        [value.number for value in a] if isinstance(a, tuple) else a.number for a in step.arguments
    ]
    along: Sequence[float | Sequence[float]]
    cut_short = False
    if formula.gradient is not None:
        along = formula.gradient(*numbers)
    else:
        bands = [
            [value.band for value in a] if isinstance(a, tuple) else a.band for a in step.arguments
        ]
        along, cut_short = slopes_over(step.fn, numbers, number, bands)
    slopes: list[tuple[Value, float]] = []
    for argument, slope in zip(step.arguments, along, strict=True):
        if isinstance(argument, tuple):
            slopes.extend(zip(argument, slope, strict=True))  # type: ignore[arg-type]
        else:
            slopes.append((argument, slope))  # type: ignore[arg-type]
    return slopes, cut_short
