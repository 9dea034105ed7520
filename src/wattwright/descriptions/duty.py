"""What a use asks of every part: handed from going through it to the areas that judge.

The pass that makes it is not written yet; areas will read it beside the descriptions. Currents are
positive out of the pack, heat positive into the part, torque positive while it drives.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value

# Lengths of time over which currents count, s: what warms a contact, a fuse, a cable, a core.
WINDOWS = (1.0, 10.0, 60.0, 600.0)


@dataclass(frozen=True, slots=True, eq=False)
class Windowed:
    """Largest root mean square in any window of each length, and over the whole use."""

    by_window: Mapping[float, Value]
    whole: Value


@dataclass(frozen=True, slots=True, eq=False)
class Turning:
    """What a link of the driveline bears: its extremes, and how often the sign changes."""

    largest: Value
    smallest: Value
    reversals: Value


@dataclass(frozen=True, slots=True, eq=False)
class Duty:
    """One use of the vehicle: currents by window, heat and temperature by part, torques by link."""

    use: str
    pack_current: Windowed
    phase_current: Mapping[str, Windowed]
    heat: Mapping[str, Value]
    hottest: Mapping[str, Value]
    links: Mapping[str, Turning]
