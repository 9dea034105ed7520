"""The ledger: what was taken out and put in, and what that puts on each axle."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from wattwright.areas.vehicle.part_mass import mass_of
from wattwright.build.model import UNSAID
from wattwright.build.parts import Part, Place
from wattwright.build.presence import said
from wattwright.build.vehicle import Donor, Weighing
from wattwright.descriptions.vehicle import LoadState, Standing
from wattwright.kinds import MASS, MOMENT_OF_MASS, POSITION
from wattwright.physics import axle_loads, cg_height
from wattwright.values import (
    Lack,
    State,
    Value,
    constant,
    doubted,
    either,
    lacking,
    worked,
)


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """A mass in a place."""

    mass: Value
    x: Value
    y: Value
    z: Value


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """The measures that loads are worked out over."""

    wheelbase: Value
    track_front: Value
    track_rear: Value


def frame_of(donor: Donor) -> Frame:
    """Take wheelbase and tracks."""
    return Frame(donor.wheelbase, donor.front.track, donor.rear.track)


def part_items(parts: Iterable[Part]) -> tuple[Item, ...]:
    """Masses of parts where they stand; each part counts once."""
    items = (Item(_mass(part), part.at.x, part.at.y, part.at.z) for part in parts)
    return tuple(item for item in items if not item.mass.absent)


def _mass(part: Part) -> Value:
    if not said(part.count):
        return mass_of(part)
    return worked(axle_loads.group_mass, part.count, mass_of(part))


def planned(parts: Mapping[str, Part]) -> tuple[Item, ...]:
    """Ledger of the plan: everything that is not given up, or the lack of a plan."""
    how = "list motor, inverter, pack, charger and the rest as [part.NAME] with mass and at"
    kept = part_items(part for part in parts.values() if part.state != "removed")
    return kept or (_nowhere("part", "what goes in", how, 60),)


def planned_not_fitted(parts: Mapping[str, Part]) -> tuple[Item, ...]:
    """Parts of the plan that a weigh-in of today does not see yet."""
    return part_items(part for part in parts.values() if part.state not in ("removed", "fitted"))


def taken_out(donor: Donor) -> tuple[Item, ...]:
    """Ledger of what comes out of the donor, or the lack of one."""
    how = (
        "list engine, exhaust, tank, radiator and the rest as [donor.removed.NAME]; weigh each "
        "before it goes away"
    )
    return part_items(donor.removed.values()) or (
        _nowhere("donor.removed", "what comes out", how, 60),
    )


def fitted(parts: Mapping[str, Part]) -> tuple[Item, ...]:
    """Ledger of what is on the vehicle today."""
    return part_items(part for part in parts.values() if part.state == "fitted")


def aboard(masses: Mapping[str, Value], places: Mapping[str, Place]) -> tuple[Item, ...]:
    """Masses of people and goods at the named places."""
    return tuple(
        _unsaid(mass) if name == UNSAID else _at(places[name], mass)
        for name, mass in masses.items()
    )


def tanks_full(places: Mapping[str, Place]) -> tuple[Item, ...]:
    """Fuel of the donor with every tank full, or the lack of a tank in the build."""
    how = (
        'write [place.tank] with role = "tank", where its middle is and what it holds when full; '
        'a donor without one: full = "0 kg"'
    )
    tanks = tuple(_at(place, place.full) for place in places.values() if place.role == "tank")
    return tanks or (_nowhere("place.tank", "the donor's tank", how, 10),)


def driver_only(places: Mapping[str, Place], person: Value) -> tuple[Item, ...]:
    """The driver, or the lack of a driver's seat in the build."""
    found = tuple(_at(place, person) for place in places.values() if place.role == "driver")
    how = (
        'write [place.driver] with role = "driver" and where the seated person\'s middle is: '
        "tape from the front axle and the middle line, seat set as driven"
    )
    return found or (_nowhere("place.driver", "the driver's seat", how, 10),)


def fully_loaded(places: Mapping[str, Place], person: Value) -> tuple[Item, ...]:
    """A person on every seat and every load place full."""
    seats = tuple(_at(place, person) for place in places.values() if place.role == "seat")
    goods = tuple(_at(place, place.full) for place in places.values() if place.role == "load")
    how = (
        'write [place.NAME] with role = "seat" or "load" for each seat and load place; a vehicle '
        'with none: one with role = "load" and full = "0 kg"'
    )
    others = seats + goods or (_nowhere("place.NAME", "seats and load places", how, 10),)
    return driver_only(places, person) + others


def _at(place: Place, mass: Value) -> Item:
    return Item(mass, place.at.x, place.at.y, place.at.z)


def _unsaid(mass: Value) -> Item:
    """Nobody said what was aboard: its place is lacking for the same reason as its mass."""
    where = Value(POSITION, None, lacks=mass.lacks)
    return Item(mass, where, where, where)


