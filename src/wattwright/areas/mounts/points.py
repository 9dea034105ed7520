"""Where every point is, and how the unit sits: what the adjustment found, resting on readings.

The search is done by ``wattwright adjust`` and kept in the build. Here its last step is taken once
more, which is linear in the readings: so a reading that changes a little is followed at once, and
every coordinate keeps the influence of each reading on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import sqrt
from typing import TYPE_CHECKING

from wattwright.areas.mounts.network import (
    AXES,
    LEVELS,
    Taken,
    digest,
    kind_of,
    network,
    set_aside,
    taken,
)
from wattwright.areas.mounts.turning import in_vehicle
from wattwright.build.presence import said
from wattwright.build.survey import Survey
from wattwright.descriptions.mounts import Angles, Place, Residual, Surveyed
from wattwright.kinds import COUNT, RATIO
from wattwright.physics import adjustment
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    given,
    lacking,
    without_band,
    worked,
)

if TYPE_CHECKING:
    from wattwright.point_network import Linear, Network

# Readings that together move a coordinate by less than this share of its band, each.
_LITTLE = 0.01
POSE = ("x", "y", "z", "yaw", "pitch", "roll")
ADJUST = "wattwright adjust works it out of all readings"


def surveyed(survey: Survey) -> Surveyed:
    """Coordinates of all points, the pose of the unit, and how well the readings agree."""
    finder = _Finder(survey)
    points = {name: finder.place(name) for name in survey.point}
    pose = {word: finder.unknown(f"unit.{word}") for word in POSE}
    zero = Place(pose["x"], pose["y"], pose["z"])
    turned = Angles(pose["yaw"], pose["pitch"], pose["roll"])
    on_unit = {name: point.on == "unit" for name, point in survey.point.items()}
    return Surveyed(
        points,
        on_unit,
        {
            name: in_vehicle(zero, turned, place) if on_unit[name] else place
            for name, place in points.items()
        },
        zero,
        turned,
        tuple(finder.residuals()),
        finder.spare(),
        finder.misfit(),
        finder.stale,
    )


@dataclass(frozen=True, eq=False)
class _Step:
    """The last step of the adjustment, with the readings it is taken from."""

    network: Network
    linear: Linear
    readings: tuple[Taken, ...]


class _Finder:
    """Takes the last step of the adjustment that the build keeps."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.all = taken(survey)
        aside = set_aside(survey)
        self.readings = tuple(each for each in self.all if each.name not in aside)
        self.start = _start(survey)
        self.stale = bool(self.start) and survey.adjusted.of != digest(survey)
        self.step = self._taken() if self.start and self.readings else None
        self._places: Mapping[str, int] = (
            {self.step.network.place(k): k for k in range(self.step.network.unknowns)}
            if self.step
            else {}
        )

    def _taken(self) -> _Step | None:
        """Take it from the readings of points that the search put somewhere."""
        from wattwright.point_network import linear

        unit = all(f"unit.{word}" in self.start for word in POSE)
        readings = tuple(each for each in self.readings if self._started_for(each, unit))
        if not readings:
            return None
        made = network(self.survey, readings)
        start = tuple(self.start.get(made.place(k), 0.0) for k in range(made.unknowns))
        return _Step(made, linear(made, start), readings)

    def _started_for(self, each: Taken, unit: bool) -> bool:
        on_unit = not each.sort.startswith("own_") and (
            each.sort in LEVELS or any(self.survey.point[n].on == "unit" for n in each.points)
        )
        there = all(f"{name}.{axis}" in self.start for name in each.points for axis in AXES)
        return there and (unit or not on_unit)

    def place(self, name: str) -> Place:
        """Coordinates of a point, in the axes of what it is on."""
        return Place(*(self.unknown(f"{name}.{axis}") for axis in AXES))

    def unknown(self, name: str) -> Value:
        """One of the unknowns: as adjusted, or as it was measured where nothing was adjusted."""
        step, kind = self.step, kind_of(name)
        if step is None or name not in self._places or name not in self.start:
            return self._as_measured(name)
        row = self._places[name]
        if not step.linear.told[row]:
            why = "no reading tells it; wattwright adjust says what to measure"
            return lacking(kind, Lack(_asking(name), name.replace("_", " "), why, ADJUST))
        gains, moving, rest = self._moving
        return worked(
            adjustment.adjusted,
            self._started(name, rest[row]),
            [constant(RATIO, gains[row][k]) for k in moving[row]],
            [step.readings[k].value for k in moving[row]],
            [self._fits[k] for k in moving[row]],
        )

    @cached_property
    def _moving(self) -> tuple[list[list[float]], list[list[int]], list[float]]:
        """Gains of every unknown, the readings that count for it, and what all others move it by.

        What hardly moves an unknown is left out of its working; it stands in where that starts.
        """
        import numpy as np

        if self.step is None:
            return [], [], []
        gains = self.step.linear.gains
        moves = np.abs(gains) * np.array([each.sd for each in self.step.readings])
        counts = moves > _LITTLE * np.sqrt((moves**2).sum(axis=1, keepdims=True))
        readings = np.array([each.value.number or 0.0 for each in self.step.readings])
        rest = np.where(counts, 0.0, gains) @ (readings - self.step.linear.fitting)
        return gains.tolist(), [np.flatnonzero(row).tolist() for row in counts], rest.tolist()

    @cached_property
    def _fits(self) -> list[Value]:
        """What each reading would be where the search ended."""
        if self.step is None:
            return []
        fits = self.step.linear.fitting.tolist()
        return [
            constant(each.value.kind, number)
            for each, number in zip(self.step.readings, fits, strict=True)
        ]

    def _started(self, name: str, rest: float) -> Value:
        """What the search found: worked out, or no longer firm where readings changed since."""
        kind, path = kind_of(name), f"survey.adjusted.{name}"
        detail = "of readings that have changed since: run wattwright adjust" if self.stale else ""
        origin = Origin.ASSUMED if self.stale else Origin.COMPUTED
        number = self.start[name] + rest
        text = "adjusted before the readings changed" if self.stale else "adjusted"
        label = f"{name.replace('_', ' ')}, as adjusted"
        return given(kind, number, Given(path, label, origin, text, detail=detail, how=ADJUST))

    def _as_measured(self, name: str) -> Value:
        owner, _, axis = name.rpartition(".")
        point = self.survey.point.get(owner)
        if point is not None:
            value: Value = getattr(point.at, axis)
            if value.known or not self._told_otherwise(owner):
                return value
        label = name.replace("_", " ")
        why = "not adjusted yet: run wattwright adjust"
        return lacking(kind_of(name), Lack("survey.adjusted", label, why, ADJUST, 1.0))

    def _told_otherwise(self, name: str) -> bool:
        return any(name in each.points for each in self.all)

    def residuals(self) -> list[Residual]:
        """Every reading against what fits the others, those set aside too."""
        if self.step is None:
            return []
        from wattwright.network_adjustment import checked, critical
        from wattwright.point_network import told_at

        step, most = self.step, critical(len(self.all))
        found = []
        for each, check in zip(step.readings, checked(step.network, step.linear), strict=True):
            fits = check.observation.reading - check.residual
            allowed = most * check.observation.sd * sqrt(check.share)
            found.append(_residual(each, fits, allowed, checks=check.checks, aside=False))
        outside = tuple(each for each in self.all if each not in step.readings)
        if outside:
            made = network(self.survey, outside)
            for each, fit in zip(outside, told_at(made, step.linear.numbers), strict=True):
                if all(f"{name}.{axis}" in self.start for name in each.points for axis in AXES):
                    found.append(_residual(each, float(fit), most * each.sd, True, aside=True))
        return found

    def spare(self) -> Value:
        """How many readings there are beyond what is needed."""
        if self.step is None:
            lack = Lack("survey.adjusted", "readings that check each other", "not adjusted", ADJUST)
            return lacking(COUNT, lack)
        return constant(COUNT, float(self.step.linear.spare), "readings less unknowns")

    def misfit(self) -> Value:
        """Root of the mean square of all residuals, each over its own standard deviation."""
        step, spare = self.step, self.spare()
        if step is None or not spare.number:
            return Value(RATIO, None, lacks=spare.lacks or (_NOTHING_SPARE,))
        return worked(
            adjustment.misfit,
            [without_band(each.value) for each in step.readings],
            self._fits,
            [constant(each.value.kind, each.sd) for each in step.readings],
            spare,
        )


