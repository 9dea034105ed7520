"""Runs of a use in lots: many vehicles on one trace, and one vehicle on many traces."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from wattwright.uses import compiled
from wattwright.uses.inputs import Array, Maps, Trace
from wattwright.uses.runs import run_rows
from wattwright.uses.traces import trace_of

# Lots kept from one assessment to the next.
_KEPT = 64
_MEMO: OrderedDict[str, Lot] = OrderedDict()

# The same way is driven in every season.
traced = lru_cache(maxsize=64)(trace_of)


@dataclass(frozen=True, eq=False)
class Lot:
    """Summaries of runs, each with the numbers that it was driven with.

    ``time`` that was driven, s; ``missing`` the most speed that was, m/s, and where the pack ends
    before the use, all that is still wanted.
    """

    table: Any
    rows: Array
    time: Array
    missing: Array


def form() -> bool | None:
    """The compiled form wherever it is there: a use is driven often enough for it to pay."""
    return True if compiled.available() else None


def driven(parts: Sequence[tuple[Trace, Array]], maps: Maps) -> Lot:
    """Drive the rows of every part on its trace; what was driven before is not driven again."""
    key = _digest(parts, maps)
    if key in _MEMO:
        _MEMO.move_to_end(key)
        return _MEMO[key]
    lots = [_lot(trace, rows, maps) for trace, rows in parts]
    found = _MEMO[key] = Lot(
        np.concatenate([lot.table for lot in lots]),
        np.vstack([lot.rows for lot in lots]),
        np.concatenate([lot.time for lot in lots]),
        np.concatenate([lot.missing for lot in lots]),
    )
    if len(_MEMO) > _KEPT:
        _MEMO.popitem(last=False)
    return found


def _lot(trace: Trace, rows: Array, maps: Maps) -> Lot:
    table = run_rows(trace, rows, maps, form())
    ended = table["ended_at"].astype(int)
    missing = np.array(table["largest_miss"])
    for row in np.flatnonzero(table["ended_by"]):
        missing[row] = max(missing[row], trace.speeds[ended[row] :].max(initial=0.0))
    return Lot(table, rows, trace.times[ended], missing)


def _digest(lots: Sequence[tuple[Trace, Array]], maps: Maps) -> str:
    seen = hashlib.sha256()
    parts: list[Any] = [*maps.flat]
    for trace, rows in lots:
        parts += (trace.steps, trace.speeds, trace.grades, trace.on, rows)
    for part in parts:
        seen.update(str(part.shape).encode())
        seen.update(np.ascontiguousarray(part).tobytes())
    return seen.hexdigest()
