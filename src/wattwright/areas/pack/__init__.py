"""The pack in its first form: what the high-voltage devices and the motor see of it."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.pack.checks import CHECKS, FIGURES
from wattwright.areas.pack.describe import describe, judge
from wattwright.build.model import Build
from wattwright.build.pack import Pack as PackRecord
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


class Pack:
    """The pack area; see ``wattwright.areas.Area`` for what each member means."""

    name = "pack"
    title = "Pack"
    reads: tuple[type, ...] = ()
    makes: type = PackDescription
    checks: tuple[Check, ...] = CHECKS
    figures: tuple[FigureKind, ...] = FIGURES
    tables: tuple[Table, ...] = ()
    sections = ("pack",)
    tell_me_first = ("pack.series", "pack.charge_limit", "pack.discharge_limit")

    def own(self, build: Build) -> PackRecord:
        """Take the record this area reads."""
        return build.pack

    def begun(self, own: PackRecord) -> bool:
        """True where anything has been written about the pack."""
        return said(own)

    def describe(self, own: PackRecord, seen: Descriptions) -> PackDescription:
        """Work out voltages and resistance."""
        del seen
        return describe(own)

    def judge(
        self, own: PackRecord, seen: Descriptions, rules: Rules
    ) -> Iterator[Finding | Figure]:
        """State them."""
        del own, rules
        yield from judge(seen[PackDescription])
