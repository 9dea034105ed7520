"""Axes of powers of ten: where a number lies, what is written, what has no place."""

from __future__ import annotations

import pytest

from wattwright.kinds import CURRENT, TIME
from wattwright.paper import Axis, DrawingError, scale_of


def test_each_factor_of_ten_is_as_long() -> None:
    scale = scale_of(Axis("time", TIME, 1e-3, 1e4, log=True), [0.5, 20.0], "metric")
    shares = [scale.share(10.0**power) for power in range(-3, 5)]
    assert shares == pytest.approx([place / 7 for place in range(8)])
    assert [words for _, words in scale.ticks()] == [
        *("0.001", "0.01", "0.1", "1", "10", "100", "1000", "10,000")
    ]
    assert len(scale.ticks(scale.parts)) == 7 * 9 + 1


def test_ends_left_open_go_to_one_figure() -> None:
    scale = scale_of(Axis("current", CURRENT, log=True), [131.0, 4107.0], "metric")
    assert (scale.share(100.0), scale.share(5000.0)) == pytest.approx((0.0, 1.0))
    # Less than two powers and a little: twice and five times are written too.
    assert [words for _, words in scale.ticks()] == ["100", "200", "500", "1000", "2000", "5000"]


def test_one_number_alone_has_room_on_both_sides() -> None:
    scale = scale_of(Axis("current", CURRENT, log=True), [100.0], "metric")
    assert scale.share(100.0) == pytest.approx(0.5)


def test_nothing_below_zero_has_a_place() -> None:
    axis = Axis("current", CURRENT, log=True)
    with pytest.raises(DrawingError, match="above zero"):
        scale_of(axis, [0.0, -1.0], "metric")
    scale = scale_of(axis, [1.0, 10.0], "metric")
    with pytest.raises(DrawingError, match="powers of ten"):
        scale.share(0.0)
