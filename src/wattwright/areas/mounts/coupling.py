"""The coupling: fits by ISO 286, run-out feature by feature, end float, what carries the torque."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.listed import limiting_cell, shown_cell
from wattwright.areas.mounts import coupling_checks as checks
from wattwright.areas.mounts.hung_on import judge_oil, judge_overhang
from wattwright.areas.mounts.joints import judge_joints
from wattwright.areas.mounts.rotation import Reverse, judge_rotation
from wattwright.build.coupling import Coupling, EndFloat, RunOut, Turning
from wattwright.build.fits import Fit
from wattwright.build.presence import said
from wattwright.descriptions.coupling import CouplingFound, FitFound, LimitsFound, StackFound
from wattwright.descriptions.drive import Load
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH, POSITION
from wattwright.physics import fits, run_out
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import Lack, Value, either, exceeds, lacking, nonexistent, worked

# The fit whose play says how far the adaptor may sit off the motor, where nobody measured it.
SPIGOT = "spigot"
Said = Iterator[Finding | Figure]


def describe_coupling(own: Coupling) -> CouplingFound:
    """Work out fits, run-out, end float and the flywheel's face."""
    found = {name: _fit(name, each) for name, each in own.fit.items()}
    now = worked(fits.face_distance, own.faces.stands_out, own.faces.plate)
    return CouplingFound(
        found,
        _stack(own.run_out, found.get(SPIGOT)),
        own.end_float.cold,
        _hot(own.end_float),
        worked(fits.moved, own.faces.before, now),
    )


def _fit(name: str, own: Fit) -> FitFound:
    hole = _limits(name, "hole", own, own.hole_class)
    shaft = _limits(name, "shaft", own, own.shaft_class)
    loosest = worked(fits.loosest, hole.upper, shaft.lower)
    play = worked(fits.play, own.hole, own.shaft)
    return FitFound(
        own.label,
        own.nominal,
        hole,
        shaft,
        loosest,
        worked(fits.tightest, hole.lower, shaft.upper),
        play,
        either(play, loosest, asking=0),
    )


def _limits(name: str, part: str, own: Fit, wanted: str) -> LimitsFound:
    pairs = [_limit(name, part, side, own, wanted) for side in ("upper", "lower")]
    (upper, shown_upper), (lower, shown_lower) = pairs
    return LimitsFound(wanted, upper, lower, shown_upper, shown_lower)


def _limit(name: str, part: str, side: str, own: Fit, wanted: str) -> tuple[Value, Value]:
    """Find one deviation: what may make a limit, and what may be shown."""
    typed: Value = getattr(own, f"{part}_{side}")
    if typed.known:
        return typed, typed
    if not wanted:
        asked = lacking(POSITION, _asked_class(name, part))
        return asked, asked
    if own.nominal.number is None:
        asked = Value(POSITION, None, lacks=own.nominal.lacks, absent=own.nominal.absent)
        return asked, asked
    row = _row(wanted, own.nominal.number)
    if row is None:
        return typed, typed
    label = f"{side} deviation of {wanted} at {own.nominal.number * 1000:g} mm"
    shown = shown_cell(POSITION, "iso_286_limits", row, f"{side}_um", label)
    return limiting_cell(typed, shown, row), shown


def _asked_class(name: str, part: str) -> Lack:
    path = f"coupling.fit.{name}.{part}_class"
    how = "what you decide with the machinist: H7 for a hole; h6 or k6 for what locates in it"
    return Lack(path, f"coupling fit {name}: class of the {part}", "not given", how, 5.0)


def _row(wanted: str, nominal: float) -> Row | None:
    """Find the row of a class that a nominal diameter falls into: over one size, up to another."""
    for row in load("iso_286_limits"):
        over, to = (read(f"{row.cells[c]} mm", LENGTH).number for c in ("over_mm", "to_mm"))
        if (
            row.cells["class"] == wanted
            and over < nominal * (1 + 1e-9)
            and nominal <= to * 1.000001
        ):
            return row
    return None


