"""Fault hunts at one build: its own expected readings beside what each outcome tells.

Numbers come from the assessment, by address. Where nobody has worked one out, what is usual stands
there, and what to write into the build so that its own takes that place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.assessment import Assessment, shown
from wattwright.bench.sheet import Answer, Line, Sheet
from wattwright.build.model import Build
from wattwright.errors import UsageError
from wattwright.findings import Finding
from wattwright.hunts import DANGER_WORDS, Cause, Hunt, Outcome, Sense, Test, hunt
from wattwright.hunts.reading import FILLED
from wattwright.kinds import KINDS, Kind
from wattwright.units import Taste
from wattwright.values import Value

PREFIX = "hunt_"
ORDER = (
    "The safest tests come first, then from the supply to the cells. One fault at a time is "
    "assumed; where an outcome has settled it, the rest is left out."
)
# Named one by one; what else is missing stands with the finding itself.
_FEW = 3


@dataclass(frozen=True, slots=True)
class Told:
    """One outcome at this build.

    What is read, the causes it rules out and points to by name, the number of the step to go on
    with (nought: the next one), and another hunt to change to.
    """

    reads: str
    rules_out: tuple[Cause, ...]
    points_to: tuple[Cause, ...]
    go_on: int
    hunt: str

    @property
    def words(self) -> str:
        """The outcome and what follows from it, in one line."""
        pieces = []
        if self.rules_out:
            pieces.append(f"rules out {_named(self.rules_out)}")
        if self.points_to:
            pieces.append(f"points to {_named(self.points_to)}")
        if self.go_on:
            pieces.append(f"go on with line {self.go_on}")
        if self.hunt:
            pieces.append(f"change to the hunt {hunt(self.hunt).title!r}")
        return f"{self.reads}: {'; '.join(pieces)}"


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One test at this build.

    ``value`` is what is expected, where that is worked out; ``limit`` what the reading must keep
    to by its ``sense``, where there is one: that of a finding, or the value itself. ``usual`` and
    ``missing`` are words: what it is elsewhere and what this build lacks for its own.
    """

    name: str
    test: Test
    act: str
    where: str
    address: str
    value: Value | None
    limit: Value | None
    sense: Sense
    usual: str
    missing: str
    outcomes: tuple[Told, ...]

    @property
    def kind(self) -> Kind | None:
        """What is read; none for what is only looked at."""
        if self.value is not None:
            return self.value.kind
        return KINDS[self.test.kind] if self.test.kind else None

    @property
    def danger(self) -> str:
        """The class of danger, in words."""
        return DANGER_WORDS[self.test.danger]

    def expects(self, taste: Taste) -> str:
        """Say what is expected: the number of this build, or what is usual and what is missing."""
        pieces = []
        if self.value is not None and self.value.known and self.value is not self.limit:
            pieces.append(shown(self.value, taste))
        if self.limit is not None and self.limit.known:
            pieces.append(f"{self.sense} {shown(self.limit, taste)}")
        elif self.usual and not pieces:
            pieces.append(f"{self.usual} (usual)")
        return "; ".join([*pieces, self.missing] if self.missing else pieces)


@dataclass(frozen=True, slots=True, eq=False)
class Hunted:
    """A hunt at one build and one outlet; ``outlet`` is empty where the build has none."""

    hunt: Hunt
    outlet: str
    steps: tuple[Step, ...]

    @property
    def title(self) -> str:
        """What is hunted, and where."""
        where = self.outlet.replace("_", " ")
        return f"{self.hunt.title}, {where}" if where else self.hunt.title

    @property
    def causes(self) -> tuple[Cause, ...]:
        """What it may be, the likeliest first."""
        return tuple(self.hunt.causes.values())


@dataclass(frozen=True, slots=True)
class _At:
    """The build, its assessment, and the names that stand for OUTLET and BOX."""

    assessment: Assessment
    outlet: str
    box: str
    taste: Taste

    def address(self, pattern: str, link: str = "") -> str:
        """Put the names of the build into an address; a name that is not there stays open."""
        for word, name in (("OUTLET", self.outlet), ("BOX", self.box), ("LINK", link)):
            if name:
                pattern = pattern.replace(word, name)
        return pattern

    def value(self, address: str) -> Value | None:
        """What the assessment says there: of a finding its value."""
        said = self.assessment.by_address.get(address)
        return said.value if said is not None else None

    def links(self, pattern: str) -> tuple[str, ...]:
        """Links of the chain that something is said of, in the order they stand in."""
        head, link, _ = self.address(pattern).partition("LINK")
        if not link:
            return ()
        every = self.assessment.by_address
        return tuple(each.removeprefix(head) for each in every if each.startswith(head))

    def missing(self, address: str) -> str:
        """Say why there is no number, and what to write."""
        value = self.value(address)
        if value is not None:
            if value.absent:
                return "this build has none"
            lacking = [lack.path or lack.label for lack in value.lacks]
            more = f" and {len(lacking) - _FEW} more" if len(lacking) > _FEW else ""
            return f"not worked out: needs {'; '.join(lacking[:_FEW])}{more}"
        if "OUTLET" in address:
            return "not worked out: write [outlet.NAME]"
        if "BOX" in address:
            box = f"outlet.{self.outlet}.box" if self.outlet else "[supply_box.NAME]"
            return f"not worked out: write {box}"
        area = address.partition(".")[0]
        if any(each.startswith(f"{area}.") for each in self.assessment.by_address):
            return "not worked out for this build"
        return f"not worked out: write [{area}]"

    def filled(self, words: str, link: str = "") -> str:
        """Put numbers of this build into words, or what is usual."""

        def number(address: str, usual: str) -> str:
            value = self.value(self.address(address, link))
            if value is None or not value.known:
                return f"{usual} (usual)"
            return shown(value, self.taste, band=False)

        return FILLED.sub(lambda found: number(found[1], found[2]), words)


