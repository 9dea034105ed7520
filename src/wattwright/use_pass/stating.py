"""One result of going through a use, as a value that carries the influence of every input."""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.kinds import FRACTION, Kind
from wattwright.physics import around_run
from wattwright.values import Value, constant, worked

FROM_RUN = "from the run"


class Stating:
    """States results of runs with the influence of every input that was moved."""

    def __init__(self, moved: Sequence[tuple[str, Value]]) -> None:
        self._labels = [label for label, _ in moved]
        # What says no band moves nothing; yet a result rests on it.
        self._without_band = [not value.band for _, value in moved]
        self._away = [
            worked(
                around_run.bands_away,
                value,
                constant(value.kind, value.number or 0.0, f"{label} of the run"),
                constant(value.kind, value.band or 1.0, f"band of {label}"),
            )
            for label, value in moved
        ]

    def __call__(self, kind: Kind, base: float, shifts: Sequence[float]) -> Value:
        """One result."""
        moving = [place for place, shift in enumerate(shifts) if shift or self._without_band[place]]
        moves = [constant(kind, shifts[place], self._labels[place]) for place in moving]
        away = [self._away[place] for place in moving]
        return worked(around_run.result_around, constant(kind, base, FROM_RUN), moves, away)


def of_base(value: Value) -> Value:
    """How a value moves, as a share of itself; of nothing there is nothing to move."""
    if not value.number:
        return constant(FRACTION, 1.0, FROM_RUN)
    return worked(around_run.ratio_to, value, constant(value.kind, value.number, FROM_RUN))
