"""Voltage windows of all high-voltage devices side by side."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.assessment import WORST_FIRST, Assessment, verdict_words
from wattwright.build.reader import Opened
from wattwright.drawings.said import number
from wattwright.findings import Figure, Finding
from wattwright.kinds import VOLTAGE
from wattwright.paper.ranges import Range, Ranges, draw_ranges
from wattwright.paper.svg import Drawing
from wattwright.units import Taste


def windows(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Voltage windows of all high-voltage devices side by side, against the pack's."""
    del opened
    by_address = assessment.by_address
    names = [
        finding.about for finding in assessment.findings if finding.check.id == "drive.window_high"
    ]
    rows = tuple(_window(by_address, name) for name in sorted(names))
    full, lifted = (number(by_address, f"pack.{name}") for name in ("v_max", "v_regen"))
    needed = Range(
        "pack, empty to full" if lifted is None else "pack, empty to full and regenerating",
        number(by_address, "pack.v_min"),
        full if lifted is None else lifted,
    )
    return draw_ranges(
        Ranges(
            "Voltage windows on one pack",
            "What each high-voltage device bears and needs, behind it what the pack gives.",
            VOLTAGE,
            rows,
            needed,
            "No high-voltage device is in the build yet: give a part a kind and its voltages.",
        ),
        taste,
    )


def _window(by_address: Mapping[str, Finding | Figure], name: str) -> Range:
    found = [by_address.get(f"drive.window_{side}@{name}") for side in ("low", "high", "regen")]
    findings = [each for each in found if isinstance(each, Finding)]
    low, high = (
        next((f.limit.number for f in findings if f.check.id.endswith(side)), None)
        for side in ("low", "high")
    )
    worst = min(findings, key=lambda f: (WORST_FIRST.index(f.verdict), not f.provisional))
    without_low = not any(f.check.id.endswith("low") for f in findings)
    return Range(name.replace("_", " "), 0.0 if without_low else low, high, verdict_words(worst))
