"""Rows of the bench about mounts: a survey adjusted, and the area on a build that lies open."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from wattwright.areas.mounts import Mounts
from wattwright.build.reader import open_build
from wattwright.descriptions import Descriptions
from wattwright.network_adjustment import adjust
from wattwright.point_network import At, Network, Observation

RUNABOUT = Path(__file__).resolve().parents[1] / "examples" / "island-runabout"
POINTS, ON_UNIT, READINGS = 25, 6, 60
_RUNS = 9
_SD = 0.001


def rows() -> list[tuple[str, str, str]]:
    """Measure and return what, figure and target."""
    network, start = survey()
    return [
        ("60 readings, 25 points adjusted", f"{_ms(lambda: adjust(network, start))}", "200 ms"),
        ("mounts described and judged, warm", _ms(_area()), "at most 15 ms"),
    ]


def survey() -> tuple[Network, list[float]]:
    """Make up a survey: known coordinates of all points, and readings between them."""
    draws = np.random.default_rng(25)
    own = draws.uniform((0.0, -0.7, 0.1), (3.0, 0.7, 0.9), (POINTS, 3))
    second = tuple(place >= POINTS - ON_UNIT for place in range(POINTS))
    own[POINTS - ON_UNIT :] = draws.uniform(-0.25, 0.25, (ON_UNIT, 3))
    pose = (2.0, 0.01, 0.3, 0.01, 0.04, -0.02)
    true = np.concatenate([own.ravel(), pose])
    names = tuple(f"p{place}" for place in range(POINTS))
    given = [
        Observation(f"at.{place}.{axis}", f"own_{axis}", (place,), 0.0, _SD)  # type: ignore[arg-type]
        for place in range(POINTS)
        for axis in "xyz"
    ]
    pairs: list[Observation] = []
    while len(pairs) < READINGS:
        first, other = (int(each) for each in draws.integers(0, POINTS, 2))
        if first != other:
            pairs.append(Observation(f"{len(pairs)}", "distance", (first, other), 0.0, _SD))
    blank = Network(names, second, (*given, *pairs))
    fits = At(blank, true).all()[0]
    noisy = fits + draws.normal(0.0, _SD, len(fits))
    read = tuple(
        Observation(each.name, each.sort, each.points, float(reading), each.sd)
        for each, reading in zip(blank.observations, noisy, strict=True)
    )
    return Network(names, second, read), (true + draws.normal(0.0, 0.03, len(true))).tolist()


def _area() -> Callable[[], None]:
    area = Mounts()
    opened = open_build(RUNABOUT)
    own = area.own(opened.build)

    def once() -> None:
        made = area.describe(own, Descriptions())
        for said in area.judge(own, Descriptions([made]), opened.build.rules):
            getattr(said, "verdict", None)

    return once


def _ms(work: Callable[[], object]) -> str:
    work()
    times = []
    for _ in range(_RUNS):
        started = time.perf_counter()
        work()
        times.append(time.perf_counter() - started)
    return f"{1e3 * sorted(times)[_RUNS // 2]:.1f} ms"
