"""The areas of the work. Each is one line in ``AREAS``; none imports another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Protocol

from wattwright.areas.charging import Charging
from wattwright.areas.drive import Drive
from wattwright.areas.high_voltage import HighVoltage
from wattwright.areas.mounts import Mounts
from wattwright.areas.pack import Pack
from wattwright.areas.vehicle import Vehicle
from wattwright.build.model import Build
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


class Area(Protocol):
    """One field of the work.

    ``reads`` names the descriptions of other areas that it needs, and ``Duties`` where it judges
    what comes of going through the uses. ``tables`` lists the figures
    that are shown together. ``tell_me_first`` names the fields that
    stand for the whole area while nobody has begun it.
    """

    @property
    def name(self) -> str:
        """Word that begins the address of everything this area says."""

    @property
    def title(self) -> str:
        """Heading."""

    @property
    def reads(self) -> tuple[type, ...]:
        """Descriptions it reads."""

    @property
    def makes(self) -> type:
        """Description it makes."""

    @property
    def checks(self) -> tuple[Check, ...]:
        """Checks it may state."""

    @property
    def figures(self) -> tuple[FigureKind, ...]:
        """Figures it may state."""

    @property
    def tables(self) -> tuple[Table, ...]:
        """Figures shown together."""

    @property
    def sections(self) -> tuple[str, ...]:
        """Sections of the build file that it reads."""

    @property
    def tell_me_first(self) -> tuple[str, ...]:
        """Fields to give first."""

    def own(self, build: Build) -> Any:
        """Take the records this area reads from a build; nothing else reaches it."""

    def begun(self, own: Any) -> bool:
        """True where the builder has written anything for this area."""

    def describe(self, own: Any, seen: Descriptions) -> object:
        """Turn records into a description, without asking what the vehicle will go through."""

    def judge(self, own: Any, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """Compare descriptions with limits and rules."""


AREAS: tuple[Area, ...] = (
    Vehicle(),
    Pack(),
    Drive(),
    HighVoltage(),
    Charging(),
    Mounts(),
)
