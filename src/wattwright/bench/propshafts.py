"""Two sheets for propshafts: angles and slip at three heights, and how the forks stand."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import Build
from wattwright.build.propshafts import Axis, Propshaft
from wattwright.descriptions.mounts import MountsDescription
from wattwright.descriptions.propshafts import PropshaftFound
from wattwright.kinds import ANGLE, LENGTH, POSITION
from wattwright.units import Taste

_CAUTIONS = (
    (
        "Stands under the frame, wheels chocked, before springs hang or come out. Nobody crawls "
        "under a vehicle that runs on stands: a joint that binds at full droop lets go."
    ),
    (
        "High voltage off and proven dead, motor unable to turn: fingers are between forks and "
        "floor here."
    ),
    (
        "A loop or guard round the front end of every shaft before it turns under power, and the "
        "shaft balanced after any weld or cut."
    ),
)
_LEVEL = "digital level"
_TOOLS = (
    _LEVEL + ", turned end for end for every reading",
    "rule, scriber, paint marker",
    "jack, stands, chocks",
    "modelling clay for the forks",
)
_BINDS = (
    "it binds anywhere, or clay between the forks is squeezed through: take the travel back by "
    "bump stops or straps before it is driven"
)
_HEIGHTS = {
    "ride": ("At ride height", "On its wheels on a level floor, rolled back and forth once."),
    "bump": ("On the bump stops", "Springs out or held, axle jacked onto its bump stops."),
    "droop": ("Wheels hanging", "Frame on stands, both wheels hanging free."),
}

_ZERO = Line(
    "zero",
    "Level set to zero on the vehicle's own level line, where the frame is straight.",
    "frame",
    _LEVEL,
    stop_if="it shows more than a tenth of a degree when it is turned end for end: set it anew",
)
_CLEAN = Line(
    "clean",
    "Shaft on its blocks and clean; sliding piece free by hand, no joint stiff or loose.",
    "bench",
    "V-blocks",
    stop_if="a joint catches or has play: new joints first, everything else follows them",
)


def shaft_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Read level and slip at ride height, on the bump stops and with the wheels hanging."""
    del taste
    lines = [_ZERO]
    for name, record in _judged(build):
        lines += _at_heights(name, record, _found(name, assessment))
    return Sheet(
        "propshaft_angles",
        "Shaft angles and plunge at three heights",
        "What the joints are bent by, and what is left of the slip, where the axle goes. Read "
        "before the motor's mounts are welded, and again once everything is in.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _judged(build: Build) -> list[tuple[str, Propshaft]]:
    """Those that are or will be in the vehicle."""
    return [(name, each) for name, each in build.propshaft.items() if not each.compared_only]


def _found(name: str, assessment: Assessment) -> PropshaftFound | None:
    found = assessment.descriptions.get(MountsDescription)
    return found.propshafts.found.get(name) if found else None


def _at_heights(name: str, record: Propshaft, found: PropshaftFound | None) -> Iterator[Line]:
    for height, (where, act) in _HEIGHTS.items():
        yield Line(f"{name}_{height}_ready", act, where, "jack, stands" if height != "ride" else "")
        if height != "ride":
            travel = getattr(record, height).by
            yield Line(
                f"{name}_{height}_travel",
                "How far the joint of the pinion is from its place at ride height.",
                where,
                "rule, plumb bob",
                f"propshaft.{name}.{height}.by",
                LENGTH,
                travel if travel.known else None,
            )
        yield from _levels(name, record, found, height)
        slip = found.lines[height].slip if found is not None else None
        yield Line(
            f"{name}_{height}_slip",
            "Slip pulled out: from the mark of pushed in to the edge of the sliding piece.",
            where,
            "rule",
            f"propshaft.{name}.slip_at_ride" if height == "ride" else "",
            LENGTH if height == "ride" else POSITION,
            slip if slip is not None and slip.known else None,
            "" if height == "ride" else "less than the spare is left at either end: another length",
        )
        if height != "ride":
            turn = "Turn the shaft by hand a whole turn, clay between the arms of every fork."
            yield Line(f"{name}_{height}_turned", turn, where, "hand, clay", stop_if=_BINDS)


def _levels(
    name: str, record: Propshaft, found: PropshaftFound | None, height: str
) -> Iterator[Line]:
    """A level on every axis; away from ride height on those alone that move."""
    moving = {each for each, _ in (*record.shafts[-1:], *record.axes[-1:])}
    for each, axis in record.axes:
        if height != "ride" and each not in moving:
            continue
        rise = found.lines[height].axes[each].rise if found is not None else None
        yield Line(
            f"{name}_{height}_{each}",
            f"Level on {_called(each, axis)}, on the machined face or along the tube; rear end "
            "down is below zero.",
            _HEIGHTS[height][0],
            _LEVEL,
            f"propshaft.{name}.axis.{each}.rise" if height == "ride" else "",
            ANGLE,
            rise if rise is not None and rise.known else None,
        )


def _called(name: str, axis: Axis) -> str:
    return axis.label or name.replace("_", " ")


def phasing_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Check how the forks of every shaft stand, before it goes in."""
    del assessment, taste
    return Sheet(
        "propshaft_phasing",
        "Forks of the propshaft",
        "That both forks of every shaft stand as they should. One tooth of the spline off, or a "
        "fork welded crooked, and the joints no longer make up for each other.",
        _CAUTIONS[1:],
        ("V-blocks or rollers", _LEVEL, "paint marker", "dial gauge on a stand"),
        (_CLEAN, *_forks(build)),
    )


def _forks(build: Build) -> Iterator[Line]:
    for name, record in _judged(build):
        for each, axis in record.axes[1:-1]:
            yield from _phasing(f"propshaft.{name}.axis.{each}", f"{name}_{each}", axis)


def _phasing(path: str, name: str, axis: Axis) -> Iterator[Line]:
    where = axis.label or name.replace("_", " ")
    meant = (
        "A cap of each fork lies in one line along the tube."
        if axis.yokes == "in line"
        else "A cap of one fork lies a quarter turn from those of the other."
    )
    yield Line(
        f"{name}_marked",
        "Before it is pulled apart: a line of paint across the sliding piece and the tube.",
        where,
        "paint marker",
    )
    yield Line(
        f"{name}_seen", meant, where, "eye", stop_if="they stand otherwise: pull, turn, push"
    )
    yield Line(
        f"{name}_error",
        "On blocks: level across the caps of the front fork set to zero, then across those of the "
        "rear fork; seen from behind, clockwise is above zero.",
        where,
        _LEVEL,
        f"{path}.phase_error",
        ANGLE,
        axis.phase_error if axis.phase_error.known else None,
        "it is off by more than a degree or two, common practice: turn the spline a tooth, or back "
        "to whoever welded it",
    )
    yield Line(
        f"{name}_runout",
        "Turned on its blocks: how far the tube wanders at its middle, end to end of the pointer.",
        where,
        "dial gauge",
        kind=LENGTH,
        stop_if="it wanders by more than whoever balances shafts accepts",
    )
