"""From the text of a hunt to a hunt that can be trusted, or every problem there is with it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from itertools import pairwise
from typing import Any, get_args

from wattwright.errors import HuntError, Problem
from wattwright.formula import Flag, Source
from wattwright.hunts import DANGERS, NAMES, PLACES, SENSES, Cause, Hunt, Outcome, Test
from wattwright.kinds import KINDS

FIRST = "always_first.toml"
ADDRESS = re.compile(r"[a-z_]+\.[a-z_]+(@[A-Za-z_]+(/[A-Za-z_]+)*)?")
FILLED = re.compile(r"\{([^|{}]*)\|([^{}]*)\}")
# What stands for a name of the build in an address.
STANDS_FOR = ("OUTLET", "BOX", "LINK")
_KINDS = frozenset(KINDS)
_FLAGS: tuple[str, ...] = get_args(Flag)
_TOP = frozenset({"title", "symptom", "cautions", "first", "source", "flag", "cause", "test"})
_CAUSE = frozenset({"short", "says", "weight", "place", "mends"})
_NEEDED = frozenset({"act", "where", "tools", "minutes", "danger", "place", "outcome"})
_TEST = _NEEDED | {"expects", "sense", "kind", "usual", "source", "flag"}
_OUTCOME = frozenset({"reads", "rules_out", "points_to", "go_on", "hunt"})


@dataclass(slots=True)
class _File:
    """A file while it is read, with what was found to be wrong."""

    name: str
    problems: list[Problem] = field(default_factory=list)

    def wrong(self, path: str, what: str, got: object = "", allowed: str = "") -> None:
        self.problems.append(Problem(what, path, self.name, got=str(got), allowed=allowed))

    def keys(self, path: str, table: Mapping[str, Any], known: frozenset[str]) -> None:
        for key in table.keys() - known:
            self.wrong(f"{path}.{key}".lstrip("."), "no such key", key, ", ".join(sorted(known)))

    def words(self, path: str, table: Mapping[str, Any], key: str, needed: bool = True) -> str:
        text = table.get(key, "")
        if not isinstance(text, str) or (needed and not text.strip()):
            self.wrong(f"{path}.{key}".lstrip("."), "words are needed", repr(table.get(key)))
            return ""
        return text

    def listed(self, path: str, table: Mapping[str, Any], key: str) -> tuple[str, ...]:
        found = table.get(key, [])
        if not isinstance(found, list) or not all(isinstance(each, str) for each in found):
            self.wrong(f"{path}.{key}".lstrip("."), "a list of words is needed", found)
            return ()
        return tuple(found)

    def one_of(self, path: str, table: Mapping[str, Any], key: str, known: tuple[str, ...]) -> Any:
        word = table.get(key)
        if word not in known:
            self.wrong(f"{path}.{key}".lstrip("."), "not one of those known", word, _all(known))
            return known[0]
        return word

    def number(self, path: str, table: Mapping[str, Any], key: str) -> float:
        found = table.get(key)
        if isinstance(found, bool) or not isinstance(found, int | float) or found <= 0:
            self.wrong(f"{path}.{key}", "a number above nought is needed", found)
            return 1
        return found

    def source(self, path: str, table: Mapping[str, Any]) -> Source:
        flag = self.one_of(path, table, "flag", _FLAGS)
        return Source(self.words(path, table, "source"), "", flag)


def _all(known: tuple[str, ...]) -> str:
    return ", ".join(known)


def shipped(name: str) -> Hunt:
    """Load one of the hunts that ship with the program."""
    folder = files("wattwright.hunts")
    file, first = (
        folder.joinpath(each).read_text(encoding="utf-8") for each in (f"{name}.toml", FIRST)
    )
    return parse(name, file, first)


def parse(name: str, text: str, first_text: str) -> Hunt:
    """Read a hunt and the steps it begins with. Raises HuntError with every problem found."""
    file = _File(f"{name}.toml")
    data, before = _loaded(file.name, text), _loaded(FIRST, first_text)
    file.keys("", data, _TOP)
    own_causes, own_tests = _causes(file, data), _tests(file, data)
    steps = _File(FIRST)
    known = {test.name: test for test in _tests(steps, before)}
    begins = []
    for step in file.listed("", data, "first"):
        if step in known:
            begins.append(known[step])
        else:
            file.wrong("first", "no such step", step, _all(tuple(known)))
    shared = _causes(steps, before)
    named = {each for test in begins for each in _named(test)}
    causes = {**{key: shared[key] for key in shared if key in named}, **own_causes}
    for key in shared.keys() & own_causes.keys():
        file.wrong(f"cause.{key}", f"stands in {FIRST} already")
    for test in own_tests:
        if test.name in known:
            file.wrong(f"test.{test.name}", f"stands in {FIRST} already")
    made = Hunt(
        name,
        file.words("", data, "title"),
        file.words("", data, "symptom"),
        file.listed("", data, "cautions"),
        dict(sorted(causes.items(), key=lambda pair: -pair[1].weight)),
        (*begins, *own_tests),
        len(begins),
        file.source("", data),
    )
    for problem in (*_order(own_tests), *_links(made), *_reach(made)):
        file.wrong(*problem)
    found = [*steps.problems, *file.problems]
    if found:
        raise HuntError(*found)
    return made


def _loaded(name: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise HuntError(Problem(f"is no TOML: {error}", file=name)) from None


def _causes(file: _File, data: Mapping[str, Any]) -> dict[str, Cause]:
    found = {}
    for name, table in data.get("cause", {}).items():
        path = f"cause.{name}"
        file.keys(path, table, _CAUSE)
        found[name] = Cause(
            name,
            file.words(path, table, "short"),
            file.words(path, table, "says"),
            int(file.number(path, table, "weight")),
            file.one_of(path, table, "place", PLACES),
            file.words(path, table, "mends"),
        )
    return found


def _tests(file: _File, data: Mapping[str, Any]) -> tuple[Test, ...]:
    return tuple(_test(file, name, table) for name, table in data.get("test", {}).items())


def _test(file: _File, name: str, table: Mapping[str, Any]) -> Test:
    path = f"test.{name}"
    file.keys(path, table, _TEST)
    outcomes = tuple(
        _outcome(file, f"{path}.outcome {count}", each)
        for count, each in enumerate(table.get("outcome", []), 1)
    )
    if len(outcomes) < 2:
        file.wrong(f"{path}.outcome", "a test tells nothing that can end in one way alone")
    kind, usual = (file.words(path, table, key, needed=False) for key in ("kind", "usual"))
    if kind and kind not in _KINDS:
        file.wrong(f"{path}.kind", "no such kind of quantity", kind)
    expects = file.words(path, table, "expects", needed=False)
    act = file.words(path, table, "act")
    inline = [
        pair for words in (act, *(x.reads for x in outcomes)) for pair in FILLED.findall(words)
    ]
    for address in [expects] * bool(expects) + [address for address, _ in inline]:
        if not ADDRESS.fullmatch(address):
            file.wrong(path, "no address of a finding or figure", address)
    numbers = bool(usual) or any(usual_here for _, usual_here in inline)
    return Test(
        name,
        act,
        file.words(path, table, "where"),
        file.listed(path, table, "tools"),
        file.number(path, table, "minutes"),
        file.one_of(path, table, "danger", DANGERS),
        file.one_of(path, table, "place", PLACES),
        outcomes,
        expects,
        file.one_of(path, {"sense": "", **table}, "sense", SENSES),
        kind,
        usual,
        # A number without a source is refused here as everywhere.
        file.source(path, table) if numbers or "source" in table else None,
    )


def _outcome(file: _File, path: str, table: Mapping[str, Any]) -> Outcome:
    file.keys(path, table, _OUTCOME)
    return Outcome(
        file.words(path, table, "reads"),
        file.listed(path, table, "rules_out"),
        file.listed(path, table, "points_to"),
        file.words(path, table, "go_on", needed=False),
        file.words(path, table, "hunt", needed=False),
    )


def _named(test: Test) -> Iterator[str]:
    for outcome in test.outcomes:
        yield from (*outcome.rules_out, *outcome.points_to)


_Wrong = tuple[str, str, str, str]


def _order(tests: tuple[Test, ...]) -> Iterator[_Wrong]:
    """Tests of a hunt stand in the order that they are done in."""
    for before, after in pairwise(tests):
        if after.order < before.order:
            rule = "least danger first, then from supply to cell, then fewest minutes"
            yield f"test.{after.name}", f"stands after {before.name}", str(after.order), rule


def _links(made: Hunt) -> Iterator[_Wrong]:
    """Everything that an outcome names exists, and every outcome tells something."""
    places = {test.name: at for at, test in enumerate(made.tests)}
    for at, test in enumerate(made.tests):
        for count, outcome in enumerate(test.outcomes, 1):
            path = f"test.{test.name}.outcome {count}"
            for cause in (*outcome.rules_out, *outcome.points_to):
                if cause not in made.causes:
                    yield path, "no such cause", cause, ", ".join(made.causes)
            for cause in set(outcome.rules_out) & set(outcome.points_to):
                yield path, "rules out and points to the same cause", cause, ""
            if outcome.go_on and places.get(outcome.go_on, -1) <= at:
                yield path, "no later test", outcome.go_on, ", ".join(list(places)[at + 1 :])
            if outcome.hunt and outcome.hunt not in set(NAMES) - {made.name}:
                yield path, "no other hunt", outcome.hunt, ", ".join(NAMES)
            if not (outcome.rules_out or outcome.points_to or outcome.go_on or outcome.hunt):
                yield path, "tells nothing", "", ""


def _reach(made: Hunt) -> Iterator[_Wrong]:
    """Every cause can be found and can be excluded, and has somewhere to be looked for."""
    outcomes = [outcome for test in made.tests for outcome in test.outcomes]
    for cause in made.causes:
        if not any(cause in outcome.points_to for outcome in outcomes):
            yield f"cause.{cause}", "no outcome points to it", "", ""
        if not any(cause in outcome.rules_out for outcome in outcomes):
            yield f"cause.{cause}", "no outcome rules it out", "", ""
    if not made.cautions:
        yield "cautions", "a hunt begins with what to be careful of", "", ""
