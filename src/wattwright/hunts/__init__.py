"""Fault hunts as data: a symptom, what may cause it, and tests in the order they are done in.

One TOML file for each symptom; ``always_first.toml`` has the steps every hunt begins with. No
build is known here: a test names the address of the finding or figure that its reading is held
against, with OUTLET, BOX and LINK in place of what they are called in a build. In running text
``{address|usual}`` stands for the same, with what is usual where nobody has worked it out.

Tests stand in the file in their order: the least dangerous first, then from supply to cell, then
the shortest. A file that says otherwise is refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, get_args

from wattwright.formula import Source

Place = Literal[
    "vehicle", "supply", "cord", "box", "inlet", "pilot", "charger", "management", "pack"
]
Danger = Literal["none", "not touched", "licensed"]
Sense = Literal["", "at most", "at least"]

# From the supply to the cells; what is not in this chain comes before it.
PLACES: tuple[str, ...] = get_args(Place)
# The least dangerous first.
DANGERS: tuple[str, ...] = get_args(Danger)
SENSES: tuple[str, ...] = get_args(Sense)
DANGER_WORDS: Mapping[str, str] = {
    "none": "as on any day: nothing is opened, nothing live within reach",
    "not touched": "mains or high voltage is there and is not touched",
    "licensed": "live: licensed person only",
}
# A new hunt is a file and its name here.
NAMES = ("charge_will_not_start", "charge_stops", "charge_trips", "hot_plug")


@dataclass(frozen=True, slots=True)
class Cause:
    """What may be behind a symptom, in a word or two and in a sentence.

    ``weight`` says how often it is, beside the others of its hunt; ``mends`` what is done about it.
    """

    name: str
    short: str
    says: str
    weight: int
    place: Place
    mends: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a test may show, and what follows from it.

    ``go_on`` names a later test to skip to, ``hunt`` another hunt to change to.
    """

    reads: str
    rules_out: tuple[str, ...]
    points_to: tuple[str, ...]
    go_on: str
    hunt: str


@dataclass(frozen=True, slots=True)
class Test:
    """One thing to do, with what to expect and what each outcome tells.

    ``expects`` is the address of what the reading is held against, or with a ``sense`` of what it
    must keep to; ``kind`` is what is read where it is a quantity, ``usual`` what is shown
    elsewhere, and ``source`` says where that comes from.
    """

    name: str
    act: str
    where: str
    tools: tuple[str, ...]
    minutes: float
    danger: Danger
    place: Place
    outcomes: tuple[Outcome, ...]
    expects: str
    sense: Sense
    kind: str
    usual: str
    source: Source | None

    @property
    def order(self) -> tuple[int, int, float]:
        """What tests are sorted by."""
        return DANGERS.index(self.danger), PLACES.index(self.place), self.minutes


@dataclass(frozen=True, slots=True)
class Hunt:
    """A symptom with its causes, the likeliest first, and its tests in order.

    The first ``first`` tests are those that every hunt begins with. ``source`` says where the
    weights of the causes come from.
    """

    name: str
    title: str
    symptom: str
    cautions: tuple[str, ...]
    causes: Mapping[str, Cause]
    tests: tuple[Test, ...]
    first: int
    source: Source

    def share(self, cause: str) -> float:
        """Share of cases that a cause is behind, by its weight among all."""
        return self.causes[cause].weight / sum(each.weight for each in self.causes.values())

    @property
    def tools(self) -> tuple[str, ...]:
        """What it takes, each once, in the order it is needed in."""
        return tuple(dict.fromkeys(tool for test in self.tests for tool in test.tools))


@cache
def hunt(name: str) -> Hunt:
    """Load a hunt by its name. Raises UsageError where there is none."""
    from wattwright.errors import UsageError
    from wattwright.hunts.reading import shipped

    if name not in NAMES:
        raise UsageError(f"there is no hunt {name!r}; there are {', '.join(NAMES)}")
    return shipped(name)
