"""How a field is declared: once, with kind, label, range, help and how to measure.

Forms, help, the reference page and the list of next measurements all read these declarations.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from pydantic import BaseModel, ConfigDict

from wattwright.kinds import FRACTION, Kind
from wattwright.units import read, unit_of


@dataclass(frozen=True)
class Quantity:
    """A leaf that holds a number with a unit, an origin and perhaps a band.

    ``how`` names tool, place and condition; ``minutes`` is what the measurement takes when the
    tool is at hand. ``default`` is used, flagged, only where the declaration says on what
    ``basis``. ``may_be_none`` allows ``"none"``: known not to exist. ``codes`` names a published
    table whose codes may be typed instead of a number, such as a speed symbol. ``decided`` marks
    what the builder decides rather than finds out: typed without an origin it is exact and firm.
    """

    kind: Kind
    label: str
    how: str
    minutes: float = 5.0
    allowed: tuple[str, str] | None = None
    help: str = ""
    may_be_none: bool = False
    default: str = ""
    basis: str = ""
    codes: str = ""
    decided: bool = False

    @cached_property
    def example(self) -> str:
        """A text that may be typed here: the kind's own where it is allowed, else one that is."""
        if (
            self.range is None
            or self.range[0] <= read(self.kind.example, self.kind).number <= (self.range[1])
        ):
            return self.kind.example
        return self.default or (self.allowed or ("",))[0]

    @cached_property
    def range(self) -> tuple[float, float] | None:
        """Allowed range in SI."""
        return _range(self.allowed, self.kind)


def _range(allowed: tuple[str, str] | None, kind: Kind) -> tuple[float, float] | None:
    if allowed is None:
        return None
    low, high = allowed
    return read(low, kind).number, read(high, kind).number


@dataclass(frozen=True)
class Column:
    """A column of a curve or grid: its name in the head of the file, its kind and its range."""

    name: str
    kind: Kind
    allowed: tuple[str, str] | None = None

    @cached_property
    def range(self) -> tuple[float, float] | None:
        """Allowed range in SI."""
        return _range(self.allowed, self.kind)

    @property
    def head(self) -> str:
        """The column as the head of a file may name it."""
        unit = unit_of(self.kind)
        return f"{self.name} ({unit})" if unit else self.name


@dataclass(frozen=True)
class Sampled:
    """A leaf that names a CSV file beside the build file: a curve or a grid, with one origin.

    Two columns make a curve, three a grid; the last one is what is known at the others.
    """

    columns: tuple[Column, ...]
    label: str
    how: str
    minutes: float = 30.0
    help: str = ""
    may_be_none: bool = False

    @cached_property
    def share(self) -> Quantity:
        """Declaration of the share that carries origin, band or lack of the whole."""
        return Quantity(
            FRACTION,
            self.label,
            self.how,
            self.minutes,
            help=self.help,
            may_be_none=self.may_be_none,
        )

    @property
    def head(self) -> str:
        """First line of a file that would do."""
        return ", ".join(column.head for column in self.columns)

    @property
    def form(self) -> str:
        """What the file holds, in a word."""
        return "curve" if len(self.columns) == 2 else "grid"


@dataclass(frozen=True)
class Track:
    """A leaf that names a file beside the build file: a way driven or planned, with one origin.

    The band is a share of what is driven: distance, climb and all that follows from them.
    """

    label: str
    how: str
    minutes: float = 30.0
    help: str = ""

    @cached_property
    def share(self) -> Quantity:
        """Declaration of the share that carries origin, band or lack of the whole."""
        return Quantity(FRACTION, self.label, self.how, self.minutes, help=self.help)


@dataclass(frozen=True, slots=True)
class Plain:
    """A leaf that holds words, a choice, yes or no, or a plain number."""

    label: str
    help: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A record, or named records, inside another record.

    ``variants`` lists the records that the leaf ``kind`` of a named record chooses from.
    """

    label: str
    help: str = ""
    variants: Mapping[str, type[Record]] = field(default_factory=dict)


class Record(BaseModel):
    """Base of everything that stands in a build file."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        strict=True,
        arbitrary_types_allowed=True,
        # Only the whole build is ever validated: its parts need no validators of their own.
        defer_build=True,
    )
