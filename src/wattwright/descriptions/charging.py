"""The chain from the breaker in the wall to the pack, outlet by outlet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wattwright.descriptions.readings import ReadingsFound
from wattwright.values import Value

# How the name of an outlet with a cord laid out, or a size thicker, ends.
LAID_OUT, THICKER = "_laid_out", "_thicker"


@dataclass(frozen=True, slots=True, eq=False)
class LinkFound:
    """One link of the chain.

    ``allows`` is the current it bears for hours; that of a link which says how much flows, such as
    a pilot, is what it says. ``loop`` is its resistance out and back, as warm as it gets; ``heat``
    what it turns to heat, ``warm`` how warm its conductors get and ``limit`` what their insulation
    bears; ``contact`` how much warmer than the air its contacts get.
    Absent where a link has none of it. ``flows`` marks links that decide what is drawn.
    """

    name: str
    says: str
    allows: Value
    loop: Value
    heat: Value
    warm: Value
    limit: Value
    contact: Value
    volts: Value
    flows: bool


@dataclass(frozen=True, slots=True)
class Drawn:
    """A charge at one instant, in plain SI numbers."""

    time: float
    charge: float
    power: float


@dataclass(frozen=True, slots=True, eq=False)
class ChargeFound:
    """What a charge at an outlet comes to, from the charge at the start to that which is wanted.

    ``to_draw`` works it out at many instants, which only a drawing needs; empty where something is
    missing for that.
    """

    reached: Value
    power: Value
    time: Value
    energy: Value
    cost: Value
    rate: Value
    to_draw: Callable[[], tuple[Drawn, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class OutletFound:
    """An outlet: its links in order from the wall, what they allow, what is drawn.

    ``allows`` is the least of all links, ``supply_allows`` of those that have to bear what flows up
    to the connector, ``draws`` the least of those that decide what flows;
    ``weakest`` names the link that allows least among those known, ``gain`` is the power out of
    the mains that it costs. ``volts`` are at the charger under load, ``open_volts``
    with nothing plugged in, ``box_volts`` at the supply box.
    """

    label: str
    links: tuple[LinkFound, ...]
    allows: Value
    supply_allows: Value
    draws: Value
    weakest: str
    open_volts: Value
    box_volts: Value
    volts: Value
    drop: Value
    power: Value
    gain: Value
    charge: ChargeFound
    leakage: Value


@dataclass(frozen=True, slots=True, eq=False)
class ChargingDescription:
    """Every outlet of the builder's list; ``otherwise`` with its cords laid out, or thicker.

    ``readings`` is what a meter shows at the inlet.
    """

    outlets: Mapping[str, OutletFound]
    otherwise: Mapping[str, Mapping[str, OutletFound]]
    readings: ReadingsFound
