"""``undo``: the last change taken back or made again, with its ripple."""

from __future__ import annotations

import getpass

import jsonschema
import pytest

from wattwright.output import OUTPUTS


def text_of(folder):
    return (folder / "build.toml").read_text(encoding="utf-8")


@pytest.fixture
def changed(run, cart):
    assert run("set", cart, "donor.rear.limit=450 kg, datasheet, new plate").code == 0
    return cart


def test_what_set_did_is_taken_back_and_made_again(run, make, changed):
    before, after = text_of(make("untouched")), text_of(changed)
    undone = run("undo", changed)
    assert (undone.code, undone.err) == (0, "")
    assert text_of(changed) == before
    assert undone.out.startswith("Taking back revision 2: donor.rear.limit: 700 kg")
    assert "failing: 457.5 kg ± 1.3, at most 450 kg" in undone.out
    assert "-> sound: 457.5 kg ± 1.3, at most 700 kg" in undone.out
    assert undone.out.endswith(f"saved {changed / 'build.toml'} as revision 3\n")
    again = run("undo", "--redo", changed / "build.toml")
    assert again.code == 0
    assert again.out.startswith("Making revision 2 again: ")
    assert "-> failing: 457.5 kg ± 1.3, at most 450 kg" in again.out
    assert text_of(changed) == after


def test_the_ripple_is_the_one_of_compare(run, make, changed):
    """The command that compares two folders is the independent reading here."""
    old, new = make("old"), make("new")
    (new / "build.toml").write_text(text_of(changed), encoding="utf-8")
    for step, pair in ((["undo"], (new, old)), (["undo", "--redo"], (old, new))):
        wanted = run("compare", *pair).out
        assert "Verdicts that turned" in wanted
        shown = run(*step, "--dry-run", changed)
        assert shown.out.partition("\n")[2] == f"{wanted}nothing was saved\n"
        assert shown.code == 0
        run("undo", changed)


def test_a_dry_run_saves_nothing(run, changed):
    before = text_of(changed)
    answer = run("undo", "--dry-run", changed)
    assert answer.out.endswith("nothing was saved\n")
    assert text_of(changed) == before
    assert len(run("history", "--json", changed).json["revisions"]) == 2


def test_nothing_to_take_back_is_told(run, changed, make):
    assert "no change to make again" in run("undo", "--redo", changed).err
    assert run("undo", changed).code == 0
    answer = run("undo", changed)
    assert (answer.code, answer.out) == (64, "")
    assert "no change to take back" in answer.err
    fresh = make("fresh")
    answer = run("undo", fresh)
    assert answer.code == 64
    assert "no journal yet" in answer.err
    assert [each.name for each in fresh.iterdir()] == ["build.toml"]
    assert run("undo", fresh / "nowhere").code == 64


def test_what_an_editor_broke_can_be_taken_back(run, changed):
    """A build that cannot be read is when taking back is needed most."""
    before = text_of(changed)
    (changed / "build.toml").write_text(before.replace("[donor]", "[donor"), encoding="utf-8")
    assert run("check", changed).code == 2
    answer = run("undo", changed)
    assert answer.code == 0
    assert "build.toml as it is cannot be read: build.toml:" in answer.out
    assert "nothing can be said of what this changes" in answer.out
    assert text_of(changed) == before
    again = run("undo", "--redo", "--dry-run", changed)
    assert "build.toml as it will be cannot be read" in again.out


def test_json_holds_to_its_form(run, changed):
    form = jsonschema.Draft202012Validator(OUTPUTS["undo"].model_json_schema(mode="serialization"))
    dry = run("undo", "--json", "--dry-run", changed).json
    form.validate(dry)
    assert dry["made"] is None
    done = run("undo", "--json", changed).json
    form.validate(done)
    assert done["build"] == "Yard cart"
    assert done["target"] == dry["target"]
    assert done["changes"] == dry["changes"] != []
    assert done["unreadable"] == []
    made = done["made"]
    assert (made["number"], made["kind"], made["of"]) == (3, "undo", 2)
    assert made["who"] == getpass.getuser()
    assert made["assessment"] == run("check", "--json", changed).json["digest"]
    (changed / "build.toml").write_text("nothing", encoding="utf-8")
    broken = run("undo", "--json", changed).json
    form.validate(broken)
    assert len(broken["unreadable"]) == 1
    assert broken["changes"] == []


def test_a_journal_that_cannot_be_used_is_told_and_the_build_is_left_alone(run, changed):
    before = text_of(changed)
    (changed / "journal.sqlite").write_bytes(b"a shopping list, by mistake" * 200)
    for command in (["undo"], ["undo", "--redo"], ["history"]):
        answer = run(*command, changed)
        assert (answer.code, answer.out) == (64, "")
        assert "Move it aside" in answer.err
    answer = run("set", changed, "build.name=Red cart")
    assert answer.code == 64
    assert text_of(changed) == before
    assert (changed / "journal.sqlite").read_bytes().startswith(b"a shopping list")
