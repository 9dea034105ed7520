"""Sheets on a phone, readings that come back, and how one gets into the build."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pytest
from PIL import Image
from pypdf import PdfReader

from web_builders import Workbench

Open = Callable[..., Workbench]
PICKUP = "orchard-pickup"
CORNERS = {"fl": "318 kg", "fr": "305 kg", "rl": "240 kg", "rr": "236.5 kg"}


def read(bench: Workbench, about: str, text: str, **more: str) -> tuple[int, str]:
    fields = {"instrument": "wheel scales", "date": "2026-11-20", "initials": "AB", **more}
    return bench.send(f"/b/{PICKUP}/reading", about=about, text=text, **fields)


def test_a_sheet_says_what_to_do_where_with_what_and_what_to_expect(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.page(f"/b/{PICKUP}/sheets")
    assert "Weighing the donor" in page
    assert "Weigh-in of the conversion" in page
    page = bench.page(f"/b/{PICKUP}/sheet/weigh_donor")
    assert "Take care" in page
    assert "expected 313.5 kg ± 1.5" in page
    page = bench.page(f"/b/{PICKUP}/sheet/weigh_donor/fl")
    for words in ("front left wheel", "wheel scales", "313.5 kg ± 1.5", "more than 408.2 kg"):
        assert words in page
    bench.page(f"/b/{PICKUP}/sheet/weigh_donor/none", 404)
    bench.page(f"/b/{PICKUP}/sheet/none", 404)


def test_four_corners_are_read_accepted_and_change_the_weight_book(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.page(f"/b/{PICKUP}/area/vehicle")
    for number, (corner, text) in enumerate(CORNERS.items(), start=1):
        status, page = read(bench, f"weigh_donor/{corner}", text)
        assert status == 200
        told = bench.page(f"/b/{PICKUP}/reading/{number}")
        assert "If it is accepted into donor.weighed" in told
        status, page = bench.send(f"/b/{PICKUP}/accept", number=str(number))
        assert status == 200
        assert f"reading {number} accepted into donor.weighed.{corner}" in page
    text = bench.text(PICKUP)
    assert 'fl = "318 kg ± 1.8 kg, measured, wheel scales, reading 1, 2026-11-20"' in text
    assert 'rr = "236.5 kg ± 1.7 kg, measured, wheel scales, reading 4, 2026-11-20"' in text
    # Nothing else in the file has changed.
    assert text.count("\n") == (bench.text(PICKUP)).count("\n")
    assert bench.page(f"/b/{PICKUP}/area/vehicle") != before
    page = bench.page(f"/b/{PICKUP}/history")
    assert "reading 1 accepted into donor.weighed.fl: 318 kg by AB" in page
    assert "stands in the build" in bench.page(f"/b/{PICKUP}/sheets")
    assert "It stands in" in bench.page(f"/b/{PICKUP}/reading/1")


def test_a_reading_alone_changes_no_number(workbench: Open) -> None:
    bench = workbench(PICKUP)
    before = bench.text(PICKUP)
    read(bench, "weigh_donor/fl", "318 kg")
    assert bench.text(PICKUP) == before
    assert "not accepted yet" in bench.page(f"/b/{PICKUP}/sheets")


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("3135 kg", "decimal point"),
        ("31.3 kg", "decimal point"),
        ("691 kg", "was it read in lb?"),
        ("900 kg", "far from"),
    ],
)
def test_what_looks_like_a_slip_is_asked_for_and_not_swallowed(
    workbench: Open, text: str, asked: str
) -> None:
    bench = workbench(PICKUP)
    status, page = read(bench, "weigh_donor/fl", text, note="dry day")
    assert status == 422
    assert asked in page
    # Nothing that was typed is lost, and nothing was written down.
    assert f'value="{text}"' in page
    assert 'value="dry day"' in page
    assert bench.shelf.desk(PICKUP).keeper.readings() == ()
    status, _ = read(bench, "weigh_donor/fl", text, sure="1")
    assert status == 200
    assert [each.text for each in bench.shelf.desk(PICKUP).keeper.readings()] == [text]


@pytest.mark.parametrize(
    ("about", "text", "more", "says"),
    [
        ("weigh_donor/fl", "313 mm", {}, "expected a mass"),
        ("weigh_donor/fl", "", {}, "needs a number"),
        ("weigh_donor/fl", "313 kg", {"instrument": "multimeter volts"}, "measures voltage"),
        ("weigh_donor/fl", "313 kg", {"date": "2026-13-01"}, "no date"),
        ("donor.wheelbase", "2547 kg", {"instrument": "tape"}, "expected a length"),
    ],
)
def test_what_cannot_be_is_refused_beside_the_field_and_kept(
    workbench: Open, about: str, text: str, more: dict[str, str], says: str
) -> None:
    bench = workbench(PICKUP)
    status, page = read(bench, about, text, **more)
    assert status == 422
    assert says in page
    assert 'role="alert"' in page
    assert f'value="{text}"' in page
    assert bench.shelf.desk(PICKUP).keeper.readings() == ()


def test_two_people_who_answer_one_line_are_both_kept(workbench: Open) -> None:
    bench = workbench(PICKUP)
    read(bench, "weigh_donor/fl", "318 kg", initials="AB")
    read(bench, "weigh_donor/fl", "312 kg", initials="CD")
    page = bench.page(f"/b/{PICKUP}/sheet/weigh_donor/fl")
    assert "318.0 kg ± 1.8" in page
    assert "312.0 kg ± 1.8" in page
    bench.send(f"/b/{PICKUP}/accept", number="2")
    assert '"312 kg ± 1.8 kg, measured' in bench.text(PICKUP)
    assert len(bench.shelf.desk(PICKUP).keeper.readings()) == 2


def test_a_correction_keeps_the_old_reading_which_is_accepted_no_more(workbench: Open) -> None:
    bench = workbench(PICKUP)
    read(bench, "weigh_donor/fl", "318 kg")
    read(bench, "weigh_donor/fl", "316 kg", replaces="1", then="stay")
    assert "corrected by" in bench.page(f"/b/{PICKUP}/reading/1")
    status, page = bench.send(f"/b/{PICKUP}/accept", number="1")
    assert status >= 400
    assert "corrected by reading 2" in page
    assert "318 kg" not in bench.text(PICKUP)


def test_a_reading_of_words_belongs_to_no_field(workbench: Open) -> None:
    bench = workbench(PICKUP)
    read(bench, "the rust under the bed", "a hand wide")
    page = bench.page(f"/b/{PICKUP}/reading/1")
    assert "belongs to no field" in page
    status, _ = bench.send(f"/b/{PICKUP}/accept", number="1")
    assert status >= 400


def test_a_photo_goes_with_its_reading_and_what_is_none_is_refused(workbench: Open) -> None:
    bench = workbench(PICKUP)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, "JPEG")
    fields = {"token": bench.token(), "about": "weigh_donor/fl", "text": "318 kg"}
    to = f"/b/{PICKUP}/reading"
    for content in (b"<script>alert(1)</script>", b"\x89PNG but no more"):
        sent = {"photo": ("display.jpg", content, "image/jpeg")}
        answer = bench.client.post(to, data=fields, files=sent)
        assert answer.status_code == 422
        assert "318 kg" in answer.text
    assert bench.shelf.desk(PICKUP).keeper.readings() == ()
    sent = {"photo": ("display.jpg", picture.getvalue(), "image/jpeg")}
    assert bench.client.post(to, data=fields, files=sent).status_code == 200
    assert f"/b/{PICKUP}/photos/1" in bench.page(f"/b/{PICKUP}/reading/1")


def test_paper_that_is_older_than_the_build_says_what_has_changed(workbench: Open) -> None:
    bench = workbench(PICKUP)
    assert "older than the build" not in bench.page(f"/b/{PICKUP}/sheet/weigh_in?as=1")
    was = bench.written(PICKUP, "part.battery_12v.mass") or ""
    fields = {"path": "part.battery_12v.mass", "quantity": "60 kg, measured", "was": was}
    bench.send(f"/b/{PICKUP}/set", **fields)
    page = bench.page(f"/b/{PICKUP}/sheet/weigh_in?as=1")
    assert "older than the build" in page
    assert "front left wheel" in page
    assert "revision 99" in bench.page(f"/b/{PICKUP}/sheet/weigh_in?as=99")
    assert "older than the build" not in bench.page(f"/b/{PICKUP}/sheet/weigh_in?as=2")


def test_an_instrument_of_the_build_says_how_far_it_may_be_off(workbench: Open) -> None:
    bench = workbench(PICKUP)
    text = bench.text(PICKUP)
    own = '\n[instrument.club_scales]\nsays = "the scales of the club"\nwithin = "0.4 kg"\n'
    (bench.folder / PICKUP / "build.toml").write_text(text + own, encoding="utf-8")
    read(bench, "weigh_donor/fl", "314 kg", instrument="the scales of the club")
    bench.send(f"/b/{PICKUP}/accept", number="1")
    assert '"314 kg ± 400 g, measured, the scales of the club, reading 1' in bench.text(PICKUP)


def test_pages_to_print_come_as_files_with_the_address_of_the_sheet(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.page(f"/b/{PICKUP}/sheets")
    assert f"/b/{PICKUP}/print/register?paper=letter" in page
    for name, query, kind in (
        ("weigh_in", "?paper=letter", "application/pdf"),
        ("weight_book", "", "application/pdf"),
        ("template@charger", "?format=dxf", "image/vnd.dxf"),
        ("template@charger", "?format=svg", "image/svg+xml"),
    ):
        answer = bench.client.get(f"/b/{PICKUP}/print/{name}{query}")
        assert answer.status_code == 200
        assert answer.headers["content-type"].startswith(kind)
        assert answer.headers["content-disposition"].startswith("attachment")
    sheet = bench.client.get(f"/b/{PICKUP}/print/weigh_in").content
    assert PdfReader(io.BytesIO(sheet)).pages[0].extract_text().startswith("Orchard pickup")
    for wrong in ("nothing", "weigh_in?format=dxf", "weigh_in?paper=a0", "weigh_in?format=png"):
        assert bench.client.get(f"/b/{PICKUP}/print/{wrong}").status_code in (404, 422)


def test_a_correction_that_looks_like_a_slip_is_still_a_correction(workbench: Open) -> None:
    bench = workbench(PICKUP)
    read(bench, "weigh_donor/fl", "318 kg")
    status, page = read(bench, "weigh_donor/fl", "3160 kg", replaces="1", then="stay")
    assert status == 422
    assert 'name="replaces" value="1"' in page
    assert 'value="3160 kg"' in page
    status, _ = read(bench, "weigh_donor/fl", "3160 kg", replaces="1", then="stay", sure="1")
    assert status == 200
    assert "corrected by" in bench.page(f"/b/{PICKUP}/reading/1")


@pytest.mark.parametrize(
    ("about", "text"), [("weigh_donor", ""), ("weigh_donor/none", "318 kg"), ("weigh_in/", "3 kg")]
)
def test_what_is_no_line_of_a_sheet_is_told_and_kept(
    workbench: Open, about: str, text: str
) -> None:
    bench = workbench(PICKUP)
    status, page = read(bench, about, text)
    assert status == 422
    assert f'name="about" value="{about}"' in page
    assert f'value="{text}"' in page


def test_a_line_that_is_read_is_not_answered_with_done(workbench: Open) -> None:
    bench = workbench(PICKUP)
    assert read(bench, "weigh_donor/fl", "done")[0] == 422
    assert read(bench, "weigh_donor/ready", "done")[0] == 200
    assert [each.about for each in bench.shelf.desk(PICKUP).keeper.readings()] == [
        "weigh_donor/ready"
    ]


def test_a_hunt_shows_dangers_outcomes_and_causes_and_leads_to_other_outlets(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP)
    path = bench.folder / PICKUP / "build.toml"
    outlets = '\n[outlet.wall]\nlabel = "wall"\n\n[outlet.gate]\nlabel = "gate"\n'
    text = path.read_text(encoding="utf-8")
    known = list(re.findall(r"^\[outlet\.(\w+)\]", text, re.MULTILINE))
    path.write_text(text + outlets, encoding="utf-8")
    assert "Charging will not start" in bench.page(f"/b/{PICKUP}/sheets")
    page = bench.page(f"/b/{PICKUP}/sheet/hunt_hot_plug@gate")
    assert "Hot plug, gate" in page
    for words in ("live: licensed person only", "What it may be", "At another outlet"):
        assert words in page
    for other in (*known, "wall"):
        assert f"/sheet/hunt_hot_plug@{other}" in page
    line = bench.page(f"/b/{PICKUP}/sheet/hunt_hot_plug@gate/grip")
    for words in ("What it tells", "it grips hard all round: rules out worn outlet"):
        assert words in line
    bench.page(f"/b/{PICKUP}/sheet/hunt_hot_plug@nowhere", 404)
    status, page = read(
        bench, "hunt_hot_plug@gate/volts_idle", "231 V", instrument="", after="volts_loaded"
    )
    assert status == 200
    assert "Hot plug, gate: " in page
    assert re.search(r"231(\.0)? V", bench.page(f"/b/{PICKUP}/sheet/hunt_hot_plug@gate"))
