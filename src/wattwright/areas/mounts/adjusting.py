"""Adjusting the survey of a build: the search, what it found in words, and the edits that keep it.

This is slow work, so it is asked for and its result is kept in the build, with a digest of the
readings it was made of. An assessment takes the last step again, from the readings as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import sqrt
from typing import TYPE_CHECKING

from wattwright.areas.mounts.network import (
    AXES,
    BAND_IN_SD,
    CLOSEST,
    LEVELS,
    Taken,
    digest,
    kind_of,
    network,
    set_aside,
    taken,
)
from wattwright.areas.mounts.points import POSE
from wattwright.build.edits import ANY, Edit, quote
from wattwright.build.reader import Opened
from wattwright.build.survey import BETWEEN, Survey
from wattwright.errors import FormulaError, UsageError
from wattwright.kinds import ANGLE, POSITION
from wattwright.unit_table import family
from wattwright.units import read

if TYPE_CHECKING:
    from wattwright.network_adjustment import Found, Helpful
    from wattwright.point_network import Network

# A tape and a digital level in an ordinary hand: common practice, for what to measure next.
_TAPE = read("2 mm", POSITION).number
_LEVEL = read("0.2°", ANGLE).number
# Points of which nothing is known begin this far apart, so that no two lie in one place.
_ASTRAY = read("50 mm", POSITION).number
# Readings that agree no better than this may be of a mirror image.
_BAD = 3.0
# Less is not worth a measurement.
_WORTH_IT = 0.01
_DIRECT = {"x": "x", "y": "y", "z": "z"}
_FIELD = {"x": "behind", "y": "right", "z": "height"}


@dataclass(frozen=True, eq=False)
class Adjustment:
    """What came of it: the search, its readings by name, and what would help most."""

    survey: Survey
    found: Found
    readings: Mapping[str, Taken]
    helps: tuple[str, ...]
    mirror_image: bool

    @property
    def left_out(self) -> tuple[tuple[str, float], ...]:
        """Readings that were set aside before, and what each is more than what fits, SI."""
        from wattwright.point_network import told_at

        aside = set_aside(self.survey)
        readings = tuple(each for each in self.readings.values() if each.name in aside)
        if not readings:
            return ()
        fits = told_at(network(self.survey, readings), self.found.numbers)
        return tuple(
            (each.name, (each.value.number or 0.0) - float(fit))
            for each, fit in zip(readings, fits, strict=True)
        )

    @property
    def impossible(self) -> tuple[tuple[str, str, str], ...]:
        """Names of distances of which the first is longer than the other two together."""
        return tuple(_impossible(self.readings))

    @property
    def aside(self) -> tuple[str, ...]:
        """Names of all readings that are set aside now: those before, and the suspects."""
        before = set_aside(self.survey) & self.readings.keys()
        suspects = {each.observation.name for each in self.found.suspects}
        return tuple(sorted(before | suspects))


def adjust_survey(opened: Opened) -> Adjustment:
    """Adjust the survey of a build. Raises UsageError where that cannot be done, and says why."""
    from wattwright.network_adjustment import adjust

    survey = opened.build.survey
    every = {each.name: each for each in taken(survey)}
    if not survey.point:
        raise UsageError("there is no point to adjust; write [survey.point.NAME] and readings")
    aside = set_aside(survey)
    readings = tuple(each for each in every.values() if each.name not in aside)
    made = network(survey, readings)
    try:
        start = _start(survey, readings, made)
        found = adjust(made, start)
    except FormulaError as error:
        raise UsageError(f"the survey cannot be adjusted: {error}") from None
    helps = tuple(_helps(opened, found))
    return Adjustment(survey, found, every, helps, _is_mirror_image(made, start, found))


def _is_mirror_image(made: Network, start: Sequence[float], found: Found) -> bool:
    """Say whether the unit's points fit far better with left and right changed over."""
    from wattwright.network_adjustment import adjust

    if not any(made.second) or (not found.suspects and found.misfit < _BAD):
        return False
    turned = replace(
        made,
        observations=tuple(
            replace(each, reading=-each.reading)
            if each.sort == "own_y" and made.second[each.points[0]]
            else each
            for each in made.observations
        ),
    )
    other = list(start)
    for place, on_unit in enumerate(made.second):
        if on_unit:
            other[3 * place + 1] *= -1.0
    mirrored = adjust(turned, other)
    fewer = len(mirrored.suspects) < len(found.suspects)
    return fewer and mirrored.misfit < _BAD


def _impossible(readings: Mapping[str, Taken]) -> Iterator[tuple[str, str, str]]:
    """Find triangles that cannot be: one side longer than both others, bands and all."""
    sides = {frozenset(each.points): each for each in readings.values() if each.sort == "distance"}
    for points in combinations(sorted({name for side in sides for name in side}), 3):
        edges = [sides.get(frozenset(two)) for two in combinations(points, 2)]
        known = [each for each in edges if each is not None]
        if len(known) < len(edges):
            continue
        longest, *others = sorted(known, key=lambda each: -(each.value.number or 0.0))
        least = (longest.value.number or 0.0) - longest.value.band
        if least > sum((each.value.number or 0.0) + each.value.band for each in others):
            yield longest.name, others[0].name, others[1].name


def edits(adjustment: Adjustment) -> list[Edit]:
    """Edits that keep the result in the build."""
    found, survey = adjustment.found, adjustment.survey
    numbers = {found.network.place(k): float(x) for k, x in enumerate(found.numbers)}
    told = {found.network.place(k): bool(each) for k, each in enumerate(found.linear.told)}
    made: list[Edit] = []
    # What was kept before goes, so that no point stays that is not there any more.
    if survey.adjusted.of:
        made.append(Edit(("survey", "adjusted"), None, ANY))
    aside = ", ".join(adjustment.aside)
    if aside != ", ".join(sorted(set_aside(survey))):
        made.append(Edit(("survey", "set_aside"), quote(aside) if aside else None, ANY))
    return made + list(_kept(survey, numbers, told, _digest_with(survey, adjustment.aside)))


