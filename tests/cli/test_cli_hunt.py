"""``hunt``: what is listed, what one hunt prints, and its JSON."""

from __future__ import annotations

import json

import jsonschema
import pytest

from wattwright.bench.hunts import at_outlet
from wattwright.hunts import NAMES, hunt

OUTLETS = """
[outlet.barn]
label = "barn wall"

[outlet.carport]
label = "carport"
"""


@pytest.fixture
def wired(cart):
    """The cart with two outlets."""
    path = cart / "build.toml"
    path.write_text(path.read_text(encoding="utf-8") + OUTLETS, encoding="utf-8")
    return cart


def test_symptoms_and_outlets_are_listed(run, wired):
    answer = run("hunt", wired)
    assert (answer.code, answer.err) == (0, "")
    rows = answer.out.splitlines()
    assert [row.split(" ")[0] for row in rows[:-1]] == list(NAMES)
    assert rows[-1] == "outlets: barn, carport"


def test_without_an_outlet_it_says_what_to_write(run, cart):
    assert "outlets: none yet: write [outlet.NAME]" in run("hunt", cart).out
    assert "230 V, or 120 V" in run("hunt", cart, "hot_plug").words


@pytest.mark.parametrize("name", NAMES)
def test_one_is_printed_with_cautions_first_and_everything_that_follows(run, wired, name):
    answer = run("hunt", wired, name)
    assert (answer.code, answer.err) == (0, "")
    said = hunt(name)
    assert answer.out.startswith(f"{said.title}, barn\n")
    words = answer.words
    places = [words.index(caution) for caution in said.cautions]
    acts = [words.index(test.act.partition(" {")[0][:40]) for test in said.tests]
    assert max(places) < min(acts)
    assert "live: licensed person only" in words
    for cause in said.causes.values():
        assert cause.mends in words
    # Of the build: 16 cells of 3.6 V.
    assert ("expected 57.6" in words) == (name == "charge_will_not_start")


def test_another_outlet_is_named(run, wired):
    assert run("hunt", wired, "hot_plug", "--outlet", "carport").out.startswith(
        "Hot plug, carport\n"
    )


def test_json_holds_to_its_schema_and_says_what_the_sheet_says(run, wired, schemas):
    schema = json.loads((schemas / "hunt.schema.json").read_text(encoding="utf-8"))
    every = run("hunt", "--json", wired).json
    one = run("hunt", "--json", wired, "charge_will_not_start", "--outlet", "carport").json
    for document in (every, one):
        jsonschema.Draft202012Validator(schema).validate(document)
        assert document["format"] == 1
    assert [each["name"] for each in every["hunts"]] == list(NAMES)
    assert (every["outlet"], one["outlet"]) == ("barn", "carport")
    (found,) = one["hunts"]
    tests = {test["name"]: test for test in found["tests"]}
    assert tests["set_voltage"]["value"]["number"] == pytest.approx(16 * 3.6)
    assert tests["set_voltage"]["missing"] == ""
    assert tests["bus_ohms"]["value"] is None
    assert tests["bus_ohms"]["usual"] == "60 Ω"
    assert "from memory" in tests["bus_ohms"]["source"]
    assert tests["pilot_duty"]["missing"] == "not worked out: write outlet.carport.box"
    assert [test["number"] for test in found["tests"]] == [*range(1, len(found["tests"]) + 1)]
    assert tests["click"]["outcomes"][0]["go_on"] == tests["allowed"]["number"]
    causes = {cause["name"] for cause in found["causes"]}
    for test in found["tests"]:
        for outcome in test["outcomes"]:
            assert causes.issuperset(outcome["rules_out"] + outcome["points_to"])
    assert sum(cause["share"] for cause in found["causes"]) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["ghosts"], "there is no hunt 'ghosts'; there are charge_will_not_start"),
        (["hot_plug", "--outlet", "attic"], "there is no outlet 'attic'; there are barn, carport"),
    ],
)
def test_64_for_a_name_it_does_not_know(run, wired, words, said):
    answer = run("hunt", wired, *words)
    assert answer.code == 64
    assert said in answer.err


def test_2_where_the_build_cannot_be_read(run, tmp_path):
    assert run("hunt", tmp_path / "nowhere").code == 2


def test_a_sheet_for_an_outlet_is_printed(run, wired, tmp_path):
    from pypdf import PdfReader

    target = tmp_path / "hunt.pdf"
    address = "http://192.168.1.20:8437"
    answer = run("print", wired, "hunt_hot_plug@carport", "-o", target, "--address", address)
    assert answer.code == 0
    words = " ".join(" ".join(page.extract_text() for page in PdfReader(target).pages).split())
    for piece in ("Hot plug, carport", "live: licensed person only", "What it may be"):
        assert piece in words
    assert run("print", wired, "weigh_in@carport", "-o", target).code == 64


def test_the_text_is_made_from_the_same_as_the_sheet(wired):
    from wattwright.assessment import assess
    from wattwright.bench.sheets import sheet
    from wattwright.build.reader import open_build

    opened = open_build(wired)
    said = assess(opened)
    for name in NAMES:
        found = at_outlet(name, opened.build, said)
        made = sheet(f"hunt_{name}", opened.build, said)
        assert [step.name for step in found.steps] == [line.name for line in made.lines]
