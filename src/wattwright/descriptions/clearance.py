"""Where bodies are, how far they move, and where they come nearest: for findings and drawings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value

Place = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """The outline of a body in plain numbers, at ride height and at both ends of its travel.

    Each piece is a cloud of corners whose outer edge, from whichever side, is that of the piece;
    ``round_by`` is how far it goes beyond them. ``moves_with`` is what moves most of it.
    """

    name: str
    moves_with: str
    resting: tuple[tuple[Place, ...], ...]
    moved: tuple[tuple[tuple[Place, ...], ...], ...]
    round_by: float


@dataclass(frozen=True, slots=True, eq=False)
class Nearest:
    """Two bodies where they come nearest: the gap, that wanted, where the wheels are, the place.

    ``words`` say where the wheels are; ``points`` lie on the surfaces of the two.
    """

    about: str
    gap: Value
    wanted: Value
    travel: Mapping[str, Value]
    at: tuple[Value, Value, Value]
    points: tuple[Place, Place]
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class Unplaced:
    """A body of which something is not known yet: its gap and that wanted."""

    name: str
    gap: Value
    wanted: Value


@dataclass(frozen=True, slots=True, eq=False)
class OverGround:
    """How high the lowest point of a body is over the ground, laden, and how high it should be."""

    name: str
    height: Value
    wanted: Value


@dataclass(frozen=True, slots=True, eq=False)
class ClearanceDescription:
    """Everything that is known of the room between bodies.

    ``sinks`` is how far front and rear sink laden, and how far apart the two are.
    """

    bodies: tuple[Drawn, ...] = ()
    nearest: tuple[Nearest, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    ground: tuple[OverGround, ...] = ()
    sinks: tuple[Value, Value, Value] | None = None
