"""Largest root mean square of the current over windows of a run.

A window ends at an instant of the trace. Where it begins lies between two instants, at places that
depend on the trace alone and are found once for it. Where a run is shorter than a window, the
whole run is the window.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import sqrt

from wattwright.uses import places as at

Floats = Sequence[float]

WINDOWS = 4  # of 1 s, 10 s, 60 s and 600 s, with the whole run behind them


def largest_means(
    squares: Floats,
    times: Floats,
    begins: Sequence[int],
    shares: Floats,
    summary: MutableSequence[float],
) -> None:
    """Put the largest root mean square of each window into a summary.

    ``squares`` is the integral of the current squared up to each instant, A²·s, ``times`` each
    instant in s, ``begins`` and ``shares`` the piece of the trace in which each window begins and
    how far into it, window after window, with -1 where it would begin before the trace.
    """
    end = int(summary[at.ENDED_AT])
    whole = sqrt(squares[end] / times[end]) if end > 0 else 0.0
    summary[at.RMS_WHOLE] = whole
    instants = len(times)
    for window in range(WINDOWS):
        length = 1.0
        if window == 1:
            length = 10.0
        elif window == 2:
            length = 60.0
        elif window == 3:
            length = 600.0
        largest = 0.0
        first = window * instants
        # Backwards, until a window would begin before the trace does.
        for instant in range(end, 0, -1):
            begin = begins[first + instant]
            if begin < 0:
                break
            before = squares[begin]
            before += (squares[begin + 1] - before) * shares[first + instant]
            largest = max(largest, squares[instant] - before)
        full = times[end] >= length
        summary[at.RMS_1_S + window] = sqrt(largest / length) if full else whole
