"""``print``: what is written where, and what is said when it cannot be."""

from __future__ import annotations

import shutil

import pytest

from wattwright.cli import main


@pytest.fixture
def away(tmp_path, monkeypatch):
    """Another folder to stand in."""
    folder = tmp_path / "away"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


OUTLETS = ("barn", "home", "post")


def test_without_a_name_the_pages_are_listed(run, examples):
    answer = run("print", examples / "orchard-pickup")
    assert answer.code == 0
    names = [line.split(" ")[0] for line in answer.out.splitlines()]
    assert names[:5] == ["register", "weight_book", "side", "plan", "rear"]
    sides = [f"mounts@{side}" for side in ("side", "plan", "rear")]
    loads = ["mount_loads@side", "mount_loads@rear"]
    assert names[5:12] == [*sides, *loads, "survey@plan", "survey@side"]
    sheets = ["weigh_donor", "weigh_in", "measure_mounts", "check_pose", "transfer_holes"]
    sheets += ["half_shaft_angles", "half_shaft_reassembly", "dial_indicator"]
    sheets += ["propshaft_angles", "propshaft_phasing", "hv_cables", "first_drive"]
    sheets += ["charging_readings", "hunt_charge_will_not_start", "hunt_charge_stops"]
    sheets += ["hunt_charge_trips", "hunt_hot_plug"]
    drawn = [f"fuse_curves@cable{of}" for of in ("_charger", "_dcdc", "_inverter", "_motor")]
    drawn.append("fuse_curves@cables_long")
    drawn += [f"{of}@{at}" for of in ("charging_chain", "charging_power") for at in OUTLETS]
    rest = ["adaptor", *sheets, *drawn, "template@check"]
    assert names[12 : 12 + len(rest)] == rest
    assert "template@charger" in names


def test_a_page_is_named_by_build_and_page_in_the_folder_one_is_in(run, cart, away):
    answer = run("print", cart, "weight_book", "--paper", "letter")
    assert (answer.code, answer.err) == (0, "")
    assert answer.out == "yard-cart-weight-book.pdf is written\n"
    (made,) = away.iterdir()
    assert made.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(("kind", "start"), [("pdf", b"%PDF-"), ("svg", b"<svg"), ("dxf", b"  0")])
def test_a_template_is_written_in_three_formats(run, examples, tmp_path, kind, start):
    target = tmp_path / f"charger.{kind}"
    build = examples / "orchard-pickup"
    answer = run("print", build, "template@charger", "--format", kind, "-o", target)
    assert answer.out == f"{target} is written\n"
    assert target.read_bytes().startswith(start)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["nothing"], "there is no page 'nothing'; there are register"),
        (["template@motor"], "there is no template 'motor'; there are check"),
        (["template@pack"], "measure part.pack.size.length"),
        (["register", "--format", "dxf"], "pdf alone"),
        (["register", "--paper", "a3"], "invalid choice"),
        (["side", "-o", "{tmp}/nowhere/side.pdf"], "cannot be written"),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, list) else "",
)
def test_64_where_it_cannot_be_printed(run, cart, tmp_path, away, words, said):
    answer = run("print", cart, *(word.format(tmp=tmp_path) for word in words))
    assert answer.code == 64
    assert said in answer.err
    assert list(away.iterdir()) == []


def test_2_where_the_build_cannot_be_read(run, tmp_path):
    assert run("print", tmp_path / "nowhere", "register").code == 2


def test_where_there_is_a_journal_the_revision_and_its_day_are_printed(run, cart, tmp_path):
    from pypdf import PdfReader

    before, after = tmp_path / "before.pdf", tmp_path / "after.pdf"
    assert run("print", cart, "side", "-o", before).code == 0
    assert not (cart / "journal.sqlite").exists()
    assert run("set", cart, "part.pack.note=strapped", "--why", "so it stays").code == 0
    assert run("print", cart, "side", "-o", after).code == 0
    old, new = (PdfReader(each).pages[0].extract_text() for each in (before, after))
    assert "revision" not in old
    assert "revision 2 · build " in new


def test_a_file_named_instead_of_the_folder_will_do(cart, tmp_path):
    copy = tmp_path / "copy"
    shutil.copytree(cart, copy)
    target = tmp_path / "side.pdf"
    assert main(["print", str(copy / "build.toml"), "side", "-o", str(target)]) == 0
    assert target.exists()
