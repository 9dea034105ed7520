"""The description of the high-voltage side: what each power cable bears, and what protects it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class CurvesFound:
    """A cable and its fuse as points of current in A and time in s, to draw.

    ``cable`` is when it comes to its overload temperature, ``fuse`` when that has opened; ``bare``
    are the currents, from first to last, at which the fuse comes too late or its curve is silent.
    """

    cable: tuple[tuple[float, float], ...]
    fuse: tuple[tuple[float, float], ...]
    bare: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class CableFound:
    """One power cable, without what it will carry.

    ``limit`` is the temperature its insulation bears for life, ``overload_limit`` until a fuse
    opens; ``allows`` and ``overloads`` are the currents that warm it so far in hours. ``fault`` is
    the current of a short circuit at its far end, ``withstand`` the Joule integral it stands.
    ``bend`` is the tightest allowed, ``peak`` the highest current. ``curves`` draws it against its
    fuse, from a temperature before.
    """

    limit: Value
    overload_limit: Value
    allows: Value
    overloads: Value
    fault: Value
    withstand: Value
    bend: Value
    peak: Value
    curves: Callable[[Value], CurvesFound]


@dataclass(frozen=True, slots=True, eq=False)
class HighVoltageDescription:
    """All power cables, by name of the part."""

    cables: Mapping[str, CableFound]
