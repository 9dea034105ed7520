"""Half-shafts at three heights: angles of both joints, length, and the way that is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.descriptions.mounts import Place
from wattwright.values import Value

HEIGHTS = ("ride", "bump", "droop")


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


@dataclass(frozen=True, slots=True, eq=False)
class HalfShaftFound:
    """One half-shaft at every height; ``left_in`` and ``left_out`` are what is left of its way."""

    label: str
    at: Mapping[str, ShaftAt]
    left_in: Mapping[str, Value]
    left_out: Mapping[str, Value]
    spare: Value
    steady: Value
    inner_most: Value
    outer_most: Value
