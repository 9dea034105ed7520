"""The way with each of its inputs at either end of its band: a trace for each side."""

from __future__ import annotations

import numpy as np

from wattwright.descriptions.duty import Demand
from wattwright.use_pass.rows import ends_of
from wattwright.uses.inputs import Array, Trace
from wattwright.uses.traces import repeated
from wattwright.values import Value


def moved_traces(
    demand: Demand, once: Trace, rounds: int
) -> tuple[tuple[tuple[str, Value], ...], list[Trace], Array]:
    """Traces with each input of the way at either end, and how far that really is.

    ``once`` is the way once, as it is; ``rounds`` how often it is driven.
    """
    moved, traces, widths = [], [], []
    for each in demand.way():
        if each.value.band:
            ends, shares = ends_of(each.value, each.least)
            traces += [repeated(each.moved(once, end), rounds) for end in ends]
        else:
            # Firm without a band it would not be here: it moves nothing, and is rested on.
            traces += [repeated(once, rounds)] * 2
            shares = [1.0, 1.0]
        moved.append((each.says, each.value))
        widths.append(shares)
    return tuple(moved), traces, np.array(widths).reshape(-1, 2).T
