"""Hunts that ship, and what is refused: names, order, and that every cause can be found."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files

import pytest

from wattwright import hunts
from wattwright.areas import AREAS
from wattwright.errors import HuntError, UsageError
from wattwright.hunts import DANGER_WORDS, DANGERS, NAMES, PLACES, hunt
from wattwright.hunts.reading import FILLED, FIRST, STANDS_FOR, parse

FILES = {each.name for each in files(hunts.__name__).iterdir() if each.name.endswith(".toml")}
EVERY = [pytest.param(hunt(name), id=name) for name in NAMES]
SMALL = """\
title = "T"
symptom = "S"
cautions = ["C"]
first = ["log"]
source = "those who asked"
flag = "practice"

[cause.cord]
short = "cord"
says = "cord broken"
weight = 3
place = "cord"
mends = "a new one"

[test.look]
act = "Look."
where = "cord"
tools = []
minutes = 2
danger = "none"
place = "cord"

[[test.look.outcome]]
reads = "broken"
points_to = ["cord"]

[[test.look.outcome]]
reads = "whole"
rules_out = ["cord"]

[test.live]
act = "Measure."
where = "outlet"
tools = ["meter"]
minutes = 5
danger = "licensed"
place = "supply"
expects = "charging.volts@OUTLET"
kind = "voltage"
usual = "230 V"
source = "a standard"
flag = "memory"

[[test.live.outcome]]
reads = "nothing"
rules_out = ["cord"]