def at_outlet(
    name: str, build: Build, assessment: Assessment, taste: Taste = "metric", outlet: str = ""
) -> Hunted:
    """Put the numbers of a build into a hunt, for an outlet: the first where none is named."""
    if outlet and outlet not in build.outlet:
        there_are = ", ".join(build.outlet) or "none yet: write [outlet.NAME]"
        raise UsageError(f"there is no outlet {outlet!r}; there are {there_are}")
    found = hunt(name)
    outlet = outlet or next(iter(build.outlet), "")
    at = _At(assessment, outlet, build.outlet[outlet].box.strip() if outlet else "", taste)
    links = {test.name: at.links(test.expects) or ("",) for test in found.tests}
    numbers, count = {}, 1
    for test in found.tests:
        numbers[test.name] = count
        count += len(links[test.name])
    steps = [
        _step(test, link, tuple(_told(each, found, numbers, at) for each in test.outcomes), at)
        for test in found.tests
        for link in links[test.name]
    ]
    return Hunted(found, outlet, tuple(steps))


def _step(test: Test, link: str, outcomes: tuple[Told, ...], at: _At) -> Step:
    """Make the step of a test, for one link of the chain where it asks for every one."""
    address = at.address(test.expects, link)
    said = at.assessment.by_address.get(address)
    value = said.value if said is not None else None
    limit, sense = (value, test.sense) if test.sense else (None, test.sense)
    if isinstance(said, Finding) and said.sense != "within":
        limit, sense = said.limit, said.sense
    known = value is not None and value.known
    return Step(
        f"{test.name}_{link.replace('/', '.')}" if link else test.name,
        test,
        at.filled(test.act, link),
        test.where.replace("LINK", link.replace("_", " ") or "every plug, socket and inlet"),
        address,
        value,
        limit,
        sense,
        test.usual,
        at.missing(address) if address and not known else "",
        outcomes,
    )


def _told(outcome: Outcome, of: Hunt, numbers: Mapping[str, int], at: _At) -> Told:
    return Told(
        at.filled(outcome.reads),
        tuple(of.causes[cause] for cause in outcome.rules_out),
        tuple(of.causes[cause] for cause in outcome.points_to),
        numbers[outcome.go_on] if outcome.go_on else 0,
        outcome.hunt,
    )


def _named(causes: tuple[Cause, ...]) -> str:
    return ", ".join(cause.short for cause in causes)


def hunt_sheet(
    name: str, build: Build, assessment: Assessment, taste: Taste, outlet: str = ""
) -> Sheet:
    """Make the sheet of a hunt for an outlet, the first where none is named."""
    found = at_outlet(name, build, assessment, taste, outlet)
    return Sheet(
        f"{PREFIX}{name}@{outlet}" if outlet else f"{PREFIX}{name}",
        found.title,
        f"{found.hunt.symptom} {ORDER}",
        found.hunt.cautions,
        found.hunt.tools,
        tuple(_line(step, taste) for step in found.steps),
        tuple(Answer(cause_words(cause), cause.mends) for cause in found.causes),
        str(found.hunt.source),
        {
            each.replace("_", " "): f"{PREFIX}{name}@{each}"
            for each in build.outlet
            if each != found.outlet
        },
    )


def cause_words(cause: Cause) -> str:
    """Name a cause with how often it is; weights are too rough for a number to be read out."""
    often = "often" if cause.weight >= 4 else "now and then" if cause.weight > 1 else "seldom"
    return f"{cause.short} ({often}): {cause.says}"


def _line(step: Step, taste: Taste) -> Line:
    test, value, limit = step.test, step.value, step.limit
    known = value is not None and value.known
    return Line(
        step.name,
        step.act,
        step.where,
        ", ".join(test.tools),
        kind=step.kind,
        expected=value if known and value is not limit else None,
        limit=limit if limit is not None and limit.known else None,
        sense=step.sense or "at most",
        said=step.expects(taste),
        care="" if test.danger == "none" else step.danger,
        tells=tuple(told.words for told in step.outcomes),
    )
