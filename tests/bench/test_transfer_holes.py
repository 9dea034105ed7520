"""The sheet for transferring a hole pattern: what is measured again, and what is to be expected."""

from __future__ import annotations

import pytest

from patterns import HOLE, READ, built, pattern
from wattwright.assessment import assess
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import sheet

DRILLED = {"drilled_within": '"0.4 mm ± 0.01, measured"'}


def made(*patterns: str) -> Sheet:
    read = built(*patterns)
    return sheet("transfer_holes", read.build, assess(read))


def test_both_bars_are_held_against_a_rule_first() -> None:
    found = made(pattern())
    across, up = found.lines[:2]
    for line in (across, up):
        assert line.expects("metric") == "100.0 mm ± 0.2"
        assert "0.2 mm" in line.stop_if
    cautions = " ".join(found.cautions)
    for word in ("never locates a shaft", "Clamp", "Goggles", "pilot", "deburr"):
        assert word in cautions


def test_every_distance_is_measured_again_against_the_adjusted_one() -> None:
    """Adjusted by a general solver: hole 2 at 152.6192 mm on the axis of hole 1."""
    found = made(pattern())
    line = found.line("plate.1.2")
    assert line is not None
    assert line.expected is not None
    assert line.expected.number == pytest.approx(152.6192e-3, abs=6e-8)
    # Both holes may be off: 2.4477 standard deviations of 0.074 mm and of 0.0822 mm.
    assert line.expected.band == pytest.approx(2.4477e-3 * (0.0740**2 + 0.0822**2) ** 0.5, rel=2e-3)
    assert sum(line.name.startswith("plate.") for line in found.lines) == 2 + 15 + 6


def test_the_final_hole_is_read_against_what_still_assembles() -> None:
    found = made(pattern(hole={**HOLE, "drill": '"11.5 mm"'}, plain=DRILLED))
    line = found.line("plate.size.2")
    assert line is not None
    assert line.sense == "at least"
    assert line.expects("metric").startswith("at least 11.2")
    assert line.act.startswith("Drill to 11.5 mm, deburr")
    # ISO 273 has 12 mm for M10 in the coarse series.
    assert "the usual hole is 12 mm" in line.act


def test_a_pattern_with_a_suspect_stops_at_the_first_punch() -> None:
    found = made(pattern(readings={**READ, "2-5": READ["2-5"] + 5.0}))
    line = found.line("plate.punch")
    assert line is not None
    assert "centres.2-5 does not agree" in line.stop_if
    assert made(pattern()).lines[3].stop_if == ""


def test_a_pattern_without_places_has_no_lines() -> None:
    found = made(pattern("whole"), pattern("part", {"1-2": 100.0, "2-3": 80.0}))
    assert not [line for line in found.lines if line.name.startswith("part.")]
    assert found.line("whole.punch") is not None


def test_a_part_that_is_drilled_already_is_not_drilled_again() -> None:
    found = made(pattern("old"), pattern("new", plain={"like": '"old"'}))
    assert {line.name.partition(".")[0] for line in found.lines[3:]} == {"old"}
    kept = made(pattern(hole={**HOLE, "drill": '"none"'}))
    assert kept.line("plate.1.2") is not None
    assert kept.line("plate.size.1") is None


FIT = '[coupling.fit.dowel]\nnominal = "12 mm"\n'


def test_what_carries_a_fit_is_neither_punched_nor_drilled() -> None:
    here = "[pattern.plate.hole.2]"
    found = made(FIT + pattern().replace(here, f'{here}\nfit = "dowel"'))
    line = found.line("plate.fits")
    assert line is not None
    assert "Leave 2 unmarked" in line.act
    assert "No template and no centre punch" in line.act
    assert found.line("plate.size.2") is None
    assert found.line("plate.1.2") is None
    assert found.line("plate.1.3") is not None
    assert made(pattern()).line("plate.fits") is None


def test_a_thread_is_drilled_to_its_core_and_not_held_against_the_bolt() -> None:
    hole = {**HOLE, "drill": '"8.5 mm"', "thread": '"M10 × 1.5 - 6H"'}
    line = made(pattern(hole=hole, plain=DRILLED)).line("plate.size.2")
    assert line is not None
    assert line.act.startswith("Drill to 8.5 mm")
    assert "then cut the thread M10 × 1.5 - 6H" in line.act
    assert line.limit is None
