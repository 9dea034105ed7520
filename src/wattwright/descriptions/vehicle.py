"""The vehicle's description: what stands on the wheels in each loading case."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class LoadState:
    """Loads in one state of loading. Side moments are positive to the right."""

    mass: Value
    front: Value
    rear: Value
    front_moment: Value
    rear_moment: Value


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """A load state with everything that follows from it."""

    loads: LoadState
    fl: Value
    fr: Value
    rl: Value
    rr: Value
    cg_x: Value
    cg_y: Value
    cg_z: Value
    rear_share: Value
    side_imbalance: Value
    diagonal_imbalance: Value


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """One loading case, before and after the conversion."""

    name: str
    says: str
    donor: Standing
    conversion: Standing


@dataclass(frozen=True, slots=True, eq=False)
class LiftResult:
    """A height of the centre of gravity from a lifted axle, and how well it can be known."""

    about: str
    height: Value
    reached: Value
    wanted: Value
    angle_needed: Value


@dataclass(frozen=True, slots=True, eq=False)
class WeighIn:
    """The conversion on the scales against the ledger of what is fitted."""

    gap: LoadState
    disagreement: Mapping[str, Value]
    accuracy: Mapping[str, Value]
    disagrees: bool
    missing_mass: Value
    missing_x: Value
    missing_y: Value


@dataclass(frozen=True, slots=True, eq=False)
class TyreOutline:
    """Width and rolling radius of the tyres on one axle in m, as their size says: to draw by."""

    width: float
    radius: float


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """What only drawings need.

    ``tyres`` by axle, where a size is known; ``fitted`` by loading case, kerb and full, with what
    is on the vehicle today and nothing of the plan beyond it.
    """

    tyres: Mapping[str, TyreOutline]
    fitted: Mapping[str, Standing]


@dataclass(frozen=True, slots=True, eq=False)
class VehicleDescription:
    """Masses and places of the vehicle, for every area that needs them."""

    wheelbase: Value
    track_front: Value
    track_rear: Value
    cases: tuple[Case, ...]
    lifts: tuple[LiftResult, ...]
    weigh_ins: tuple[WeighIn, ...]
    to_draw: Callable[[], Drawn]
