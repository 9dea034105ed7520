"""What a sheet is: a procedure with expected readings, blanks and initials."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wattwright.assessment import shown
from wattwright.kinds import Kind
from wattwright.units import Taste
from wattwright.values import Value


@dataclass(frozen=True, eq=False)
class Line:
    """One line of a sheet: what to do, where, with what, and what is to be expected.

    ``path`` is the field of the build that an accepted reading goes into; empty for one that is
    only kept. ``kind`` says what is read; none for a line that is only done and initialled.
    ``expected`` has the band that the build gives it; none, or without a number, where nothing can
    be said before. ``stop_if`` says when to stop and what to do then. ``limit`` is what the reading
    is judged by, where there is one. ``said`` is what is expected in words, where that is more than
    a number. ``care`` is the danger of this line alone, ``tells`` what each outcome of it means.
    """

    name: str
    act: str
    where: str = ""
    instrument: str = ""
    path: str = ""
    kind: Kind | None = None
    expected: Value | None = None
    stop_if: str = ""
    limit: Value | None = None
    sense: Literal["at most", "at least"] = "at most"
    said: str = ""
    care: str = ""
    tells: tuple[str, ...] = ()

    def expects(self, taste: Taste) -> str:
        """Say what it is judged by, or else what is expected; empty where nothing is said."""
        if self.said:
            return self.said
        if self.limit is not None and self.limit.known:
            return f"{self.sense} {shown(self.limit, taste)}"
        if self.expected is None or not self.expected.known:
            return ""
        return shown(self.expected, taste)

    @property
    def read(self) -> bool:
        """True where something is read."""
        return self.kind is not None


@dataclass(frozen=True, slots=True)
class Answer:
    """What a sheet may come to, and what is done then."""

    says: str
    then: str


@dataclass(frozen=True, eq=False)
class Sheet:
    """A procedure: why, what to be careful of, what it takes, and its lines in order.

    ``answers`` are what it may come to, the likeliest first, and ``answers_from`` who says so.
    ``others`` names the same sheet for other places, by what they are called.
    """

    name: str
    title: str
    purpose: str
    cautions: tuple[str, ...]
    tools: tuple[str, ...]
    lines: tuple[Line, ...]
    answers: tuple[Answer, ...] = ()
    answers_from: str = ""
    others: Mapping[str, str] = field(default_factory=dict)

    def line(self, name: str) -> Line | None:
        """Find a line by its name."""
        return next((line for line in self.lines if line.name == name), None)
