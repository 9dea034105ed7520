"""The sheet for truing a coupling with a dial indicator: shaft, bore, face, end float, bolts."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment, shown
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.coupling import Coupling
from wattwright.build.model import Build
from wattwright.descriptions.coupling import CouplingFound, StackFound
from wattwright.descriptions.mounts import MountsDescription
from wattwright.kinds import LENGTH
from wattwright.units import Taste
from wattwright.values import Value

_CAUTIONS = (
    (
        "Power off, service plug out, both terminals proven dead with a meter that was tried on a "
        "live source before and after: a motor that starts takes the hand with it."
    ),
    (
        "Turn by hand alone, through the coupler. Hands, sleeves and the indicator's stand are "
        "clear of bolts and splines before anybody turns."
    ),
    (
        "Never lift or hang the motor or the gearbox by its shaft, and never let the gearbox hang "
        "in the coupler while bolts go in: that bends what is to run true."
    ),
    (
        "A paper template never locates a shaft. What centres is bored or turned to its fit, with "
        "dowels; bolts only hold."
    ),
)
_TOOLS = (
    "dial indicator of 0.01 mm with magnetic stand, lever indicator for bores",
    "steel rule, feeler gauges, torque wrench, chalk",
    "meter for proving dead, padlock or tag for the service plug",
)
_DIAL = "dial indicator"
_AGAIN = "clean every face, look for burrs, read again; then cut the feature, never the bolt holes"
_NAMES = {"spigot": "the bore of the adaptor", "flange": "the coupler", "face": "the face"}


def dial_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """True the coupling, feature by feature, and bolt it up without losing that again."""
    mounts = assessment.descriptions.get(MountsDescription)
    found = mounts.coupling if mounts else None
    lines = [*_before(), *_features(build.coupling, found), *_after(build.coupling, found, taste)]
    return Sheet(
        "dial_indicator",
        "Coupling: dial indicator",
        "How true spigot, coupler and face run, before the gearbox's front bearing has to bear it; "
        "then bolt by bolt, with the shaft turned by hand in between.",
        _CAUTIONS,
        _TOOLS,
        tuple(lines),
    )


def _before() -> Iterator[Line]:
    yield Line("dead", "Service plug out, tag on it, terminals of the motor proven dead.", "motor")
    yield Line(
        "zero",
        "Stand on the motor's face, tip on the bare shaft beside the coupler: set to nought at the "
        "highest place, turn once by hand.",
        "motor's shaft",
        _DIAL,
        kind=LENGTH,
        stop_if="the shaft itself runs out by more than the finest you read: bent, or its bearing "
        "worn; nothing that is put on it will run true",
    )


def _features(own: Coupling, found: CouplingFound | None) -> Iterator[Line]:
    """Read every feature: what it brings by the build is what the indicator is to show."""
    stack = found.stack if found is not None else None
    limit = own.run_out.limit
    yield Line(
        "flange",
        "Stand on the motor's face, tip on the diameter of the coupler that centres the gearbox's "
        "shaft: highest less lowest in one turn. Chalk the highest place.",
        "coupler",
        _DIAL,
        path="coupling.run_out.flange",
        kind=LENGTH,
        expected=own.run_out.flange,
        limit=limit,
        stop_if=f"above the limit: {_AGAIN}",
    )
    yield Line(
        "bore",
        "Stand on the shaft, tip in the bore of the adaptor that centres the bell-housing: highest "
        "less lowest in one turn. The offset is half of it.",
        "adaptor, bore",
        "lever indicator",
        kind=LENGTH,
        expected=_part(stack, "spigot"),
        limit=limit,
        stop_if=f"above the limit: {_AGAIN}",
    )
    yield Line(
        "face",
        "Stand on the shaft, tip along the shaft on the face that the bell-housing bolts to, shaft "
        "pressed one way all round: highest less lowest.",
        "adaptor, face",
        _DIAL,
        path="coupling.run_out.face",
        kind=LENGTH,
        expected=own.run_out.face,
        stop_if="it jumps rather than swings: a chip under the face; clean it and read again",
    )


def _part(stack: StackFound | None, name: str) -> Value | None:
    return stack.parts.get(name) if stack is not None else None


def _after(own: Coupling, found: CouplingFound | None, taste: Taste) -> Iterator[Line]:
    """Bolt up, turning by hand, and read once more what the gearbox's shaft gets."""
    yield Line(
        "dowels",
        "Dowels in, then every bolt by hand until its head touches: nothing is pulled into place.",
        "adaptor and bell-housing",
        "",
        stop_if="a gap stays open: do not draw it shut with bolts; find what touches first",
    )
    yield Line(
        "bolts",
        "Tighten crosswise in three rounds, and turn the shaft by hand, gearbox in every gear, "
        "after each bolt.",
        "adaptor and bell-housing",
        "torque wrench",
        stop_if="it turns harder after a bolt: loosen that bolt, read the face again",
    )
    likely = found.stack.likely if found is not None else None
    yield Line(
        "whole",
        "All bolts tight, clutch cover or inspection plate off: tip on the gearbox's shaft, or on "
        "the pilot, one turn by hand." + _recut(found, own, taste),
        "gearbox's shaft",
        _DIAL,
        kind=LENGTH,
        expected=likely,
        limit=own.run_out.limit,
        stop_if="above the limit: turn the coupler on its shaft by half and read again; then cut "
        "again what gains most",
    )
    yield Line(
        "end_float",
        "Tip along the shaft on its end: push one way, pull the other.",
        "coupler",
        _DIAL,
        path="coupling.end_float.cold",
        kind=LENGTH,
        expected=own.end_float.cold,
        limit=own.end_float.least,
        sense="at least",
        stop_if="it has none: the bearings are pressed together; find the distance before it runs",
    )


def _recut(found: CouplingFound | None, own: Coupling, taste: Taste) -> str:
    """Name what gains most where it is cut again, once every feature has been read."""
    if found is None or not found.stack.recut:
        return ""
    name = found.stack.recut
    left = shown(found.stack.without[name], taste)
    limit = shown(own.run_out.limit, taste)
    return f" Cut again, {_NAMES[name]} gains most: {left} is left, {limit} is allowed."
