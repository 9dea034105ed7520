"""One run with all its traces, or many with a summary each, in whichever form pays.

Loading the compiled form takes longer than a few thousand steps of the plain one, so which of
them runs follows from the number of steps alone: the same input is always treated alike.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from typing import Any, TypeVar

import numpy as np

from wattwright.uses import compiled as fast
from wattwright.uses import kernel
from wattwright.uses import places as at
from wattwright.uses.heat import HEAT_ROOM
from wattwright.uses.inputs import Array, Maps, Parameters, Trace, fitting
from wattwright.uses.results import COLUMNS, Run, run_of

Item = TypeVar("Item")
Result = TypeVar("Result")

# Steps from which the compiled form pays: loading it takes as long as some thousands of steps of
# the plain one. It is compiled once for every release.
STEPS_THAT_PAY = 5_000


def run(trace: Trace, parameters: Parameters, maps: Maps, compiled: bool | None = None) -> Run:
    """Drive one trace.

    ``trace``: times s, speeds m/s, grades. ``parameters``: the vehicle, SI. ``maps``: torque N·m,
    losses W, open-circuit voltage V. ``compiled``: whether to run the compiled form; where left
    out, whichever is quicker for so many steps. Yields traces, balance J and shortfall.
    """
    return Driving(trace, parameters, maps, use_compiled(len(trace.steps), compiled)).go()


def run_many(
    trace: Trace,
    parameters: Sequence[Parameters],
    maps: Maps,
    compiled: bool | None = None,
) -> np.ndarray[Any, np.dtype[np.void]]:
    """Drive one trace with many vehicles.

    ``trace``, ``maps`` and ``compiled`` as for ``run``; ``parameters`` one for each vehicle, SI.
    Yields a table with one row for each and the columns of ``results.SUMMARY``: energies J,
    distances m, speeds m/s, temperatures K, currents A and their largest root mean squares by
    window, voltages V.
    """
    rows = fitting(parameters, maps)
    return run_rows(trace, rows, maps, compiled)


def run_rows(
    trace: Trace,
    rows: Array,
    maps: Maps,
    compiled: bool | None = None,
    workers: int | None = None,
) -> np.ndarray[Any, np.dtype[np.void]]:
    """Drive one trace with each row of a matrix of checked parameters; as ``run_many``.

    ``workers`` is the number of threads in the compiled form; one for each core where left out.
    """
    form = use_compiled(len(trace.steps) * len(rows), compiled)
    summaries = np.zeros((len(rows), at.COLUMNS))
    drive_rows: Any = fast.load() if form else kernel.drive_rows
    matrix = _form(np.ascontiguousarray(rows, dtype=np.float64), form)
    filled = _form(summaries, form)
    # Threads run at once in the compiled form, which does not hold the interpreter's lock.
    workers = max(1, min(workers or os.cpu_count() or 1, len(rows))) if form else 1
    bounds = [len(rows) * worker // workers for worker in range(workers + 1)]

    def work(worker: int) -> None:
        *of_trace, flat = _given(trace, maps, form)
        room, nothing = _room(trace, maps, form), _form(np.zeros(0), form)
        span = bounds[worker], bounds[worker + 1]
        drive_rows(*span, 1, *of_trace, matrix, flat, *room, filled, nothing, nothing)

    at_once(work, range(workers))
    if not form:
        summaries = np.array(filled).reshape(len(rows), at.COLUMNS)
    return summaries.view(COLUMNS).reshape(len(rows))


def at_once(work: Callable[[Item], Result], items: Sequence[Item]) -> list[Result]:
    """Do the same with several things at once; ``work`` must not call this itself."""
    return list(_pool().map(work, items)) if len(items) > 1 else [work(item) for item in items]


@cache
def _pool() -> ThreadPoolExecutor:
    # Kept, as starting a thread takes as long as several runs.
    return ThreadPoolExecutor(os.cpu_count() or 1, "runs")


def use_compiled(steps: int, compiled: bool | None) -> bool:
    """Say which form is to run so many steps."""
    return steps >= STEPS_THAT_PAY and fast.available() if compiled is None else compiled


class Driving:
    """A vehicle on a trace, which may go on where it ended."""

    def __init__(self, trace: Trace, parameters: Parameters, maps: Maps, compiled: bool) -> None:
        self.trace = trace
        self._rows = _form(fitting([parameters], maps), compiled)
        self._drive: Any = fast.load() if compiled else kernel.drive_rows
        self._given = _given(trace, maps, compiled)
        self._state, self._places, self._heat, self._squares = _room(trace, maps, compiled)
        self._afresh = 1
        self._compiled = compiled

    def go(self) -> Run:
        """Drive the trace once, from where things stand."""
        count = len(self.trace.steps)
        summaries = _form(np.zeros((1, at.COLUMNS)), self._compiled)
        states = _form(np.zeros(at.STATES * (count + 1)), self._compiled)
        channels = _form(np.zeros(at.CHANNELS * count), self._compiled)
        *of_trace, flat = self._given
        room = (self._state, self._places, self._heat, self._squares)
        span = (0, 1, self._afresh)
        self._drive(*span, *of_trace, self._rows, flat, *room, summaries, states, channels)
        self._afresh = 0
        return run_of(self.trace, states, channels, summaries[0])


def _form(array: Any, compiled: bool) -> Any:
    """Arrays for the compiled form; lists for the plain one, which is quicker on them."""
    return array if compiled else array.tolist()


def _given(trace: Trace, maps: Maps, compiled: bool) -> tuple[Any, ...]:
    begins, shares = trace.windows
    of_trace = (trace.steps, trace.speeds, trace.sines, trace.on, trace.times, begins, shares)
    return (
        *(_form(array, compiled) for array in of_trace),
        _form(maps.flat[0], compiled),
    )


def _room(trace: Trace, maps: Maps, compiled: bool) -> tuple[Any, ...]:
    """State, places, room for heat, and the integral of the current squared."""
    return (
        _form(np.zeros(at.STATES), compiled),
        _form(maps.flat[1].copy(), compiled),
        _form(np.zeros(HEAT_ROOM), compiled),
        _form(np.zeros(len(trace.steps) + 1), compiled),
    )
