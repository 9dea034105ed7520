"""What stands where on the vehicle: parts, seats and loads, wheels, centres of gravity.

Axes as everywhere: origin on the floor midway between the front wheels, x back, y right, z up. A
view shows two of them. Nothing here knows of paper.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from wattwright.assessment import Assessment
from wattwright.build.model import Build
from wattwright.build.parts import Part as PartRecord
from wattwright.build.parts import Point as PointRecord
from wattwright.build.reader import Opened
from wattwright.descriptions.vehicle import (
    Drawn,
    Standing,
    TyreOutline,
    VehicleDescription,
)
from wattwright.drawings.said import number
from wattwright.errors import UsageError
from wattwright.paper import Point
from wattwright.values import Value

Axis = Literal["x", "y", "z"]
Axes = tuple[Axis, Axis]
Section = Literal["part", "place"]
Ledger = Literal["planned", "fitted"]

SHOWN_CASES = ("kerb", "full")
LEDGERS: Mapping[Ledger, str] = {"planned": "as planned", "fitted": "as fitted today"}


@dataclass(frozen=True, slots=True)
class Thing:
    """A part, or a seat, load or tank: where its middle is and how large it is, if known.

    ``tag`` is the same in every view. Of ``several`` like parts the middle of all is known, and
    the measures of one.
    """

    section: Section
    name: str
    tag: str
    at: Mapping[Axis, float | None]
    size: Mapping[Axis, float | None]
    several: bool = False

    @property
    def words(self) -> str:
        """Its name as it is read."""
        return self.name.replace("_", " ")

    def needs(self, axes: Axes) -> tuple[str, ...]:
        """Fields that are missing for it to stand in a view."""
        return tuple(f"at.{axis}" for axis in sorted(axes) if self.at[axis] is None)

    def middle(self, axes: Axes) -> Point | None:
        """Where it stands in a view."""
        across, up = (self.at[axis] for axis in axes)
        return None if across is None or up is None else (across, up)

    def corners(self, axes: Axes) -> tuple[Point, Point]:
        """Its lowest and highest corner in a view; its middle twice, without both measures.

        Raises ValueError for one that does not stand in the view.
        """
        middle = self.middle(axes)
        if middle is None:
            raise ValueError(f"{self.name} has no place in this view")
        wide, high = (self.size[axis] for axis in axes)
        if wide is None or high is None:
            return middle, middle
        (x, y), wide, high = middle, wide / 2, high / 2
        return (x - wide, y - high), (x + wide, y + high)

    def reach(self, axis: Axis) -> tuple[float, float] | None:
        """From where to where it extends along one axis, in whatever view."""
        at = self.at[axis]
        if at is None:
            return None
        half = (self.size[axis] or 0.0) / 2
        return at - half, at + half


@dataclass(frozen=True, slots=True)
class Axle:
    """The wheels of one axle. ``alike`` says that they are drawn by the other axle's tyres."""

    name: Literal["front", "rear"]
    x: float | None
    track: float | None
    radius: float | None
    width: float | None
    alike: bool = False


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that a view of the vehicle shows.

    ``left_out`` are names by the reason why they are not shown; ``loads`` by loading case.
    """

    ledger: Ledger
    things: tuple[Thing, ...]
    left_out: Mapping[str, Sequence[str]]
    axles: tuple[Axle, Axle]
    loads: Mapping[str, Standing]

    @property
    def wheelbase(self) -> float | None:
        """Distance between the axles."""
        return self.axles[1].x

    def standing(self, axes: Axes) -> Iterator[Thing]:
        """Yield what stands in a view."""
        return (thing for thing in self.things if not thing.needs(axes))


def chosen_ledger(name: str) -> Ledger:
    """Take a ledger by name. Raises UsageError where there is none of that name."""
    for ledger in LEDGERS:
        if ledger == name:
            return ledger
    raise UsageError(f"there is no ledger {name!r}; there are {', '.join(LEDGERS)}")


def scene(opened: Opened, assessment: Assessment, ledger: str) -> Scene:
    """Collect what stands where. Raises UsageError for no such ledger."""
    chosen = chosen_ledger(ledger)
    build, drawn, loads = opened.build, Drawn({}, {}), dict[str, Standing]()
    if VehicleDescription in assessment.descriptions:
        vehicle = assessment.descriptions[VehicleDescription]
        drawn = vehicle.to_draw()
        loads = {case.name: case.conversion for case in vehicle.cases}
    if chosen == "fitted":
        loads = dict(drawn.fitted)
    # The tank is the donor's, and nothing says which removed part it was: it goes with the first.
    removed = bool(build.donor.removed)
    tanks = [name for name, place in build.place.items() if place.role == "tank" and removed]
    wanted = [name for name, part in _planned(build.part).items() if part.state != "fitted"]
    unfitted = wanted if chosen == "fitted" else []
    kept = (item for item in build.part.items() if item[1].state != "removed")
    none = [name for name, part in kept if part.count.number == 0.0]
    left_out = {"the donor's": tanks, "not fitted yet": unfitted, "count is 0": none}
    return Scene(
        chosen,
        (*_parts(build.part, unfitted), *_places(build, tanks)),
        left_out,
        _axles(build, drawn.tyres, number(assessment.by_address, "drive.rolling_circumference")),
        {case: loads[case] for case in SHOWN_CASES if case in loads},
    )


def _planned(records: Mapping[str, PartRecord]) -> Mapping[str, PartRecord]:
    return {
        name: record
        for name, record in records.items()
        if record.state != "removed" and record.count.number != 0.0
    }


def _parts(records: Mapping[str, PartRecord], left_out: Collection[str]) -> Iterator[Thing]:
    """Yield parts, numbered from the nose back; one left out keeps its number to itself."""
    planned = _planned(records)
    order = sorted(planned, key=lambda name: (*_from_the_nose(planned[name].at), name))
    for count, name in enumerate(order, 1):
        if name in left_out:
            continue
        record = planned[name]
        size = record.size
        yield Thing(
            "part",
            name,
            str(count),
            _at(record.at),
            {"x": size.length.number, "y": size.width.number, "z": size.height.number},
            (record.count.number or 1.0) > 1.0,
        )


def _places(build: Build, left_out: Collection[str]) -> Iterator[Thing]:
    """Yield seats, loads and tanks, lettered from the nose back."""
    shown = {name: place for name, place in build.place.items() if name not in left_out}
    order = sorted(shown, key=lambda name: (*_from_the_nose(shown[name].at), name))
    for count, name in enumerate(order):
        nowhere: dict[Axis, float | None] = {"x": None, "y": None, "z": None}
        yield Thing("place", name, _letters(count), _at(shown[name].at), nowhere)


def _letters(count: int) -> str:
    """Return A to Z, then AA and so on."""
    rest, last = divmod(count, 26)
    return (_letters(rest - 1) if rest else "") + chr(ord("A") + last)


def _at(record: PointRecord) -> Mapping[Axis, float | None]:
    return {"x": record.x.number, "y": record.y.number, "z": record.z.number}


def _from_the_nose(record: PointRecord) -> tuple[float, ...]:
    """Sort by where something stands; what has no place yet comes last."""
    at = _at(record)
    return tuple(math.inf if number is None else number for number in at.values())


def _axles(
    build: Build, sizes: Mapping[str, TyreOutline], rolled: float | None
) -> tuple[Axle, Axle]:
    """Lay out both axles; what one does not say of its tyres is lent by the other."""
    donor = build.donor
    radii = {name: _radius(build.drive.driven, name, sizes, rolled) for name in ("front", "rear")}
    widths = {name: tyre.width for name, tyre in sizes.items()}

    def axle(name: Literal["front", "rear"], other: str, x: float | None, track: Value) -> Axle:
        lent = radii[name] is None or (name not in widths and other in widths)
        radius = radii[other] if radii[name] is None else radii[name]
        width = widths.get(name, widths.get(other))
        return Axle(name, x, track.number, radius, width, lent and radius is not None)

    return (
        axle("front", "rear", 0.0, donor.front.track),
        axle("rear", "front", donor.wheelbase.number, donor.rear.track),
    )


def _radius(
    driven: str | None, axle: str, sizes: Mapping[str, TyreOutline], rolled: float | None
) -> float | None:
    """Rolling radius on one axle: as rolled out where it is driven, else by the tyre size."""
    if rolled is not None and driven in (axle, "all", None):
        return rolled / (2 * math.pi)
    return sizes[axle].radius if axle in sizes else None
