"""Ways to make route files and to read them through a build."""

from __future__ import annotations

from math import degrees

import pytest

from builders import SMALL, build_text
from wattwright.build.reader import parse_build
from wattwright.build.uses import Use
from wattwright.errors import BuildError, Problem
from wattwright.great_circle import EARTH_RADIUS
from wattwright.sampled import Route

PATH = "use.run.route"


def use_text(**fields: str) -> str:
    return build_text({f"use.run.{key}": value for key, value in fields.items()}, SMALL)


def use_of(content: str | bytes, name: str, **fields: str) -> Use:
    raw = content.encode() if isinstance(content, str) else content
    text = use_text(route=f'"{name}, measured, receiver"', **fields)
    return parse_build(text.encode(), read_file={name: raw}.__getitem__).build.use["run"]


def csv_route(content: str | bytes) -> Route:
    return use_of(content, "way.csv").route


def gpx_route(content: str | bytes, **fields: str) -> Route:
    return use_of(content, "way.gpx", **fields).route


def problems(content: str | bytes, name: str = "way.csv", **fields: str) -> tuple[Problem, ...]:
    with pytest.raises(BuildError) as caught:
        use_of(content, name, **fields)
    return caught.value.problems


def only(content: str | bytes, name: str = "way.csv", **fields: str) -> Problem:
    (problem,) = problems(content, name, **fields)
    assert problem.path == PATH
    assert problem.file == name
    assert problem.do
    return problem


def point(metres: float, height: float | str | None = 20.0, seconds: float | None = None) -> str:
    """A point so many metres north of a place in open sea."""
    ele = "" if height is None else f"<ele>{height}</ele>"
    time = "" if seconds is None else f"<time>{clock(seconds)}</time>"
    north = degrees(metres / EARTH_RADIUS) - 41.0
    return f'<trkpt lat="{north:.9f}" lon="-120.0">{ele}{time}</trkpt>'


def clock(seconds: float) -> str:
    whole, part = divmod(seconds, 1.0)
    minutes, second = divmod(int(whole), 60)
    return f"2026-05-10T{9 + minutes // 60:02d}:{minutes % 60:02d}:{second + part:06.3f}Z"


def gpx(*points: str) -> str:
    """A track of points from line 2 on, one on each line."""
    head = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
    return "\n".join([head, *points, "</trkseg></trk></gpx>"])


def texts(route: Route) -> list[str]:
    return [note.text for note in route.notes]


def note(route: Route, begins: str) -> tuple[str, str]:
    """Where and how much of the only note that begins so."""
    ((where, amount),) = [(n.where, n.amount) for n in route.notes if n.text.startswith(begins)]
    return where, amount
