"""What the drawings of a build say, against what the assessment says."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from areas_loaded import loaded_build
from builders import CHARGED, DRIVEN, ELECTRIC, SMALL, opened
from hung import adjusted
from wattwright.assessment import assess
from wattwright.build.reader import open_build
from wattwright.cli import main
from wattwright.descriptions.drive import DriveDescription
from wattwright.drawings import DRAWINGS, drawing
from wattwright.errors import UsageError
from wattwright.paper.svg import Drawing, render


def drawn(name: str, changes: dict[str, str | None] | None = None) -> Drawing:
    build = opened(changes, {**SMALL, **ELECTRIC})
    return DRAWINGS[name](build, assess(build), "metric")


def said(name: str, changes: dict[str, str | None] | None = None) -> str:
    return " ".join(shape.words for shape in drawn(name, changes).shapes if shape.words)


def test_the_windows_show_the_verdict_and_what_is_provisional() -> None:
    assert "provisional" not in said("windows")
    assumed = said("windows", {"part.inverter.voltage_high": '"900 V"'})
    assert assumed.count("sound, provisional") == 1


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        # 96 cells of 4.2 V, and 96 * 2 mΩ / 2 * 3 * 1.5 + 20 mΩ = 452 mΩ at 50 A on top: 425.8 V
        ({}, "empty to full and regenerating, 288 V to 425.8 V"),
        ({"pack.regen_current_full": None}, "empty to full, 288 V to 403.2 V"),
    ],
)
def test_the_shade_reaches_as_far_as_the_pack_is_judged(
    changes: dict[str, str | None], words: str
) -> None:
    assert words in said("windows", changes)


ASKS = (
    "Measure points of unit and vehicle",
    "Measure between points",
    "Measure a half-shaft",
    "Measure the wheelbase",
    "Measure a track",
    "No high-voltage",
    "Give motor, inverter",
    "Give the motor",
    "No body has all its measures",
    "Name holes",
    "Write [coupling.adaptor]",
    "Write an outlet",
    "Measure rise, turn and length",
    "Give top speed, final drive",
    "Give size, insulation and fuse",
)


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_bare_build_says_what_is_missing(name: str) -> None:
    bare = opened(None, {"format": "1", "build.name": '"Bare"'})
    words = [shape.words for shape in DRAWINGS[name](bare, assess(bare), "metric").shapes]
    assert any(ask in each for each in words for ask in ASKS)


# ------------------------------------------------------------------------ force and envelope

FULL = {**SMALL, **ELECTRIC, **DRIVEN}


def on_the_road(name: str, changes: dict[str, str | None] | None = None) -> str:
    build = opened(changes, FULL)
    drawing = DRAWINGS[name](build, assess(build), "metric")
    return " ".join(shape.words for shape in drawing.shapes if shape.words)


def test_the_force_names_gears_grades_and_what_is_wanted() -> None:
    words = on_the_road("force", {"targets.hill_grade": '"12.5 %"'})
    for name in ("first", "second", "level", "10 % uphill", "12.5 % uphill, wanted", "wanted:"):
        assert name in words
    # A grade beside the one wanted would only hide it.
    near = on_the_road("force", {"targets.hill_grade": '"11 %"'})
    assert "11 % uphill, wanted" in near
    assert "10 % uphill" not in near
    none = on_the_road("force", {"targets.hill_grade": None, "targets.top_speed": None})
    assert "wanted" not in none


def test_the_envelope_names_voltages_and_states_of_the_pack() -> None:
    words = on_the_road("envelope")
    for name in (
        *("full voltage, 403 V held", "lowest voltage, 288 V held"),
        *("half charged, warm", "nearly empty, cold and aged"),
    ):
        assert name in words


def test_without_the_resistance_of_the_pack_only_held_voltages_are_drawn() -> None:
    words = on_the_road("envelope", {"pack.joints": None})
    assert "full voltage, 403 V held" in words
    assert "half charged" not in words
    assert "first" not in on_the_road("force", {"pack.joints": None})


@pytest.mark.parametrize("name", DRAWINGS)
def test_gears_without_a_motor_are_drawn_as_what_is_missing(name: str) -> None:
    gears = {"format": "1", "build.name": '"Gears alone"', "drive.final_ratio": '"4"'}
    build = opened(None, {**gears, "drive.gear.one.ratio": '"2"'})
    words = [shape.words for shape in DRAWINGS[name](build, assess(build), "metric").shapes]
    assert any(ask in each for each in words for ask in ASKS)


@pytest.mark.parametrize("example", ["orchard-pickup", "island-runabout"])
def test_the_examples_are_drawn_with_every_gear_and_state(example: str) -> None:
    build = open_build(Path(__file__).parents[1] / "examples" / example)
    assessment = assess(build)
    force, envelope = (
        " ".join(
            shape.words
            for shape in DRAWINGS[name](build, assessment, "metric").shapes
            if shape.words
        )
        for name in ("force", "envelope")
    )
    gears = [n for n, gear in build.build.drive.gear.items() if not gear.backwards]
    assert gears
    for gear in gears:
        assert gear.replace("_", " ") in force
    assert "level" in force
    assert "uphill, wanted" in force
    for word in ("full voltage", "lowest voltage", "half charged", "nearly empty"):
        assert word in envelope
    for address in ("pack.v_max", "pack.v_min"):
        volts = assessment.by_address[address].value.number
        assert f"{volts:.0f} V held" in envelope


def test_the_help_names_every_drawing(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["draw", "--help"])
    words = capsys.readouterr().out
    assert all(name in words for name in DRAWINGS)


@pytest.mark.parametrize("name", ["force", "envelope"])
def test_the_command_prints_what_is_drawn(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder = Path(__file__).parents[1] / "examples" / "orchard-pickup"
    assert main(["draw", str(folder), name]) == 0
    printed = capsys.readouterr().out
    build = open_build(folder)
    drawing = DRAWINGS[name](build, assess(build), "metric")
    assert printed.startswith("<svg")
    assert all(shape.words in printed for shape in drawing.shapes if shape.words.isalnum())


# ------------------------------------------------------------------------------------------- uses


@pytest.fixture(scope="module")
def used():
    changes = {
        **SMALL,
        **ELECTRIC,
        **DRIVEN,
        **CHARGED,
        "use.printed.cycle": '"wltc_3b"',
        "use.lane.stretch.10_out.length": '"2 km, measured"',
        "use.lane.stretch.10_out.speed": '"30 km/h"',
        "season.frost.outside_temperature": '"-10 °C"',
    }
    build = opened(None, changes)
    return build, assess(build)


@pytest.mark.parametrize("name", ["along", "energy", "currents", "along@lane/frost", "range"])
def test_uses_are_drawn(used, name):
    picture = render(drawing(name, *used, "metric"))
    ET.fromstring(picture)
    assert "Give motor" not in picture
    if "@" in name:
        assert "lane, frost" in picture


def test_a_trace_that_is_not_followed_is_drawn_beside_the_wanted_one(used):
    words = [shape.words for shape in drawing("along@printed", *used, "metric").shapes]
    assert "wanted" in words
    assert "wanted" not in [s.words for s in drawing("along@lane", *used, "metric").shapes]


def test_a_range_falls_with_speed_and_with_the_cold(used):
    _, assessment = used
    at_speeds = assessment.descriptions[DriveDescription].demands.at_speeds()
    cold, _, warm = (dict(points) for points in at_speeds.values())
    both = cold.keys() & warm.keys()
    assert warm[max(both)] < warm[min(both)]
    assert len(both) > 3
    assert all(cold[speed] < warm[speed] for speed in both)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("along@nowhere", "there is no use 'nowhere'; there are lane, lane/frost"),
        ("windows@printed", "windows is not of one use"),
        ("side@printed", "there is no ledger 'printed'; there are planned, fitted"),
        ("allong", "there is no drawing"),
    ],
)
def test_what_cannot_be_drawn_is_said(used, name, says):
    with pytest.raises(UsageError, match=says):
        drawing(name, *used, "metric")


# ------------------------------------------------------------------------ mounts and survey


def of_the_unit(name: str, changes: dict[str, str | None] | None = None) -> Drawing:
    build = adjusted(changes)
    return drawing(name, build, assess(build), "metric")


@pytest.mark.parametrize(
    ("name", "angle"),
    [("side", "nose up"), ("rear", "right side up"), ("plan", "nose turned left")],
)
def test_the_unit_is_drawn_on_its_mounts_with_its_angle_and_brackets(name: str, angle: str) -> None:
    found = of_the_unit(
        f"mounts@{name}", {"mounts.wanted.pitch": '"3°"', "mounts.wanted.roll": '"1°"'}
    )
    words = " ".join(shape.words for shape in found.shapes if shape.words)
    wanted = {"nose up": "Wanted: 3° nose up", "right side up": "Wanted: 1° right side up"}
    assert wanted.get(angle, "Wanted: 0.") in words
    assert words.count("bracket") >= 3
    assert "raise by" in words or "lower by" in words


def test_the_mounts_are_drawn_to_scale() -> None:
    """Nose and rear mounts stand 500 mm apart, the two behind 400 mm."""
    side, rear = of_the_unit("mounts@side"), of_the_unit("mounts@rear")
    for found, length in ((side, "500 mm"), (rear, "400 mm")):
        assert any(f"mounts of the unit {length}" in shape.words for shape in found.shapes)


def test_a_reading_that_does_not_fit_is_told_by_its_line_and_in_words() -> None:
    wrong = {"survey.distance.nose-hub_left": '"0.698 m ± 0.002, measured, tape"'}
    words = [shape.words for shape in of_the_unit("survey@plan", wrong).shapes if shape.words]
    assert any("698 mm, off 19.8 mm: does not fit" in each for each in words)
    assert not any(
        "does not fit" in shape.words and "off" in shape.words
        for shape in of_the_unit("survey@plan").shapes
    )
    # Heights are seen from the side alone.
    assert any("400 mm" in shape.words for shape in of_the_unit("survey@side").shapes)


def test_there_is_no_view_of_another_side() -> None:
    with pytest.raises(UsageError, match="side, plan, rear"):
        of_the_unit("mounts@below")


def test_loads_at_the_mounts_are_arrows_with_the_worst_case_of_each() -> None:
    build = loaded_build()
    found = drawing("mount_loads", build, assess(build), "metric")
    words = " ".join(shape.words for shape in found.shapes if shape.words)
    assert words.count("inverter fault") == 3
    assert "10 mm on this drawing for" in words


def test_half_shafts_are_drawn_over_their_travel() -> None:
    build = open_build(Path(__file__).parents[1] / "examples" / "island-runabout")
    assessment = assess(build)
    for name, words in (("shaft_angles", "left, inner"), ("shaft_plunge", "right")):
        found = drawing(name, build, assessment, "metric")
        assert any(shape.words == words for shape in found.shapes)