def _stack(own: RunOut, spigot: FitFound | None) -> StackFound:
    """Add up what each feature brings; one that does not exist brings nothing.

    Where none exists at all, there is nothing to judge: that is no run-out of nought.
    """
    offset = own.spigot_offset
    if spigot is not None and not offset.absent:
        offset = either(offset, worked(fits.offset_of_play, spigot.slack), asking=0)
    every = {
        "spigot": worked(run_out.of_offset, offset),
        "flange": own.flange,
        "face": worked(run_out.of_tilt, own.face, own.face_radius, own.reach),
    }
    parts = {name: part for name, part in every.items() if not part.absent}
    likely, worst = (
        worked(add, tuple(parts.values())) if parts else nonexistent(LENGTH)
        for add in (run_out.likely, run_out.worst)
    )
    without = {
        name: worked(run_out.likely, tuple(each for key, each in parts.items() if key != name))
        for name in parts
    }
    least = sorted(without, key=lambda name: without[name].number or 0.0)
    recut = least[0] if least and likely.known else ""
    return StackFound(parts, likely, worst, without, recut)


def _hot(own: EndFloat) -> Value:
    shaft = worked(fits.grown, own.length, own.shaft_expansion, own.shaft_warmer)
    housing = worked(fits.grown, own.length, own.housing_expansion, own.housing_warmer)
    return worked(fits.warm_end_float, own.cold, shaft, housing)


def judge_coupling(
    own: Coupling, found: CouplingFound, links: Mapping[str, Load] | None, reverse: Reverse
) -> Said:
    """State which way it turns, run-out, fits, end float, the clutch's face, what joints carry."""
    if own.turning != Turning():
        yield from judge_rotation(own.turning, reverse)
    if said(own.run_out) or SPIGOT in own.fit:
        yield from _judge_stack(own.run_out, found.stack)
    for name, fit in found.fits.items():
        yield from _judge_fit(name, own.fit[name], fit)
    if said(own.end_float):
        for about, value in (("cold", found.cold), ("hot", found.hot)):
            yield checks.END_FLOAT.at_least(value, own.end_float.least, about)
            yield checks.END_FLOAT_MOST.at_most(value, own.end_float.most, about)
    if said(own.faces):
        yield checks.FACE.within(found.face, own.faces.within)
    yield from judge_joints(own, links)
    yield from judge_overhang(own.overhang)
    yield from judge_oil(own.oil)


def _judge_stack(own: RunOut, found: StackFound) -> Said:
    yield checks.RUN_OUT.at_most(found.likely, own.limit)
    yield checks.RUN_OUT_WORST.at_most(found.worst, own.limit)
    for name, part in found.parts.items():
        yield checks.PART.of(part, name)
        yield checks.WITHOUT.of(found.without[name], name)
    if exceeds(found.likely, own.limit) or exceeds(found.worst, own.limit):
        yield checks.RECUT.at_most(found.without[found.recut], own.limit, found.recut)


def _judge_fit(name: str, own: Fit, found: FitFound) -> Said:
    for check, measured, limits in (
        (checks.FIT_HOLE, own.hole, found.hole),
        (checks.FIT_SHAFT, own.shaft, found.shaft),
    ):
        off = worked(fits.off_middle, measured, own.nominal, limits.upper, limits.lower)
        yield check.within(off, worked(fits.half_tolerance, limits.upper, limits.lower), name)
    yield checks.FIT.at_most(found.play, found.loosest, name)
    yield checks.NOMINAL.of(found.nominal, name)
    yield checks.HOLE_UPPER.of(found.hole.shown_upper, name)
    yield checks.HOLE_LOWER.of(found.hole.shown_lower, name)
    yield checks.SHAFT_UPPER.of(found.shaft.shown_upper, name)
    yield checks.SHAFT_LOWER.of(found.shaft.shown_lower, name)
    yield checks.LOOSEST.of(found.loosest, name)
    yield checks.TIGHTEST.of(found.tightest, name)