[[test.live.outcome]]
reads = "{charging.volts@OUTLET|230 V}"
points_to = ["cord"]
"""
STEPS = files(hunts.__name__).joinpath(FIRST).read_text(encoding="utf-8")


def addresses(test: hunts.Test) -> Iterator[str]:
    if test.expects:
        yield test.expects
    for words in (test.act, *(outcome.reads for outcome in test.outcomes)):
        yield from (found[0] for found in FILLED.findall(words))


def test_every_file_is_a_hunt_and_every_hunt_a_file() -> None:
    assert {FIRST, *(f"{name}.toml" for name in NAMES)} == FILES


@pytest.mark.parametrize("made", EVERY)
def test_the_safest_come_first_then_the_supply_then_the_shortest(made: hunts.Hunt) -> None:
    rest = made.tests[made.first :]
    keys = [
        (
            ("none", "not touched", "licensed").index(test.danger),
            "vehicle supply cord box inlet pilot charger management pack".split().index(test.place),
            test.minutes,
        )
        for test in rest
    ]
    assert keys == sorted(keys)
    assert {test.danger for test in rest} == set(DANGERS)


@pytest.mark.parametrize("made", EVERY)
def test_every_hunt_begins_with_what_is_always_first(made: hunts.Hunt) -> None:
    """The log before the key is turned, what changed, every plug; and 12 V but for a hot plug."""
    names = [test.name for test in made.tests[: made.first]]
    assert names[:3] == ["log", "changed_last", "seated"]
    assert (names[3:] == ["auxiliary_rest", "auxiliary_loaded"]) == (made.name != "hot_plug")
    assert all(test.danger == "none" for test in made.tests[: made.first])


@pytest.mark.parametrize("made", EVERY)
def test_every_outcome_is_reached_and_every_cause_found_and_excluded(made: hunts.Hunt) -> None:
    at = {test.name: number for number, test in enumerate(made.tests)}
    reached, ways = set(), [0]
    while ways:
        number = ways.pop()
        if number in reached or number == len(made.tests):
            continue
        reached.add(number)
        for outcome in made.tests[number].outcomes:
            ways.append(at[outcome.go_on] if outcome.go_on else number + 1)
            assert ways[-1] > number
    assert reached == set(range(len(made.tests)))
    outcomes = [outcome for test in made.tests for outcome in test.outcomes]
    assert {each for x in outcomes for each in x.points_to} == set(made.causes)
    assert {each for x in outcomes for each in x.rules_out} == set(made.causes)


@pytest.mark.parametrize("made", EVERY)
def test_what_a_hunt_expects_is_something_that_an_area_says(made: hunts.Hunt) -> None:
    said = {each.id for area in AREAS for each in (*area.checks, *area.figures)}
    named = {address.partition("@")[0] for test in made.tests for address in addresses(test)}
    assert named <= said
    assert named


@pytest.mark.parametrize("made", EVERY)
def test_causes_are_listed_by_how_often_they_are(made: hunts.Hunt) -> None:
    weights = [cause.weight for cause in made.causes.values()]
    assert weights == sorted(weights, reverse=True)
    assert sum(made.share(cause) for cause in made.causes) == pytest.approx(1.0)
    assert made.source.flag == "practice"
    shorts = [cause.short for cause in made.causes.values()]
    assert len(set(shorts)) == len(shorts)


@pytest.mark.parametrize("made", EVERY)
def test_the_usual_cautions_stand_there(made: hunts.Hunt) -> None:
    words = " ".join(made.cautions)
    if made.name == "hot_plug":
        assert "never pulled under load" in words
        assert "licensed electrician" in words
    else:
        assert re.search(r"[Nn]o(r is an)? earth is lifted", words)
        assert "bypassed" in words
    assert "licensed person only" in DANGER_WORDS["licensed"]


@pytest.mark.parametrize("made", EVERY)
def test_inside_of_boards_and_at_high_voltage_works_a_licensed_person_alone(
    made: hunts.Hunt,
) -> None:
    for test in made.tests:
        inside = {"torque screwdriver", "loop tester", "insulation tester", "leakage clamp"}
        inside |= {"residual-current tester", "meter of CAT III 1000 V"}
        if inside & set(test.tools):
            assert test.danger == "licensed", test.name


def test_a_hunt_is_read_with_the_steps_it_begins_with() -> None:
    made = parse("small", SMALL, STEPS)
    assert [test.name for test in made.tests] == ["log", "look", "live"]
    assert list(made.causes) == ["logged", "cord"]
    assert made.share("cord") == pytest.approx(3 / 7)
    assert made.tools == ("phone", "makers' lists of codes", "meter")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"cord broken"', '""', "cause.cord.says: words are needed"),
        ("weight = 3", "weight = 0", "above nought"),
        ('place = "cord"\nmends', 'place = "roof"\nmends', "cause.cord.place: not one of those"),
        ('danger = "none"', 'danger = "some"', "allowed: none, not touched, licensed"),
        ('danger = "none"', 'danger = "licensed"', "test.live: stands after look"),
        ('points_to = ["cord"]', 'points_to = ["wire"]', "no such cause; found wire"),
        ('rules_out = ["cord"]', "rules_out = []", "tells nothing"),
        ('rules_out = ["cord"]', 'go_on = "look"', "no later test; found look"),
        ('rules_out = ["cord"]', 'hunt = "ghosts"', "no other hunt; found ghosts"),
        (
            'points_to = ["cord"]\n\n',
            'points_to = ["cord"]\nrules_out = ["cord"]\n\n',
            "same cause",
        ),
        ('"charging.volts@OUTLET"', '"volts at the outlet"', "no address"),
        ("{charging.volts@OUTLET|", "{volts|", "no address of a finding or figure; found volts"),
        ('kind = "voltage"', 'kind = "volts"', "no such kind of quantity"),
        ('source = "a standard"', "", "test.live.source: words are needed"),
        ('"memory"', '"hearsay"', "test.live.flag: not one of those known"),
        ('first = ["log"]', 'first = ["pray"]', "no such step; found pray"),
        ('cautions = ["C"]', "cautions = []", "begins with what to be careful of"),
        ("[test.look]", "[test.log]", "test.log: stands in always_first.toml already"),
        ('title = "T"', 'title = "T"\ntilte = "T"', "tilte: no such key"),
        ("symptom", "= symptom", "is no TOML"),
    ],
)
def test_what_cannot_be_trusted_is_refused(old: str, new: str, said: str) -> None:
    text = SMALL.replace(old, new, 1)
    if "test.log" in new:
        text = text.replace("test.look", "test.log")
    assert text != SMALL
    with pytest.raises(HuntError) as caught:
        parse("small", text, STEPS)
    assert said in str(caught.value)
    assert str(caught.value).startswith(("small.toml: ", FIRST))


def test_every_problem_is_said_at_once() -> None:
    text = SMALL.replace("weight = 3", "weight = 0").replace('"none"', '"some"')
    with pytest.raises(HuntError) as caught:
        parse("small", text, STEPS)
    assert len(caught.value.problems) == 2


def test_a_cause_that_nothing_finds_or_nothing_excludes_is_refused() -> None:
    for gone, said in (("points_to", "no outcome points to it"), ("rules_out", "rules it out")):
        other = {"points_to": "rules_out", "rules_out": "points_to"}[gone]
        with pytest.raises(HuntError, match=said):
            parse("small", SMALL.replace(gone, other), STEPS)


def test_a_test_that_can_end_in_one_way_alone_is_refused() -> None:
    whole = '\n[[test.look.outcome]]\nreads = "whole"\nrules_out = ["cord"]\n'
    with pytest.raises(HuntError, match="one way alone"):
        parse("small", SMALL.replace(whole, ""), STEPS)


def test_a_name_stands_for_nothing_else() -> None:
    """What stands for a name of the build is written in capitals, and nothing else is."""
    for name in NAMES:
        for test in hunt(name).tests:
            for address in addresses(test):
                assert set(re.findall(r"[A-Z]+", address)) <= set(STANDS_FOR)


def test_there_is_no_hunt_of_another_name() -> None:
    assert PLACES[1] == "supply"
    assert PLACES[-1] == "pack"
    with pytest.raises(UsageError, match="there is no hunt 'ghosts'; there are charge_will_not"):
        hunt("ghosts")
