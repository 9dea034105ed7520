"""Pages as they are printed: size, fonts, frame, the same bytes twice, names, formats."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from dataclasses import replace
from functools import partial
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pypdfium2
import pytest

from printed_pages import ABOUT, Read, example, squeezed
from wattwright import pages
from wattwright.bench.sheet import Line, Sheet
from wattwright.drawings import drawing
from wattwright.errors import UsageError
from wattwright.kinds import MASS
from wattwright.pages import PageAbout, names, printed
from wattwright.pages.typeset import TypesetError, pdf
from wattwright.pages.weight_book import weight_book
from wattwright.paper.svg import render
from wattwright.values import Given, Lack, Origin, given, lacking

SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
EVERY = ("register", "weight_book", "side", "plan", "rear", "template@check", "template@charger")


def sheet(*_: object, lines: int = 5) -> Sheet:
    scales = Given("donor.weighed.fl", "front left wheel", Origin.MEASURED, "321 kg ± 2", 2.0)
    unread = lacking(MASS, Lack("donor.weighed.fr", "front right wheel", "not given"))
    return Sheet(
        "weighing",
        "Weighing *all* of it",
        "What stands on each wheel, before anything is taken out.",
        ("Chock the wheels.", "Nobody under it."),
        ("four wheel scales", "tape"),
        (
            Line("level", "Zero every scale", "all corners", "digital level"),
            Line(
                "fl",
                "Read the scale #1",
                "front left wheel",
                "wheel scale <500 kg>",
                "donor.weighed.fl",
                MASS,
                given(MASS, 321.0, scales),
                "it shows more than $450 kg$: see who leans on the body",
            ),
            Line("fr", "Read it again", "front right wheel", kind=MASS, expected=unread),
            *(Line(f"more_{n}", f"Look at thing {n}", kind=MASS) for n in range(lines - 3)),
        ),
    )


@pytest.fixture
def with_sheet(monkeypatch):
    monkeypatch.setitem(pages.SHEETS, "weighing", sheet)


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("name", [*EVERY, "weighing"])
@pytest.mark.usefixtures("with_sheet")
def test_every_page_has_its_size_its_fonts_inside_and_says_whose_it_is(pickup, name, paper):
    opened, assessment = pickup
    made = printed(name, opened, assessment, "metric", paper, ABOUT)
    assert made.media_type == "application/pdf"
    assert made.file_name.startswith("orchard-pickup-")
    assert made.file_name.endswith(".pdf")
    read = Read(made.content)
    assert read.sizes == {SIZES[paper]}
    fonts = read.fonts()
    assert fonts
    assert all(fonts.values()), fonts
    count = len(read.pages)
    for number, words in enumerate(read.pages, 1):
        assert "Orchard pickup" in words
        assert f"revision 12 · build {assessment.digest[:12]} · 2026-03-14" in words
        assert f"page {number} of {count}" in words
    assert read.bookmarks


@pytest.mark.parametrize(
    "name", ["register", "plan", "template@charger", "weight_book", "weigh_in"]
)
def test_the_same_build_prints_the_same_bytes_in_a_process_of_its_own(pickup, name, tmp_path):
    opened, assessment = pickup
    mine = printed(name, opened, assessment, "metric", "a4", PageAbout()).content
    target = tmp_path / "again.pdf"
    words = [sys.executable, "-m", "wattwright", "print", str(opened.folder), name]
    # Another seed of hashes, another time of day: what is printed may not know.
    own = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Apia", "SOURCE_DATE_EPOCH": "1"}
    subprocess.run([*words, "-o", str(target)], env=own, check=True, capture_output=True)
    assert target.read_bytes() == mine
    assert b"CreationDate" not in mine


@pytest.mark.parametrize("name", ["register", "weight_book", "side", "template@check"])
def test_what_a_builder_typed_is_never_markup(pickup, name):
    opened, assessment = pickup
    hostile = (
        '#panic("x") *bold* $x$ <label> @ref `raw` \\u{41} // /* "q" [b] _i_ = ~ \u202eRTL\x07'
    )
    odd = replace(assessment, name=hostile)
    text = Read(printed(name, opened, odd, "metric", "a4", ABOUT).content).text
    for piece in ('#panic("x") *bold* $x$ <label>', "@ref"):
        assert squeezed(piece) in text.replace("\u201c", '"').replace("\u201d", '"')


def test_a_long_name_leaves_the_head_in_one_line(pickup):
    opened, assessment = pickup
    odd = replace(assessment, name="A very long name of a vehicle with many words " * 9)
    read = Read(printed("plan", opened, odd, "metric", "letter", ABOUT).content)
    assert "…" in read.pages[0]
    assert len(read.pages) == 1
    made = printed("register", opened, odd, "metric", "letter", ABOUT)
    assert len(made.file_name) < 90


@pytest.mark.parametrize("name", ["side", "plan", "rear"])
def test_a_view_is_the_drawing_of_the_screen_black_on_white(pickup, name):
    opened, assessment = pickup
    content = printed(name, opened, assessment, "metric", "a4", ABOUT).content
    read = Read(content)
    assert len(read.pages) == 1
    made = drawing(name, opened, assessment, "metric")
    for shape in made.shapes:
        if shape.words and "±" in shape.words:
            assert squeezed(shape.words) in read.text
    # A style that the typesetter does not understand once turned the paper black.
    image = pypdfium2.PdfDocument(content)[0].render(scale=1).to_pil().convert("L")
    dark = sum(image.histogram()[:128]) / (image.width * image.height)
    assert 0.005 < dark < 0.12


@pytest.mark.usefixtures("with_sheet")
def test_a_sheet_has_its_lines_expectations_and_blanks(pickup):
    opened, assessment = pickup
    read = Read(printed("weighing", opened, assessment, "metric", "a4", ABOUT).content)
    text = read.text
    for words in (
        "Weighing *all* of it",
        "Caution: Chock the wheels.",
        "four wheel scales; tape",
        "Read the scale #1",
        "wheel scale <500 kg>",
        "321 kg ± 2",
        "Stop if it shows more than $450 kg$",
        "donor.weighed.fl",
        "nothing said before",
        "initials",
    ):
        assert squeezed(words) in text.replace("\u00a0", " "), words


def test_a_sheet_of_many_lines_repeats_its_head(pickup, monkeypatch):
    monkeypatch.setitem(pages.SHEETS, "weighing", partial(sheet, lines=40))
    opened, assessment = pickup
    read = Read(printed("weighing", opened, assessment, "mixed", "letter", ABOUT).content)
    assert len(read.pages) > 1
    assert all("expected read initials" in words for words in read.pages[:-1])


def test_the_code_of_a_sheet_leads_to_its_address_and_is_left_out_without_one(pickup, monkeypatch):
    monkeypatch.setitem(pages.SHEETS, "weighing", sheet)
    opened, assessment = pickup
    with_code = printed("weighing", opened, assessment, "metric", "a4", ABOUT).content
    without = printed("weighing", opened, assessment, "metric", "a4", PageAbout()).content
    assert "write readings here" in Read(with_code).text
    assert "write readings here" not in Read(without).text


def test_the_weight_book_holds_every_part_once_and_what_the_figures_say(pickup):
    opened, assessment = pickup
    data = weight_book(opened, assessment, "metric")
    put_in, taken_out, places, scales = data["ledgers"]
    assert len(put_in["rows"]) == sum(p.state != "removed" for p in opened.build.part.values())
    assert len(taken_out["rows"]) == len(opened.build.donor.removed)
    assert len(places["rows"]) == len(opened.build.place)
    assert [row[0] for row in scales["rows"]] == ["the donor as found"]
    text = Read(printed("weight_book", opened, assessment, "metric", "a4", ABOUT).content).text
    text = text.replace("\u00a0", " ")
    for address in ("vehicle.mass@full", "vehicle.cg_z@kerb"):
        value = assessment.by_address[address].value
        assert value.known
    assert "1772 kg ± 12" in text
    assert "627 mm ± 66" in text
    # A cable that nobody has weighed: what follows from its wire.
    (cable,) = (row for row in put_in["rows"] if row[0] == "cable motor")
    assert cable[2].startswith("660 g")
    assert "from its wire" in cable[-1]


def test_a_build_hardly_begun_says_what_to_begin_with():
    opened, assessment = example("bare-start")
    for name in names(opened, assessment):
        assert Read(printed(name, opened, assessment, "inch", "letter", ABOUT).content).pages
    text = Read(printed("register", opened, assessment, "metric", "a4", ABOUT).content).text
    assert "Nothing has been written for this area yet. Begin with" in text


# ---------------------------------------------------------------------------------- names, formats


def test_every_name_listed_can_be_printed_as_svg_and_dxf_where_that_makes_sense(pickup):
    opened, assessment = pickup
    listed = names(opened, assessment)
    assert set(EVERY) <= set(listed)
    for name in listed:
        if name.startswith("template@"):
            made = printed(name, opened, assessment, "metric", "a4", ABOUT, "dxf")
            space = ezdxf.read(io.StringIO(made.content.decode())).modelspace()
            assert len(space) > 5
            assert made.file_name.endswith(".dxf")
        if name in ("side", "plan", "rear") or name.startswith("template@"):
            made = printed(name, opened, assessment, "metric", "a4", ABOUT, "svg")
            assert ElementTree.fromstring(made.content).tag.endswith("svg")
    view = printed("plan@fitted", opened, assessment, "metric", "a4", ABOUT, "svg").content
    assert view.decode() == render(drawing("plan@fitted", opened, assessment, "metric"))


@pytest.mark.parametrize(
    ("name", "kind", "words"),
    [
        ("nothing", "pdf", "there are register, weight_book"),
        ("template", "pdf", "template@charger"),
        ("template@nothing", "pdf", "there are check, "),
        ("template@pump", "pdf", "measure part.pump.size.length (tape or calipers"),
        ("plan@yesterday", "pdf", "no ledger"),
        ("register", "svg", "pdf alone"),
        ("plan", "dxf", "only templates"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_a_way_out(pickup, name, kind, words):
    opened, assessment = pickup
    with pytest.raises(UsageError) as caught:
        printed(name, opened, assessment, "metric", "a4", ABOUT, kind)
    assert words in str(caught.value)


def test_there_is_no_other_paper(pickup):
    with pytest.raises(UsageError, match="a4, letter"):
        printed("plan", *pickup, "metric", "a3", ABOUT)


def test_a_page_that_cannot_be_set_says_which():
    with pytest.raises(TypesetError, match="page sheet"):
        pdf("sheet", {"frame": {}})


# ------------------------------------------------------------------------------------- at full size


def longest_runs(pixels: np.ndarray) -> np.ndarray:
    """Length in pixels of the longest black run in each row."""
    dark = np.pad(pixels < 128, ((0, 0), (1, 1))).astype(np.int8)
    steps = np.diff(dark, axis=1)
    (rows, starts), (_, ends) = np.nonzero(steps == 1), np.nonzero(steps == -1)
    longest = np.zeros(len(pixels), dtype=int)
    np.maximum.at(longest, rows, ends - starts)
    return longest


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("name", ["template@check", "template@charger"])
def test_bars_measure_what_they_say_on_both_axes_of_every_sheet(pickup, name, paper):
    opened, assessment = pickup
    content = printed(name, opened, assessment, "metric", paper, ABOUT).content
    mm = 600 / 25.4
    for page in pypdfium2.PdfDocument(content):
        pixels = page.render(scale=600 / 72, grayscale=True).to_numpy().squeeze()
        # Flat bars stand in the lowest part of the sheet, upright ones at its left edge.
        for strip in (pixels[-int(38 * mm) :], pixels[:, : int(22.5 * mm)].T):
            runs = longest_runs(strip) / mm
            lengths = {round(run, 1) for run in runs if 95 < run < 105}
            assert len(lengths) == 2, lengths
            assert min(lengths) == pytest.approx(100.0, abs=0.2)
            assert max(lengths) == pytest.approx(101.6, abs=0.2)


def test_a_part_is_drawn_at_full_size(pickup):
    """The charger is 13 by 7 in; its outline in the DXF and its box in the SVG are just that."""
    opened, assessment = pickup
    made = printed("template@charger", opened, assessment, "metric", "a4", ABOUT, "dxf")
    space = ezdxf.read(io.StringIO(made.content.decode())).modelspace()
    (outline,) = space.query('LWPOLYLINE[layer=="outline"]')
    across, up = zip(*((x, y) for x, y, *_ in outline.get_points()), strict=True)
    assert max(across) - min(across) == pytest.approx(13 * 25.4)
    assert max(up) - min(up) == pytest.approx(7 * 25.4)
    assert (max(across) + min(across), max(up) + min(up)) == pytest.approx((0.0, 0.0))
    words = " ".join(text.dxf.text for text in space.query("TEXT"))
    for said in (
        "charger",
        "330 mm × 178 mm",
        "middle 229 mm ± 50 ahead of the front axle",
        "middle 432 mm ± 50 right of the middle line",
        "front",
        "A paper template never locates a shaft or a fit.",
    ):
        assert said in words


def test_of_several_parts_one_is_drawn_and_said_to_be(pickup):
    opened, assessment = pickup
    made = printed("template@modules_rear", opened, assessment, "metric", "a4", ABOUT)
    assert "one of 10; the place is the middle of all" in Read(made.content).text
