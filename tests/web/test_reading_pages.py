"""That pages can be read at a glance: nothing nameless, nothing endless, nothing bare."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from wattwright.findings import about_words
from wattwright.web.pages.rows import Row, Rows
from web_builders import Workbench

PICKUP = "orchard-pickup"


def rows(*verdicts: str) -> Rows:
    return Rows("id", "says", tuple(Row("", "", word, False, "", "", "", "") for word in verdicts))


@pytest.mark.parametrize(
    ("verdicts", "open_rows"),
    [
        (["failing", *["sound"] * 5], 3),
        (["sound"] * 9, 2),
        # To fold one or two away would save nothing.
        (["failing", *["sound"] * 4], 5),
        # What is not sound is never folded, in whatever order it comes.
        ([*["sound"] * 6, "failing"], 7),
        (["unknown"] * 9, 9),
    ],
)
def test_what_is_sound_is_folded_where_it_is_much(verdicts: list[str], open_rows: int) -> None:
    assert rows(*verdicts).first == open_rows


def test_an_area_folds_what_is_sound_and_a_list_of_it_does_not(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    area = bench.page(f"/b/{PICKUP}/area/vehicle")
    folded = re.findall(r'<details class="folded".*?</details>', area, re.DOTALL)
    assert folded
    for part in folded:
        assert set(re.findall(r'class="verdict (\w+)"', part)) == {"sound"}
    assert "folded" not in bench.page(f"/b/{PICKUP}/said?verdict=sound")


def test_what_rests_on_a_field_is_said_with_the_name_of_each_check(
    workbench: Callable[..., Workbench],
) -> None:
    bench = workbench(PICKUP)
    bench.page(f"/b/{PICKUP}/")
    used = bench.page(f"/b/{PICKUP}/field/donor.wheelbase").partition('id="used"')[2]
    assert "axle load</h3>" in used
    assert "load on the tyre nearest its limit</h3>" in used


def test_names_are_shown_without_the_marks_of_the_file(
    workbench: Callable[..., Workbench],
) -> None:
    drive = workbench(PICKUP).page(f"/b/{PICKUP}/area/drive")
    shown = re.sub(r"<[^>]*>", " ", drive.partition('id="findings"')[2].partition("<svg")[0])
    assert "service disconnect" in shown
    assert "needs press aboard bed: mass aboard at this place" in shown
    assert not re.search(r"[a-z]_[a-z]", shown)


def test_the_stroke_of_a_speed_parts_nothing() -> None:
    assert about_words("80 km/h/motor") == "80 km/h, motor"
    assert about_words("front/press/donor") == "front, press, donor"


@pytest.mark.parametrize(
    ("look", "wanted"),
    [
        ("auto", [' media="(prefers-color-scheme: dark)"']),
        ("dark", [""]),
        ("bright", []),
    ],
)
def test_the_dark_colours_come_for_whom_they_are_meant(
    workbench: Callable[..., Workbench], look: str, wanted: list[str]
) -> None:
    bench = workbench("bare-start")
    bench.client.cookies.set("look", look)
    text = bench.client.get("/look").text
    assert re.findall(r'<link rel="stylesheet" href="[^"]*/dark\.css"([^>]*)>', text) == wanted
