"""What a builder gave, and what is still lacking."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


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
