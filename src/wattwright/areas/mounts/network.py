"""The survey of a build as a network: its points, and every reading of them as an observation.

Plain numbers go to the search; the values stay beside them, so that what is found rests on every
reading.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wattwright.build.survey import Survey, pair
from wattwright.kinds import ANGLE, POSITION, Kind
from wattwright.units import read
from wattwright.values import Value

if TYPE_CHECKING:
    from wattwright.point_network import Network, Sort

# A band holds 95 of 100: so many standard deviations of a normal distribution.
BAND_IN_SD = 1.96
# Nothing that a builder reads is closer than this, whatever was typed.
CLOSEST = {POSITION.name: read("0.05 mm", POSITION).number, ANGLE.name: read("0.01°", ANGLE).number}
LEVELS = ("lengthwise", "crosswise")
AXES = ("x", "y", "z")
# Fields of the survey that hold readings of two points, and of one.
_PAIRS: Mapping[str, Sort] = {
    "distance": "distance",
    "across_floor": "across_floor",
    "slope": "slope",
}
_SINGLES: Mapping[str, Sort] = {"behind": "x", "right": "y", "height": "z"}
FIELDS = (*_PAIRS, *_SINGLES)


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """One reading of the survey, its value, and the points it is of, by name."""

    name: str
    sort: Sort
    points: tuple[str, ...]
    value: Value

    @property
    def path(self) -> str:
        """Where it stands in the build file."""
        if self.sort.startswith("own_"):
            return f"survey.point.{self.points[0]}.at.{self.sort[-1]}"
        return f"survey.{self.name}"

    @property
    def sd(self) -> float:
        """Standard deviation, SI."""
        return max(self.value.band, CLOSEST[self.value.kind.name]) / BAND_IN_SD


def taken(survey: Survey) -> tuple[Taken, ...]:
    """List every reading that has a number, those set aside too."""
    return tuple(each for each in _all(survey) if each.value.known)


def _all(survey: Survey) -> Iterator[Taken]:
    for name, point in survey.point.items():
        for axis in AXES:
            yield Taken(f"at.{name}.{axis}", _own(axis), (name,), getattr(point.at, axis))
    for field, sort in _PAIRS.items():
        for key, value in getattr(survey, field).items():
            named = pair(key, survey.point)
            if named is not None:
                yield Taken(f"{field}.{key}", sort, named, value)
    for field, sort in _SINGLES.items():
        for key, value in getattr(survey, field).items():
            if key in survey.point:
                yield Taken(f"{field}.{key}", sort, (key,), value)
    yield Taken("lengthwise", "lengthwise", (), survey.lengthwise)
    yield Taken("crosswise", "crosswise", (), survey.crosswise)


def _own(axis: str) -> Sort:
    sorts: Mapping[str, Sort] = {"x": "own_x", "y": "own_y", "z": "own_z"}
    return sorts[axis]


def set_aside(survey: Survey) -> frozenset[str]:
    """Names of the readings that are set aside."""
    return frozenset(name.strip() for name in survey.set_aside.split(",") if name.strip())


def network(survey: Survey, readings: tuple[Taken, ...]) -> Network:
    """Make the network of some readings."""
    from wattwright.point_network import Network, Observation

    names = tuple(survey.point)
    place = {name: number for number, name in enumerate(names)}
    observations = tuple(
        Observation(
            each.name,
            each.sort,
            tuple(place[name] for name in each.points),
            each.value.number or 0.0,
            each.sd,
        )
        for each in readings
    )
    return Network(names, tuple(p.on == "unit" for p in survey.point.values()), observations)


def kind_of(unknown: str) -> Kind:
    """Kind of one of the unknowns, by its name."""
    return ANGLE if unknown.rpartition(".")[2] in ("yaw", "pitch", "roll") else POSITION


def digest(survey: Survey) -> str:
    """Short digest of everything that an adjustment follows from."""
    seen = hashlib.sha256()
    for name, point in survey.point.items():
        seen.update(f"{name} {point.on}\n".encode())
    aside = set_aside(survey)
    for each in taken(survey):
        left_out = each.name in aside
        seen.update(f"{each.name} {each.value.number!r} {each.sd!r} {left_out}\n".encode())
    return seen.hexdigest()[:16]
