"""What a way was told with: each input of it, and the way driven with another number for it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from wattwright.areas.drive.ways import profile_of
from wattwright.build.uses import Stretch, Use
from wattwright.build.vehicle import Targets
from wattwright.descriptions.duty import WayInput
from wattwright.uses.inputs import Trace
from wattwright.uses.moved import farther, faster, lengthened, steeper
from wattwright.uses.profile import Profile
from wattwright.uses.traces import trace_of
from wattwright.values import Value

# No stretch is shorter, no speed and no acceleration lower, no way shorter by more; in SI.
_SHORTEST, _SLOWEST, _GENTLEST, _LEAST = 1.0, 0.5, 0.05, -0.9


def way_inputs(name: str, use: Use) -> tuple[WayInput, ...]:
    """Every input of the way that may be otherwise: what has a band, or is not firm."""
    return _that_count(_every(name, use))


def hill_inputs(wanted: Targets) -> tuple[WayInput, ...]:
    """Every input of the hill wanted that may be otherwise."""
    speed, grade, length = wanted.hill_speed, wanted.hill_grade, wanted.hill_length
    longer = partial(_longer, 0.0, math.inf, length.number or 0.0)
    up = partial(_up, 0.0, math.inf, grade.number or 0.0)
    return _that_count(
        (
            WayInput("length of the hill", length, longer, _SHORTEST),
            WayInput("grade of the hill", grade, up),
            WayInput("speed on the hill", speed, partial(_faster, speed.number or 1.0), _SLOWEST),
        )
    )


def _that_count(every: Iterable[WayInput]) -> tuple[WayInput, ...]:
    return tuple(each for each in every if each.value.band or _soft(each.value))


def _soft(value: Value) -> bool:
    return value.given is not None and value.given.soft


def _every(name: str, use: Use) -> Iterator[WayInput]:
    if use.cycle is not None:
        return
    if use.stretch:
        yield from _of_stretches(name, use)
    else:
        yield WayInput("share of the way", use.route.share, farther, _LEAST)
        if use.route.needs_speed:
            yield _anew(name, use, "speed", _SLOWEST)
    if use.stretch or not use.route.times:
        for word in ("acceleration", "braking"):
            yield _anew(name, use, word, _GENTLEST)


def _of_stretches(name: str, use: Use) -> Iterator[WayInput]:
    begin = 0.0
    for key, stretch in use.stretches:
        length, grade = stretch.length, stretch.grade
        end = begin + (length.number or 0.0)
        says = key.replace("_", " ")
        longer = partial(_longer, begin, end, length.number or 0.0)
        yield WayInput(f"length of {says}", length, longer, _SHORTEST)
        yield WayInput(f"grade of {says}", grade, partial(_up, begin, end, grade.number or 0.0))
        for word, least in (("speed", _SLOWEST), ("stop", 0.0)):
            moved = partial(_stretch_anew, name, use, key, word)
            yield WayInput(f"{word} of {says}", getattr(stretch, word), moved, least)
        begin = end


def _longer(begin: float, end: float, length: float, trace: Trace, number: float) -> Trace:
    return lengthened(trace, begin, end, number - length)


def _up(begin: float, end: float, grade: float, trace: Trace, number: float) -> Trace:
    return steeper(trace, begin, end, number - grade)


def _faster(speed: float, trace: Trace, number: float) -> Trace:
    return faster(trace, number / speed)


def _anew(name: str, use: Use, word: str, least: float) -> WayInput:
    """Build the way anew with another number for a field of the use."""
    value = getattr(use, word)

    def moved(_: Trace, number: float) -> Trace:
        return _trace(name, use.model_copy(update={word: replace(value, number=number)}))

    return WayInput(word, value, moved, least)


def _stretch_anew(name: str, use: Use, key: str, word: str, _: Trace, number: float) -> Trace:
    """Build the way anew with another number for a field of one of its stretches."""
    stretch: Stretch = use.stretch[key]
    other = stretch.model_copy(update={word: replace(getattr(stretch, word), number=number)})
    return _trace(name, use.model_copy(update={"stretch": {**use.stretch, key: other}}))


def _trace(name: str, use: Use) -> Trace:
    profile = profile_of(name, use)
    if not isinstance(profile, Profile):
        raise TypeError("only a way of which everything is known is moved")
    return trace_of(profile)
