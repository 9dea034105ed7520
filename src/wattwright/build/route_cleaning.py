"""What is done to a recorded way before it is driven, and what is refused. Nothing is silent.

    one place   points nearer than 1 m to the one before are one place, where the vehicle stood
    gap         more than 10 s or 100 m without a point: bridged by a straight line up to 60 s and
                500 m, refused above; however long, it is a stop where less than 20 m was covered
    speed       above 60 m/s between two points: refused
    spike       an altitude off the median of four neighbours, two on each side, is replaced by it:
                more than 30 m, and on top what the steepest grade makes of the way to them
    altitude    the mean of the recorded line over 150 m, every 25 m, over less towards the ends
    grade       steeper than 25 %: taken as 25 %

Each repair leaves a note that travels with the route; each refusal is a problem with its line. A
satellite receiver is some metres off in altitude from one second to the next: taken as recorded,
level roads would have grades of ten per cent and climbs of hundreds of metres. These figures are
common practice.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate, pairwise
from math import hypot
from statistics import median
from typing import NamedTuple

from wattwright.build.sampled_csv import SHOWN
from wattwright.errors import BuildError, Problem
from wattwright.sampled import Note, looked_up

ONE_PLACE = 1.0
# Less is over within two seconds, at the strongest accelerations there are.
SHORTEST_WAY = 5.0
GAP_TIME, GAP_LENGTH = 10.0, 100.0
BRIDGED_TIME, BRIDGED_LENGTH = 60.0, 500.0
STANDS = 20.0
FASTEST = 60.0
SPIKE, NEIGHBOURS = 30.0, 2
SPACING, WINDOW = 25.0, 150.0
STEEPEST = 0.25
LOWEST, HIGHEST = -500.0, 6000.0


class Place(NamedTuple):
    """One place of a way: distance from the first one, and when the vehicle came and went."""

    line: int
    along: float
    altitude: float | None
    came: float | None = None
    went: float | None = None


@dataclass(frozen=True, slots=True)
class Road:
    """The line of a road: distances along it, over the ground as recorded, and altitudes."""

    along: tuple[float, ...]
    recorded: tuple[float, ...]
    altitudes: tuple[float, ...]

    def at(self, recorded: float) -> float:
        """Distance along the road at a distance as recorded."""
        return looked_up(self.recorded, self.along, recorded)


@dataclass
class Log:
    """What was found in one file: problems, each with its line, and notes."""

    file: str
    path: str
    problems: list[Problem] = field(default_factory=list)
    noted: list[Note] = field(default_factory=list)
    more: Counter[str] = field(default_factory=Counter)

    def problem(self, what: str, line: int, got: str = "", do: str = "", column: int = 1) -> None:
        """Note something that cannot be repaired."""
        self.problems.append(Problem(what, self.path, self.file, line, column, got[:120], do=do))

    def refuse(self) -> None:
        """Raise what was found, the first of it where it is much."""
        if not self.problems:
            return
        shown, left = self.problems[:SHOWN], self.problems[SHOWN:]
        if left:
            self.problems = []
            self.problem(f"and {len(left)} more of this file", left[0].line or 1)
            shown += self.problems
        raise BuildError(*shown)

    def note(self, text: str, where: str, amount: str = "", of_distance: bool = False) -> None:
        """Note a repair; many of a kind are counted."""
        if sum(note.text == text for note in self.noted) < SHOWN:
            self.noted.append(Note(text, where, amount, of_distance))
        else:
            self.more[text] += 1

    def line(self, number: int) -> str:
        """Name a line."""
        return f"{self.file} line {number}"

    @property
    def notes(self) -> tuple[Note, ...]:
        """All notes."""
        of_distance = {note.text: note.of_distance for note in self.noted}
        more = (
            Note(text, "further on", f"{count} more", of_distance[text])
            for text, count in self.more.items()
        )
        return (*self.noted, *more)


def check_length(length: float, line: int, log: Log) -> None:
    """Refuse a way that is over within a second or two: it would be no speed at any of them."""
    if length < SHORTEST_WAY:
        what = "does not move" if length < ONE_PLACE else "is too short a way to be driven"
        do = f"write the whole way, {SHORTEST_WAY:g} m or more"
        log.problem(what, line, f"{length:.1f} m in all", do)


def check_gaps(places: Sequence[Place], log: Log, as_the_crow_flies: bool) -> None:
    """Bridge what is short, refuse what is long, and refuse what no vehicle does.

    ``as_the_crow_flies`` says that distances are those between points: a road is longer than that.
    """
    for before, after in pairwise(places):
        length = after.along - before.along
        time = 0.0
        if before.went is not None and after.came is not None:
            time = after.came - before.went
            if length > FASTEST * time:
                _too_fast(before, after, time, log)
                continue
            if length < STANDS:
                if time > GAP_TIME:
                    text = "no points while it hardly moved; taken as standing"
                    log.note(text, log.line(after.line), f"{time:.0f} s, {length:.0f} m")
                continue
        amount = f"{length:.0f} m" + (f" in {time:.0f} s" if time else "")
        if time > BRIDGED_TIME or length > BRIDGED_LENGTH:
            log.problem(
                f"the gap after line {before.line}, {before.along:.0f} m on the way, is too long "
                "to be bridged",
                after.line,
                amount,
                f"bridged are {BRIDGED_LENGTH:g} m and {BRIDGED_TIME:g} s at most; put in points "
                "from a map, or write the way as stretches",
            )
        elif time > GAP_TIME or length > GAP_LENGTH:
            text = "a gap bridged by a straight line"
            log.note(text, log.line(after.line), amount, as_the_crow_flies)


def _too_fast(before: Place, after: Place, time: float, log: Log) -> None:
    length = after.along - before.along
    speed = f"{length / time:.0f} m/s" if time else f"{length:.0f} m in no time"
    log.problem(
        f"is reached from line {before.line} faster than {FASTEST:g} m/s",
        after.line,
        speed,
        "delete the point that is out of place, or correct its time",
    )


def level(length: float, log: Log) -> Road:
    """Take a road without altitudes as level."""
    log.note("no altitude and no grade; taken as level", log.file, f"{length:.0f} m")
    return Road((0.0, length), (0.0, length), (0.0, 0.0))


def of_altitudes(places: Sequence[Place], log: Log, over_ground: bool) -> Road:
    """Make the line of a road out of recorded altitudes.

    ``over_ground`` says that distances were taken on the map, so that a slope is longer.
    """
    along = [place.along for place in places]
    heights = _without_spikes(places, along, log)
    for place, height in zip(places, heights, strict=True):
        if not LOWEST <= height <= HIGHEST:
            log.problem(
                "no road has this altitude",
                place.line,
                f"{height:.0f} m",
                f"allowed is {LOWEST:.0f} m to {HIGHEST:.0f} m; correct it or take it from a map",
            )
    log.refuse()
    grid, smooth = smoothed(along, heights)
    before, after = _climb(heights), _climb(smooth)
    text = f"altitude smoothed over {WINDOW:g} m"
    log.note(text, "throughout", f"climb {before:.0f} m as recorded, {after:.0f} m as driven")
    steps = [there - here for here, there in pairwise(grid)]
    steepest = STEEPEST if over_ground else STEEPEST / hypot(1.0, STEEPEST)
    rises = _clipped(grid, smooth, steepest, log)
    if over_ground:
        steps = [hypot(step, rise) for step, rise in zip(steps, rises, strict=True)]
    return Road(
        tuple(accumulate(steps, initial=0.0)),
        tuple(grid),
        tuple(accumulate(rises, initial=smooth[0])),
    )


def _clipped(
    grid: Sequence[float], heights: Sequence[float], steepest: float, log: Log
) -> list[float]:
    """Rises from point to point, none steeper than a road is."""
    rises = []
    for (here, there), (low, high) in zip(pairwise(grid), pairwise(heights), strict=True):
        most = steepest * (there - here)
        rise = max(-most, min(most, high - low))
        if abs(high - low - rise) > 1e-9 * most:
            where = f"{log.file} from {here:.0f} m to {there:.0f} m"
            amount = f"{100.0 * (high - low) / (there - here):.0f} %"
            log.note(f"grade taken as {100.0 * STEEPEST:g} %", where, amount)
        rises.append(rise)
    return rises


def of_grades(
    lines: Sequence[int], along: Sequence[float], slopes: Sequence[float], log: Log
) -> Road:
    """Make the line of a road out of grades, each from its point to the next."""
    heights = [0.0]
    for place, (here, there) in enumerate(pairwise(along)):
        slope = max(-STEEPEST, min(STEEPEST, slopes[place]))
        if slope != slopes[place]:
            amount = f"{100.0 * slopes[place]:.0f} %"
            log.note(f"grade taken as {100.0 * STEEPEST:g} %", log.line(lines[place]), amount)
        heights.append(heights[-1] + (there - here) * slope / hypot(1.0, slope))
    return Road(tuple(along), tuple(along), tuple(heights))


def _climb(heights: Sequence[float]) -> float:
    return sum(max(0.0, high - low) for low, high in pairwise(heights))


def _without_spikes(places: Sequence[Place], along: Sequence[float], log: Log) -> list[float]:
    recorded = [place.altitude or 0.0 for place in places]
    heights = list(recorded)
    last = len(places) - 1
    if last < 2 * NEIGHBOURS:
        # Of so few points none can be told to be the odd one out.
        return heights
    for here, place in enumerate(places):
        first = max(0, min(here - NEIGHBOURS, last - 2 * NEIGHBOURS))
        near = [n for n in range(first, min(last, first + 2 * NEIGHBOURS) + 1) if n != here]
        middle = median(recorded[n] for n in near)
        far = max(abs(along[n] - along[here]) for n in near)
        if abs(recorded[here] - middle) > SPIKE + STEEPEST * far:
            heights[here] = middle
            amount = f"{recorded[here]:.0f} m to {middle:.0f} m"
            log.note("a spike of altitude replaced", log.line(place.line), amount)
    return heights


def smoothed(along: Sequence[float], heights: Sequence[float]) -> tuple[list[float], list[float]]:
    """Mean of the recorded line over the window around each point of a grid.

    The window narrows towards the ends, which stay where they are; a steady slope stays as it is.
    """
    length = along[-1]
    cells = max(1, round(length / SPACING))
    areas = [0.0]
    for (here, there), (low, high) in zip(pairwise(along), pairwise(heights), strict=True):
        areas.append(areas[-1] + (there - here) * (low + high) / 2.0)

    def area(where: float) -> float:
        after = min(bisect_right(along, where), len(along) - 1)
        height = looked_up(along, heights, where)
        return areas[after - 1] + (where - along[after - 1]) * (heights[after - 1] + height) / 2.0

    grid = [length * cell / cells for cell in range(cells + 1)]
    means = []
    for where in grid[1:-1]:
        half = min(WINDOW / 2.0, where, length - where)
        means.append((area(where + half) - area(where - half)) / (2.0 * half))
    return grid, [heights[0], *means, heights[-1]]
