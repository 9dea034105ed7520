"""The survey, the pose and the mounts against their limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattwright.areas.mounts import checks
from wattwright.build.mounts import Mounts
from wattwright.descriptions.mounts import Angles, MountNeed, Posed, Residual, Surveyed
from wattwright.findings import Figure, Finding
from wattwright.kinds import ANGLE, COUNT
from wattwright.physics import rigid_body
from wattwright.values import band_of, constant, worked

# Coordinates of a point are readings too; they are shown as where it is.
COORDINATE = "at."
Said = Iterator[Finding | Figure]

_ENOUGH = constant(COUNT, 4.0, "readings to spare that name a slip")


def judge_survey(seen: Surveyed) -> Said:
    """State how well the readings agree, and where everything is."""
    for each in _telling(seen.residuals):
        check = checks.LEVEL_READING if each.reading.kind is ANGLE else checks.READING
        yield check.within(each.residual, each.limit, each.name)
    for each in seen.residuals:
        if not each.name.startswith(COORDINATE):
            declared = checks.LEVEL_RESIDUAL if each.reading.kind is ANGLE else checks.RESIDUAL
            yield declared.of(each.residual, each.name)
    yield checks.SPARE.at_least(seen.spare, _ENOUGH)
    yield checks.MISFIT.of(seen.misfit)
    for name, place in seen.points.items():
        for declared, value in zip((checks.X, checks.Y, checks.Z), place.all, strict=True):
            yield declared.of(value, name)


def _telling(residuals: Sequence[Residual]) -> list[Residual]:
    """Readings worth a finding: those set aside, past their limit, and the nearest to it."""
    checked = [each for each in residuals if each.limit.number and each.residual.known]
    checked.sort(key=_share, reverse=True)
    past = [each for each in checked if each.aside or _share(each) > 1.0]
    rest = [each for each in checked if each not in past]
    return past + rest[:1]


def _share(each: Residual) -> float:
    """How much of its limit a residual takes."""
    return abs(each.residual.number or 0.0) / (each.limit.number or 1.0)


def judge_pose(own: Mounts, posed: Posed) -> Said:
    """State how the unit hangs, and what each mount needs."""
    now, wanted = posed.now, posed.wanted
    pairs = {
        "across": (now.roll, wanted.roll),
        "nose": (now.pitch, wanted.pitch),
        "plan": (now.yaw, wanted.yaw),
    }
    for word, (hangs, aim) in pairs.items():
        apart = worked(rigid_body.turn_between, aim, hangs)
        yield checks.ANGLE_OFF.within(apart, own.level_within, word)
    for word, name, off in zip(
        ("first", "second"), (own.shaft_from, own.shaft_to), posed.off_now, strict=True
    ):
        yield checks.SHAFT.at_most(off, own.line_within, name or word)
    for about, angles in (("now", now), ("wanted", wanted)):
        yield from _angles(angles, about)
    if any(mount.added.known for mount in posed.mounts):
        yield from _angles(posed.tried, "with shims tried")
    yield checks.LEVEL.of(posed.level)
    for word, name, off in zip(
        ("first", "second"), (own.shaft_from, own.shaft_to), posed.off_wanted, strict=True
    ):
        yield checks.OFF_WANTED.of(off, name or word)
    for mount in posed.mounts:
        yield from _mount(own, mount)


def _angles(angles: Angles, about: str) -> Said:
    yield checks.YAW.of(angles.yaw, about)
    yield checks.PITCH.of(angles.pitch, about)
    yield checks.ROLL.of(angles.roll, about)


def _mount(own: Mounts, mount: MountNeed) -> Said:
    if mount.forced.known:
        yield checks.FORCED.within(mount.forced, own.forced_within, mount.name)
    yield checks.BRACKET["length"].of(mount.length, mount.name)
    yield checks.BRACKET["band"].of(band_of(mount.length, "band of the length"), mount.name)
    for axis in ("x", "y", "z"):
        yield checks.BRACKET[axis].of(getattr(mount.bracket, axis), mount.name)
        yield checks.CHANGE[axis].of(getattr(mount.change, axis), mount.name)
    yield checks.BY_ROLL.of(mount.by_roll, mount.name)
    yield checks.BY_PITCH.of(mount.by_pitch, mount.name)
    yield checks.BY_FIRST.of(mount.by_shaft[0], mount.name)
    yield checks.BY_SECOND.of(mount.by_shaft[1], mount.name)
