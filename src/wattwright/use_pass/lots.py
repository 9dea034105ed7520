"""Runs of a use in lots: many vehicles on one trace, and one vehicle on many traces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from wattwright.use_pass.kept import kept
from wattwright.uses import compiled
from wattwright.uses.inputs import Array, Maps, Parameters, Trace
from wattwright.uses.results import Run
from wattwright.uses.runs import at_once, run, run_rows
from wattwright.uses.until import Reach, until_reserve


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
    """Drive the rows of every part on its trace."""
    key = "lot", maps.digest, *((trace.digest, rows.tobytes()) for trace, rows in parts)
    return kept(key, lambda: _driven(parts, maps))


def driven_once(trace: Trace, parameters: Parameters, maps: Maps) -> Run:
    """Drive one trace, with all that happens on the way."""
    key = "run", maps.digest, trace.digest, parameters.vector.tobytes()
    return kept(key, lambda: run(trace, parameters, maps, form()))


def driven_to(
    trace: Trace, parameters: Parameters, maps: Maps, reserve: float, missing: float
) -> Reach:
    """Drive a trace again and again down to a reserve; see ``until_reserve``."""
    key = "to", maps.digest, trace.digest, parameters.vector.tobytes(), reserve, missing
    return kept(key, lambda: until_reserve(trace, parameters, maps, reserve, form(), missing))


def _driven(parts: Sequence[tuple[Trace, Array]], maps: Maps) -> Lot:
    # A run alone on its trace takes one core: several of them are driven at once, unless they are
    # so short that the plain form drives them, which shares its core.
    alone = [place for place, (_, rows) in enumerate(parts) if len(rows) == 1]
    many = [place for place, (_, rows) in enumerate(parts) if len(rows) != 1]
    made = {place: _lot(*parts[place], maps) for place in many}
    made |= zip(alone, at_once(lambda place: _lot(*parts[place], maps), alone), strict=True)
    lots = [made[place] for place in range(len(parts))]
    return Lot(
        np.concatenate([lot.table for lot in lots]),
        np.vstack([lot.rows for lot in lots]),
        np.concatenate([lot.time for lot in lots]),
        np.concatenate([lot.missing for lot in lots]),
    )


def _lot(trace: Trace, rows: Array, maps: Maps) -> Lot:
    table = run_rows(trace, rows, maps, form())
    ended = table["ended_at"].astype(int)
    missing = np.array(table["largest_miss"])
    for row in np.flatnonzero(table["ended_by"]):
        missing[row] = max(missing[row], trace.speeds[ended[row] :].max(initial=0.0))
    return Lot(table, rows, trace.times[ended], missing)
