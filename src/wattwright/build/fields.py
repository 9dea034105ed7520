"""How a field is declared: once, with kind, label, range, help and how to measure.

Forms, help, the reference page and the list of next measurements all read these declarations.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from pydantic import BaseModel, ConfigDict

from wattwright.kinds import Kind
from wattwright.units import read


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
    def range(self) -> tuple[float, float] | None:
        """Allowed range in SI."""
        if self.allowed is None:
            return None
        low, high = self.allowed
        return read(low, self.kind).number, read(high, self.kind).number


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
        frozen=True, extra="forbid", strict=True, arbitrary_types_allowed=True
    )
