"""The way of each use: how far, how high, how long, and the steepest and fastest of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import NamedTuple

from wattwright.areas.drive import use_figures as figures
from wattwright.areas.drive.own import Own
from wattwright.build.uses import Stretch as StretchRecord
from wattwright.build.uses import Use
from wattwright.findings import Figure, FigureKind
from wattwright.kinds import Kind
from wattwright.sampled import Route
from wattwright.use_pass.stating import Stating
from wattwright.uses.profile import Profile, Stretch, of_cycle, of_route, of_stretches
from wattwright.values import Value, doubted

# Seconds lower a speed and a grade by less than this share.
_ROUND_OFF = 0.01


class Way(NamedTuple):
    """What is told of a use driven on paper, in SI, with every repair of a recorded way."""

    distance: float
    climb: float
    duration: float
    steepest: float
    fastest: float
    notes: tuple[str, ...] = ()


@lru_cache(maxsize=16)
def cycle_of(name: str) -> Profile:
    """Take a published cycle as it is."""
    return of_cycle(name)


def _of(profile: Profile) -> Way:
    return Way(
        profile.distance,
        profile.climb,
        profile.duration,
        max(profile.grades),
        max(profile.speeds),
        tuple(str(note) for note in profile.notes),
    )


# The same way is asked for again in every season and at every assessment, as it is and moved, and
# takes thousands of seconds to drive.
@lru_cache(maxsize=64)
def _stretches(name: str, stretches: tuple[Stretch, ...], up: float, down: float) -> Profile:
    return of_stretches(name, stretches, up, down)


@lru_cache(maxsize=64)
def _route(name: str, route: Route, up: float, down: float, speed: float | None) -> Profile:
    return of_route(name, route, up, down, speed)


@lru_cache(maxsize=32)
def _way(profile: Profile) -> Way:
    return _of(profile)


def profile_of(name: str, use: Use) -> Profile | tuple[Value, ...]:
    """Drive a use on paper, second by second; or say which values are missing for that."""
    if use.cycle is not None:
        return cycle_of(use.cycle)
    needed = [use.acceleration, use.braking]
    if use.stretch:
        needed += [value for _, each in use.stretches for value in _numbers(each)]
    else:
        needed.append(use.route.share)
        if use.route.known and use.route.needs_speed:
            needed.append(use.speed)
    missing = tuple(value for value in needed if not value.known)
    if missing:
        return missing
    up, down = use.acceleration.number or 0.0, use.braking.number or 0.0
    if not use.stretch:
        return _route(name, use.route, up, down, use.speed.number)
    stretches = (Stretch(*(v.number or 0.0 for v in _numbers(each))) for _, each in use.stretches)
    return _stretches(name, tuple(stretches), up, down)


def doubts_of(profile: Profile | tuple[Value, ...]) -> tuple[str, ...]:
    """Doubts about how long a way is, which what is driven on it bears too."""
    if not isinstance(profile, Profile):
        return ()
    return tuple(str(note) for note in profile.notes if note.of_distance)


def way_of(name: str, use: Use) -> Way | tuple[Value, ...]:
    """What is told of a use driven on paper; or which values are missing for that."""
    profile = profile_of(name, use)
    return _way(profile) if isinstance(profile, Profile) else profile


def _numbers(stretch: StretchRecord) -> tuple[Value, Value, Value, Value]:
    return stretch.length, stretch.speed, stretch.grade, stretch.stop


_SAID: tuple[tuple[FigureKind, Callable[[Way], float]], ...] = (
    (figures.USE_DISTANCE, lambda way: way.distance),
    (figures.USE_CLIMB, lambda way: way.climb),
    (figures.USE_DURATION, lambda way: way.duration),
    (figures.USE_STEEPEST, lambda way: way.steepest),
    (figures.USE_FASTEST, lambda way: way.fastest),
)


def ways(own: Own) -> Iterator[Figure]:
    """State distance, climb, duration, steepest grade and fastest speed of every use, once."""
    for name, use in own.use.items():
        way = way_of(name, use)
        moves = tuple(_moves(use, way)) if isinstance(way, Way) else ()
        state = Stating([(says, value) for says, value, _ in moves])
        for kind, of in _SAID:
            shifts = [of(shift) for _, _, shift in moves]
            yield kind.of(_stated(way, kind.kind, of, state, shifts), name)


def _stated(
    way: Way | tuple[Value, ...],
    kind: Kind,
    of: Callable[[Way], float],
    state: Stating,
    shifts: list[float],
) -> Value:
    if not isinstance(way, Way):
        lacks = {lack: None for value in way for lack in value.lacks}
        return Value(kind, None, lacks=tuple(lacks))
    value = state(kind, of(way), shifts)
    for note in way.notes:
        value = doubted(value, note)
    return value


def _moves(use: Use, way: Way) -> Iterator[tuple[str, Value, Way]]:
    """What has a band or is not firm, and how far it moves the way to first order."""
    if use.cycle is not None:
        every: list[tuple[str, Value, Way]] = []
    elif use.stretch:
        every = [move for key, each in use.stretches for move in _of_stretch(key, each, way)]
    else:
        band = use.route.share.band
        all_of_it = (band * way.distance, band * way.climb, band * way.duration)
        every = [("share of the way", use.route.share, Way(*all_of_it, 0.0, 0.0))]
    for says, value, move in every:
        if value.band or (value.given is not None and value.given.soft):
            yield says, value, move


def _of_stretch(key: str, stretch: StretchRecord, way: Way) -> list[tuple[str, Value, Way]]:
    """How far each input of a stretch moves the way over its band."""
    length, speed, grade, _ = (value.number or 0.0 for value in _numbers(stretch))
    along, faster, up, longer = (value.band for value in _numbers(stretch))
    slope = math.hypot(1.0, grade)
    climbs = along * max(0.0, grade) / slope
    higher = up * length / slope**3 if grade > 0 else 0.0
    steepest = up if grade >= way.steepest * (1.0 - _ROUND_OFF) else 0.0
    fastest = faster if speed >= way.fastest * (1.0 - _ROUND_OFF) else 0.0
    moves = (
        Way(along, climbs, along / speed, 0.0, 0.0),
        Way(0.0, 0.0, -length * faster / speed**2, 0.0, fastest),
        Way(0.0, higher, 0.0, steepest, 0.0),
        Way(0.0, 0.0, longer, 0.0, 0.0),
    )
    named = zip(("length", "speed", "grade", "stop"), _numbers(stretch), moves, strict=True)
    return [(f"{word} of {key.replace('_', ' ')}", value, move) for word, value, move in named]
