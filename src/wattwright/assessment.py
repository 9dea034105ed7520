"""Run the passes over a build, and compare two assessments.

Describe runs in the order of what areas read of each other; then the vehicle goes through its uses
in ``use_pass``; judge follows. The same build always
gives the same assessment: no clock, no journal, no state.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cached_property
from graphlib import CycleError, TopologicalSorter
from typing import Any, TypeAlias

from wattwright.areas import AREAS, Area
from wattwright.build.reader import Opened
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Duties
from wattwright.errors import UsageError, WattwrightError
from wattwright.findings import Figure, Finding, Verdict, about_words
from wattwright.units import Taste, write
from wattwright.use_pass.duty import duties
from wattwright.values import Value

Shown: TypeAlias = Mapping[str, tuple[str, str]]

NOT_SAID = "not said"
WORST_FIRST = (Verdict.FAILING, Verdict.UNKNOWN, Verdict.MARGINAL, Verdict.SOUND)


@dataclass(frozen=True, slots=True)
class TellMeFirst:
    """An area nobody has begun: the few fields to give first."""

    area: str
    title: str
    fields: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class AreaReport:
    """What one area says about a build."""

    area: Area
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    tell_me_first: tuple[TellMeFirst, ...] = ()
    _shown: dict[Taste, Shown] = field(default_factory=dict, init=False)

    def as_shown(self, taste: Taste) -> Shown:
        """Everything by address as a ripple shows it: numbers, and the words of the verdict."""
        found = self._shown.get(taste)
        if found is None:
            said: list[Finding | Figure] = [*self.findings, *self.figures]
            found = {each.address: (_shown(each, taste), _verdict(each)) for each in said}
            self._shown[taste] = found
        return found


@dataclass(frozen=True, eq=False, slots=True)
class Said:
    """What an area made of what it was given: ``report`` follows from everything else here.

    ``read`` are the descriptions it was described from, ``heard`` those it judged by.
    """

    own: Any
    read: Descriptions
    heard: Descriptions
    rules: Rules
    report: AreaReport


@dataclass(frozen=True, eq=False)
class Assessment:
    """Everything that is said about a build."""

    name: str
    digest: str
    reports: tuple[AreaReport, ...]
    descriptions: Descriptions = field(default_factory=Descriptions)
    said: Mapping[str, Said] = field(default_factory=dict, repr=False)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, area by area, worst first."""
        return tuple(finding for report in self.reports for finding in report.findings)

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """All figures, area by area."""
        return tuple(figure for report in self.reports for figure in report.figures)

    @cached_property
    def by_address(self) -> dict[str, Finding | Figure]:
        """Findings and figures by address."""
        said: list[Finding | Figure] = [*self.findings, *self.figures]
        return {each.address: each for each in said}

    def count(self, verdict: Verdict) -> int:
        """Count the findings with one verdict."""
        return sum(finding.verdict is verdict for finding in self.findings)

    @property
    def provisional(self) -> int:
        """Count the findings with another verdict than unknown that rest on what is not firm."""
        known = (each for each in self.findings if each.verdict is not Verdict.UNKNOWN)
        return sum(finding.provisional for finding in known)


def assess(
    opened: Opened,
    areas: Sequence[Area] = AREAS,
    before: Assessment | None = None,
    stopped: Callable[[], bool] = lambda: False,
) -> Assessment:
    """Assess a build as it was read.

    ``before`` is an assessment of the build that this one was read like: an area of which nothing
    changed, nor anything that it reads, says what it said then. The answer is the same without.
    ``stopped`` is asked between uses, and ends it with a StoppedError where it says so.
    """
    build = opened.build
    owns = {area.name: area.own(build) for area in areas}
    known = before.said if before else {}
    seen = Descriptions()
    begun = [area for area in areas if area.begun(owns[area.name])]
    for area in in_order(_with_read(begun, areas)):
        seen = seen.with_one(_described(area, owns[area.name], seen, known.get(area.name)))
    if DriveDescription in seen:
        drive = seen[DriveDescription]
        if before is not None and before.descriptions.holds(drive):
            seen = seen.with_one(before.descriptions[Duties])
        else:
            seen = seen.with_one(duties(drive.demands, stopped))
    said = {
        area.name: _said(area, build.rules, owns[area.name], seen, known.get(area.name))
        for area in begun
    }
    reports = tuple(
        said[area.name].report if area.name in said else _not_begun(area) for area in areas
    )
    return Assessment(build.build.name, opened.digest, reports, seen, said)


