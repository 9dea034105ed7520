"""Findings and figures: what is said about a build, and how the verdict follows.

A ``Check`` is declared once. Comparing a value with a limit yields a ``Finding`` whose margin,
verdict, provisional state and what it rests on are derived here and nowhere else. A result
without a limit is a ``Figure``.

Verdicts, in the order in which they are decided:
    unknown    an input is missing
    failing    the value is past the limit, however wide the band
    unknown    the band is wider than the limit itself and reaches it, or a formula was used
               outside its range
    marginal   the band reaches the limit, or the margin is under the check's threshold
    sound      otherwise
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from wattwright.formula import Source
from wattwright.kinds import Kind
from wattwright.once import once
from wattwright.values import Given, Lack, Value

Sense = Literal["at most", "at least", "within"]

# An input is left out of what a finding rests on while all those left out together move the
# value by less than this share of its margin.
NEGLIGIBLE = 0.01
_BETWEEN = re.compile(r"(?<! km)/")


def about_words(about: str) -> str:
    """Say what something is about, part by part; the stroke of a speed parts nothing."""
    return _BETWEEN.sub(", ", about)


class Verdict(Enum):
    """What is known about a checked statement, worst first."""

    FAILING = "failing"
    UNKNOWN = "unknown"
    MARGINAL = "marginal"
    SOUND = "sound"


@dataclass(frozen=True, slots=True)
class Check:
    """One statement that is checked, declared once.

    ``near`` is the margin under which a sound result is only marginal: a share of the limit for
    kinds with a true zero, an amount in SI for the others. ``strict`` checks (high voltage,
    restraint, brakes) leave no input out of what they rest on. Past its limit a ``warning`` is
    marginal, not failing: something to know and to drive by, not something that breaks.
    """

    id: str
    says: str
    meaning: str
    limit_says: str
    kind: Kind
    source: Source
    near: float = 0.10
    strict: bool = False
    warning: bool = False
    caution: str = ""

    def at_most(self, value: Value, limit: Value, about: str = "") -> Finding:
        """State that the value must not exceed the limit."""
        return Finding(self, about, value, limit, "at most")

    def within(self, value: Value, limit: Value, about: str = "") -> Finding:
        """State that the value must not be further from nought than the limit, either way."""
        return Finding(self, about, value, limit, "within")

    def at_least(self, value: Value, limit: Value, about: str = "") -> Finding:
        """State that the value must reach the limit."""
        return Finding(self, about, value, limit, "at least")


@dataclass(frozen=True, slots=True)
class FigureKind:
    """One result without a limit, declared once; ``head`` is what a column of it is headed with."""

    id: str
    says: str
    meaning: str
    kind: Kind
    head: str = ""

    def of(self, value: Value, about: str = "") -> Figure:
        """State the value."""
        return Figure(self, about, value)


@dataclass(frozen=True, slots=True)
class Table:
    """Figures that are shown together: a row for each thing they are about, a column for each."""

    says: str
    figures: tuple[FigureKind, ...]


def address(identifier: str, about: str) -> str:
    """Name of a finding or figure, such as ``vehicle.axle_load@rear/full``."""
    return f"{identifier}@{about}" if about else identifier


@dataclass(frozen=True, eq=False)
class Figure:
    """A result without a limit."""

    declared: FigureKind
    about: str
    value: Value

    @property
    def address(self) -> str:
        """Name under which it is explained and compared."""
        return address(self.declared.id, self.about)


@dataclass(frozen=True, eq=False)
class Finding:
    """A value, its limit, and everything that follows from the two."""

    check: Check
    about: str
    value: Value
    limit: Value
    sense: Sense

    @property
    def address(self) -> str:
        """Name under which it is explained and compared."""
        return address(self.check.id, self.about)

    @once
    def lacks(self) -> tuple[Lack, ...]:
        """What is missing on either side."""
        return tuple(dict.fromkeys(self.value.lacks + self.limit.lacks))

    @once
    def doubts(self) -> tuple[str, ...]:
        """Where a formula was used outside the range its source vouches for."""
        return tuple(dict.fromkeys(self.value.doubts + self.limit.doubts))

    @once
    def margin(self) -> float | None:
        """Distance to the limit in SI; below zero when past it."""
        if self.value.number is None or self.limit.number is None:
            return None
        by_limit, by_value = self._signs
        return by_limit * self.limit.number + by_value * self.value.number

    @property
    def _signs(self) -> tuple[float, float]:
        """How the margin moves with the limit and with the value."""
        if self.sense == "at least":
            return -1.0, 1.0
        below = self.sense == "within" and (self.value.number or 0.0) < 0
        return 1.0, 1.0 if below else -1.0

    @once
    def _effects(self) -> dict[Given, float]:
        by_limit, by_value = self._signs
        effects = {origin: by_value * shift for origin, shift in self.value.effects.items()}
        for origin, shift in self.limit.effects.items():
            effects[origin] = effects.get(origin, 0.0) + by_limit * shift
        return effects

    @once
    def margin_band(self) -> float:
        """95 % half-width of the margin; inputs common to both sides counted once."""
        return math.sqrt(sum(shift * shift for shift in self._effects.values()))

    @once
    def threshold(self) -> float:
        """Margin under which a result inside the limit is only marginal, in SI."""
        if self.check.kind.true_zero and self.limit.number is not None:
            return self.check.near * abs(self.limit.number)
        return self.check.near

    @once
    def verdict(self) -> Verdict:
        """What is known about the statement."""
        if self.margin is None or self.limit.number is None:
            return Verdict.UNKNOWN
        if self.margin < 0:
            return Verdict.MARGINAL if self.check.warning else Verdict.FAILING
        # The band of the margin is never wider than both bands together, which settles most
        # findings without working it out.
        most = self.value.band + self.limit.band
        limit = abs(self.limit.number)
        wide = most > limit and self.margin_band > limit
        # Far beyond a limit that must be reached, even a wide band does not come back to it.
        if self.doubts or (wide and self.margin_band >= self.margin):
            return Verdict.UNKNOWN
        if self.margin < self.threshold:
            return Verdict.MARGINAL
        # What is exact reaches nothing beyond itself: 16 A on a link of 16 A is within.
        reached = 0 < most >= self.margin and self.margin_band >= self.margin
        return Verdict.MARGINAL if reached else Verdict.SOUND

    @once
    def rests_on(self) -> tuple[tuple[Given, float], ...]:
        """Inputs that count, with the shift of the margin over each one's band, largest first."""
        counting = [pair for pair in self._effects.items() if self._counts(*pair)]
        return tuple(sorted(counting, key=lambda pair: (-abs(pair[1]), pair[0].path)))

    @once
    def provisional(self) -> bool:
        """True where it rests on something typical, assumed or not confirmed."""
        if self.margin is None:
            return False
        return any(origin.soft and self._counts(origin, x) for origin, x in self._effects.items())

    def _counts(self, origin: Given, shift: float) -> bool:
        """Say whether an input counts; one that is not firm and says no band always does."""
        if not origin.band:
            return self.check.strict or origin.soft
        return abs(shift) >= self._smallest_counting

    @once
    def _smallest_counting(self) -> float:
        """Size from which inputs count: all smaller ones together move the margin too little.

        Inputs that cancel out but for the last digits of the arithmetic never count.
        """
        sizes = sorted(abs(shift) for shift in self._effects.values())
        noise = 1e-9 * sizes[-1] if sizes else 0.0
        moving = [size for size in sizes if size > noise]
        if self.check.strict or self.margin is None:
            return moving[0] if moving else math.inf
        together = 0.0
        for size in moving:
            together += size
            if together >= NEGLIGIBLE * abs(self.margin):
                return size
        return math.inf

    @property
    def applies(self) -> bool:
        """False where either side is known not to exist."""
        return not (self.value.absent or self.limit.absent)