_NOTHING_SPARE = Lack(
    "survey.distance",
    "a reading beyond what is needed",
    "nothing checks the readings",
    "tape between two points that are far apart; wattwright adjust says which",
)


def _residual(each: Taken, fits: float, allowed: float, checks: bool, aside: bool) -> Residual:
    kind = each.value.kind
    says = "what fits the other readings"
    fitting = constant(kind, fits, says)
    computed = Given("", says, Origin.COMPUTED, says, band=allowed)
    return Residual(
        each.name,
        each.sort,
        each.points,
        each.value,
        given(kind, fits, computed),
        worked(adjustment.residual, fitting, without_band(each.value)),
        constant(kind, allowed, "what the ± of the readings explain")
        if checks
        else lacking(kind, _NOTHING_SPARE),
        aside,
    )


def _start(survey: Survey) -> dict[str, float]:
    """Numbers that the search left in the build."""
    found: dict[str, float] = {}
    adjusted = survey.adjusted
    owners = {**adjusted.point, **({"unit": adjusted.pose} if said(adjusted.pose) else {})}
    for name, record in owners.items():
        for word in POSE if name == "unit" and record is adjusted.pose else AXES:
            value: Value = getattr(record, word)
            if value.number is not None:
                found[f"{name}.{word}"] = value.number
    return found


def _asking(name: str) -> str:
    """The field that would tell an unknown."""
    owner, _, axis = name.rpartition(".")
    if owner == "unit":
        return {"pitch": "survey.lengthwise", "roll": "survey.crosswise"}.get(axis, "survey.height")
    field = {"x": "behind", "y": "right", "z": "height"}[axis]
    return f"survey.{field}.{owner}"
