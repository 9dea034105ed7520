"""Two sheets of the half-shafts: angle and way at three heights, and putting them together."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.half_shafts import HalfShaft
from wattwright.build.model import Build
from wattwright.descriptions.half_shafts import HalfShaftFound
from wattwright.descriptions.mounts import MountsDescription
from wattwright.kinds import ANGLE, LENGTH, TORQUE
from wattwright.units import Taste, write

_HEIGHTS = {
    "ride": "at ride height",
    "bump": "with the bump stop pressed",
    "droop": "hanging",
}
_CAUTIONS = (
    (
        "Vehicle on stands under the body, wheels off, springs out or held; the jack under the hub "
        "only moves it. Nobody under a vehicle on a jack, and no hand at a joint while it moves."
    ),
    "Motor dead: service disconnect out, plugs off. A shaft that turns by itself takes a hand.",
)
_TOOLS = (
    "stands, jack, block",
    "digital level or two rules, calipers, tape",
    "grease or paint for marks",
)


def angles_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Move the hub through its travel, and read each half-shaft at three heights."""
    found = _found(assessment)
    lines = [
        Line(
            "marks",
            "Put a mark of grease on each shaft where it leaves the inner joint.",
            "both shafts",
            "grease",
        )
    ]
    for name in build.half_shaft:
        lines += _travel(name, build, found.get(name), taste)
    return Sheet(
        "half_shaft_angles",
        "Half-shafts at three heights",
        "That no joint bends further than it may and no shaft bottoms or comes apart, before the "
        "vehicle stands on its wheels: at ride height, at bump and hanging.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _found(assessment: Assessment) -> dict[str, HalfShaftFound]:
    found = assessment.descriptions.get(MountsDescription)
    return dict(found.half_shafts) if found else {}


def _travel(name: str, build: Build, found: HalfShaftFound | None, taste: Taste) -> Iterator[Line]:
    words = name.replace("_", " ")
    shaft = build.half_shaft[name]
    for field, what in (("bump", "up to the bump stop pressed"), ("droop", "down to hanging")):
        yield Line(
            f"{name}_{field}",
            f"Measure how far the hub goes {what}, from ride height.",
            words,
            "tape",
            f"half_shaft.{name}.{field}",
            LENGTH,
            getattr(shaft, field) if getattr(shaft, field).known else None,
        )
    for field, what in (("plunge_in", "pushed in"), ("plunge_out", "pulled out")):
        yield Line(
            f"{name}_{field}",
            f"At ride height measure how far the shaft can still be {what}.",
            words,
            "calipers",
            f"half_shaft.{name}.{field}",
            LENGTH,
            getattr(shaft, field) if getattr(shaft, field).known else None,
        )
    most = {"inner": shaft.inner_most, "outer": shaft.outer_most}
    for height, where in _HEIGHTS.items():
        for joint in ("inner", "outer"):
            at = found.at[height] if found else None
            value = getattr(at, f"{joint}_angle") if at else None
            limit = most[joint].number
            yield Line(
                f"{name}_{height}_{joint}",
                f"Read the angle of the {joint} joint {where}, in side view and in plan: the root "
                "of the sum of their squares.",
                words,
                "level or rules",
                kind=ANGLE,
                expected=value if value is not None and value.known else None,
                stop_if=f"it is more than {write(limit, ANGLE, taste)}: do not turn it"
                if limit
                else "",
            )
    if not shaft.steer.absent:
        yield from _locks(name, shaft, found, taste)
    yield Line(
        f"{name}_turn",
        "Turn the shaft by hand at all three heights: it runs free and touches nothing.",
        words,
        stop_if="it binds or knocks at any height: find out where before it is driven",
    )


def _locks(
    name: str, shaft: HalfShaft, found: HalfShaftFound | None, taste: Taste
) -> Iterator[Line]:
    words = name.replace("_", " ")
    yield Line(
        f"{name}_steer",
        "Straight ahead, then full lock both ways: how far the wheel turns, the larger one.",
        words,
        "turntable or chalk line",
        f"half_shaft.{name}.steer",
        ANGLE,
        shaft.steer if shaft.steer.known else None,
    )
    value = found.outer_steered if found else None
    limit = shaft.outer_most.number
    yield Line(
        f"{name}_lock_outer",
        "At full lock, hanging and at the bump stop: read the angle of the outer joint, in side "
        "view and in plan; the largest one.",
        words,
        "level or rules",
        kind=ANGLE,
        expected=value if value is not None and value.known else None,
        stop_if=f"it is more than {write(limit, ANGLE, taste)}, or anything touches"
        if limit
        else "anything touches",
    )


def reassembly_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Put the half-shafts together: rings, boots, grease, marks, hub nuts."""
    del assessment, taste
    lines: list[Line] = []
    for name in list(build.half_shaft) or ["half_shaft"]:
        lines += _together(name)
    return Sheet(
        "half_shaft_reassembly",
        "Putting half-shafts together",
        "Rings, boots, grease and nuts, one shaft after the other, so that nothing is forgotten "
        "that only shows at speed.",
        _CAUTIONS,
        (
            "new rings, boots, clips and hub nuts",
            "the maker's grease, a scale",
            "torque wrench, ring pliers, goggles",
        ),
        tuple(lines),
    )


def _together(name: str) -> Iterator[Line]:
    words = name.replace("_", " ")

    def line(what: str, act: str, tool: str = "", stop: str = "") -> Line:
        return Line(f"{name}_{what}", act, words, tool, stop_if=stop)

    yield line(
        "clean",
        "Clean the joint dry; look at balls, rollers and tracks under a lamp.",
        "lamp",
        "there are pits, blue colour or a ridge that a nail catches on: another joint",
    )
    yield line(
        "ring",
        "Put in a new ring, feel that it springs all round into its groove, and pull the shaft.",
        "ring pliers, goggles",
        "it does not sit to the bottom of the groove, or had to be ground to fit",
    )
    yield Line(
        f"{name}_grease",
        "Weigh the grease in, half into the joint and half into the boot, as the maker says.",
        words,
        "scale",
    )
    yield line(
        "boot",
        "Boot straight and not twisted, let air in with a blunt rod at ride height, clips closed.",
        "clip pliers",
        "a clip turns by hand",
    )
    yield line(
        "mark", "Put a mark of grease on the shaft where it leaves the inner joint.", "grease"
    )
    yield Line(
        f"{name}_nut",
        "Hub nut new and torqued as the maker says, wheel on the floor, then locked.",
        words,
        "torque wrench",
        kind=TORQUE,
        stop_if="there is play at the wheel, held top and bottom",
    )
    yield line(
        "driven",
        "After the first kilometres look at the mark: where the grease is wiped, it went.",
        "lamp",
        "less than the wanted way is left at either end",
    )
