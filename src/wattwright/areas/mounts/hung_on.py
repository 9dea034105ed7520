"""What hangs on the bell-housing, and how the oil behind it stands."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.mounts import coupling_checks as checks
from wattwright.build.hanging import Oil, Overhang
from wattwright.build.presence import said
from wattwright.findings import Figure, Finding
from wattwright.physics import overhang
from wattwright.values import worked

Said = Iterator[Finding | Figure]


def judge_overhang(own: Overhang) -> Said:
    """State the moment on the face, or what a tail mount carries instead."""
    if not said(own):
        return
    if own.tail.absent:
        moment = worked(overhang.face_moment, own.mass, own.centre, own.jolt)
        yield checks.OVERHANG.at_most(moment, own.allowed)
    else:
        load = worked(overhang.tail_load, own.mass, own.centre, own.tail, own.jolt)
        yield checks.TAIL.of(load)


def judge_oil(own: Oil) -> Said:
    """State both tilts against what they were made for, and the level at the pick-up."""
    if not said(own):
        return
    pitch = worked(overhang.tilted_by, own.pitch_before, own.pitch_now)
    roll = worked(overhang.tilted_by, own.roll_before, own.roll_now)
    yield checks.OIL.within(pitch, own.within, "nose")
    yield checks.OIL.within(roll, own.within, "across")
    yield checks.PICK_UP.of(worked(overhang.level_change, own.pick_up, pitch))
