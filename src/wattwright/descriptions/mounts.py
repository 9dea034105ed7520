"""The mounts' description: where the unit is, where it is wanted, what every mount needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wattwright.descriptions.adaptor import AdaptorFound
from wattwright.descriptions.clearance import ClearanceDescription
from wattwright.descriptions.coupling import CouplingFound, RingFound
from wattwright.descriptions.mount_loads import Loaded
from wattwright.descriptions.patterns import PatternFound
from wattwright.descriptions.propshafts import PropshaftsFound
from wattwright.values import Value

if TYPE_CHECKING:
    from wattwright.descriptions.half_shafts import HalfShaftFound


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """A point or a vector: back, to the right, up."""

    x: Value
    y: Value
    z: Value

    @property
    def known(self) -> bool:
        """True where all three are known."""
        return self.x.known and self.y.known and self.z.known

    @property
    def all(self) -> tuple[Value, Value, Value]:
        """All three, in order."""
        return self.x, self.y, self.z


@dataclass(frozen=True, slots=True, eq=False)
class Angles:
    """How a body is turned: nose left, nose up, right side up."""

    yaw: Value
    pitch: Value
    roll: Value


@dataclass(frozen=True, slots=True, eq=False)
class Residual:
    """One reading of the survey against what fits the others.

    ``name`` is where it stands in the survey, ``points`` what it is of. ``limit`` is what the bands
    of all readings explain; lacking where no other reading checks this one. ``expected`` is what
    fits the others, with a band as wide as that. ``aside``: it was set aside and moves nothing.
    """

    name: str
    sort: str
    points: tuple[str, ...]
    reading: Value
    expected: Value
    residual: Value
    limit: Value
    aside: bool


@dataclass(frozen=True, slots=True, eq=False)
class Surveyed:
    """What readings say of all points and of the unit.

    ``points`` are in the vehicle's axes, or in the unit's own where ``on_unit``; ``in_vehicle`` has
    all of them in the vehicle's, as the unit hangs. ``zero`` is where the unit's own zero is.
    ``stale``: readings have changed since the adjustment.
    """

    points: Mapping[str, Place]
    on_unit: Mapping[str, bool]
    in_vehicle: Mapping[str, Place]
    zero: Place
    turned: Angles
    residuals: tuple[Residual, ...]
    spare: Value
    misfit: Value
    stale: bool


@dataclass(frozen=True, slots=True, eq=False)
class MountNeed:
    """What one mount needs, and what it does.

    ``carried_by`` is the point of the vehicle, ``wanted`` and ``hangs`` that of the unit as it is
    wanted and as it hangs now, all in the vehicle. ``bracket`` leads from the point of the vehicle
    to that of the unit as wanted, ``length`` is how long that is; ``now`` leads there as the unit
    hangs, and ``change`` is what has to come between: back, right, up. ``by_roll`` and
    ``by_pitch`` are what one millimetre more under this mount turns, ``by_shaft`` what it lifts
    each end of the shaft by. ``forced`` is what shims to be tried pull it by.
    """

    name: str
    label: str
    carried_by: Place
    wanted: Place
    hangs: Place
    bracket: Place
    length: Value
    now: Place
    change: Place
    by_roll: Value
    by_pitch: Value
    by_shaft: tuple[Value, Value]
    added: Value
    forced: Value


@dataclass(frozen=True, slots=True, eq=False)
class Posed:
    """The unit as it hangs, as it is wanted, and as shims to be tried would turn it.

    ``line`` is what the shaft is to lie on, ``shaft_now`` and ``shaft_wanted`` where its two ends
    are; ``off_now`` and ``off_wanted`` how far these are from the line. ``level`` is what a level
    shows across once it hangs as wanted.
    """

    now: Angles
    wanted: Angles
    tried: Angles
    line: tuple[Place, Place]
    shaft_now: tuple[Place, Place]
    shaft_wanted: tuple[Place, Place]
    off_now: tuple[Value, Value]
    off_wanted: tuple[Value, Value]
    level: Value
    mounts: tuple[MountNeed, ...]


@dataclass(frozen=True, slots=True, eq=False)
class MountsDescription:
    """Points, pose and mounts with what they carry, and all that is joined to the unit."""

    surveyed: Surveyed
    posed: Posed
    clearance: ClearanceDescription
    patterns: Mapping[str, PatternFound]
    loaded: Loaded
    half_shafts: Mapping[str, HalfShaftFound]
    coupling: CouplingFound
    adaptor: AdaptorFound
    rings: Mapping[str, RingFound]
    propshafts: PropshaftsFound
