"""The findings register: every finding with all that leads to it, for whoever has to judge it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from wattwright.assessment import AreaReport, Assessment, shown, title, verdict_words
from wattwright.build.catalogue import find
from wattwright.build.fields import Plain, Quantity, Sampled, Section, Track
from wattwright.findings import Check, Finding, Verdict
from wattwright.kinds import FRACTION, difference_of
from wattwright.pages.workings import Workings
from wattwright.units import Taste, write
from wattwright.values import Given, Lack
from wattwright.words import (
    input_words,
    margin_words,
    origin_words,
    reasons,
    shift_words,
    tally_words,
)
from wattwright.working import inputs_of

TITLE = "Findings register"
# Inputs that move a margin by little are many; the first ones tell the story.
_LISTED = 6


def register(assessment: Assessment, taste: Taste) -> dict[str, Any]:
    """Collect what the register prints."""
    workings = Workings(
        [value for each in assessment.findings for value in (each.value, each.limit)], taste
    )
    return {
        "tally": tally_words(assessment),
        "failing": [_in_a_line(each, taste) for each in assessment.findings if _fails(each)],
        "areas": [_area(report, workings, taste) for report in assessment.reports],
        "lacks": _lacks(assessment.findings),
        "soft": _soft(assessment.findings),
        "groups": workings.groups,
        "inputs": [*_inputs(assessment.findings)],
        "sources": [*_sources(assessment.findings, workings)],
    }


def _area(report: AreaReport, workings: Workings, taste: Taste) -> dict[str, Any]:
    groups: dict[Check, list[Finding]] = {}
    for finding in report.findings:
        groups.setdefault(finding.check, []).append(finding)
    return {
        "title": report.area.title,
        "begin": [(path, _how(path)) for first in report.tell_me_first for path in first.fields],
        "checks": [
            {
                "says": check.says,
                "id": check.id,
                "meaning": check.meaning,
                "limit": check.limit_says,
                "source": str(check.source),
                "near": _near(check, findings, taste),
                "caution": check.caution,
                "rows": [_row(each, workings, taste) for each in findings if _judged(each)],
                "unknown": [*_unknown(findings, workings, taste)],
            }
            for check, findings in groups.items()
        ],
    }


def _judged(finding: Finding) -> bool:
    return finding.verdict is not Verdict.UNKNOWN


def _fails(finding: Finding) -> bool:
    return finding.verdict is Verdict.FAILING


def _in_a_line(finding: Finding, taste: Taste) -> str:
    """Say what is wrong in one line, for the first page."""
    said = title(finding.check.says, finding.about)
    limit = f"{finding.sense} {shown(finding.limit, taste)}"
    return f"{said}: {shown(finding.value, taste)}, {limit} ({margin_words(finding, taste)})"


def _near(check: Check, findings: Sequence[Finding], taste: Taste) -> str:
    """Say from where on a result is only marginal."""
    if not check.near:
        return ""
    if check.kind.true_zero:
        return f"{write(check.near, FRACTION, taste)} of the limit"
    return write(findings[0].threshold, difference_of(check.kind), taste)


def _row(finding: Finding, workings: Workings, taste: Taste) -> dict[str, Any]:
    return {
        "verdict": verdict_words(finding),
        "word": finding.verdict.value,
        "about": finding.about.replace("/", ", "),
        "value": shown(finding.value, taste),
        "limit": f"{finding.sense} {shown(finding.limit, taste)}",
        "margin": margin_words(finding, taste),
        "rests": _rests_on(finding, taste),
        "doubts": list(finding.doubts),
        "value_step": workings.number(finding.value),
        "limit_step": workings.number(finding.limit),
    }


def _rests_on(finding: Finding, taste: Taste) -> str:
    """Name the inputs that a finding rests on, by how far each may move its margin."""
    first, rest = finding.rests_on[:_LISTED], finding.rests_on[_LISTED:]
    pieces = [
        f"{origin.path} ({origin_words(origin)}, {shift_words(effect, finding.value, taste)})"
        for origin, effect in first
    ]
    if rest:
        together = math.hypot(*(effect for _, effect in rest))
        soft = sum(origin.soft for origin, _ in rest)
        firm = f", {soft} of them not firm" if soft else ""
        shift = shift_words(together, finding.value, taste)
        pieces.append(f"and {len(rest)} more{firm}, together {shift}")
    return "; ".join(pieces)


def _unknown(
    findings: Iterable[Finding], workings: Workings, taste: Taste
) -> Iterator[dict[str, Any]]:
    """Gather findings that are unknown for the same reasons, with what is known of each."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if not _judged(finding):
            groups.setdefault(reasons(finding), []).append(finding)
    for why, alike in groups.items():
        yield {
            "why": "; ".join(why),
            "rows": [
                {
                    "about": each.about.replace("/", ", "),
                    "value": shown(each.value, taste),
                    "limit": f"{each.sense} {shown(each.limit, taste)}",
                    "value_step": workings.number(each.value),
                    "limit_step": workings.number(each.limit),
                }
                for each in alike
            ],
        }


def _how(path: str) -> str:
    """Say how a field is found out."""
    entry = find(path)
    declared = entry.slot.declared if entry else None
    match declared:
        case Quantity() | Sampled() | Track():
            return declared.how
        case Plain() | Section():
            return declared.help or declared.label
        case None:
            return ""


def _lacks(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """List what is missing, each once, with how many findings wait for it."""
    waiting = Counter(lack for finding in findings for lack in finding.lacks)
    return _by_how(
        (lack.how, lack.minutes, _reading(lack.path, lack.label, _why(lack), count))
        for lack, count in sorted(waiting.items(), key=lambda pair: (-pair[1], pair[0].path))
    )


def _why(lack: Lack) -> str:
    """Say why something is lacking where that is more than not having been written."""
    return "" if lack.why in ("not given", "unknown") else lack.why


def _soft(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """List what is not firm and counts, with how many findings rest on it."""
    resting = Counter(given for each in findings for given, _ in each.rests_on if given.soft)
    return _by_how(
        (given.how, given.minutes, _reading(given.path, given.label, input_words(given), count))
        for given, count in sorted(resting.items(), key=lambda pair: (-pair[1], pair[0].path))
    )


def _reading(path: str, label: str, words: str, count: int) -> dict[str, Any]:
    return {"path": path, "label": label, "words": words, "count": count}


def _by_how(readings: Iterable[tuple[str, float, dict[str, Any]]]) -> list[dict[str, Any]]:
    """Gather readings that are taken in the same way, in order of first appearance."""
    groups: dict[tuple[str, float], list[dict[str, Any]]] = {}
    for how, minutes, reading in readings:
        groups.setdefault((how, minutes), []).append(reading)
    return [
        {
            "how": how,
            "minutes": f"{minutes:g} min{' each' if len(alike) > 1 else ''}",
            "readings": alike,
        }
        for (how, minutes), alike in groups.items()
    ]


def _inputs(findings: Iterable[Finding]) -> Iterator[tuple[str, str]]:
    """List every input that a finding goes back to, as it was typed."""
    values = [value for each in findings for value in (each.value, each.limit)]
    said: Mapping[str, Given] = {each.path: each for each in inputs_of(*values)}
    for path in sorted(said):
        yield path, input_words(said[path])


def _sources(findings: Iterable[Finding], workings: Workings) -> Iterator[str]:
    """Name every source of a limit or a formula once."""
    limits = {str(finding.check.source) for finding in findings}
    yield from sorted(limits | {each["source"] for each in workings.groups})
