"""The way of each use: how far, how high, how long, and the steepest and fastest of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from wattwright.areas.drive import figures
from wattwright.areas.drive.own import Own
from wattwright.build.uses import Stretch as StretchRecord
from wattwright.build.uses import Use
from wattwright.findings import Figure, FigureKind
from wattwright.kinds import Kind
from wattwright.uses.profile import Profile, Stretch, of_cycle, of_route, of_stretches
from wattwright.values import Value, constant, doubted


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """A use driven on paper, or what is missing for that."""

    profile: Profile | None
    missing: tuple[Value, ...]


def way_of(name: str, use: Use) -> Way:
    """Drive a use on paper: speeds and grades second by second."""
    if use.cycle is not None:
        return Way(of_cycle(use.cycle), ())
    missing = [value for value in (use.acceleration, use.braking) if not value.known]
    up, down = use.acceleration.number or 1.0, use.braking.number or 1.0
    if not use.stretch:
        missing += [] if use.route.known else [use.route.share]
        if use.route.known and use.route.needs_speed and not use.speed.known:
            missing.append(use.speed)
        if missing:
            return Way(None, tuple(missing))
        return Way(of_route(name, use.route, up, down, use.speed.number), ())
    missing += [v for _, each in use.stretches for v in _numbers(each) if not v.known]
    if missing:
        return Way(None, tuple(missing))
    stretches = [Stretch(*(v.number or 0.0 for v in _numbers(each))) for _, each in use.stretches]
    return Way(of_stretches(name, stretches, up, down), ())


def _numbers(stretch: StretchRecord) -> tuple[Value, Value, Value, Value]:
    return stretch.length, stretch.speed, stretch.grade, stretch.stop


_SAID: tuple[tuple[FigureKind, Callable[[Profile], float]], ...] = (
    (figures.USE_DISTANCE, lambda profile: profile.distance),
    (figures.USE_CLIMB, lambda profile: profile.climb),
    (figures.USE_DURATION, lambda profile: profile.duration),
    (figures.USE_STEEPEST, lambda profile: max(profile.grades)),
    (figures.USE_FASTEST, lambda profile: max(profile.speeds)),
)


def ways(own: Own) -> Iterator[Figure]:
    """State distance, climb, duration, steepest grade and fastest speed of every use, once."""
    for name, use in own.use.items():
        way = way_of(name, use)
        for kind, of in _SAID:
            yield kind.of(_stated(way, kind.kind, of), name)


def _stated(way: Way, kind: Kind, of: Callable[[Profile], float]) -> Value:
    """Take a number off the way, with every repair of a recorded one as a doubt about it."""
    if way.profile is None:
        lacks = {lack: None for value in way.missing for lack in value.lacks}
        return Value(kind, None, lacks=tuple(lacks))
    value = constant(kind, of(way.profile), "driven on paper")
    for note in way.profile.notes:
        value = doubted(value, str(note))
    return value