def _kept(
    survey: Survey, numbers: Mapping[str, float], told: Mapping[str, bool], of: str
) -> Iterator[Edit]:
    root = ("survey", "adjusted")
    yield Edit((*root, "of"), quote(of), ANY)
    for name in survey.point:
        # What no reading tells is kept beside what one does: the last step is taken from there.
        if any(told[f"{name}.{axis}"] for axis in AXES):
            yield Edit((*root, "point", name), _record(name, AXES, numbers), ANY)
    if any(told.get(f"unit.{word}", False) for word in POSE):
        yield Edit((*root, "pose"), _record("unit", POSE, numbers), ANY)


def _record(owner: str, words: Sequence[str], numbers: Mapping[str, float]) -> str:
    """Write numbers that belong together in one line, closer than anybody reads them."""
    leaves = []
    for word in words:
        name = f"{owner}.{word}"
        symbol, digits = ("°", 4) if kind_of(name) is ANGLE else ("mm", 2)
        unit = family(kind_of(name).name).exact[symbol]
        # Nought has no sign.
        number = round(unit.from_si(numbers[name]), digits) + 0.0
        space = "" if symbol == "°" else " "
        leaves.append(f"{word} = {quote(f'{number:.{digits}f}{space}{symbol}')}")
    return f'{{ {", ".join(leaves)}, origin = "computed, adjustment" }}'


def _digest_with(survey: Survey, aside: Sequence[str]) -> str:
    return digest(survey.model_copy(update={"set_aside": ", ".join(aside)}))


def _start(survey: Survey, readings: Sequence[Taken], made: Network) -> list[float]:
    """Rough place of everything: as measured, else as before, else near what it was taped to."""
    direct: dict[str, float] = {}
    for each in readings:
        if each.sort.startswith("own_") or each.sort in _DIRECT:
            axis = each.sort[-1]
            on_unit = survey.point[each.points[0]].on == "unit"
            if each.sort.startswith("own_") or not on_unit:
                direct.setdefault(f"{each.points[0]}.{axis}", each.value.number or 0.0)
    start = []
    middle = _middles(survey, direct)
    for place, (name, point) in enumerate(survey.point.items()):
        kept = survey.adjusted.point.get(name)
        for step, axis in enumerate(AXES):
            before = getattr(kept, axis).number if kept is not None else None
            usual = 0.0 if point.on == "unit" else middle[axis]
            astray = _ASTRAY * ((place + step) % 5 - 2)
            start.append(direct.get(f"{name}.{axis}", before if before else usual + astray))
    if any(made.second):
        start += _rough_pose(survey, readings, direct, middle)
    return start


def _middles(survey: Survey, direct: Mapping[str, float]) -> dict[str, float]:
    """Middle of everything on the vehicle that was measured along an axis."""
    found = {}
    for axis in AXES:
        there = [
            direct[f"{name}.{axis}"]
            for name, point in survey.point.items()
            if point.on == "vehicle" and f"{name}.{axis}" in direct
        ]
        found[axis] = sum(there) / len(there) if there else 0.0
    return found


def _rough_pose(
    survey: Survey,
    readings: Sequence[Taken],
    direct: Mapping[str, float],
    middle: Mapping[str, float],
) -> list[float]:
    """Where the unit is, roughly: by its points that were measured in the vehicle, else between."""
    sums: dict[str, list[float]] = {axis: [] for axis in AXES}
    for each in readings:
        if each.sort in _DIRECT and survey.point[each.points[0]].on == "unit":
            own = direct.get(f"{each.points[0]}.{each.sort}", 0.0)
            sums[each.sort].append((each.value.number or 0.0) - own)
    at = [sum(sums[axis]) / len(sums[axis]) if sums[axis] else middle[axis] for axis in AXES]
    levels = {each.sort: each.value.number or 0.0 for each in readings if each.sort in LEVELS}
    return [*at, 0.0, levels.get("lengthwise", 0.0), levels.get("crosswise", 0.0)]


def _helps(opened: Opened, found: Found, most: int = 3) -> Iterator[str]:
    """Say which further readings would help most, for the points that mounts and shaft are at."""
    from wattwright.network_adjustment import helpful

    mounts, points = opened.build.mounts, list(opened.build.survey.point)
    named = {mounts.shaft_from, mounts.shaft_to, mounts.line_from, mounts.line_to}
    for mount in mounts.mount.values():
        named |= {mount.unit_point, mount.vehicle_point}
    counting = [place for place, name in enumerate(points) if name in named]
    places = counting or list(range(len(points)))
    sds = (
        max(_TAPE, CLOSEST[POSITION.name]) / BAND_IN_SD,
        max(_LEVEL, CLOSEST[ANGLE.name]) / BAND_IN_SD,
    )
    for each in helpful(found, places, *sds)[:most]:
        narrower = 1.0 - sqrt(max(0.0, each.left))
        if narrower > _WORTH_IT:
            yield f"{_named(each, points)}: bands narrower by {narrower:.0%}"


def _named(each: Helpful, points: Sequence[str]) -> str:
    names = [points[place] for place in each.points]
    if each.sort in _FIELD:
        return f"survey.{_FIELD[each.sort]}.{names[0]}"
    return f"survey.{each.sort}.{BETWEEN.join(names)}" if names else f"survey.{each.sort}"
