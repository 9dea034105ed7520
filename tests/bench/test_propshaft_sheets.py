"""The sheets of propshafts: what is read at three heights, and how forks stand."""

from __future__ import annotations

import math

import pytest

from shafts import SHAFT, TWO_SHAFTS, shafted
from wattwright.assessment import assess
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import sheet
from wattwright.pages import areas_for


def made(name: str, changes: dict[str, str | None] | None = None) -> Sheet:
    read = shafted(changes)
    return sheet(name, read.build, assess(read))


def test_levels_at_ride_height_go_into_their_fields() -> None:
    found = made("propshaft_angles")
    for axis in ("1_gearbox", "2_shaft", "3_pinion"):
        line = found.line(f"main_ride_{axis}")
        assert line is not None
        assert line.path == f"propshaft.main.axis.{axis}.rise"
    slip = found.line("main_ride_slip")
    assert slip is not None
    assert slip.path == "propshaft.main.slip_at_ride"
    cautions = " ".join(found.cautions)
    for word in ("Nobody crawls", "guard", "balanced", "High voltage off"):
        assert word in cautions


def test_what_swings_is_expected_elsewhere_on_the_stops_and_hanging() -> None:
    found = made("propshaft_angles")
    back, down = 1.5 * math.cos(math.radians(6)), 1.5 * math.sin(math.radians(6))
    for height, up in (("bump", 0.080), ("droop", -0.090)):
        level = found.line(f"main_{height}_2_shaft")
        assert level is not None
        assert level.expected is not None
        assert level.path == ""
        assert level.expected.number == pytest.approx(math.atan2(up - down, back))
        slip = found.line(f"main_{height}_slip")
        assert slip is not None
        assert slip.expected is not None
        assert slip.expected.number == pytest.approx(0.030 + math.hypot(back, up - down) - 1.5)
        travel = found.line(f"main_{height}_travel")
        assert travel is not None
        assert travel.path == f"propshaft.main.{height}.by"
        assert found.line(f"main_{height}_1_gearbox") is None
        turned = found.line(f"main_{height}_turned")
        assert turned is not None
        assert "binds" in turned.stop_if


def test_forks_of_every_shaft_are_checked_and_none_of_gearbox_or_pinion() -> None:
    found = made("propshaft_phasing", TWO_SHAFTS)
    paths = [line.path for line in found.lines if line.path]
    assert paths == [
        "propshaft.main.axis.2_shaft.phase_error",
        "propshaft.main.axis.3_rear.phase_error",
    ]
    crossed = made("propshaft_phasing", {"propshaft.main.axis.2_shaft.yokes": '"crossed"'})
    line = crossed.line("main_2_shaft_seen")
    assert line is not None
    assert "quarter turn" in line.act


def test_without_a_propshaft_or_with_one_to_compare_alone_nothing_is_read() -> None:
    nothing: dict[str, str | None] = dict.fromkeys(SHAFT)
    only: dict[str, str | None] = {"propshaft.main.compared_only": "true"}
    for name in ("propshaft_angles", "propshaft_phasing"):
        for changes in (nothing, only):
            assert len(made(name, changes).lines) == 1
            assert not any(line.read for line in made(name, changes).lines)


def test_without_the_drive_a_sheet_says_the_same() -> None:
    """A page of the mounts is made without the drive, which only speeds need."""
    read = shafted()
    for name in ("propshaft_angles", "propshaft_phasing"):
        whole = sheet(name, read.build, assess(read))
        alone = sheet(name, read.build, assess(read, areas_for(name)))
        assert [line.expects("metric") for line in alone.lines] == [
            line.expects("metric") for line in whole.lines
        ]
