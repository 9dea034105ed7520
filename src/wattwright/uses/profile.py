"""A cycle, a route or stretches as one profile: speeds and grades at steps of one second."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from math import hypot

from wattwright.sampled import Note, Route
from wattwright.uses import driving
from wattwright.uses.cycles import about, cycle
from wattwright.uses.driving import STEP, Phase

# A speed that the accelerations lower by less than this is as good as wanted.
_LOWERED = 0.1


@dataclass(frozen=True, eq=False)
class Profile:
    """What is driven, once.

    ``speeds`` stand at the ends of the steps, one more than there are steps; between them the
    speed changes evenly. ``grades`` hold over each step, as rise over run. ``standing`` are the
    exact times at which each stop that is planned begins and ends; its whole seconds are fewer.
    """

    name: str
    step: float
    speeds: tuple[float, ...]
    grades: tuple[float, ...]
    notes: tuple[Note, ...] = ()
    standing: tuple[tuple[float, float], ...] = ()

    @cached_property
    def times(self) -> tuple[float, ...]:
        """Seconds at the ends of the steps, from nought."""
        return tuple(self.step * place for place in range(len(self.speeds)))

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """Distance covered in each step."""
        return tuple((a + b) / 2.0 * self.step for a, b in pairwise(self.speeds))

    @cached_property
    def rises(self) -> tuple[float, ...]:
        """Altitude gained in each step, along the road's own slope."""
        pairs = zip(self.lengths, self.grades, strict=True)
        return tuple(length * grade / hypot(1.0, grade) for length, grade in pairs)

    @property
    def duration(self) -> float:
        """Seconds from beginning to end."""
        return self.step * len(self.grades)

    @property
    def distance(self) -> float:
        """Distance along the road."""
        return sum(self.lengths)

    @property
    def climb(self) -> float:
        """Sum of everything that goes up; what goes down is not taken off."""
        return sum(rise for rise in self.rises if rise > 0.0)

    @property
    def rise(self) -> float:
        """Altitude at the end over that at the beginning."""
        return sum(self.rises)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of road: what is held on it, and how long the vehicle stands at its end."""

    length: float
    speed: float
    grade: float = 0.0
    stop: float = 0.0

    @property
    def rise(self) -> float:
        """Altitude gained from its beginning to its end."""
        return self.length * self.grade / hypot(1.0, self.grade)


def of_cycle(name: str) -> Profile:
    """Take a published cycle as it is; its road is level."""
    _, speeds = cycle(name)
    return Profile(about(name).cells["title"], STEP, speeds, (0.0,) * (len(speeds) - 1))


def of_speed(name: str, speed: float, grade: float, seconds: int) -> Profile:
    """Hold one speed in m/s on one grade, from the beginning on."""
    return Profile(name, STEP, (speed,) * (seconds + 1), (grade,) * seconds)


def of_stretches(name: str, stretches: Sequence[Stretch], up: float, down: float) -> Profile:
    """Drive stretches one after the other, from standstill to standstill.

    ``up`` and ``down`` are the accelerations in m/s², both above zero.
    """
    from wattwright.uses.hills import grades

    lengths = [stretch.length for stretch in stretches]
    wanted = [0.0, *(_at_the_end(one, other) for one, other in pairwise(stretches)), 0.0]
    ends = driving.passed(wanted, lengths, up, down)
    phases = list(_through(stretches, ends, up, down))
    speeds = driving.covering(driving.each_second(phases), sum(lengths))
    along = [0.0, *accumulate(lengths)]
    altitudes = [0.0, *accumulate(stretch.rise for stretch in stretches)]
    slopes = grades(speeds, along, altitudes, along[1:-1])
    return Profile(name, STEP, speeds, slopes, standing=tuple(_standing(phases)))


def _standing(phases: Sequence[Phase]) -> Iterator[tuple[float, float]]:
    """When each stop begins and ends, in seconds from the beginning."""
    time = 0.0
    for phase in phases:
        if phase.time and phase.begin == phase.end == 0.0:
            yield time, time + phase.time
        time += phase.time


def _at_the_end(stretch: Stretch, following: Stretch) -> float:
    return 0.0 if stretch.stop else min(stretch.speed, following.speed)


def _through(
    stretches: Sequence[Stretch], ends: Sequence[float], up: float, down: float
) -> Iterator[Phase]:
    for stretch, (begin, end) in zip(stretches, pairwise(ends), strict=True):
        yield from driving.held(stretch.length, begin, end, stretch.speed, up, down)
        yield Phase(stretch.stop, 0.0, 0.0)


def of_route(
    name: str, route: Route, up: float, down: float, speed: float | None = None
) -> Profile:
    """Drive a route as it was recorded, or where nobody recorded that, as fast as ``speed``.

    A recording is taken at its own speeds. A plan (distances with speeds, or with none) is driven
    from standstill to standstill with no more than the accelerations; between two of its places
    no faster than the higher of their speeds.
    """
    from wattwright.uses.hills import grades, turns

    notes = route.notes
    length = route.places[-1] - route.places[0]
    if route.times and route.speeds:
        drawn = driving.of_speeds(route.times, route.speeds)
    elif route.times:
        drawn = driving.of_places(route.times, route.places)
    else:
        drawn, own = _planned(route, up, down, speed)
        notes += own
    speeds = driving.covering(drawn, length)
    slopes = grades(speeds, route.along, route.altitudes, turns(route.along, route.altitudes))
    return Profile(name, STEP, speeds, slopes, notes)


def _planned(
    route: Route, up: float, down: float, speed: float | None
) -> tuple[list[float], tuple[Note, ...]]:
    lengths = [there - here for here, there in pairwise(route.places)]
    if not route.speeds:
        if speed is None:
            raise ValueError("a route without times and speeds needs a speed")
        return driving.each_second(driving.held(sum(lengths), 0.0, 0.0, speed, up, down)), ()
    wanted = [0.0, *route.speeds[1:-1], 0.0]
    ends = driving.passed(wanted, lengths, up, down)
    phases: list[Phase] = []
    for place, length in enumerate(lengths):
        begin, end = ends[place : place + 2]
        top = max(route.speeds[place : place + 2])
        phases += driving.held(length, begin, end, top, up, down)
    inner = range(1, len(ends) - 1)
    lowered = [place for place in inner if wanted[place] - ends[place] > _LOWERED]
    return driving.each_second(phases), tuple(_lowered(route, ends, lowered))


def _lowered(route: Route, ends: Sequence[float], places: Sequence[int]) -> Iterator[Note]:
    if places:
        most = max(places, key=lambda place: route.speeds[place] - ends[place])
        yield Note(
            f"speeds lowered to what the accelerations allow, at {len(places)} places",
            f"most at {route.places[most]:.0f} m",
            f"{route.speeds[most]:.1f} m/s to {ends[most]:.1f} m/s",
        )