def _described(area: Area, own: Any, seen: Descriptions, known: Said | None) -> object:
    read = seen.only(area.reads)
    if known is not None and known.read.same_as(read) and _alike(known.own, own):
        return known.heard[area.makes]
    return area.describe(own, read)


def _alike(one: Any, other: Any) -> bool:
    """Say whether two records hold the very same values."""
    if is_dataclass(one):
        return all(getattr(one, x.name) == getattr(other, x.name) for x in fields(one))
    return bool(one == other)


def _with_read(begun: Sequence[Area], areas: Sequence[Area]) -> list[Area]:
    """Add the areas that begun ones read: described too, with everything lacking in them."""
    wanted = list(begun)
    for area in wanted:
        read = (other for other in areas if other.makes in area.reads)
        wanted.extend(other for other in read if other not in wanted)
    return wanted


def in_order(areas: Sequence[Area]) -> tuple[Area, ...]:
    """Sort areas so that each comes after those whose descriptions it reads."""
    makers = {area.makes: area for area in areas}
    graph = {
        area.name: [makers[kind].name for kind in area.reads if kind in makers] for area in areas
    }
    by_name = {area.name: area for area in areas}
    try:
        return tuple(by_name[name] for name in TopologicalSorter(graph).static_order())
    except CycleError as error:
        circle = " -> ".join(error.args[1])
        raise WattwrightError(f"areas describe themselves in a circle: {circle}") from None


def _not_begun(area: Area) -> AreaReport:
    return AreaReport(area, (), (), (TellMeFirst(area.name, area.title, area.tell_me_first),))


def _said(area: Area, rules: Rules, own: Any, seen: Descriptions, known: Said | None) -> Said:
    heard = seen.only((area.makes, *area.reads))
    alike = known is not None and known.heard.same_as(heard) and known.rules == rules
    if known is not None and alike and _alike(known.own, own):
        return known
    # What comes of going through the uses was not there yet when the area was described.
    read = seen.only(kind for kind in area.reads if kind is not Duties)
    return Said(own, read, heard, rules, _report(area, rules, own, heard))


def _report(area: Area, rules: Rules, own: Any, heard: Descriptions) -> AreaReport:
    findings: list[Finding] = []
    figures: list[Figure] = []
    for each in area.judge(own, heard, rules):
        if isinstance(each, Figure):
            figures.append(each)
        elif each.applies:
            findings.append(each)
    findings.sort(key=_worst_first)
    return AreaReport(area, tuple(findings), tuple(figures))


def _worst_first(finding: Finding) -> tuple[int, float, str]:
    rank = WORST_FIRST.index(finding.verdict)
    limit = finding.limit.number
    relative = 0.0
    if finding.margin is not None and limit:
        relative = finding.margin / abs(limit)
    return rank, relative, finding.address


@dataclass(frozen=True, slots=True)
class Change:
    """One line of a ripple: what an edit changed in what is said.

    ``name``, ``about`` and ``moved`` say the same as briefly as can be. ``needs`` is true where
    only the readings that it needs are others now.
    """

    address: str
    says: str
    before: str
    after: str
    verdict_before: str
    verdict_after: str
    name: str
    about: str
    moved: tuple[str, str]
    needs: bool = False

    @property
    def new(self) -> bool:
        """True where nothing was said of it before."""
        return self.before == NOT_SAID

    @property
    def gone(self) -> bool:
        """True where nothing is said of it any more."""
        return self.after == NOT_SAID

    @property
    def turned(self) -> bool:
        """True where the verdict is another one now."""
        return self.verdict_before != self.verdict_after


@dataclass(frozen=True, slots=True)
class Sorted:
    """A ripple as it is read: verdicts first, and what only needs other readings last."""

    turned: tuple[Change, ...]
    new: tuple[Change, ...]
    gone: tuple[Change, ...]
    moved: tuple[Change, ...]
    needs: tuple[Change, ...]


def sorted_out(changes: Iterable[Change]) -> Sorted:
    """Sort the lines of a ripple; a verdict that is new or gone did not turn."""
    found: dict[str, list[Change]] = {each.name: [] for each in fields(Sorted)}
    for change in changes:
        word = "needs" if change.needs else "moved"
        if change.turned:
            word = "new" if change.new else "gone" if change.gone else "turned"
        found[word].append(change)
    return Sorted(**{word: tuple(each) for word, each in found.items()})


