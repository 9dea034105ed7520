"""The links from the breaker in the wall to the pack, as they are before any current flows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Self

from wattwright.areas.charging.code_tables import cord_table, wiring_table
from wattwright.areas.charging.readings import coded_current
from wattwright.areas.charging.sockets import socket_current
from wattwright.areas.wired import ONE_WAY, OUT_AND_BACK, Wired, reel_factor, wired
from wattwright.build.charging import Charging
from wattwright.build.devices import Charger
from wattwright.build.outlets import Cord, Outlet, SupplyBox
from wattwright.build.presence import said
from wattwright.kinds import CURRENT, Kind
from wattwright.physics import charge_chain
from wattwright.values import Lack, Value, either, lacking, smallest, worked

# A box or post of somebody else's: what stands behind it is its owner's, and its pilot says it.
FIXED = "fixed"
# Counts lie at whole numbers: between one, two and three.
_MORE_THAN_ONE, _MORE_THAN_TWO = 1.5, 2.5


@dataclass(frozen=True, slots=True, eq=False)
class Contact:
    """Contacts of a plug: their resistance each, and what a watt warms them by."""

    resistance: Value
    warming: Value


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """A link before any current flows; ``wire`` and ``contact`` where it has them."""

    name: str
    says: str
    allows: Value
    flows: bool = False
    wire: Wired | None = None
    contact: Contact | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Aboard:
    """What of the chain is the vehicle's own."""

    charging: Charging
    chargers: Mapping[str, Charger]

    @property
    def charger(self) -> Charger | None:
        """The charger; none where it is missing, or where two of them would share the mains."""
        return next(iter(self.chargers.values())) if len(self.chargers) == 1 else None

    def of_charger(self, kind: Kind, name: str) -> Value:
        """Give what is written of the charger; without one, it is the charger that is missing."""
        if self.charger is not None:
            value: Value = getattr(self.charger, name)
            return value
        return lacking(kind, self.missing)

    @property
    def missing(self) -> Lack:
        """What is to be done where there is no charger, or more than one."""
        return _several(self.chargers) if self.chargers else _NO_CHARGER


@dataclass(frozen=True, slots=True, eq=False)
class Phases:
    """The phases that carry a charge, how many conductors they load, and the way of one of them.

    One comes back by the neutral, three by each other. Of two the neutral carries as much as
    either: three conductors get warm, and each way is out and back, for the safe side.
    """

    count: Value
    cores: int
    ways: Value

    @classmethod
    def carrying(cls, outlet: Outlet, aboard: Aboard) -> Self:
        """Take the phases of an outlet, and no more of them than the charger uses."""
        count = outlet.phases
        if (count.number or 1.0) > _MORE_THAN_ONE and aboard.charger is not None:
            count = smallest(count, aboard.charger.input_phases)
        number = count.number or 1.0
        cores = 3 if number > _MORE_THAN_ONE else 2
        return cls(count, cores, ONE_WAY if number > _MORE_THAN_TWO else OUT_AND_BACK)


def supply_links(
    name: str,
    outlet: Outlet,
    cords: Mapping[str, Cord],
    boxes: Mapping[str, SupplyBox],
    inlet: str,
    cores: int,
) -> Iterator[Link]:
    """Yield the links from the breaker to the connector, from the wall outwards.

    ``inlet`` is its kind, by which a cable's coding is read; ``cores`` of every cable carry
    current.
    """
    if outlet.socket != FIXED:
        yield from _wall(name, outlet, cores)
    for each in outlet.cord_names:
        if each in cords:
            yield from _cord(each, cords[each], cores)
    box = boxes.get(outlet.box)
    if box is None:
        yield Link("box", "supply box", lacking(CURRENT, no_box(name)), flows=True)
    else:
        yield from _box(outlet.box, box, outlet, inlet, cores)


def _wall(name: str, outlet: Outlet, cores: int) -> Iterator[Link]:
    left = worked(
        charge_chain.left_of_breaker, outlet.breaker, outlet.continuous_share, outlet.other_load
    )
    yield Link("breaker", "breaker", left)
    run = wired(outlet.wiring, f"outlet.{name}.wiring", cores, outlet.warmest)
    table = wiring_table(
        outlet.wiring, outlet.wiring_table, f"outlet.{name}.wiring_table", outlet.warmest
    )
    yield Link("wiring", "wiring in the wall", _tightened(run, table), wire=run)
    contact = Contact(outlet.contact, outlet.contact_warming)
    bears = either(outlet.socket_current, socket_current(outlet.socket, name), asking=0)
    yield Link("socket", "socket in the wall", bears, contact=contact)


def _cord(name: str, cord: Cord, cores: int) -> Iterator[Link]:
    wound = reel_factor(cord.layers) if cord.wound else None
    run = wired(cord, f"cord.{name}", cores, cord.warmest, wound)
    words = cord.label or f"cord {name.replace('_', ' ')}"
    table = cord_table(cord, f"cord.{name}", wound)
    if cord.wound is None:
        table = lacking(CURRENT, _how_used(name, words))
    yield Link(f"cord_{name}", words, _tightened(run, table), wire=run)
    contact = Contact(cord.contact, cord.contact_warming)
    yield Link(f"plug_{name}", f"plug and sockets of {words}", cord.plug_current, contact=contact)


def _box(name: str, box: SupplyBox, outlet: Outlet, inlet: str, cores: int) -> Iterator[Link]:
    words = box.label or name.replace("_", " ")
    yield Link("box", words, box.current)
    yield Link("pilot", f"pilot of {words}", box.pilot, flows=True)
    if said(box.coding) and not box.coding.absent:
        coded = coded_current(box.coding, inlet)
        yield Link("coding", f"coding of its cable, {words}", coded, flows=True)
    if said(box.cable):
        run = wired(box.cable, f"supply_box.{name}.cable", cores, outlet.warmest)
        contact = Contact(box.contact, box.contact_warming)
        yield Link("cable", f"cable of {words}", run.allows(), wire=run, contact=contact)


def _tightened(run: Wired, table: Value) -> Value:
    """What physics allows and what a code's table or a print says, whichever is less.

    Physics never loosens a table.
    """
    return worked(charge_chain.least, (run.allows(), table))


def vehicle_links(aboard: Aboard) -> Iterator[Link]:
    """Yield the links of the vehicle that are told in amperes of the mains."""
    yield Link("inlet", "inlet", aboard.charging.inlet.current)
    bears = aboard.of_charger(CURRENT, "input_current")
    yield Link("charger", "charger", bears, flows=True)


def no_box(outlet: str) -> Lack:
    """Ask for the supply box of an outlet."""
    return Lack(
        f"outlet.{outlet}.box",
        f"outlet {outlet}: supply box",
        "not given",
        "write [supply_box.NAME] with the current it tells the vehicle, and name it here",
        5.0,
    )


def _how_used(name: str, words: str) -> Lack:
    how = "true: on its reel or in a heap; false: laid out whole, which every cord should be"
    return Lack(f"cord.{name}.wound", f"{words}: used wound up", "not given", how, 1.0)


def _several(chargers: Mapping[str, Charger]) -> Lack:
    return Lack(
        "part",
        "the charger",
        f"there are {len(chargers)}: {', '.join(chargers)}, and the chain is that of one",
        'write state = "removed" for all but one at a time; where they charge together, write '
        "one [part.NAME] with the sums of what they weigh, take, give and leak",
        5.0,
    )


_NO_CHARGER = Lack(
    "part",
    "the charger",
    "not given",
    'write [part.charger] with kind = "charger" and what its plate says of its input',
    5.0,
)
