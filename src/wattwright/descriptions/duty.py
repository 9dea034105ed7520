"""What a use asks of every part: handed from going through it to the areas that judge.

A ``Demand`` is a use with every input that it is driven with; an area puts it together. A ``Duty``
is what comes of driving it. Currents are positive out of the pack, heat positive into the part,
torque positive while it drives.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wattwright.uses.profile import Profile
from wattwright.values import Value

if TYPE_CHECKING:
    from wattwright.uses.inputs import Maps, Trace
    from wattwright.uses.results import Run

# Lengths of time over which currents count, s: what warms a contact, a fuse, a cable, a core.
WINDOWS = (1.0, 10.0, 60.0, 600.0)
# A speed missing by less is held, m/s.
HELD = 0.05
# Bodies that a use warms, and parts into which its energy is split.
BODIES = ("motor", "inverter", "pack")
PARTS = (
    "rolling",
    "air",
    "climb",
    "brakes",
    "driveline_loss",
    "drive_loss",
    "pack_heat",
    "auxiliary",
    "heater",
)

Numbers = Mapping[str, float]
# Share of the highest phase current, at a share of the torque, a speed in rad/s and a DC voltage.
CurrentShare = Callable[[float, float, float], float]


@dataclass(frozen=True, eq=False)
class Variant:
    """One thing done otherwise: other numbers of the run, or the same at other speeds."""

    says: str
    numbers: Numbers
    faster: float = 1.0


@dataclass(frozen=True, eq=False)
class Shaft:
    """A place of the driveline: how many times the motors' torque it carries."""

    ratio: Value
    efficiency: Value


@dataclass(frozen=True, eq=False)
class WayInput:
    """An input of the way: what it is called, and the way driven once with another number of it.

    ``moved`` makes a trace of the one as it is and the other number, which is ``least`` or more.
    """

    says: str
    value: Value
    moved: Callable[[Trace, float], Trace]
    least: float = -math.inf


@dataclass(frozen=True, eq=False)
class Demand:
    """A use: what is driven, with what, and how much charge is to be left.

    ``profile`` is what is driven once, or the values that are missing to know it. ``inputs`` are
    by the names of ``Parameters``; ``maps`` is none where motor or pack are not known.
    ``phase`` gives for every motor its highest phase current, and for each share of the torque it
    can give the share of that current; ``shafts`` are by what turns with them. ``missing`` is the
    speed that may be missing. ``way`` are the inputs of the way, and ``doubts`` those about it.
    """

    use: str
    season: str
    profile: Profile | tuple[Value, ...]
    inputs: Mapping[str, Value]
    maps: Callable[[], Maps] | None
    repeat: Value
    reserve: Value
    wall_efficiency: Value
    missing: Value
    variants: Callable[[], tuple[Variant, ...]] = tuple
    phase: Mapping[str, tuple[Value, CurrentShare]] = field(default_factory=dict)
    shafts: Mapping[str, Shaft] = field(default_factory=dict)
    way: Callable[[], tuple[WayInput, ...]] = tuple
    doubts: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The use, and the season where it has one."""
        return f"{self.use}/{self.season}" if self.season else self.use


@dataclass(frozen=True, slots=True, eq=False)
class Windowed:
    """Largest root mean square in any window of each length, and over the whole use."""

    by_window: Mapping[float, Value]
    whole: Value


@dataclass(frozen=True, slots=True, eq=False)
class Turning:
    """What a link of the driveline bears: its extremes, and how often the sign changes.

    ``by_torque`` is the share of the time that it spends at each torque, in plain numbers.
    """

    largest: Value
    smallest: Value
    reversals: Value
    by_torque: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Energy:
    """What a use takes for its distance: at the wheels, out of the pack, out of the wall.

    ``split`` says where what leaves the cells goes; ``recovered`` comes back in at the terminals.
    """

    wheel: Value
    pack: Value
    wall: Value
    recovered: Value
    split: Mapping[str, Value]


@dataclass(frozen=True, slots=True, eq=False)
class Behind:
    """By how much a use stays behind what is wanted, where most, and for how long by what."""

    speed: Value
    where: Value
    time_by: Mapping[str, Value]


@dataclass(frozen=True, slots=True, eq=False)
class Driven:
    """The run itself, to draw it and to show its working."""

    trace: Trace
    run: Run


@dataclass(frozen=True, slots=True, eq=False)
class Duty:
    """One use of the vehicle: energy, range, currents by window, heat, torques by link.

    ``hottest`` temperatures by body, held against ``taken_back`` at which power is taken back.
    """

    demand: Demand
    range: Value
    energy: Energy
    charge_left: Value
    behind: Behind
    hottest: Mapping[str, Value]
    taken_back: Mapping[str, Value]
    heat: Mapping[str, Value]
    pack_current: Windowed
    peak_current: Value
    charge_current: Value
    lowest_voltage: Value
    phase_current: Mapping[str, Windowed]
    links: Mapping[str, Turning]
    range_if: Mapping[str, Value]
    driven: Driven | None


@dataclass(frozen=True, slots=True, eq=False)
class SteadyDuty:
    """A speed held on the level: range, and energy for the distance at wheels, pack and wall."""

    demand: Demand
    range: Value
    wheel: Value
    pack: Value
    wall: Value
    driven: Driven | None


@dataclass(frozen=True, slots=True, eq=False)
class HillDuty:
    """A hill climbed: how warm it gets by body, where power is taken back, and speed missing.

    ``current`` of the pack is the largest root mean square over ten minutes.
    """

    demand: Demand
    hottest: Mapping[str, Value]
    taken_back: Mapping[str, Value]
    behind: Value
    current: Value
    driven: Driven | None


@dataclass(frozen=True, eq=False)
class HillDemand:
    """A speed in m/s that is to be held uphill, and the grade wanted.

    ``steepest`` is what the force allows for some seconds, pack half charged, and ``slips`` the
    grade at which the driven wheels slip.
    """

    speed: float
    grade: Value
    inputs: Mapping[str, Value]
    maps: Callable[[], Maps] | None
    steepest: Value
    slips: Value


@dataclass(frozen=True, slots=True, eq=False)
class HillHeld:
    """What is held uphill at a speed: for half an hour, and how long the grade wanted.

    ``ended_by`` is what would end either: a body that is too warm, the force, the grip, or nothing.
    """

    grade: Value
    grade_ended_by: str
    time: Value
    time_ended_by: str


@dataclass(frozen=True, slots=True, eq=False)
class Duties:
    """All duties: every use, in every season; speeds held on the level; hills."""

    uses: Mapping[str, Duty]
    steady: Mapping[str, SteadyDuty]
    hill: HillDuty | None
    held: Mapping[str, HillHeld]
