"""What was found of the adaptor plate: every hole from datum B, and what each may be off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from wattwright.descriptions.coupling import FitFound, LimitsFound
from wattwright.values import Lack, Value

Cut = Literal["drill", "thread", "fit"]


@dataclass(frozen=True, slots=True, eq=False)
class PlateHole:
    """Something that is cut into the plate, or stands on it.

    ``x`` and ``y`` are from datum B, seen from the motor's side; ``known`` is the diameter of the
    zone in which that place is known. ``zone`` is the diameter of the zone in which its axis has
    to be. ``centres`` says that it stands on the datum's own axis; the datum itself has no zone.
    ``fit`` is there where ``cut`` is a fit and the build names one.
    """

    label: str
    face: Literal["motor", "gearbox"]
    cut: Cut
    size: Value
    bolt: Value
    thread: str
    depth: Value
    x: Value
    y: Value
    known: Value
    zone: Value
    fit: FitFound | None = None
    stands: bool = False
    centres: bool = False
    is_datum: bool = False

    @property
    def limits(self) -> LimitsFound | None:
        """Limits of the part of the fit that the plate has."""
        if self.fit is None:
            return None
        return self.fit.shaft if self.stands else self.fit.hole


@dataclass(frozen=True, slots=True, eq=False)
class AdaptorFound:
    """The adaptor plate.

    ``left`` is the run-out that the coupler leaves; ``coaxiality`` and ``parallelism`` are what
    may be made of it, the latter over a circle of the diameter ``across``. ``lacks`` is what has
    to be said before all holes are there.
    """

    holes: Mapping[str, PlateHole]
    used: Value
    left: Value
    coaxiality: Value
    parallelism: Value
    across: Value
    lacks: tuple[Lack, ...] = ()
