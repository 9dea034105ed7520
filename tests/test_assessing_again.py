"""A build assessed again: what did not change is kept, and the answer is that of a fresh one."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from wattwright.assessment import Assessment, assess, compare
from wattwright.build.edits import Edit, Unchecked, quote, splice
from wattwright.build.reader import FILE, Opened, parse_build
from wattwright.build.sampled_files import beside
from wattwright.next_readings import next_readings
from wattwright.written_out import check_out

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
Change = tuple[tuple[str, ...], str | None]
# One of each kind of leaf: free text, quantity, count, rule, season, use, file, and one taken out.
CHANGES: tuple[Change, ...] = (
    (("build", "name"), "Another name"),
    (("part", "charger", "mass"), "7.7 kg ± 0.1, measured"),
    (("donor", "wheelbase"), "2600 mm ± 2, measured"),
    (("pack", "series"), "80, measured"),
    (("rules", "mass_change", "value"), "12 %"),
    (("rules", "stop_lamp_from", "value"), "1.2 m/s²"),
    (("season", "january_aged", "outside_temperature"), "-15 °C"),
    (("use", "market_run", "stretch", "10_lane", "length"), "2.8 km, measured"),
    (("donor", "front", "track"), None),
    (("targets", "top_speed"), None),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(EXAMPLES / "orchard-pickup", tmp_path / "pickup")
    return tmp_path / "pickup"


def read(folder: Path, like: Opened | None = None) -> Opened:
    return parse_build((folder / FILE).read_bytes(), FILE, beside(folder), like)


def changed(opened: Opened, folder: Path, change: Change) -> Opened:
    path, text = change
    new = None if text is None else quote(text)
    text_now = splice(opened.source, [Edit(path, new, Unchecked.ANY)])
    (folder / FILE).write_text(text_now, encoding="utf-8", newline="")
    return read(folder, opened)


def everything(assessment: Assessment) -> str:
    return check_out(assessment, next_readings(assessment), "metric").model_dump_json()


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: ".".join(change[0]))
def test_a_build_assessed_again_says_what_one_assessed_afresh_says(
    folder: Path, change: Change
) -> None:
    opened = read(folder)
    first = assess(opened)
    again = changed(opened, folder, change)
    quick, slow = assess(again, before=first), assess(read(folder))
    assert everything(quick) == everything(slow)
    assert compare(first, quick) == compare(first, slow)
    assert everything(quick) != everything(first)


def test_a_changed_file_beside_the_build_is_read_again(folder: Path) -> None:
    shutil.rmtree(folder)
    shutil.copytree(EXAMPLES / "island-runabout", folder)
    route = folder / "shore-road.csv"
    opened = read(folder)
    first = assess(opened)
    *lines, _ = route.read_text(encoding="utf-8").rstrip("\n").split("\n")
    route.write_text("\n".join(lines) + "\n", encoding="utf-8")
    again = read(folder, opened)
    assert everything(assess(again, before=first)) == everything(assess(read(folder)))
    assert again.digest != opened.digest


@pytest.mark.parametrize(
    ("change", "kept"),
    [
        (CHANGES[0], {"vehicle", "pack", "drive", "high_voltage", "charging", "mounts"}),
        (CHANGES[2], {"pack", "charging"}),
        (CHANGES[3], {"vehicle"}),
        (CHANGES[6], {"vehicle", "pack", "charging"}),
    ],
    ids=("name", "wheelbase", "series", "season"),
)
def test_areas_of_which_nothing_changed_say_what_they_said(
    folder: Path, change: Change, kept: set[str]
) -> None:
    opened = read(folder)
    first = assess(opened)
    second = assess(changed(opened, folder, change), before=first)
    same = zip(first.reports, second.reports, strict=True)
    assert {one.area.name for one, other in same if one is other} == kept


def test_what_is_typed_alike_is_the_same_value_and_nothing_else_is(folder: Path) -> None:
    opened = read(folder)
    again = changed(opened, folder, (("donor", "wheelbase"), "2600 mm ± 2, measured"))
    assert again.build.donor.wheelbase is not opened.build.donor.wheelbase
    assert again.build.donor.front.track is opened.build.donor.front.track
    assert again.build.rules.mass_change == opened.build.rules.mass_change
    # What is no longer in the build is not kept for ever.
    assert len(again.leaves) == len(opened.leaves)
