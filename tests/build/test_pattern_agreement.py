"""Hole patterns that cannot be: every message, all in one pass, each at its place."""

from __future__ import annotations

import pytest

from patterns import READ, built, pattern
from wattwright.build.patterns import holes_of, in_order
from wattwright.errors import BuildError

THREE = {"1-2": 100.0, "2-3": 80.0, "1-3": 90.0}


def problems(*patterns: str) -> dict[str, tuple[str, str]]:
    with pytest.raises(BuildError) as caught:
        built(*patterns)
    return {each.path: (each.what, each.do) for each in caught.value.problems}


def changed(old: str, new: str, text: str = "") -> str:
    text = text or pattern(readings=THREE)
    assert old in text
    return text.replace(old, new)


def test_a_whole_pattern_is_read() -> None:
    read = built(pattern(plain={"label": '"plate"', "set_aside": '"centres.1-2, centres.3-4"'}))
    plate = read.build.pattern["plate"]
    assert len(list(plate.readings())) == 15
    assert plate.aside == ("centres.1-2", "centres.3-4")
    assert plate.turned.number == 0.0


@pytest.mark.parametrize(
    ("text", "path", "what", "do"),
    [
        (changed("2-3 =", "2-9 ="), "centres.2-9", "there is no hole 9", "there are 1, 2, 3"),
        (
            changed("[pattern.plate.hole.3]", "[pattern.plate.hole.left]"),
            "centres.1-3",
            "there is no hole 3",
            "there are 1, 2, left",
        ),
        (changed("2-3 =", "23 ="), "centres.23", "does not name two holes", "write such as 1-2"),
        (changed("2-3 =", "2-2 ="), "centres.2-2", "names the same hole twice", "two holes"),
        (
            changed('2-3 = "80.00000 mm', '2-1 = "100.1 mm ± 0.1"\n2-3 = "80 mm'),
            "centres.2-1",
            "says again what 1-2 says",
            "keep one",
        ),
        (
            changed('1-3 = "90.0', '1-3 = "900.0'),
            "centres.1-3",
            "is longer than the way round over hole 2, 180 mm",
            "its unit",
        ),
        (
            changed('2-3 = "80.0', '2-3 = "8.0'),
            "centres.2-3",
            "leaves no web between holes 2 and 3",
            "11 mm",
        ),
        (
            pattern(readings=THREE, tables={"outside": {"1-2": '"21.9 mm ± 0.1"'}}),
            "outside.1-2",
            "leaves no web between holes 1 and 2",
            "11 mm",
        ),
        (
            pattern(readings={}, hole={"bolt": '"10 mm"'}, tables={"inside": {"1-2": '"90 mm"'}}),
            "inside.1-2",
            "is measured from edges, and the diameter of hole 2 is not known",
            "[pattern.plate.hole.2]",
        ),
        (pattern(plain={"zero": '"7"'}), "zero", "there is no such hole", "there are 1, 2"),
        (pattern(plain={"along": '"l"'}), "along", "there is no such hole", "there are 1, 2"),
        (
            pattern(plain={"zero": '"2"', "above": '"2"'}),
            "above",
            "2 is zero already: three holes make the axes",
            "another hole",
        ),
        (pattern(plain={"like": '"plate"'}), "like", "is the pattern itself", "the other one"),
        (pattern(plain={"like": '"plat"'}), "like", "there is no such pattern", "mean plate?"),
        (
            pattern(plain={"set_aside": '"centres.1-7"'}),
            "set_aside",
            "there is no such reading",
            "did you mean centres.1-",
        ),
    ],
)
def test_what_cannot_be_is_said_where_it_stands(text: str, path: str, what: str, do: str) -> None:
    said = problems(text)
    assert said[f"pattern.plate.{path}"][0] == what
    assert do in said[f"pattern.plate.{path}"][1]


def test_all_problems_are_found_in_one_pass() -> None:
    text = pattern(
        readings={**THREE, "3-9": 50.0, "1-1": 20.0}, plain={"like": '"nobody"', "zero": '"x"'}
    ).replace("[pattern.plate.hole.9]", "[pattern.plate.hole.8]")
    assert set(problems(text)) == {
        "pattern.plate.like",
        "pattern.plate.zero",
        "pattern.plate.centres.3-9",
        "pattern.plate.centres.1-1",
    }


def test_a_reading_that_only_disagrees_is_read_and_left_to_the_adjustment() -> None:
    """Past the way round by 5 mm in 286 mm: a wrong reading, not an impossible file."""
    long = {**READ, "1-3": READ["1-2"] + READ["2-3"] + 5.0}
    assert built(pattern(readings=long)).build.pattern["plate"].centres["1-3"].known


def test_hyphens_in_names_are_told_from_those_between() -> None:
    names = ("top-left", "top", "left", "a")
    assert holes_of("top-left-a", names) == ("top-left", "a")
    assert holes_of("top-left", names) == ("top", "left")
    assert holes_of("a-b", names) is None
    # Two ways to read it are none.
    assert holes_of("a-b-c", ("a", "b-c", "a-b", "c")) is None


def test_holes_are_counted_as_people_count() -> None:
    assert in_order(["10", "b", "2", "a", "1"]) == ["1", "2", "10", "a", "b"]
