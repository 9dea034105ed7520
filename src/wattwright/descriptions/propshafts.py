"""What is found of propshafts: the line at every height, its joints, its speeds, its plunge."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class Direction:
    """Where an axis points: seen from the side, rear end up; from above, rear end to the right."""

    rise: Value
    turn: Value


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """The line at one height.

    ``change`` is how much longer the last shaft is than at ride height, ``slip`` how far its slip
    is pulled out. ``angles`` is by joint, from the front. ``residual`` is of all joints; by shaft,
    ``driving`` is of those before it and ``coasting`` of those behind it: what shakes the shaft
    while the motor, or while the road, holds the speed even. ``torsion`` goes with the first of
    them, ``inertia`` with the other two, for the shaft that is worst off.
    """

    axes: Mapping[str, Direction]
    angles: tuple[Value, ...]
    change: Value
    slip: Value
    residual: Value
    driving: Mapping[str, Value]
    coasting: Mapping[str, Value]
    torsion: Value
    inertia: Mapping[str, Value]


@dataclass(frozen=True, slots=True, eq=False)
class ShaftSpeeds:
    """One shaft: where it whirls, and how fast it may turn."""

    critical: Value
    allowed: Value


@dataclass(frozen=True, slots=True, eq=False)
class PropshaftFound:
    """One propshaft. ``lines`` is by height; ``shafts`` by name.

    ``slip_in`` and ``slip_out`` are what is left at the height that takes most; ``unevenness`` is
    that of each joint at ride height. ``lengths`` is by shaft, at ride height.
    """

    lines: Mapping[str, Line]
    shafts: Mapping[str, ShaftSpeeds]
    slip_in: Value
    slip_out: Value
    lengths: Mapping[str, Value]
    pushed_together: Value
    plunge_needed: Value
    unevenness: tuple[Value, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Excited:
    """Excitation over road speed at ride height, in SI: of all joints, and of the shaft."""

    torsion: tuple[tuple[float, float], ...]
    inertia: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class PropshaftsFound:
    """All propshafts, and what they have in common.

    ``highest`` is the speed of the shaft at the motor's highest in the gear that allows most,
    ``fastest`` that at the fastest driving wanted.
    ``to_draw`` works out, by propshaft, what only a drawing needs.
    """

    found: Mapping[str, PropshaftFound]
    highest: Value
    fastest: Value
    to_draw: Callable[[], Mapping[str, Excited]]
