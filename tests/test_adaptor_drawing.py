"""The drawing of the adaptor plate: what a machinist reads from it, and what it never says."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

from couplings import built
from plates import GEARBOX, MOTOR, plate
from wattwright.assessment import assess
from wattwright.build.reader import Opened, open_build
from wattwright.drawings import drawing, of_area
from wattwright.errors import UsageError
from wattwright.pages import PageAbout, names, printed
from wattwright.paper.svg import Drawing, render

Changes = Mapping[str, Mapping[str, str | None] | None]
NS = "{http://www.w3.org/2000/svg}"
ABOUT = PageAbout(3, "2026-05-02")
CAUTION = "No paper template and no centre punch locates a shaft"
NO_PLATE: Changes = {
    "coupling.adaptor": None,
    "coupling.adaptor.feature.spigot": None,
    "coupling.adaptor.motor_holes": None,
    "coupling.adaptor.gearbox_holes": None,
}


def drawn(changes: Changes | None = None) -> Drawing:
    return of(built(plate(changes)))


def of(opened: Opened) -> Drawing:
    return drawing("adaptor", opened, assess(opened), "metric")


def words_of(made: Drawing) -> str:
    return " ".join(shape.words for shape in made.shapes if shape.words)


def rows(made: Drawing) -> dict[str, list[str]]:
    """What stands in the table beside each tag, read by height on the paper."""
    head = next(shape for shape in made.shapes if shape.words == "what")
    under = [s for s in made.shapes if s.words and s.box.top > head.box.bottom - 1.0]
    found: dict[str, list[str]] = {}
    for tag in (shape for shape in under if re.fullmatch(r"[BMGF]\d*", shape.words)):
        level = tag.box.middle[1]
        cells = [s for s in under if abs(s.box.middle[1] - level) < 1.0 and s is not tag]
        if tag.box.left < 5.0:
            found[tag.words] = [s.words for s in sorted(cells, key=lambda s: s.box.left)]
    return found


def test_every_hole_stands_in_the_table_with_place_size_face_depth_and_tolerance() -> None:
    """H7 of ISO 286-2: +30 µm at 80 mm, +18 µm at 12 mm, down to nought."""
    found = rows(drawn())
    assert found["B"] == ["0", "0", "Ø80 H7 (+0.030/0), spigot", "motor", "through", "datum B"]
    # (11 - 10)/2.
    position = ["A", "B"]
    assert found["M1"] == ["50.00", "-50.00", "drill Ø11", "motor", "through", "Ø0.5", *position]
    assert found["G3"][:3] == ["120.00", "90.00", "M12 × 1.75 - 6H, core Ø10.2"]
    assert found["G5"] == [
        *("125.000", "10.000", "Ø12 H7 (+0.018/0)", "gearbox", "15", "Ø0.012"),
        *position,
    ]
    assert len(found) == 1 + len(MOTOR) + len(GEARBOX)


def test_tolerances_of_the_faces_are_those_worked_out_by_hand() -> None:
    """0.05 mm less 0.02 mm, half of it over 100 mm and 50 mm: 0.03 mm, over 200 mm."""
    words = words_of(drawn())
    assert "0.03 A over Ø200" in words
    assert "0.02" in words
    assert "the coupler alone" not in words
    assert "Run-out allowed once round: 0.05. The coupler shows 0.020; what is left, 0.030" in words


def test_a_tolerance_is_rounded_down_from_the_near_end_of_its_band() -> None:
    """0.0312 mm ± 0.004 is left at 100 mm for 50 mm: no more than 0.0272 mm."""
    made = drawn({"coupling.run_out": {"flange": "0.0188 mm ± 0.004, measured"}})
    assert "0.027 A over Ø200" in words_of(made)


def test_a_bore_on_the_axis_is_held_coaxial() -> None:
    pilot = {"fit": "dowel", "face": "gearbox", "x": "0 mm", "y": "0 mm", "depth": "5 mm"}
    found = rows(drawn({"coupling.adaptor.feature.pilot": pilot}))
    assert found["F1"][-3:] == ["5", "Ø0.015", "B"]


def test_holes_stand_to_scale_about_the_datum() -> None:
    made = ET.fromstring(render(drawn())).iter(f"{NS}circle")
    circles = [tuple(float(each.attrib[key]) for key in ("cx", "cy", "r")) for each in made]
    outline = max(circles, key=lambda each: each[2])
    scale = outline[2] / 160.0
    middle = outline[:2]
    for x, y, radius in (
        *((*at, 5.5) for at in MOTOR.values()),
        *((*GEARBOX[name], 5.1) for name in "1234"),
        *((*GEARBOX[name], 6.0) for name in "56"),
        (0.0, 0.0, 40.0),
    ):
        wanted = (middle[0] + x * scale, middle[1] - y * scale, radius * scale)
        assert min(math.dist(wanted, each) for each in circles) < 0.01


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"coupling.faces": None}, ("thickness to measure: plate", "coupling.faces.plate")),
        (
            {"coupling.run_out": {"flange": None}},
            ("parallelism to", "measure: flange", "coupling.run_out.flange"),
        ),
        (
            {"coupling.adaptor.motor_holes": {"looking": None}},
            ("to measure: looking", "coupling.adaptor.motor_holes.looking"),
        ),
        (
            {"coupling.adaptor.motor_holes": {"pattern": None}},
            ("coupling.adaptor.motor_holes.pattern",),
        ),
        ({"coupling.adaptor": {"datum": None}}, ("coupling.adaptor.datum",)),
        (
            {"pattern.housing.hole.5": {"depth": "unknown"}},
            ("to measure", "pattern.housing.hole.5.depth"),
        ),
        (
            {"pattern.motor_face.hole.1": {"bolt": "unknown"}},
            ("to measure: bolt", "pattern.motor_face.hole.1.bolt"),
        ),
        (
            {"coupling.fit.dowel": {"hole_class": None}},
            ("to measure: hole_class", "coupling.fit.dowel.hole_class"),
        ),
        ({"coupling.adaptor": {"material": None}}, ("Material: to say",)),
        ({"coupling.run_out": {"flange": "0.06 mm ± 0, measured"}}, ("coupler alone uses up",)),
        (
            {"pattern.housing.centres": {"5-6": "240 mm ± 0.1, measured"}},
            ("DO NOT CUT BY THIS DRAWING: readings of the pattern do not agree: centres.5-6",),
        ),
        (
            {"coupling.adaptor.gearbox_holes": {"y": "-90 mm ± 0.05, measured"}},
            ("PICK UP G5, G6 from the part that they fit", "within a zone of Ø0.10"),
        ),
    ],
)
def test_what_is_missing_is_said_in_its_place(changes: Changes, said: tuple[str, ...]) -> None:
    made = drawn(changes)
    render(made)
    whole = drawn()
    for words in said:
        assert words in words_of(made)
        if words != "parallelism to":
            assert words not in words_of(whole)


def test_a_place_that_is_not_known_has_no_number_in_its_row() -> None:
    row = rows(drawn({"coupling.adaptor.gearbox_holes": {"x": "unknown"}}))["G1"]
    assert row[0] == "to measure: x"
    assert not re.search(r"\d", row[0])
    assert row[1].startswith("M12")


def test_it_says_what_locates_a_shaft_and_how_it_is_set_up() -> None:
    words = words_of(drawn())
    for said in (CAUTION, "in one setting", "ISO 2768-mK", "Edges broken", "seen on the motor's"):
        assert said in words


def test_common_practice_is_told_from_what_was_decided() -> None:
    assert "Common practice" not in words_of(drawn())
    left = words_of(drawn({"coupling.adaptor": {"flatness": None, "dowel_position": None}}))
    assert "Common practice, not decided for this plate yet: flatness, dowels' position" in left


def test_no_words_lie_on_each_other() -> None:
    pickup = open_build(Path(__file__).parents[1] / "examples" / "orchard-pickup")
    for made in (drawn(), of(pickup), drawn({"coupling.run_out": {"flange": None}})):
        boxes = [(shape.words, shape.box.grown(-0.4)) for shape in made.shapes if shape.words]
        met = [(a, b) for (a, one), (b, two) in itertools.combinations(boxes, 2) if one.meets(two)]
        assert met == []


def test_a_spigot_that_stands_and_a_plate_without_outline_fit_the_paper() -> None:
    made = drawn(
        {
            "coupling.adaptor.feature.spigot": {"part": "shaft", "depth": "6 mm"},
            "coupling.adaptor": {"outside": None},
        }
    )
    render(made)
    # h6 at 80 mm by ISO 286-2: nought and -19 µm.
    assert rows(made)["B"][2].startswith("Ø80 h6 (0/-0.019)")
    assert "stands" in rows(made)["B"][2]


def test_a_build_without_a_plate_has_none_on_its_page_and_says_what_to_write() -> None:
    bare = built(plate(NO_PLATE))
    assert "adaptor" not in of_area("mounts", bare)
    assert "adaptor" in of_area("mounts", built(plate()))
    assert "Write [coupling.adaptor]" in words_of(of(bare))
    assert "adaptor" not in names(bare, assess(bare))
    with pytest.raises(UsageError, match="is not of one use"):
        drawing("adaptor@x", bare, assess(bare), "metric")


@pytest.mark.parametrize(
    ("table", "field", "words"),
    [
        ("coupling.adaptor", "material", "steel"),
        ("coupling.adaptor.motor_holes", "pattern", "motor_face"),
        ("coupling.adaptor.feature.spigot", "face", "motor"),
    ],
)
def test_a_plate_of_which_only_a_name_is_written_has_begun(
    table: str, field: str, words: str
) -> None:
    alone = {**dict.fromkeys(plate()[table]), field: words}
    others = {name: None for name in NO_PLATE if name != table}
    opened = built(plate({**others, table: alone}))
    assert "adaptor" in of_area("mounts", opened)
    assert "Still to measure or to say: coupling.adaptor." in words_of(of(opened))


def test_on_paper_it_is_one_page_with_every_sign_and_number(tmp_path: Path) -> None:
    opened = built(plate())
    assessment = assess(opened)
    assert names(opened, assessment)["adaptor"] == "adaptor plate for the machinist"
    content = printed("adaptor", opened, assessment, "metric", "a4", ABOUT).content
    target = tmp_path / "plate.pdf"
    target.write_bytes(content)
    reader = PdfReader(target)
    assert len(reader.pages) == 1
    words = reader.pages[0].extract_text()
    for said in ("Ø80 H7 (+0.030/0)", "Ø0.012", "M12 × 1.75 - 6H", "±", CAUTION):
        assert said in words or said == "±"
    assert "\ufffd" not in words
    # A fit is nowhere drawn at full size.
    assert "full size" not in words
    page = pypdfium2.PdfDocument(content)[0].render(scale=1.0, grayscale=True).to_numpy()
    assert (page < 128).mean() > 0.01
