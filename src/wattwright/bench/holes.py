"""The sheet for carrying hole patterns over to a new part by their templates."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattwright.assessment import Assessment, shown
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import Build
from wattwright.descriptions.patterns import PatternFound
from wattwright.drawings.pattern import patterns_of
from wattwright.given import Given, Origin
from wattwright.kinds import LENGTH
from wattwright.units import Taste, read
from wattwright.values import Value, given

_CAUTIONS = (
    (
        "A paper template never locates a shaft or a fit. What centres a motor, a gearbox or a "
        "bearing is bored or turned to measure, and the holes follow from it."
    ),
    (
        "Clamp the part before drilling: a drill that catches spins it. Goggles on, no gloves, no "
        "loose sleeves. Drill a pilot hole first; deburr both sides of every hole."
    ),
)
_TOOLS = (
    "template, printed at actual size, and tape",
    "steel rule of 300 mm, calipers",
    "prick punch, centre punch, hammer",
    "pilot drill of 3 mm, drills, deburring tool, clamps, goggles",
)
_RULE = "steel rule"
_CALIPERS = "calipers"
# What a rule shows of a bar that was printed at actual size.
_BAR = read("100 mm ± 0.2", LENGTH)


def holes_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Carry every pattern that has its places over to the new part."""
    # A part that is laid on another is drilled already.
    found = {
        name: each
        for name, each in patterns_of(assessment).items()
        if each.placed and each.marked and each.fit is None
    }
    lines = [*_print(), *(line for name in found for line in _pattern(name, found[name], taste))]
    del build
    return Sheet(
        "transfer_holes",
        "Transferring a hole pattern",
        "The holes of a measured pattern on a new part, so that every bolt goes in. Every distance "
        "is measured again before the drill that cannot be taken back.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _print() -> Iterator[Line]:
    bar = given(
        LENGTH,
        _BAR.number,
        Given("bar", "check bar", Origin.COMPUTED, _BAR.text, _BAR.band or 0.0),
    )
    for name, words in (("bar_across", "across"), ("bar_up", "up")):
        yield Line(
            name,
            f"Hold a steel rule against the bar of 100 mm {words} the sheet, outer edge to outer "
            "edge.",
            f"template, bar {words}",
            _RULE,
            kind=LENGTH,
            expected=bar,
            stop_if="it is off by more than 0.2 mm: print again at 100 %, not fitted to the page",
        )
    yield Line(
        "tape",
        "Put the sheets together by their marks, tape them, and hold the rule across the joints "
        "against the distances printed below the pattern.",
        "template",
        _RULE,
    )


def _pattern(name: str, found: PatternFound, taste: Taste) -> Iterator[Line]:
    words = found.label or name.replace("_", " ")
    side = "back" if found.from_back else "front"
    stop = ""
    if found.suspects:
        stop = f"{' or '.join(found.suspects)} does not agree with the others: measure it first"
    yield Line(
        f"{name}.punch",
        f"Lay the template on the {side} of the part, tape it, and punch every cross: prick punch "
        "first, look through a glass, then the centre punch.",
        words,
        "prick punch, centre punch",
        stop_if=stop,
    )
    fits = [hole for hole, each in found.holes.items() if each.fit]
    if fits:
        yield Line(
            f"{name}.fits",
            f"Leave {', '.join(fits)} unmarked: what carries a fit is bored by its dimensions and "
            "measured. No template and no centre punch locates it.",
            words,
            "none",
        )
    yield Line(f"{name}.pilot", "Drill every hole with the pilot drill.", words, "drill of 3 mm")
    for first, second in _pairs(found):
        yield _distance(name, words, found, first, second)
    for hole, each in found.marked.items():
        if each.drill.absent:
            continue
        usual = ""
        if each.thread:
            usual = f", then cut the thread {each.thread}"
        elif each.standard.known:
            usual = f"; the usual hole is {shown(each.standard, taste)}"
        size = shown(each.drill, taste) if each.drill.known else "size"
        yield Line(
            f"{name}.size.{hole}",
            f"Drill to {size}, deburr, and measure the hole twice, a quarter turn apart{usual}.",
            f"{words}, hole {hole}",
            _CALIPERS,
            kind=LENGTH,
            expected=each.shown if each.shown.known else None,
            limit=each.needed if each.needed.known and not each.thread else None,
            sense="at least",
            stop_if="the bolt does not go in by hand: find the hole that is off before the file",
        )


def _pairs(found: PatternFound) -> tuple[tuple[str, str], ...]:
    """List every pair of holes that was measured, once."""
    order = list(found.marked)
    pairs = dict.fromkeys(
        tuple(sorted(reading.holes, key=order.index))
        for reading in found.readings
        if found.marked.keys() >= {*reading.holes}
    )
    return tuple((first, second) for first, second in pairs)


def _distance(name: str, words: str, found: PatternFound, first: str, second: str) -> Line:
    """Ask for a distance once more, on the new part, with what the pattern has there."""
    one, two = found.holes[first], found.holes[second]
    apart = math.dist(
        (one.x.number or 0.0, one.y.number or 0.0), (two.x.number or 0.0, two.y.number or 0.0)
    )
    within = math.hypot(one.place.number or 0.0, two.place.number or 0.0)
    label = f"{words}: {first} to {second}"
    expected: Value = given(
        LENGTH, apart, Given(f"{name}.{first}", label, Origin.COMPUTED, label, within)
    )
    return Line(
        f"{name}.{first}.{second}",
        "Measure from pilot hole to pilot hole, same edges.",
        f"{words}, holes {first} and {second}",
        _CALIPERS,
        kind=LENGTH,
        expected=expected,
        stop_if="it is off by more than the ± and what a punch goes astray: move the pilot hole "
        "with a round file, or punch anew",
    )
