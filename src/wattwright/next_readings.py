"""What to find out next: the measurements that settle most findings per minute.

A finding is settled when everything it lacks is known. Single measurements therefore settle
little; the best *bundle* is looked for, the one that settles most findings per minute. That is
a fractional closure problem: for a price per minute the best bundle is a minimum cut, and the
price is raised until no bundle pays any more (Dinkelbach's method). The answer is exact; a
brute-force search over all bundles gives the same on builds small enough to try.

First come bundles that turn unknown findings, then those that make provisional ones firm.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from wattwright.assessment import Assessment
from wattwright.findings import Finding, Verdict
from wattwright.values import Lack
from wattwright.worthwhile import most_surplus

MOST = 10

Alike: TypeAlias = Mapping[frozenset[Lack], int]


@dataclass(frozen=True, slots=True)
class Bundle:
    """Measurements to take together, and the findings they settle.

    ``readings`` are those that fit on the list; ``of`` says how many the bundle has in all, and
    ``minutes`` what all of them take.
    """

    purpose: str
    readings: tuple[Lack, ...]
    of: int
    minutes: float
    settles: tuple[str, ...]


def next_readings(assessment: Assessment, most: int = MOST) -> tuple[Bundle, ...]:
    """Rank what to find out next, at most so many measurements in all."""
    unknown = {
        finding.address: _asked(finding)
        for finding in assessment.findings
        if finding.verdict is Verdict.UNKNOWN
    }
    soft = {
        finding.address: _soft(finding) for finding in assessment.findings if finding.provisional
    }
    bundles: list[Bundle] = []
    for purpose, needs in (("settle", unknown), ("confirm", soft)):
        left = most - sum(len(bundle.readings) for bundle in bundles)
        bundles.extend(_ranked(purpose, needs, left))
    return tuple(bundles)


# Where the rows of published tables stand.
_TABLES = "tables."


def _asked(finding: Finding) -> frozenset[Lack]:
    """What would settle a finding; nothing where it lacks what no reading can give."""
    if not all(lack.path for lack in finding.lacks):
        return frozenset()
    return frozenset(finding.lacks)


def _soft(finding: Finding) -> frozenset[Lack]:
    """What would confirm a finding; a row of a published table is no field to measure."""
    return frozenset(
        Lack(origin.path, origin.label, origin.origin.value, origin.how, origin.minutes)
        for origin, _ in finding.rests_on
        if origin.soft and not origin.path.startswith(_TABLES)
    )


def _ranked(purpose: str, needs: Mapping[str, frozenset[Lack]], most: int) -> Iterator[Bundle]:
    known: set[Lack] = set()
    while most > 0:
        open_needs = {
            address: need - known for address, need in needs.items() if need and need - known
        }
        if not open_needs:
            return
        best = best_bundle(open_needs)
        settles = tuple(sorted(a for a, need in open_needs.items() if need <= best))
        ordered = sorted(
            best, key=lambda x: (-sum(x in n for n in open_needs.values()), x.minutes, x.path)
        )
        minutes = sum(reading.minutes for reading in best)
        yield Bundle(purpose, tuple(ordered[:most]), len(best), minutes, settles)
        known |= best
        most -= len(best)


def best_bundle(needs: Mapping[str, frozenset[Lack]]) -> frozenset[Lack]:
    """Find the set of measurements that settles most findings per minute."""
    # Findings that need the same count together: a build has many of them.
    alike = Counter(needs.values())
    # What one finding needs, where that pays best, is seldom far from the answer: every further
    # price costs a cut.
    best = max(alike, key=lambda need: (_paying(alike, need), sorted(x.path for x in need)))
    while True:
        price = _paying(alike, best)
        better = _worth_more_than(price, alike)
        if not better or _paying(alike, better) <= price:
            return _smallest_as_good(price, alike, best)
        best = better


def _smallest_as_good(price: Fraction, alike: Alike, best: frozenset[Lack]) -> frozenset[Lack]:
    """Prefer what one finding needs where that pays as well as a larger bundle."""
    as_good = [need for need in alike if _paying(alike, need) == price]
    return min([*as_good, best], key=lambda need: (len(need), sorted(x.path for x in need)))


def _paying(alike: Alike, bundle: frozenset[Lack]) -> Fraction:
    """Findings settled per minute."""
    settled = sum(count for need, count in alike.items() if need <= bundle)
    return Fraction(settled, _minutes(bundle))


def _minutes(readings: Iterable[Lack]) -> int:
    """Tenths of a minute, whole, so that the comparison is exact."""
    return sum(max(1, round(reading.minutes * 10)) for reading in readings)


def _worth_more_than(price: Fraction, alike: Alike) -> frozenset[Lack]:
    """Find the bundle with the highest surplus at a price per minute; empty when none pays.

    Readings that are always needed together count together, so the graph stays small.
    """
    users: dict[Lack, list[int]] = {}
    for number, need in enumerate(alike):
        for reading in need:
            users.setdefault(reading, []).append(number)
    together: dict[tuple[int, ...], list[Lack]] = {}
    for reading, users_of_it in users.items():
        together.setdefault(tuple(users_of_it), []).append(reading)
    bundles = list(together.values())
    wanted: list[list[int]] = [[] for _ in alike]
    for place, numbers in enumerate(together):
        for number in numbers:
            wanted[number].append(place)
    kept = most_surplus(
        [count * price.denominator for count in alike.values()],
        [price.numerator * _minutes(readings) for readings in bundles],
        wanted,
    )
    return frozenset(reading for place in kept for reading in bundles[place])