def _nowhere(path: str, label: str, how: str, minutes: float) -> Item:
    lack = Lack(path, label, State.NOT_GIVEN.value, how, minutes)
    where = lacking(POSITION, lack)
    return Item(lacking(MASS, lack), where, where, where)


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """What several items bring: loads on the axles, and moment above the floor."""

    loads: LoadState
    height_moment: Value


def change(items: tuple[Item, ...], wheelbase: Value) -> Change:
    """Sum up what several items bring."""
    if not items:
        return NOTHING
    masses = [item.mass for item in items]
    xs = [item.x for item in items]
    ys = [item.y for item in items]
    loads = LoadState(
        worked(axle_loads.total, masses),
        worked(axle_loads.front_axle_load, masses, xs, wheelbase),
        worked(axle_loads.rear_axle_load, masses, xs, wheelbase),
        worked(axle_loads.front_side_moment, masses, xs, ys, wheelbase),
        worked(axle_loads.rear_side_moment, masses, xs, ys, wheelbase),
    )
    return Change(loads, worked(cg_height.height_moment, masses, [item.z for item in items]))


def _nothing() -> Change:
    mass, moment = constant(MASS, 0.0, "nothing"), constant(MOMENT_OF_MASS, 0.0, "nothing")
    return Change(LoadState(mass, mass, mass, moment, moment), moment)


NOTHING = _nothing()


def weighed(weighing: Weighing, frame: Frame) -> LoadState:
    """Take loads off the scales; wheels where they were weighed, otherwise axles."""
    front = either(worked(axle_loads.axle_load, weighing.fl, weighing.fr), weighing.front)
    rear = either(worked(axle_loads.axle_load, weighing.rl, weighing.rr), weighing.rear)
    return LoadState(
        worked(axle_loads.both_axles, front, rear),
        front,
        rear,
        worked(axle_loads.axle_side_moment, weighing.fl, weighing.fr, frame.track_front),
        worked(axle_loads.axle_side_moment, weighing.rl, weighing.rr, frame.track_rear),
    )


def _pressed(load: Value) -> Value:
    """Doubt a load below zero: nothing hangs on its scales, so a mass or a place is wrong."""
    if load.number is not None and load.number < 0:
        return doubted(load, "the load comes out below zero: a mass or a place is wrong")
    return load


def after(before: LoadState, taken_out: LoadState, put_in: LoadState) -> LoadState:
    """Work out the load state after a change."""
    load, moment = axle_loads.load_after, axle_loads.side_moment_after
    return LoadState(
        _pressed(worked(load, before.mass, taken_out.mass, put_in.mass)),
        _pressed(worked(load, before.front, taken_out.front, put_in.front)),
        _pressed(worked(load, before.rear, taken_out.rear, put_in.rear)),
        worked(moment, before.front_moment, taken_out.front_moment, put_in.front_moment),
        worked(moment, before.rear_moment, taken_out.rear_moment, put_in.rear_moment),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """A vehicle in one state of loading, with the height of its centre of gravity."""

    loads: LoadState
    height: Value

    def after(self, taken_out: Change, put_in: Change) -> Side:
        """Work out the state after a change."""
        if taken_out is NOTHING and put_in is NOTHING:
            return self
        loads = after(self.loads, taken_out.loads, put_in.loads)
        height = worked(
            cg_height.height_after,
            self.loads.mass,
            self.height,
            taken_out.height_moment,
            put_in.height_moment,
            loads.mass,
        )
        return Side(loads, height)


def standing(side: Side, frame: Frame) -> Standing:
    """Work out wheels, centre of gravity and imbalances from a load state."""
    state = side.loads
    sides = {
        "fl": worked(
            axle_loads.left_wheel_load, state.front, state.front_moment, frame.track_front
        ),
        "fr": worked(
            axle_loads.right_wheel_load, state.front, state.front_moment, frame.track_front
        ),
        "rl": worked(axle_loads.left_wheel_load, state.rear, state.rear_moment, frame.track_rear),
        "rr": worked(axle_loads.right_wheel_load, state.rear, state.rear_moment, frame.track_rear),
    }
    sides = {wheel: _pressed(load) for wheel, load in sides.items()}
    moments = (state.front_moment, state.rear_moment, state.front, state.rear)
    return Standing(
        state,
        **sides,
        cg_x=worked(axle_loads.cg_distance, state.front, state.rear, frame.wheelbase),
        cg_y=worked(axle_loads.cg_offset, *moments),
        cg_z=side.height,
        rear_share=worked(axle_loads.rear_share, state.front, state.rear),
        side_imbalance=worked(
            axle_loads.side_imbalance, *moments, frame.track_front, frame.track_rear
        ),
        diagonal_imbalance=worked(axle_loads.diagonal_imbalance, *sides.values()),
    )
