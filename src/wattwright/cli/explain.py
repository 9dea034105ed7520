"""``explain``: the working behind one finding, with numbers, units and sources."""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterator
from pathlib import Path

from wattwright.assessment import Assessment, assess, find, shown, title, verdict_words
from wattwright.build.reader import open_build
from wattwright.cli.terminal import table, wrapped
from wattwright.descriptions.duty import Duties
from wattwright.findings import Figure, Finding
from wattwright.kinds import difference_of
from wattwright.units import Taste, write
from wattwright.use_pass.hardest import duty_behind
from wattwright.values import Given, Value
from wattwright.words import input_words, margin_words, origin_words, shift_words
from wattwright.working import (
    WorkedStep,
    formula_text,
    inputs_of,
    numbers_text,
    rows_of,
    steps_of,
    where_from,
)

# Inputs listed one by one; --json lists all of them.
_LISTED = 12


def run(asked: argparse.Namespace) -> int:
    """Print the working behind one finding or figure."""
    assessment = assess(open_build(Path(asked.build)))
    said = find(assessment, asked.finding)
    if asked.json:
        from wattwright.written_out import explain_out

        print(explain_out(assessment, said, asked.units).model_dump_json(indent=2))
    else:
        print("\n".join(working(said, asked.units)))
        print("\n".join(_run_behind(assessment, said.address, asked.units)), end="")
    return 0


def _run_behind(assessment: Assessment, address: str, taste: Taste) -> Iterator[str]:
    """Write the run that a result comes from, where it comes from one."""
    if Duties not in assessment.descriptions:
        return
    duty = duty_behind(assessment.descriptions[Duties], address)
    if duty is not None:
        from wattwright.cli.explain_use import the_run

        yield from the_run(duty, taste)
        yield ""


def working(said: Finding | Figure, taste: Taste) -> Iterator[str]:
    """Write the working as text."""
    roots = (said.value, said.limit) if isinstance(said, Finding) else (said.value,)
    yield from (
        _finding_head(said, taste) if isinstance(said, Finding) else _figure_head(said, taste)
    )
    if any(root.step for root in roots):
        yield ""
        yield "Working"
    yield from worked_steps(*roots, taste=taste)
    inputs = inputs_of(*roots)
    if inputs:
        yield ""
        yield "Inputs"
    for origin in inputs:
        yield from _input(origin)
    lacks = dict.fromkeys(lack for root in roots for lack in root.lacks)
    if lacks:
        yield ""
        yield "Not known yet"
    for lack in lacks:
        name = lack.path or lack.label
        pieces = [f"{name}: {lack.why}"]
        if lack.how:
            pieces += [lack.how, f"{lack.minutes:g} min"]
        yield wrapped("; ".join(pieces), "      ", "  ")


def worked_steps(*roots: Value, taste: Taste) -> Iterator[str]:
    """Write every step that leads to some values."""
    steps = steps_of(*roots)
    numbering = {id(step.step): step.number for step in steps}
    for step in steps:
        yield from _step(step, taste, numbering)


def _finding_head(finding: Finding, taste: Taste) -> Iterator[str]:
    check = finding.check
    yield f"{title(check.says, finding.about)}: {verdict_words(finding)}"
    yield f"  {finding.address}"
    yield wrapped(check.meaning, "  ")
    yield f"  value   {shown(finding.value, taste)}"
    sense = f"{finding.sense} " if finding.limit.known else ""
    yield wrapped(
        f"limit   {sense}{shown(finding.limit, taste)} ({check.limit_says})", "          ", "  "
    )
    if finding.margin is not None:
        yield f"  margin  {margin_words(finding, taste)}"
        if finding.threshold:
            near = write(finding.threshold, difference_of(check.kind), taste)
            yield f"  near    under {near} to spare is marginal"
    yield wrapped(f"source  {check.source}", "          ", "  ")
    for doubt in finding.doubts:
        yield wrapped(f"doubt   {doubt}", "          ", "  ")
    if check.caution:
        yield wrapped(f"caution {check.caution}", "          ", "  ")
    if finding.rests_on:
        yield ""
        yield "Rests on (shift of the margin over the band of each)"
        shown_first, rest = finding.rests_on[:_LISTED], finding.rests_on[_LISTED:]
        rows = [
            (origin.path, origin_words(origin), shift_words(effect, finding.value, taste))
            for origin, effect in shown_first
        ]
        for line in table(rows):
            yield f"  {line}"
        if rest:
            together = math.hypot(*(effect for _, effect in rest))
            yield f"  and {len(rest)} more, together {shift_words(together, finding.value, taste)}"


def _figure_head(figure: Figure, taste: Taste) -> Iterator[str]:
    yield title(figure.declared.says, figure.about)
    yield f"  {figure.address}"
    yield wrapped(figure.declared.meaning, "  ")
    yield f"  value   {shown(figure.value, taste)}"
    for doubt in figure.value.doubts:
        yield wrapped(f"doubt   {doubt}", "          ", "  ")


def _step(worked: WorkedStep, taste: Taste, numbering: dict[int, int]) -> Iterator[str]:
    formula = worked.formula
    yield ""
    number = f"  {worked.number}. "
    margin = " " * len(number)
    yield f"{number}{formula.says}"
    for line in table(rows_of(worked, taste)):
        yield f"{margin}    {line}"
    symbol = f"{margin}{formula.symbol} = "
    equals = " " * (len(symbol) - 2) + "= "
    indent = " " * len(equals)
    yield wrapped(formula_text(formula), indent, symbol)
    yield wrapped(numbers_text(worked, taste, numbering), indent, equals)
    yield f"{equals}{shown(worked.value, taste)}"
    where = where_from(worked)
    if where:
        yield wrapped(f"where {where}", margin)
    if formula.method:
        yield wrapped(f"method: {formula.method}", margin)
    yield wrapped(f"source: {formula.source}", margin)


def _input(origin: Given) -> Iterator[str]:
    yield wrapped(f"{origin.path} = {input_words(origin)}", "      ", "  ")
