"""How far and for how long: a trace again and again, or one speed, until something ends it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from wattwright.errors import UseError
from wattwright.uses.inputs import Maps, Parameters, Trace
from wattwright.uses.results import HELD_BACK_BY, Run
from wattwright.uses.runs import Driving, use_compiled
from wattwright.uses.wanted import first_missed, held_back_most_by, missed

# Beyond so many rounds a trace is taken never to empty the pack.
MOST_ROUNDS = 10_000

Limit = Literal[
    "charge",
    "pack cannot feed",
    "motor temperature",
    "inverter temperature",
    "pack temperature",
    "torque",
    "pack power",
    "highest speed",
    "nothing",
]


@dataclass(frozen=True)
class Reach:
    """How far a trace leads when it is repeated.

    ``distance`` m, ``time`` s and ``rounds``, the last one in part; all endless where a round does
    not lower the charge. ``limit`` is what ended it: the charge, or that the pack could no longer
    feed what is drawn all the time.
    """

    distance: float
    time: float
    rounds: float
    limit: Limit


@dataclass(frozen=True)
class Steady:
    """How long one speed is held: ``time`` s, ``distance`` m, and the ``limit`` that ended it.

    A temperature is the limit where it takes away what the speed needs, which is before it reaches
    its own limit. ``nothing`` where the speed was still held at the end.
    """

    time: float
    distance: float
    limit: Limit


def until_reserve(
    trace: Trace,
    parameters: Parameters,
    maps: Maps,
    reserve: float,
    compiled: bool | None = None,
    missing: float = math.inf,
) -> Reach:
    """Repeat a trace until the charge falls to a reserve; speed and temperatures go on.

    ``trace``: times s, speeds m/s, grades; it ends at the speed at which it begins.
    ``parameters``: the vehicle, SI, of which ``end_charge`` is not used. ``maps``: torque N·m,
    losses W, open-circuit voltage V. ``reserve``: share of the charge that is left at the end.
    ``compiled``: whether to run the compiled form; where left out, whichever is quicker for so
    many rounds. ``missing``: speed that may be missing, m/s; in a round in which it is more it ends
    there, and before one that is short of distance or height. The last round is counted up to where
    the charge passes the reserve.
    """
    if trace.speeds[0] != trace.speeds[-1]:
        raise UseError("a trace that is repeated ends at the speed at which it begins")
    if not 0 <= reserve < 1:
        raise UseError("a reserve is a share of the charge, from 0 to less than 1")
    if reserve >= parameters.start_charge:
        return Reach(0.0, 0.0, 0.0, "charge")
    ending = replace(parameters, end_charge=reserve)
    form = compiled
    if form is None:
        once = Driving(trace, ending, maps, compiled=False).go()
        drained = float(once.charge[0] - once.charge[-1])
        rounds = (ending.start_charge - reserve) / drained if drained > 0 else 1.0
        form = use_compiled(int(len(trace.steps) * min(rounds, MOST_ROUNDS)), None)
    driving = Driving(trace, ending, maps, form)
    distance = 0.0
    for rounds_done in range(MOST_ROUNDS):
        run = driving.go()
        held_back = _held_back(run, trace, ending, missing)
        if held_back or run.ended != "end of trace":
            time, within, limit = held_back or (*_up_to(run, trace, reserve), _ended_by(run))
            whole = float(trace.times[-1])
            return Reach(
                distance + within,
                rounds_done * whole + time,
                rounds_done + time / whole,
                limit,
            )
        distance += run.distance
        if run.charge[-1] >= run.charge[0]:
            break
    return Reach(math.inf, math.inf, math.inf, "nothing")


def _held_back(
    run: Run, trace: Trace, parameters: Parameters, missing: float
) -> tuple[float, float, Limit] | None:
    """Time s and distance m up to where a round is not driven as wanted, and what holds it back."""
    why = missed(run, trace, parameters, missing) if missing < math.inf else ""
    if not why:
        return None
    last = first_missed(run, trace, missing) if why == "speed" else 0
    within = float(((run.speed[1:] + run.speed[:-1]) / 2 * trace.steps[: run.steps])[:last].sum())
    return float(trace.times[last]), within, held_back_most_by(run, trace)


def _ended_by(run: Run) -> Limit:
    return "charge" if run.ended == "empty" else "pack cannot feed"


def steady(
    speed: float,
    grade: float,
    parameters: Parameters,
    maps: Maps,
    step: float = 5.0,
    longest: float = 43_200.0,
    compiled: bool | None = None,
) -> Steady:
    """Hold one speed until something ends it, beginning at that speed.

    ``speed`` m/s above nought, ``grade`` rise over run; ``parameters``: the vehicle, SI, whose
    ``end_charge`` is the one at which it ends; ``maps``: torque N·m, losses W, open-circuit
    voltage V; ``step`` of time, s; ``longest`` time looked at, s; ``compiled``: whether to run the
    compiled form, by the number of steps where left out.
    """
    if not speed > 0:
        raise UseError("a steady speed is above nought")
    count = max(1, math.ceil(longest / step))
    trace = Trace(np.full(count, step), np.full(count + 1, speed), grade)
    run = Driving(trace, parameters, maps, use_compiled(count, compiled)).go()
    missed = np.flatnonzero(run.held_back_by)
    if missed.size:
        time = float(trace.times[missed[0]])
        return Steady(time, speed * time, HELD_BACK_BY[int(run.held_back_by[missed[0]])])
    if run.ended == "end of trace":
        return Steady(count * step, run.distance, "nothing")
    time, distance = _up_to(run, trace, parameters.end_charge)
    return Steady(time, distance, _ended_by(run))


def _up_to(run: Run, trace: Trace, charge: float) -> tuple[float, float]:
    """Time s and distance m up to where the charge passes a value within the last step."""
    last = run.steps
    if run.ended != "empty" or not last:
        return float(trace.times[last]), run.distance
    before, after = run.charge[last - 1], run.charge[last]
    left_out = float(min(1.0, (charge - after) / (before - after)))
    step = float(trace.steps[last - 1])
    within = float(run.speed[last - 1] + run.speed[last]) / 2 * step
    return float(trace.times[last]) - left_out * step, run.distance - left_out * within
