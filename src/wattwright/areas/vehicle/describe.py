"""What stands on the wheels, before and after, in every loading case."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from wattwright.areas.vehicle import ledger
from wattwright.areas.vehicle.ledger import NOTHING, Change, Frame, Item, Side
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
from wattwright.descriptions.vehicle import (
    Case,
    Drawn,
    TyreOutline,
    VehicleDescription,
    WeighIn,
)
from wattwright.errors import FormulaError
from wattwright.physics import rolling_radius
from wattwright.values import either


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


def describe(own: Own) -> VehicleDescription:
    """Work out all loading cases from the weighing of the donor and the ledger."""
    frame = ledger.frame_of(own.donor)

    def change(items: tuple[Item, ...]) -> Change:
        return ledger.change(items, frame.wheelbase)

    bare = _bare(own.donor.weighed, own.place, frame)
    donor = bare.after(NOTHING, change(ledger.tanks_full(own.place)))
    removed = change(ledger.taken_out(own.donor))
    planned = bare.after(removed, change(ledger.planned(own.part)))
    aboard = ledger.aboard(own.weigh_in.aboard, own.place)
    expected = bare.after(removed, change(ledger.fitted(own.part) + aboard))
    weigh_ins = tuple(compare_weigh_in(own.weigh_in, expected.loads, frame))
    unfitted = change(ledger.planned_not_fitted(own.part))
    as_weighed = _bare(own.weigh_in, own.place, frame)
    conversion = _believed(planned, as_weighed.after(NOTHING, unfitted), weigh_ins)
    cases = []
    for name, says, items in _cases(own):
        comes_aboard = change(items)
        sides = (side.after(NOTHING, comes_aboard) for side in (donor, conversion))
        cases.append(Case(name, says, *(ledger.standing(side, frame) for side in sides)))

    def to_draw() -> Drawn:
        """Work out what only drawings need."""
        today = bare.after(removed, change(ledger.fitted(own.part)))
        return _drawn(own, _believed(today, as_weighed, weigh_ins), frame)

    return VehicleDescription(
        frame.wheelbase,
        frame.track_front,
        frame.track_rear,
        tuple(cases),
        tuple(lift_results(own.donor.weighed, own.weigh_in, frame)),
        weigh_ins,
        to_draw,
    )


def _believed(ledger_says: Side, as_weighed: Side, weigh_ins: Iterable[WeighIn]) -> Side:
    """Take what the ledger says, and what the scales say where they disagree or know better."""
    return Side(
        with_unexplained(ledger_says.loads, weigh_ins),
        either(as_weighed.height, ledger_says.height, asking=1),
    )


def _drawn(own: Own, today: Side, frame: Frame) -> Drawn:
    fitted = {
        name: ledger.standing(today.after(NOTHING, ledger.change(items, frame.wheelbase)), frame)
        for name, _, items in _cases(own)
        if name in ("kerb", "full")
    }
    return Drawn(dict(_tyre_outlines(own.tyre)), fitted)


def _tyre_outlines(tyres: Tyres) -> Iterator[tuple[str, TyreOutline]]:
    """Work out the outline of the tyres on each axle whose size can be read."""
    for axle, tyre in (("front", tyres.front), ("rear", tyres.rear)):
        try:
            size = rolling_radius.read_size(tyre.size)
        except FormulaError:
            continue
        rolled = rolling_radius.rolling_circumference(size.diameter)
        yield axle, TyreOutline(size.width, rolling_radius.rolling_radius(rolled))


def _bare(weighing: Weighing, places: Mapping[str, Place], frame: Frame) -> Side:
    """Take the vehicle as weighed, less everything that was aboard, fuel included."""
    scales = ledger.weighed(weighing, frame)
    aboard = ledger.aboard(weighing.aboard, places)
    as_weighed = Side(scales, height_of(weighing, scales, frame))
    return as_weighed.after(ledger.change(aboard, frame.wheelbase), NOTHING)


def _cases(own: Own) -> Iterator[tuple[str, str, tuple[Item, ...]]]:
    person = own.rules.occupant_mass.value
    yield "kerb", "all fluids, nobody aboard", ()
    yield "driver", "driver only", ledger.driver_only(own.place, person)
    full = ledger.fully_loaded(own.place, person)
    yield "full", "a person on every seat, load places full", full
    for name in sorted(own.case):
        case = own.case[name]
        yield name, case.says, ledger.aboard(case.aboard, own.place)
