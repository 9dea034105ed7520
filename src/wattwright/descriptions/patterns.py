"""What was found of hole patterns: where every hole is, how well, and what does not agree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class HoleFound:
    """A hole at its place on the sheet.

    ``place`` is the radius within which its centre is 95 % of the time, against the best fit of
    all holes. ``diameter`` is the hole as it is, or else the drill; ``as_is`` lacks where nobody
    measured it. ``drill`` is the one to be made of it in a new part, ``shown`` what a template
    draws: the latter, or else the former. ``needed`` is what still assembles, ``standard`` the
    usual clearance hole that is not smaller. ``thread`` and ``depth`` are of the new part. ``fit``
    names the fit that it carries: no template draws it.
    """

    label: str
    x: Value
    y: Value
    place: Value
    diameter: Value
    as_is: Value
    drill: Value
    shown: Value
    bolt: Value
    needed: Value
    standard: Value
    thread: str
    depth: Value
    fit: str


@dataclass(frozen=True, slots=True, eq=False)
class ReadingFound:
    """A distance between two holes, and how it agrees with the others.

    ``centres`` is the distance of the centres by this reading. ``explained`` is what the bands
    explain of the ``residual``; ``standard`` is the residual in its own standard deviations.
    """

    name: str
    holes: tuple[str, str]
    centres: Value
    residual: Value
    explained: Value
    standard: Value
    suspect: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class CircleFound:
    """The circle that passes the centres of all holes as nearly as any: where, and how nearly."""

    x: float
    y: float
    diameter: Value
    farthest: Value


@dataclass(frozen=True, slots=True, eq=False)
class OffsetFound:
    """How far a hole is from the one it has to meet, the patterns laid on each other.

    ``x``, ``y`` and ``offset`` are from the other pattern's hole to this one's; ``play`` is what
    bolt and holes allow, ``slot`` how long the hole has to be along the offset.
    """

    other: str
    x: Value
    y: Value
    offset: Value
    play: Value
    slot: Value
    direction: Value


@dataclass(frozen=True, slots=True, eq=False)
class FitFound:
    """A pattern laid on the one it has to fit."""

    other: str
    mirrored: bool
    by_name: bool
    holes: Mapping[str, OffsetFound]


@dataclass(frozen=True, slots=True, eq=False)
class PatternFound:
    """One pattern. ``suspects`` are readings that do not agree with the others, the worst first."""

    label: str
    holes: Mapping[str, HoleFound]
    readings: tuple[ReadingFound, ...] = ()
    suspects: tuple[str, ...] = ()
    zero: str = ""
    along: str = ""
    from_back: bool = False
    turned: float = 0.0
    circle: CircleFound | None = None
    fit: FitFound | None = None
    missing: tuple[tuple[str, str], ...] = field(default=())

    @property
    def marked(self) -> Mapping[str, HoleFound]:
        """The holes that a template may mark: all but those that carry a fit."""
        return {name: hole for name, hole in self.holes.items() if not hole.fit}

    @property
    def placed(self) -> bool:
        """True where every hole has its place."""
        return bool(self.holes) and all(hole.x.known for hole in self.holes.values())
