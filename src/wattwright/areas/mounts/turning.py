"""Places and how they are turned, axis by axis."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.descriptions.mounts import Angles, Place
from wattwright.physics import rigid_body
from wattwright.values import Value, worked


def turned(vector: Place, angles: Angles) -> Place:
    """Turn a vector of the unit with it."""
    every = (angles.yaw, angles.pitch, angles.roll)
    return Place(
        worked(rigid_body.turned_x, *vector.all, *every),
        worked(rigid_body.turned_y, *vector.all, *every),
        worked(rigid_body.turned_z, *vector.all, *every[1:]),
    )


def each_axis(formula: Callable[..., float], first: Place, second: Place, *more: Value) -> Place:
    """Combine two places axis by axis."""
    x, y, z = (
        worked(formula, one, other, *more) for one, other in zip(first.all, second.all, strict=True)
    )
    return Place(x, y, z)


def from_to(first: Place, second: Place) -> Place:
    """The way from one place to another."""
    return each_axis(rigid_body.apart, first, second)


def in_vehicle(zero: Place, angles: Angles, point: Place) -> Place:
    """Where a point of the unit is in the vehicle."""
    return each_axis(rigid_body.placed, zero, turned(point, angles))
