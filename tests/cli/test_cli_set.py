"""``set``: the lines meant and no others, the ripple, and refusals that leave the file alone."""

from __future__ import annotations

import difflib
import re

import pytest

from wattwright.cli import edit


def text_of(folder):
    return (folder / "build.toml").read_text(encoding="utf-8")


def changed_lines(before, after):
    return [
        line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"
    ]


def test_one_line_changes_and_the_ripple_says_what_that_does(run, cart):
    before = text_of(cart)
    answer = run("set", cart, "donor.rear.limit=450 kg, datasheet, new plate")
    assert answer.code == 0
    assert changed_lines(before, text_of(cart)) == [
        '- limit = "700 kg, datasheet, plate"',
        '+ limit = "450 kg, datasheet, new plate"',
    ]
    # 457.5 kg stand there with the driver, 420 kg at kerb.
    assert "Verdicts that turned" in answer.out
    assert "sound: 457.5 kg ± 1.3, at most 700 kg" in answer.out
    assert "-> failing: 457.5 kg ± 1.3, at most 450 kg" in answer.out
    assert "-> marginal: 420.0 kg" in answer.out
    assert answer.out.endswith(f"saved {cart / 'build.toml'}\n")
    assert run("check", cart).code == 1


def test_a_comment_behind_the_value_stays(run, cart):
    run("set", cart, "donor.wheelbase=2010 mm ± 2, measured, tape, 2026-03-02")
    line = next(x for x in text_of(cart).splitlines() if x.startswith("wheelbase"))
    assert line == 'wheelbase = "2010 mm ± 2, measured, tape, 2026-03-02"    # both sides alike'


def test_a_dry_run_shows_the_ripple_and_saves_nothing(run, cart):
    before = (cart / "build.toml").read_bytes()
    answer = run("set", "--dry-run", cart, "donor.rear.limit=450 kg, datasheet")
    assert answer.code == 0
    assert "-> failing: 457.5 kg" in answer.out
    assert answer.out.endswith("nothing was saved\n")
    assert (cart / "build.toml").read_bytes() == before
    assert [each.name for each in cart.iterdir()] == ["build.toml"]


def test_nothing_behind_the_equals_sign_deletes_the_line(run, cart):
    before = text_of(cart)
    answer = run("set", cart, "targets.top_speed=")
    assert answer.code == 0
    assert changed_lines(before, text_of(cart)) == [
        '- top_speed = "60 km/h ± 0, datasheet, registration paper"'
    ]
    assert "-> unknown: not known, at most 180 km/h" in answer.out


def test_several_changes_make_a_new_part_together(run, cart):
    answer = run(
        "set",
        cart,
        "part.toolbox.mass=20 kg ± 0.5, measured, bathroom scale, 2026-04-01",
        "part.toolbox.at.x=1500 mm",
        "part.toolbox.at.y=0 mm",
        "part.toolbox.price=35.5",
        "part.toolbox.state=fitted",
    )
    assert answer.code == 0
    added = [line for line in text_of(cart).splitlines() if line]
    assert "[part.toolbox]" in added
    assert "price = 35.5" in added
    assert 'state = "fitted"' in added
    # 20 kg at three quarters of the wheelbase: 15 kg more on the rear axle.
    assert "420.0 kg ± 1.1  ->  435.0 kg" in re.sub(r" {2,}", "  ", answer.out)


def test_yes_and_no_are_written_as_such(run, cart):
    assert run("set", cart, "donor.weighed.lift.suspension_locked=true").code == 0
    assert "suspension_locked = true" in text_of(cart)


@pytest.mark.parametrize(
    ("changes", "code", "said"),
    [
        (["donor.wheelbse=2 m"], 64, "donor.wheelbse"),
        (["donor.wheelbase"], 64, "PATH="),
        (["part.pack.price="], 64, "nothing of this name to delete"),
        (["donor.wheelbase=2 m", "donor.wheelbase=3 m"], 64, "two edits of the same value"),
        (["donor.wheelbase=2010 kg"], 2, "expected a length"),
        (["donor.wheelbase=20 m"], 2, "allowed is 1.2 m to 5.5 m"),
        (["part.pack.state=borrowed"], 2, "part.pack.state"),
        (["part.pack.price=cheap"], 2, "should be a valid number"),
        (["donor.rear.limit=650 kg", "donor.wheelbse=2 m"], 64, "donor.wheelbse"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_change_that_cannot_be_made_leaves_the_file_alone(run, cart, changes, code, said):
    before = (cart / "build.toml").read_bytes()
    answer = run("set", cart, *changes)
    assert answer.code == code
    assert said in answer.err
    assert (cart / "build.toml").read_bytes() == before
    assert [each.name for each in cart.iterdir()] == ["build.toml"]


@pytest.mark.parametrize("last", ["described", "login_name"], ids=["early", "late"])
def test_a_file_changed_meanwhile_is_not_overwritten(run, cart, monkeypatch, last):
    """Whether somebody saves before the journal is opened or after."""
    theirs = text_of(cart).replace("Yard cart", "Their cart")

    def somebody_saves(*_):
        (cart / "build.toml").write_text(theirs, encoding="utf-8")
        return "words"

    monkeypatch.setattr(edit, last, somebody_saves)
    answer = run("set", cart, "donor.rear.limit=450 kg, datasheet")
    assert answer.code == 64
    assert "changed by someone else" in answer.err
    assert ("by an editor or another program" in answer.err) == (last == "login_name")
    assert text_of(cart) == theirs


def test_the_file_itself_may_be_named_instead_of_its_folder(run, cart):
    assert run("set", cart / "build.toml", "build.name=Red cart").code == 0
    assert 'name = "Red cart"' in text_of(cart)
