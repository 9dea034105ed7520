"""Two sheets: weighing the donor before anything comes out, and the conversion when it stands."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import UNSAID, Build
from wattwright.descriptions.vehicle import Standing, VehicleDescription
from wattwright.kinds import MASS
from wattwright.units import Taste, write
from wattwright.values import Value

WHEELS = {
    "fl": "front left",
    "fr": "front right",
    "rl": "rear left",
    "rr": "rear right",
}
_SCALES = "wheel scales"
_CAUTIONS = (
    (
        "A vehicle off its wheels can roll or fall: chocks at the wheels on the floor, stands "
        "under the maker's lifting points, the jack never alone, nobody inside or underneath."
    ),
    (
        "Four scales or blocks of one height on a level floor: a wheel 10 mm higher carries more "
        "than it will on the road."
    ),
)
_ALIVE = (
    (
        "The traction pack is live, key or no key. Covers stay shut, the service disconnect is out "
        "while hands are near it, and nobody works on high voltage alone."
    ),
)
_TOOLS = (
    "four wheel scales, or one and three blocks of its height",
    "a sack or a can of known weight, 20 kg or more",
    "level, chocks, tyre gauge, camera",
)


def donor_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Weigh the donor as found: the only chance to know what stood where."""
    weighed = build.donor.weighed
    lines = [
        *_before("donor.weighed", build, weighed.aboard),
        *(
            _wheel(f"donor.weighed.{name}", name, getattr(weighed, name), build, taste)
            for name in WHEELS
        ),
        _after(),
    ]
    del assessment
    return Sheet(
        "weigh_donor",
        "Weighing the donor",
        "What every wheel of the donor carries before a single bolt is undone. All later masses, "
        "places and axle loads begin here; once the engine is out, it cannot be made good.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def weigh_in_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Weigh the conversion, and hold it against the book of what is fitted."""
    expected = _fitted(assessment)
    lines = [
        *_before("weigh_in", build, build.weigh_in.aboard),
        *(
            _wheel(
                f"weigh_in.{name}",
                name,
                getattr(expected, name) if expected is not None else None,
                build,
                taste,
            )
            for name in WHEELS
        ),
        _after(),
    ]
    return Sheet(
        "weigh_in",
        "Weigh-in of the conversion",
        "What every wheel carries now, against the book of everything that came out and went in. "
        "Where the two differ, something is missing in the book, or stands elsewhere.",
        (*_ALIVE, *_CAUTIONS),
        _TOOLS,
        tuple(lines),
    )


def _before(section: str, build: Build, aboard: dict[str, Value]) -> Iterator[Line]:
    yield Line(
        "ready",
        "Set the tyre pressures, park on the four places, wheels straight, brakes off, chocks "
        "loose at two wheels. Roll it back and forth once.",
        "level floor",
        "level, tyre gauge",
        stop_if="the four places differ by more than 5 mm: level them first",
    )
    yield Line(
        "scales",
        "Put the known weight on each scale in turn and note what the worst one is off.",
        "each scale, empty",
        _SCALES,
        kind=MASS,
        stop_if="a scale is off by more than its papers say: leave it out or note its error",
    )
    yield Line(
        "nobody",
        "Nobody inside, doors shut, everything loose out of it, or written down below.",
        "cabin and bed",
    )
    tanks = [name for name, place in build.place.items() if place.role == "tank"]
    there = [name for name in aboard if name != UNSAID]
    for name in dict.fromkeys([*(tanks if section.startswith("donor") else ()), *there]):
        label = build.place[name].label if name in build.place else ""
        value = aboard.get(name)
        yield Line(
            f"aboard_{name}",
            f"Write down what is aboard here: {label or name.replace('_', ' ')}.",
            "aboard",
            "scale; fuel from the gauge or what was filled in",
            f"{section}.aboard.{name}",
            MASS,
            value if value is not None and value.known else None,
        )


def _wheel(path: str, name: str, expected: Value | None, build: Build, taste: Taste) -> Line:
    axle = build.donor.front if name[0] == "f" else build.donor.rear
    stop = ""
    if axle.limit.number is not None:
        half = write(axle.limit.number / 2, MASS, taste)
        stop = f"it shows more than {half}, half of what the axle may carry: look for what is wrong"
    return Line(
        name,
        f"Read the scale under the {WHEELS[name]} wheel when it has settled.",
        f"{WHEELS[name]} wheel",
        _SCALES,
        path,
        MASS,
        expected if expected is not None and expected.known else None,
        stop,
    )


def _after() -> Line:
    return Line(
        "photo",
        "Photograph the four displays and the vehicle on them, then read all four once more.",
        "all four",
        "camera",
        stop_if="a second reading differs by more than the scales may be off: roll it and begin "
        "again",
    )


def _fitted(assessment: Assessment) -> Standing | None:
    found = assessment.descriptions.get(VehicleDescription)
    return found.to_draw().fitted.get("kerb") if found else None
