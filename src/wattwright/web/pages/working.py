"""The working behind a finding or figure, and stopping what is being worked out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.areas import AREAS
from wattwright.assessment import Assessment, find, shown, title
from wattwright.descriptions.duty import Duties
from wattwright.findings import Figure, Finding
from wattwright.kinds import difference_of
from wattwright.units import Taste, write
from wattwright.values import Value
from wattwright.web.answers import (
    assessed,
    back_to,
    base_of,
    desk_of,
    page,
    see,
    taste_of,
    with_form,
)
from wattwright.web.pages.rows import row_of
from wattwright.words import input_words, origin_words, shift_words
from wattwright.working import (
    WorkedStep,
    formula_text,
    inputs_of,
    numbers_text,
    rows_of,
    steps_of,
    where_from,
)

# Inputs that move a margin by little are many; the first ones tell the story.
_LISTED = 20


def said(request: Request) -> Response:
    """Show one finding or figure with all that leads to it."""
    desk = desk_of(request)
    assessment, taste = assessed(desk.view()), taste_of(request)
    out = find(assessment, request.path_params["address"])
    roots = (out.value, out.limit) if isinstance(out, Finding) else (out.value,)
    name = out.address.partition(".")[0]
    says = out.check.says if isinstance(out, Finding) else out.declared.says
    head = title(says, out.about).replace("_", " ")
    return page(
        request,
        "said.html",
        head[:1].upper() + head[1:],
        desk,
        page_name="areas",
        out=out,
        area=next(each for each in AREAS if each.name == name),
        steps=list(_steps(roots, taste)),
        inputs=[
            {"path": each.path, "label": each.label, "words": input_words(each)}
            for each in inputs_of(*roots)
        ],
        lacks=list(dict.fromkeys(lack for root in roots for lack in root.lacks)),
        balance=list(_balance(assessment, out.address, taste)),
        **(_of_finding(out, taste) if isinstance(out, Finding) else _of_figure(out, taste)),
    )


def _stop(request: Request, form: FormData) -> Response:
    """Stop working a build out."""
    desk = desk_of(request)
    desk.view().stop()
    return see(back_to(form, f"{base_of(desk)}/"))


stop = with_form(_stop)


def _work_out(request: Request, form: FormData) -> Response:
    """Work out what was stopped."""
    desk = desk_of(request)
    desk.view().go_on()
    return see(back_to(form, f"{base_of(desk)}/"))


work_out = with_form(_work_out)


def _of_finding(finding: Finding, taste: Taste) -> dict[str, Any]:
    check = finding.check
    return {
        "finding": row_of(finding, taste),
        "figure": None,
        "limit_says": check.limit_says,
        "near": write(finding.threshold, difference_of(check.kind), taste)
        if finding.threshold
        else "",
        "source": str(check.source),
        "meaning": check.meaning,
        "caution": check.caution,
        "doubts": finding.doubts,
        "rests_on": [
            {
                "path": given.path,
                "label": given.label,
                "origin": origin_words(given),
                "soft": given.soft,
                "shift": shift_words(effect, finding.value, taste),
            }
            for given, effect in finding.rests_on[:_LISTED]
        ],
    }


def _of_figure(figure: Figure, taste: Taste) -> dict[str, Any]:
    return {
        "finding": None,
        "figure": shown(figure.value, taste),
        "meaning": figure.declared.meaning,
        "caution": "",
        "doubts": figure.value.doubts,
        "rests_on": [],
    }


def _steps(roots: tuple[Value, ...], taste: Taste) -> Iterator[dict[str, Any]]:
    steps = steps_of(*roots)
    numbering = {id(each.step): each.number for each in steps}
    for each in steps:
        yield _step(each, taste, numbering)


def _step(worked: WorkedStep, taste: Taste, numbering: dict[int, int]) -> dict[str, Any]:
    formula = worked.formula
    return {
        "number": worked.number,
        "says": formula.says,
        "rows": rows_of(worked, taste),
        "symbol": formula.symbol,
        "formula": formula_text(formula),
        "numbers": numbers_text(worked, taste, numbering),
        "result": shown(worked.value, taste),
        "where": where_from(worked),
        "method": formula.method,
        "source": str(formula.source),
    }


def _balance(assessment: Assessment, address: str, taste: Taste) -> Iterator[tuple[str, str]]:
    if Duties not in assessment.descriptions:
        return
    # Heavy, and there already where anything was driven.
    from wattwright.use_pass.hardest import duty_behind, energies

    duty = duty_behind(assessment.descriptions[Duties], address)
    if duty is not None and duty.driven is not None:
        for name, value in energies(duty.driven.run.balance).items():
            yield name, shown(value, taste)
