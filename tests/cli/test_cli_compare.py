"""``compare``: only what is said differently."""

from __future__ import annotations

import pytest

from builders import DRIVEN, ELECTRIC, SMALL, build_text
from wattwright.assessment import Change
from wattwright.cli.compare import ripple


def test_a_build_compared_with_itself_is_silent(run, cart):
    answer = run("compare", cart, cart)
    assert answer.code == 0
    assert answer.out == "nothing that is shown has changed\n"


def test_turned_verdicts_come_first_and_say_before_and_after(run, make):
    old = make("old")
    new = make("new", mass=("120 kg ± 0.5", "1000 kg ± 0.5"))
    answer = run("compare", old, new)
    assert answer.code == 0
    turned, moved = answer.out.split("Numbers that moved\n")
    assert turned.startswith("Verdicts that turned\n")
    # The pack: 1000 kg * (1 - 500/2000) = 750 kg on the front axle, beside 400 - 90 = 310 kg.
    block = turned.split("vehicle.axle_load@front/kerb\n")[1].splitlines()[:2]
    assert block[0].strip().startswith("sound: 400.0 kg")
    assert block[1].strip().startswith("-> failing: 1060.0 kg")
    assert "vehicle.axle_load@front/kerb" not in moved
    assert "donor" not in moved


def test_noise_in_the_last_digit_is_silent(run, make):
    new = make("new", mass=("120 kg ± 0.5", "120.0000001 kg ± 0.5"))
    answer = run("compare", make("old"), new)
    assert answer.out == "nothing that is shown has changed\n"


def test_the_faulty_build_of_the_two_is_named(run, make, cart):
    new = make("new", key=("wheelbase =", "wheelbse ="))
    answer = run("compare", cart, new)
    assert answer.code == 2
    assert "donor.wheelbse" in answer.err


# -------------------------------------------------------------------- numbers laid out in columns


def change(name, about, before, after):
    said = f"{name}, {about}" if about else name
    return Change(f"drive.x@{about}", said, before, after, "", "", name, about, (before, after))


def moved(*changes):
    lines = "\n".join(ripple(changes)).splitlines()
    assert lines[0] == "Numbers that moved"
    return lines[1:]


def test_what_moved_alike_stands_in_one_row():
    lines = moved(
        change("hill", "first", "10 %", "12 %"),
        change("hill", "second", "10 %", "12 %"),
        change("hill", "third", "10 %", "13 %"),
        change("mass", "", "900 kg", "1000 kg"),
    )
    assert [line.split() for line in lines] == [
        "hill: first; second 10 % -> 12 %".split(),
        "hill: third 10 % -> 13 %".split(),
        "mass 900 kg -> 1000 kg".split(),
    ]
    # One column under the other.
    assert len({line.index("->") for line in lines}) == 1
    assert {line.rindex("  1") for line in lines} == {lines[0].index("->") + 2}


def test_the_same_numbers_of_different_things_stay_apart():
    lines = moved(change("hill", "a", "1 m", "2 m"), change("step", "a", "1 m", "2 m"))
    assert len(lines) == 2


def test_a_long_text_stands_whole_on_lines_of_its_own():
    needs = "not known, at least 20 %, needs " + "; ".join(f"part.p{n}.mass" for n in range(12))
    lines = moved(change("hill", "first", "10 %", needs), change("hill", "last", "1 %", "2 %"))
    flat = " ".join(" ".join(lines).split())
    assert f"hill: first 10 % -> {needs}" in flat
    assert all(len(line) <= 100 for line in lines)
    # It does not push the columns of the others apart.
    assert "  hill: last  1 %  ->  2 %" in lines


def test_many_of_one_kind_are_wrapped_and_none_is_lost():
    abouts = [f"gear_{n}" for n in range(40)]
    lines = moved(*(change("hill", about, "1 %", "2 %") for about in abouts))
    flat = " ".join(" ".join(lines).split())
    assert flat == f"hill: {'; '.join(abouts)} 1 % -> 2 %"
    assert all(len(line) <= 100 for line in lines)


@pytest.mark.parametrize(
    "edit",
    [
        ("pack.series", '"60"'),
        ("pack.cell_resistance", None),
        ("part.motor.efficiency", '"80 %, datasheet"'),
    ],
    ids=lambda edit: edit[0],
)
def test_nothing_that_json_says_is_lost_in_the_columns(run, tmp_path, edit):
    path, text = edit
    base = {**SMALL, **ELECTRIC, **DRIVEN}
    folders = []
    for name, changes in (("old", {}), ("new", {path: text})):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "build.toml").write_text(build_text(changes, base), encoding="utf-8")
        folders.append(folder)
    out = run("compare", *folders)
    words = out.words
    changes = run("compare", "--json", *folders).json["changes"]
    assert len(changes) > 5
    assert "not said" not in words
    folded = 0
    _, _, columns = words.partition("Numbers that moved")
    for each in changes:
        about = each["address"].partition("@")[2].replace("/", ", ")
        told = [each[side] for side in ("before", "after") if each[side] != "not said"]
        needs = [text.partition(", needs ")[0] for text in told]
        if each["turned"]:
            assert each["address"] in words
            assert all(text in words for text in told)
        elif len(needs) == 2 and needs[0] == needs[1]:
            folded += 1
        else:
            assert about in columns
            # Shown without the limit only where that is the same on both sides.
            assert all(text.partition(", at ")[0] in columns for text in told)
    assert (f" {folded} more line" in words) == (folded > 0)


def line(address, before, after, verdicts=("", ""), **more):
    about = address.partition("@")[2]
    return Change(address, address, before, after, *verdicts, "x", about, (before, after), **more)


def test_what_is_new_or_gone_says_so():
    words = "\n".join(
        ripple(
            [
                line("a.b@one", "not said", "5 kg, at most 4 kg", ("", "failing")),
                line("a.b@two", "3 kg, at most 4 kg", "not said", ("sound", "")),
                line("a.c@one", "not said", "7 m"),
                line("a.c@two", "8 m", "not said"),
            ]
        )
    )
    assert "not said" not in words
    new, gone = words.split("No longer said\n")
    assert new.startswith("New\n")
    assert "failing: 5 kg, at most 4 kg" in new
    assert "was sound: 3 kg, at most 4 kg" in gone
    flat = " ".join(gone.split())
    assert "one new: 7 m" in flat
    assert "two 8 m no longer said" in flat


def test_lines_that_only_need_other_readings_are_counted():
    needing = [
        line(f"a.b@{n}", "not known, needs x", "not known, needs y", ("unknown",) * 2, needs=True)
        for n in range(7)
    ]
    assert list(ripple(needing)) == ["7 lines need other readings now"]
    assert list(ripple(needing[:1])) == ["1 line needs other readings now"]
    moved = line("a.c@one", "8 m", "9 m")
    assert list(ripple([moved, *needing]))[-1] == "and 7 more lines need other readings now"
