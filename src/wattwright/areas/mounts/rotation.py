"""Which way the motor turns the gearbox, and whether it may turn that way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from wattwright.areas.mounts import coupling_checks as checks
from wattwright.build.coupling import Turning
from wattwright.build.fields import Plain
from wattwright.findings import Finding
from wattwright.kinds import RATIO
from wattwright.physics import gearing
from wattwright.values import Lack, Value, constant, lacking, worked

Reverse = Literal["motor", "gear"] | None

_SENSES = {
    "clockwise": constant(RATIO, 1.0, "clockwise, seen onto its shaft"),
    "anticlockwise": constant(RATIO, -1.0, "anticlockwise, seen onto its shaft"),
}
_NEITHER = constant(RATIO, 0.0, "neither way")
_BACKWARDS = {
    "motor": constant(RATIO, 1.0, "the motor drives backwards"),
    "gear": constant(RATIO, 0.0, "a gear drives backwards"),
}
_EITHER = {
    True: constant(RATIO, 1.0, "either way"),
    False: constant(RATIO, 0.0, "one way alone"),
}


def judge_rotation(own: Turning, reverse: Reverse) -> Iterator[Finding]:
    """State whether the motor drives forward when it is told to, and may turn as it has to."""
    turns = worked(
        gearing.facing_turns,
        _SENSES.get(own.motor) or _asked("motor", "way the motor turns"),
        _SENSES.get(own.gearbox) or _asked("gearbox", "way the gearbox has to turn"),
    )
    yield checks.ROTATION.at_least(turns, _NEITHER)
    backwards = _BACKWARDS[reverse] if reverse else lacking(RATIO, _NO_REVERSE)
    either = (
        _asked("both_ways", "whether the motor may turn either way")
        if own.both_ways is None
        else _EITHER[own.both_ways]
    )
    yield checks.MAY_TURN.at_least(worked(gearing.may_turn, either, turns, backwards), _NEITHER)


def _asked(field: str, label: str) -> Value:
    how = _HOW[field]
    return lacking(RATIO, Lack(f"coupling.turning.{field}", label, "not given", how, 15.0))


_HOW = {
    name: next(each.help for each in info.metadata if isinstance(each, Plain))
    for name, info in Turning.model_fields.items()
}
_NO_REVERSE = Lack(
    "drive.reverse",
    "drive: what turns back for reverse",
    "not given",
    "motor, turned the other way, or a gear of the box",
    1.0,
)
