"""Roots between two places with unlike signs."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.bracketed import root_between


@given(st.floats(-50.0, 50.0), st.floats(0.01, 30.0), st.floats(0.01, 30.0), st.booleans())
def test_the_root_of_a_growing_function_is_found_to_the_last_digits(
    root: float, below: float, above: float, falling: bool
) -> None:
    sign = -1.0 if falling else 1.0
    found = root_between(lambda x: sign * math.sinh(x - root), root - below, root + above)
    assert found == pytest.approx(root, abs=1e-12, rel=1e-13)


def test_a_root_at_an_end_and_a_bend() -> None:
    assert root_between(lambda x: x, 0.0, 3.0) == 0.0
    assert root_between(lambda x: x - 3.0, 0.0, 3.0) == pytest.approx(3.0)
    assert root_between(lambda x: math.copysign(abs(x) ** 0.1, x), -1.0, 7.0) == pytest.approx(
        0.0, abs=1e-12
    )


def test_with_like_signs_the_end_that_is_nearer_comes_back() -> None:
    assert root_between(lambda x: x + 1.0, 0.0, 3.0) == 0.0
    assert root_between(lambda x: 4.0 - x, 0.0, 3.0) == 3.0
