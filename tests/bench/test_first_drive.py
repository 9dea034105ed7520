"""The sheet of the first drives: frequencies of this build, beside what they come from."""

from __future__ import annotations

import math

import pytest

from shafts import SHAFT, shafted
from wattwright.assessment import assess
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import sheet
from wattwright.descriptions.drive import DriveDescription
from wattwright.kinds import FREQUENCY
from wattwright.pages import areas_for

# A car that rolls 1.9 m a turn on a final drive of 4, at 80 km/h: common practice of the trade.
WHEEL = 80 / 3.6 / 1.9


def made(changes: dict[str, str | None] | None = None) -> Sheet:
    read = shafted({"drive.rolling_circumference": '"1.9 m ± 0"', **(changes or {})})
    return sheet("first_drive", read.build, assess(read))


def frequency(found: Sheet, name: str) -> float:
    line = found.line(name)
    assert line is not None, [each.name for each in found.lines]
    assert line.kind is FREQUENCY
    assert line.expected is not None
    assert line.expected.number is not None
    return line.expected.number


def test_wheels_shafts_and_joints_turn_as_the_trade_reckons() -> None:
    """11.7, 46.8 and 93.5 Hz, printed to a tenth."""
    found = made()
    assert frequency(found, "80_wheel") == pytest.approx(11.7, abs=0.05)
    assert frequency(found, "80_shaft") == pytest.approx(46.8, abs=0.05)
    assert frequency(found, "80_joints") == pytest.approx(93.5, abs=0.1)
    assert frequency(found, "50_wheel") == pytest.approx(WHEEL * 50 / 80)


def test_the_motor_turns_by_the_ratios_of_the_gears() -> None:
    read = shafted({"drive.rolling_circumference": '"1.9 m ± 0"'})
    said = assess(read)
    drive = said.descriptions[DriveDescription]
    found = sheet("first_drive", read.build, said)
    most = drive.highest_motor_speed.number
    assert most is not None
    forwards = [name for name, gear in read.build.drive.gear.items() if not gear.backwards]
    assert forwards
    for gear in forwards:
        ratio = drive.gear_ratios[gear].number
        assert ratio is not None
        turns = WHEEL * 4 * ratio
        if math.tau * turns > most:
            assert found.line(f"80_motor_{gear}") is None
        else:
            assert frequency(found, f"80_motor_{gear}") == pytest.approx(turns)


def test_a_gear_in_which_the_motor_cannot_turn_as_fast_is_not_listened_to() -> None:
    names = [line.name for line in made().lines if "motor" in line.name]
    slow = made({"part.motor.max_speed": '"1200 rpm"'})
    left = [line.name for line in slow.lines if "motor" in line.name]
    assert len(left) < len(names)


def test_backwards_nobody_drives_so_fast() -> None:
    gears = {"drive.gear.slow.ratio": "1", "drive.gear.slow.backwards": "true"}
    assert not [line for line in made(dict(gears)).lines if "motor_slow" in line.name]
    gears["drive.gear.slow.backwards"] = "false"
    assert [line for line in made(dict(gears)).lines if "motor_slow" in line.name]


def test_what_is_not_there_is_not_listened_to() -> None:
    nothing: dict[str, str | None] = dict.fromkeys(SHAFT)
    names = [line.name for line in made(nothing).lines]
    assert "80_wheel" in names
    assert not [name for name in names if "shaft" in name or "joints" in name or "tripod" in name]


def test_a_rolling_circumference_nobody_knows_leaves_no_frequency() -> None:
    found = made({"drive.rolling_circumference": None, "vehicle.tyres.size": None})
    line = found.line("80_wheel")
    assert line is not None
    assert line.expects("metric") == ""


def test_the_sheet_is_made_with_the_drive_and_begins_with_cautions() -> None:
    read = shafted()
    assert "drive" in [area.name for area in areas_for("first_drive")]
    words = " ".join(sheet("first_drive", read.build, assess(read)).cautions)
    for word in ("law and insurance", "proven dead", "emergency stop"):
        assert word in words
