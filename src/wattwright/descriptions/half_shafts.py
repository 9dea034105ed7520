"""Half-shafts at three heights: angles of both joints, length, and the way that is left."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wattwright.descriptions.mounts import Place
from wattwright.values import Value

HEIGHTS = ("ride", "bump", "droop")
LOCKS = ("left_lock", "right_lock")


@dataclass(frozen=True, slots=True, eq=False)
class ShaftAt:
    """A half-shaft at one height of the hub.

    ``inner`` and ``outer`` are the places of its joints, the angles theirs. ``plunge`` is how much
    longer it is than at ride height.
    """

    inner: Place
    outer: Place
    inner_angle: Value
    outer_angle: Value
    length: Value
    plunge: Value


@dataclass(frozen=True, slots=True)
class Drawn:
    """A half-shaft at one rise of its hub, in plain SI numbers."""

    rise: float
    inner_angle: float
    outer_angle: float
    plunge: float


@dataclass(frozen=True, slots=True, eq=False)
class HalfShaftFound:
    """One half-shaft at every height; ``left_in`` and ``left_out`` are what is left of its way.

    ``steered`` is by height and lock, such as ``bump/left_lock``; empty where the wheel is not
    steered. ``outer_steered`` is the largest angle of the outer joint there.
    ``to_draw`` works it out at many heights from droop to bump, which only a drawing needs; empty
    where something is missing for that.
    """

    label: str
    at: Mapping[str, ShaftAt]
    steered: Mapping[str, ShaftAt]
    outer_steered: Value
    left_in: Mapping[str, Value]
    left_out: Mapping[str, Value]
    spare: Value
    steady: Value
    inner_most: Value
    outer_most: Value
    to_draw: Callable[[], tuple[Drawn, ...]]
