"""``hunt``: tests that find a fault, in their order, with what this build expects of each."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from wattwright.assessment import assess
from wattwright.bench.hunts import ORDER, Hunted, Step, at_outlet, cause_words
from wattwright.build.model import Build
from wattwright.build.reader import open_build
from wattwright.cli.terminal import table, wrapped
from wattwright.errors import visible
from wattwright.hunts import NAMES
from wattwright.units import Taste

if TYPE_CHECKING:
    from wattwright.output import HuntOut, TestOut


def run(asked: argparse.Namespace) -> int:
    """Print one hunt, or list those there are."""
    opened = open_build(Path(asked.build))
    assessment = assess(opened)
    names = NAMES if asked.symptom is None else (asked.symptom,)
    found = [at_outlet(name, opened.build, assessment, asked.units, asked.outlet) for name in names]
    if asked.json:
        from wattwright.output import HuntsOut

        hunts = [_hunt_out(each, asked.units) for each in found]
        out = HuntsOut(build=assessment.name, outlet=found[0].outlet, hunts=hunts)
        print(out.model_dump_json(indent=2))
        return 0
    listed = asked.symptom is None
    lines = _listed(found, opened.build) if listed else _written(found[0], asked.units)
    print(visible("\n".join(lines)))
    return 0


def _listed(found: list[Hunted], build: Build) -> Iterator[str]:
    rows = [(each.hunt.name, each.hunt.title, f"{len(each.steps)} tests") for each in found]
    yield from table(rows)
    yield f"outlets: {', '.join(build.outlet) or 'none yet: write [outlet.NAME]'}"


def _written(found: Hunted, taste: Taste) -> Iterator[str]:
    yield found.title
    yield wrapped(found.hunt.symptom, "  ")
    yield wrapped(ORDER, "  ")
    yield ""
    yield "Take care"
    for caution in found.hunt.cautions:
        yield wrapped(caution, "    ", "  - ")
    for number, step in enumerate(found.steps, 1):
        yield ""
        yield from _step(number, step, taste)
    yield ""
    yield f"What it may be, likeliest first; {found.hunt.source}"
    for cause in found.causes:
        yield wrapped(f"{cause_words(cause)}. {cause.mends}", "    ", "  - ")


def _step(number: int, step: Step, taste: Taste) -> Iterator[str]:
    yield wrapped(step.act, "     ", f"{number:3}. ")
    tools = f" · {', '.join(step.test.tools)}" if step.test.tools else ""
    yield wrapped(f"{step.where}{tools} · {step.test.minutes:g} min", "     ")
    yield wrapped(step.danger, "     ")
    expects = step.expects(taste)
    if expects:
        yield wrapped(f"expected {expects}", "       ", "     ")
    for told in step.outcomes:
        yield wrapped(told.words, "       ", "     - ")


def _hunt_out(found: Hunted, taste: Taste) -> HuntOut:
    from wattwright.output import CauseOut, HuntOut

    hunt = found.hunt
    causes = [
        CauseOut(
            name=cause.name,
            short=cause.short,
            says=cause.says,
            share=hunt.share(cause.name),
            place=cause.place,
            mends=cause.mends,
        )
        for cause in found.causes
    ]
    return HuntOut(
        name=hunt.name,
        title=hunt.title,
        symptom=hunt.symptom,
        cautions=list(hunt.cautions),
        source=str(hunt.source),
        causes=causes,
        tests=[_test_out(number, step, taste) for number, step in enumerate(found.steps, 1)],
    )


def _test_out(number: int, step: Step, taste: Taste) -> TestOut:
    from wattwright.output import OutcomeOut, TestOut
    from wattwright.written_out import value_out

    test = step.test
    outcomes = [
        OutcomeOut(
            reads=told.reads,
            rules_out=[cause.name for cause in told.rules_out],
            points_to=[cause.name for cause in told.points_to],
            go_on=told.go_on or None,
            hunt=told.hunt,
        )
        for told in step.outcomes
    ]
    return TestOut(
        number=number,
        name=step.name,
        act=step.act,
        where=step.where,
        tools=list(test.tools),
        minutes=test.minutes,
        danger=test.danger,
        place=test.place,
        address=step.address,
        sense=step.sense,
        value=None if step.value is None else value_out(step.value, taste),
        limit=None if step.limit is None else value_out(step.limit, taste),
        usual=test.usual,
        missing=step.missing,
        source=str(test.source) if test.source is not None else "",
        outcomes=outcomes,
    )
