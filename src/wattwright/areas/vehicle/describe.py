"""What stands on the wheels, before and after, in every loading case."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from wattwright.areas.vehicle import ledger
from wattwright.areas.vehicle.ledger import Frame, Height, Item
from wattwright.areas.vehicle.weighing import (
    compare_weigh_in,
    height_of,
    lift_results,
    with_unexplained,
)
from wattwright.build.parts import Part, Place
from wattwright.build.rules import Rules
from wattwright.build.vehicle import Case as OwnCase
from wattwright.build.vehicle import Donor, Targets, Tyres, Weighing
from wattwright.descriptions.vehicle import Case, LoadState, VehicleDescription, WeighIn


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the vehicle area reads."""

    donor: Donor
    tyre: Tyres
    place: Mapping[str, Place]
    case: Mapping[str, OwnCase]
    part: Mapping[str, Part]
    weigh_in: Weighing
    targets: Targets
    rules: Rules


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """A vehicle at kerb, to which cases add what comes aboard."""

    kerb: LoadState
    height: Height


def describe(own: Own) -> VehicleDescription:
    """Work out all loading cases from the weighing of the donor and the ledger."""
    frame = ledger.frame_of(own.donor)
    bare = _bare_donor(own, frame)
    donor = _changed(bare, (), ledger.tanks_full(own.place), frame)
    removed = ledger.part_items(own.donor.removed.values())
    planned = _changed(bare, removed, ledger.planned(own.part), frame)
    weigh_ins = tuple(_weigh_ins(own, frame, bare, removed))
    conversion = replace(planned, kerb=with_unexplained(planned.kerb, weigh_ins))
    return VehicleDescription(
        frame.wheelbase,
        frame.track_front,
        frame.track_rear,
        tuple(_cases(own, frame, donor, conversion)),
        tuple(lift_results(own.donor.weighed, own.weigh_in, frame)),
        weigh_ins,
    )


def _bare_donor(own: Own, frame: Frame) -> Side:
    """Take the donor as weighed, less everything that was aboard, fuel included."""
    scales = ledger.weighed(own.donor.weighed, frame)
    items = ledger.aboard(own.donor.weighed.aboard, own.place)
    as_weighed = Height(scales.mass, height_of(own.donor.weighed, scales, frame))
    return _changed(Side(scales, as_weighed), items, (), frame)


def _changed(
    before: Side, taken_out: tuple[Item, ...], put_in: tuple[Item, ...], frame: Frame
) -> Side:
    if not taken_out and not put_in:
        return before
    out, into = (
        ledger.loads(items, frame.wheelbase) if items else ledger.nothing()
        for items in (taken_out, put_in)
    )
    kerb = ledger.after(before.kerb, out, into)
    return Side(kerb, before.height.after(taken_out, put_in, kerb.mass))


def _weigh_ins(own: Own, frame: Frame, bare: Side, removed: tuple[Item, ...]) -> Iterator[WeighIn]:
    items = ledger.fitted(own.part) + ledger.aboard(own.weigh_in.aboard, own.place)
    expected = _changed(bare, removed, items, frame).kerb
    yield from compare_weigh_in(own.weigh_in, expected, frame)


def _cases(own: Own, frame: Frame, donor: Side, conversion: Side) -> Iterator[Case]:
    person = own.rules.occupant_mass.value
    cases: list[tuple[str, str, tuple[Item, ...]]] = [
        ("kerb", "all fluids, nobody aboard", ()),
        ("driver", "driver only", ledger.driver_only(own.place, person)),
        (
            "full",
            "a person on every seat, load places full",
            ledger.fully_loaded(own.place, person),
        ),
    ]
    for name in sorted(own.case):
        case = own.case[name]
        cases.append((name, case.says, ledger.aboard(case.aboard, own.place)))
    for name, says, items in cases:
        sides = (_changed(side, (), items, frame) for side in (donor, conversion))
        yield Case(
            name, says, *(ledger.standing(side.kerb, side.height.height, frame) for side in sides)
        )
