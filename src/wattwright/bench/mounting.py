"""Two sheets: taping the mounts before anything is cut, and checking the unit once it hangs."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import UNSAID, Build
from wattwright.descriptions.mounts import MountsDescription, Place, Posed
from wattwright.kinds import ANGLE, LENGTH, POSITION
from wattwright.units import Taste, write
from wattwright.values import Given, Origin, Value, given

_CAUTIONS = (
    (
        "A unit on a hoist or a jack can swing and fall: two holds at any time, stands under it, "
        "nobody beneath, no hand between unit and frame while it moves."
    ),
    "High voltage off and proven dead before a hand goes near cables of the unit.",
)
_TOOLS = (
    "tape, steel rule, calipers",
    "plumb bob and chalk",
    "digital level, set to zero on the vehicle's own level line",
)
_WORDS = {
    "distance": ("Tape from {first} to {second}, centre to centre, twice.", "tape"),
    "across_floor": ("Tape between the plumb marks of {first} and {second}.", "tape"),
    "slope": (
        "Level on a straight edge from {first} to {second}; turn it and read again.",
        "level",
    ),
    "height": ("Tape from the floor straight up to {first}.", "tape"),
    "behind": ("Plumb {first} down; tape from the line under the front wheel centres.", "tape"),
    "right": ("Plumb {first} down; tape from the middle line; left is below zero.", "tape"),
}
_LEVELS = {
    "lengthwise": "along a machined face of the unit; nose down is below zero",
    "crosswise": "across a machined face of the unit; right side down is below zero",
}


def measure_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Tape the mounts: every reading of the survey, and a level both ways."""
    del taste
    lines = [
        *_standing(),
        *_readings(build, assessment.descriptions.get(MountsDescription)),
        *_levels(),
    ]
    lines.append(
        Line(
            "adjust",
            "Put the readings in, run the adjustment, and read again what it names.",
            "survey",
            stop_if="it names a reading: read that one again before anything is cut",
        )
    )
    return Sheet(
        "measure_mounts",
        "Measuring the mounts",
        "Where unit and frame really are, by whatever can be reached. A few readings more than "
        "needed name the one that was misread; without them a slip is cut into steel.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _standing() -> Iterator[Line]:
    yield Line(
        "ready",
        "Vehicle on its wheels on a level floor, pressures set, loaded as it was weighed; rolled "
        "back and forth once.",
        "floor",
        "level, tyre gauge",
        stop_if="it has been lifted since: roll it again, springs stick",
    )
    yield Line(
        "marked",
        "Mark the middle line and the line under the front wheel centres on the floor.",
        "floor",
        "plumb bob, chalk line",
    )


def _readings(build: Build, found: MountsDescription | None) -> Iterator[Line]:
    survey = build.survey
    residuals = {each.name: each for each in found.surveyed.residuals} if found else {}
    for field, (act, tool) in _WORDS.items():
        for key in getattr(survey, field):
            if key == UNSAID:
                continue
            each = residuals.get(f"{field}.{key}")
            first, _, second = key.replace("_", " ").partition("-")
            yield Line(
                f"{field}_{key}",
                act.format(first=first, second=second),
                key.replace("_", " ").replace("-", " to ", 1) if second else first,
                tool,
                f"survey.{field}.{key}",
                ANGLE if field == "slope" else POSITION,
                each.expected if each is not None and each.limit.known else None,
            )


def _within(value: Value, band: float, label: str) -> Value:
    """A number with so wide a band around it."""
    origin = Given("", label, Origin.COMPUTED, label, band=band)
    return given(value.kind, value.number or 0.0, origin)


def _levels() -> Iterator[Line]:
    for name, where in _LEVELS.items():
        yield Line(
            name,
            f"Level {where}; turn it end for end and read again, the mean of both.",
            "unit",
            "level",
            f"survey.{name}",
            ANGLE,
        )


def pose_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Check the pose: level, shaft and brackets of the unit as it hangs, against what is wanted."""
    found = assessment.descriptions.get(MountsDescription)
    lines = [
        Line(
            "bolted",
            "All mounts bolted finger tight, the unit rocked once, then torqued in turns.",
            "mounts",
            "torque wrench",
            stop_if="a mount has to be drawn down onto a gap: shim it, never pull it",
        ),
        *(_hanging(build, found.posed, taste) if found else ()),
        Line(
            "witness",
            "Paint a line across every bolt head and its bracket; photograph the unit from both "
            "sides.",
            "mounts",
            "paint marker, camera",
        ),
    ]
    return Sheet(
        "check_pose",
        "Checking how the unit hangs",
        "That the unit hangs as it was worked out, before shafts go in: two readings of a level, "
        "the ends of its shaft, and every bracket.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _hanging(build: Build, posed: Posed, taste: Taste) -> Iterator[Line]:
    allowed = build.mounts.level_within.number or 0.0
    for name, value in (("crosswise", posed.level), ("lengthwise", posed.wanted.pitch)):
        known = value.known
        yield Line(
            name,
            f"Level {_LEVELS[name]}; turn it end for end and read again, the mean of both.",
            "unit",
            "level",
            f"survey.{name}",
            ANGLE,
            _within(value, allowed, "how far an angle may be off") if known else None,
            f"it is off by more than {write(allowed, ANGLE, taste)}: see what 1 mm does, and shim"
            if allowed
            else "",
        )
    mounts = build.mounts
    for name, place in zip((mounts.shaft_from, mounts.shaft_to), posed.shaft_wanted, strict=True):
        if name:
            yield from _shaft_end(name, place, build, taste)
    for mount in posed.mounts:
        yield Line(
            f"bracket_{mount.name}",
            "Measure from the hole of the vehicle straight to the hole of the unit.",
            mount.label,
            "calipers or steel rule",
            kind=LENGTH,
            expected=mount.length if mount.length.known else None,
        )


def _shaft_end(name: str, place: Place, build: Build, taste: Taste) -> Iterator[Line]:
    most = build.mounts.line_within.number or 0.0
    yield Line(
        f"shaft_{name}",
        f"Tape from the floor straight up to the middle of {name.replace('_', ' ')}.",
        name.replace("_", " "),
        "tape",
        f"survey.height.{name}",
        POSITION,
        place.z if place.z.known else None,
        f"it is off by more than {write(most, LENGTH, taste)}: the joints take up the rest",
    )