def compare(old: Assessment, new: Assessment, taste: Taste = "metric") -> tuple[Change, ...]:
    """List what changed between two assessments as shown, verdict turns first."""
    was: dict[str, tuple[str, str]] = {}
    now: dict[str, tuple[str, str]] = {}
    # What an area says as before is not looked at.
    for one, other in zip(old.reports, new.reports, strict=True):
        if one is not other:
            was |= one.as_shown(taste)
            now |= other.as_shown(taste)
    changes = []
    for address in [*was, *(a for a in now if a not in was)]:
        before_as = was.get(address, (NOT_SAID, ""))
        after_as = now.get(address, (NOT_SAID, ""))
        if before_as == after_as:
            continue
        before, after = old.by_address.get(address), new.by_address.get(address)
        changes.append(
            Change(
                address,
                _says(after or before),
                before_as[0],
                after_as[0],
                before_as[1],
                after_as[1],
                *_brief(after or before),
                _moved(before, after, taste),
                before_as[1] == after_as[1] and _only_needs(before, after, taste),
            )
        )
    return tuple(sorted(changes, key=lambda change: (not change.turned, _rank(change))))


def _rank(change: Change) -> int:
    order = [verdict.value for verdict in WORST_FIRST]
    word = change.verdict_after.partition(",")[0]
    return order.index(word) if word in order else len(order)


def _says(each: Finding | Figure | None) -> str:
    if isinstance(each, Finding):
        return title(each.check.says, each.about)
    return title(each.declared.says, each.about) if each else ""


def _brief(each: Finding | Figure | None) -> tuple[str, str]:
    """What is said, without what it is held against, and what it is said about."""
    if isinstance(each, Finding):
        return each.check.says.partition(" against ")[0], each.about
    return (each.declared.says, each.about) if each else ("", "")


def _moved(
    before: Finding | Figure | None, after: Finding | Figure | None, taste: Taste
) -> tuple[str, str]:
    """Both sides as short as they tell the change: the limits only where they moved too."""
    if isinstance(before, Finding) and isinstance(after, Finding):
        limits = {shown(each.limit, taste) for each in (before, after)}
        if len(limits) == 1 and not before.lacks and not after.lacks:
            return shown(before.value, taste), shown(after.value, taste)
    return _shown(before, taste), _shown(after, taste)


def _only_needs(
    before: Finding | Figure | None, after: Finding | Figure | None, taste: Taste
) -> bool:
    """Say whether nothing but the list of what is lacking can be another one."""
    if not isinstance(before, Finding) or not isinstance(after, Finding):
        return False
    return _held(before, taste) == _held(after, taste)


def _held(finding: Finding, taste: Taste) -> str:
    return f"{shown(finding.value, taste)}, {finding.sense} {shown(finding.limit, taste)}"


def title(says: str, about: str) -> str:
    """Put what is said and what it is said about into one line."""
    return f"{says}, {about_words(about)}" if about else says


def _shown(each: Finding | Figure | None, taste: Taste) -> str:
    if each is None:
        return NOT_SAID
    if isinstance(each, Figure):
        return shown(each.value, taste)
    text = _held(each, taste)
    needs = sorted(lack.path or lack.label for lack in each.lacks)
    return f"{text}, needs {'; '.join(needs)}" if needs else text


def shown(value: Value, taste: Taste = "metric", band: bool = True) -> str:
    """Write a value as it is shown everywhere."""
    if value.number is None:
        return "none" if value.absent else "not known"
    text = write(value.number, value.kind, taste, value.band or None)
    return text if band else text.partition(" ± ")[0]


def _verdict(each: Finding | Figure | None) -> str:
    if not isinstance(each, Finding):
        return ""
    return verdict_words(each)


def verdict_words(finding: Finding) -> str:
    """Read a verdict as it is read aloud: ``sound, provisional``."""
    word = finding.verdict.value
    known = finding.verdict is not Verdict.UNKNOWN
    return f"{word}, provisional" if known and finding.provisional else word


def find(assessment: Assessment, wanted: str) -> Finding | Figure:
    """Find what is said under an address. Raises UsageError with the nearest addresses."""
    import difflib

    found = assessment.by_address.get(wanted)
    if found is not None:
        return found
    near: Iterable[str] = difflib.get_close_matches(wanted, assessment.by_address, n=3, cutoff=0.4)
    hint = f"; near it: {', '.join(near)}" if near else ""
    raise UsageError(f"nothing is said under {wanted!r}{hint}")
