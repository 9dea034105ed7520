"""From assessments, workings and ripples to the documented output."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from wattwright.assessment import Assessment, Change, shown, title
from wattwright.descriptions.duty import Duties
from wattwright.findings import Figure, Finding
from wattwright.next_readings import Bundle
from wattwright.output import (
    BundleOut,
    ChangeOut,
    CheckOut,
    ExplainOut,
    FigureOut,
    FindingOut,
    InputOut,
    PartOut,
    RestsOnOut,
    RevisionOut,
    RunOut,
    StepOut,
    TellMeFirstOut,
    UnknownOut,
    ValueOut,
)
from wattwright.units import Taste
from wattwright.values import Lack, Value
from wattwright.working import WorkedStep, formula_text, leaves, steps_of

if TYPE_CHECKING:
    from wattwright.journal.revisions import Revision


def value_out(value: Value, taste: Taste) -> ValueOut:
    """Turn a value into its documented form."""
    return ValueOut(
        number=value.number,
        unit=value.kind.si,
        text=shown(value, taste),
        band=value.band if value.number is not None else None,
        state=value.state.value,
    )


def unknown_out(lack: Lack) -> UnknownOut:
    """Turn a lack into its documented form."""
    return UnknownOut(
        field=lack.path, label=lack.label, why=lack.why, how=lack.how, minutes=lack.minutes
    )


def figure_out(figure: Figure, taste: Taste) -> FigureOut:
    """Turn a figure into its documented form."""
    return FigureOut(
        id=figure.declared.id,
        about=figure.about,
        address=figure.address,
        area=figure.declared.id.partition(".")[0],
        says=title(figure.declared.says, figure.about),
        value=value_out(figure.value, taste),
        lacks=[unknown_out(lack) for lack in figure.value.lacks],
        doubts=list(figure.value.doubts),
    )


def finding_out(finding: Finding, taste: Taste) -> FindingOut:
    """Turn a finding into its documented form."""
    check = finding.check
    return FindingOut(
        id=check.id,
        about=finding.about,
        address=finding.address,
        area=check.id.partition(".")[0],
        says=title(check.says, finding.about),
        value=value_out(finding.value, taste),
        lacks=[unknown_out(lack) for lack in finding.lacks],
        sense=finding.sense,
        limit=value_out(finding.limit, taste),
        margin=finding.margin,
        margin_band=finding.margin_band if finding.margin is not None else None,
        verdict=finding.verdict.value,
        provisional=finding.provisional,
        rests_on=[
            RestsOnOut(path=g.path, origin=g.origin.value, soft=g.soft, effect=effect)
            for g, effect in finding.rests_on
        ],
        doubts=list(finding.doubts),
        source=str(check.source),
        caution=check.caution,
    )


def check_out(assessment: Assessment, bundles: Iterable[Bundle], taste: Taste) -> CheckOut:
    """Turn an assessment into its documented form."""
    unknowns = {lack: None for finding in assessment.findings for lack in finding.lacks}
    return CheckOut(
        build=assessment.name,
        digest=assessment.digest,
        findings=[finding_out(finding, taste) for finding in assessment.findings],
        figures=[figure_out(figure, taste) for figure in assessment.figures],
        unknowns=[unknown_out(lack) for lack in unknowns],
        tell_me_first=[
            TellMeFirstOut(area=first.area, fields=list(first.fields))
            for report in assessment.reports
            for first in report.tell_me_first
        ],
        next=[
            BundleOut(
                purpose="settle" if bundle.purpose == "settle" else "confirm",
                minutes=bundle.minutes,
                of=bundle.of,
                settles=list(bundle.settles),
                readings=[unknown_out(reading) for reading in bundle.readings],
            )
            for bundle in bundles
        ],
    )


def explain_out(assessment: Assessment, said: Finding | Figure, taste: Taste) -> ExplainOut:
    """Turn the working behind a finding or figure into its documented form."""
    roots = (said.value, said.limit) if isinstance(said, Finding) else (said.value,)
    inputs, steps, names = _working_out(roots, taste)
    return ExplainOut(
        build=assessment.name,
        digest=assessment.digest,
        finding=finding_out(said, taste) if isinstance(said, Finding) else None,
        figure=figure_out(said, taste) if isinstance(said, Figure) else None,
        inputs=inputs,
        steps=steps,
        value=_name_of(said.value, names),
        limit=_name_of(said.limit, names) if isinstance(said, Finding) else None,
        run=_run_out(assessment, said.address, taste),
    )


def _working_out(
    roots: Sequence[Value], taste: Taste
) -> tuple[list[InputOut], list[StepOut], dict[int, str]]:
    """List inputs and steps behind some values, and the ids they were given."""
    names: dict[int, str] = {}
    inputs: list[InputOut] = []
    for leaf in leaves(*roots):
        key = id(leaf.given) if leaf.given is not None else id(leaf)
        if key in names:
            continue
        names[key] = f"i{len(inputs) + 1}"
        inputs.append(_input_out(names[key], leaf, taste))
    steps = steps_of(*roots)
    names.update({id(each.step): f"s{each.number}" for each in steps})
    return inputs, [_step_out(each, names, taste) for each in steps], names


def _run_out(assessment: Assessment, address: str, taste: Taste) -> RunOut | None:
    """Turn the run behind a result of a use into its documented form."""
    if Duties not in assessment.descriptions:
        return None
    # Heavy, and there already where anything was driven.
    from wattwright.use_pass.hardest import duty_behind, energies, hardest

    duty = duty_behind(assessment.descriptions[Duties], address)
    if duty is None or duty.driven is None:
        return None
    second = hardest(duty)
    inputs, steps, _ = _working_out((second.current,) if second else (), taste)
    balance = energies(duty.driven.run.balance)
    return RunOut(
        balance=[PartOut(name=name, value=value_out(v, taste)) for name, v in balance.items()],
        hardest_at=second.time if second else None,
        hardest_inputs=inputs,
        hardest_steps=steps,
    )


def _name_of(value: Value, names: dict[int, str]) -> str:
    for key in (value.step, value.given, value):
        if key is not None and id(key) in names:
            return names[id(key)]
    raise KeyError("a value that is neither input nor step")


def _input_out(name: str, leaf: Value, taste: Taste) -> InputOut:
    given, value = leaf.given, value_out(leaf, taste)
    if given is None:
        lack = leaf.lacks[0] if leaf.lacks else Lack("", leaf.label or "exact number", "")
        return InputOut(id=name, label=lack.label, path=lack.path, value=value, note=lack.why)
    return InputOut(
        id=name,
        label=given.label,
        path=given.path,
        origin=given.origin.value,
        text=given.text,
        value=value,
        line=given.line,
        detail=given.detail,
        date=given.date,
        note=given.band_note,
    )


def _step_out(worked: WorkedStep, names: dict[int, str], taste: Taste) -> StepOut:
    formula = worked.formula
    arguments: dict[str, str | list[str]] = {}
    for argument, given in zip(formula.arguments, worked.step.arguments, strict=True):
        if isinstance(given, Value):
            arguments[argument.name] = _name_of(given, names)
        else:
            arguments[argument.name] = [_name_of(each, names) for each in given]
    return StepOut(
        id=names[id(worked.step)],
        formula=formula.name,
        symbol=formula.symbol,
        says=formula.says,
        expression=ast.unparse(formula.expression).replace("math.", ""),
        shown=formula_text(formula),
        method=formula.method,
        constants=formula.constants,
        arguments=arguments,
        result=value_out(worked.value, taste),
        source=str(formula.source),
    )


def change_out(change: Change) -> ChangeOut:
    """Turn a line of a ripple into its documented form."""
    return ChangeOut(
        address=change.address,
        says=change.says,
        before=change.before,
        after=change.after,
        verdict_before=change.verdict_before,
        verdict_after=change.verdict_after,
        turned=change.turned,
    )


def revision_out(revision: Revision) -> RevisionOut:
    """Turn a revision of the journal into its documented form."""
    return RevisionOut(**asdict(revision))
