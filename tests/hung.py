"""A power unit on three mounts, taped with round numbers, and ways to change it.

True pose: the unit's zero at 1 m back, 0.3 m up, level and straight. Mounts on the unit: one in
front at (-0.3, 0, 0.1), two behind at (0.2, ∓0.2, 0.1); the shaft lies across through the zero.
"""

from __future__ import annotations

from wattwright.areas.mounts.adjusting import adjust_survey, edits
from wattwright.build.edits import splice
from wattwright.build.reader import Opened, parse_build

UNIT = {
    "end_left": (0.0, -0.25, 0.0),
    "end_right": (0.0, 0.25, 0.0),
    "nose": (-0.3, 0.0, 0.1),
    "back_left": (0.2, -0.2, 0.1),
    "back_right": (0.2, 0.2, 0.1),
}
VEHICLE = {
    "hub_left": (1.0, -0.6, 0.3),
    "hub_right": (1.0, 0.6, 0.3),
    "nose_hole": (0.7, 0.0, 0.35),
    "left_hole": (1.2, -0.2, 0.36),
    "right_hole": (1.2, 0.2, 0.36),
}
HEAD = {"format": "1", "build.name": '"Hung"', "build.currency": '"EUR"'}


def _points() -> dict[str, str]:
    lines: dict[str, str] = {}
    for on, points in (("unit", UNIT), ("vehicle", VEHICLE)):
        for name, place in points.items():
            lines[f"survey.point.{name}.on"] = f'"{on}"'
            for axis, number in zip("xyz", place, strict=True):
                lines[f"survey.point.{name}.at.{axis}"] = f'"{number} m ± 0.001, measured"'
    return lines


def _placed(name: str) -> tuple[float, float, float]:
    if name in VEHICLE:
        return VEHICLE[name]
    x, y, z = UNIT[name]
    return 1.0 + x, y, 0.3 + z


def taped(first: str, second: str) -> str:
    """The true distance between two points, as it would be typed."""
    length = sum((a - b) ** 2 for a, b in zip(_placed(first), _placed(second), strict=True)) ** 0.5
    return f'"{length:.6f} m ± 0.002, measured, tape"'


PAIRS = (
    *(("nose", hub) for hub in ("hub_left", "hub_right")),
    *(("back_left", hub) for hub in ("hub_left", "hub_right", "nose_hole")),
    *(("back_right", hub) for hub in ("hub_left", "hub_right", "nose_hole")),
    ("nose", "left_hole"),
    ("nose", "right_hole"),
)
READINGS = {
    **{f"survey.distance.{one}-{other}": taped(one, other) for one, other in PAIRS},
    **{
        f"survey.height.{name}": '"0.4 m ± 0.002, measured, tape"'
        for name in ("nose", "back_left", "back_right")
    },
    "survey.lengthwise": '"0° ± 0.2, measured, level"',
    "survey.crosswise": '"0° ± 0.2, measured, level"',
}
MOUNTS = {
    "mounts.shaft_from": '"end_left"',
    "mounts.shaft_to": '"end_right"',
    "mounts.line_from": '"hub_left"',
    "mounts.line_to": '"hub_right"',
    "mounts.wanted.pitch": '"0°"',
    "mounts.wanted.share": f'"{0.35 / 1.2!r}"',
    "mounts.level_within": '"0.5°"',
    "mounts.line_within": '"3 mm"',
    "mounts.forced_within": '"1 mm"',
    **{
        f"mounts.mount.{name}.{field}": f'"{point}"'
        for name, points in (
            ("front", ("nose", "nose_hole")),
            ("left", ("back_left", "left_hole")),
            ("right", ("back_right", "right_hole")),
        )
        for field, point in zip(("unit_point", "vehicle_point"), points, strict=True)
    },
}
HUNG: dict[str, str] = {**HEAD, **_points(), **READINGS, **MOUNTS}


def hung(changes: dict[str, str | None] | None = None) -> Opened:
    """Read the build, with changes; a change to None leaves the value out."""
    lines = {**HUNG, **(changes or {})}
    text = "".join(f"{path} = {value}\n" for path, value in lines.items() if value is not None)
    return parse_build(text.encode())


def adjusted(changes: dict[str, str | None] | None = None) -> Opened:
    """The same with what the adjustment found kept in it."""
    before = hung(changes)
    return parse_build(splice(before.source, edits(adjust_survey(before))).encode())
