"""Torque held at standstill: by hand, and below what machines of either kind really hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import induction, pmsm
from wattwright.physics.stall import (
    current_share,
    saturated_torque,
    weakened_power,
    weakened_torque,
)


def stalled_torque(torque: float, current: float, known_for: float) -> float:
    return weakened_torque(torque, current_share(current, known_for))


def test_by_hand() -> None:
    assert weakened_power(40e3, 0.5) == 10e3
    assert saturated_torque(100.0, 0.12) == 88.0
    # Half of the current: a quarter of the torque where the current makes the field itself.
    assert stalled_torque(100.0, 120.0, 240.0) == 25.0
    assert stalled_torque(100.0, 240.0, 240.0) == 100.0
    # An inverter that bears more than the motor gives no more torque than there is.
    assert stalled_torque(100.0, 300.0, 240.0) == 100.0


@given(st.floats(10.0, 500.0), st.floats(0.05, 1.5), st.floats(1e-4, 3e-3), st.floats(0.5, 4.0))
def test_a_machine_with_magnets_never_holds_less(
    current: float, share: float, ld: float, saliency: float
) -> None:
    flux, lq = 0.08, ld * saliency

    def most(amperes: float) -> float:
        d = pmsm.mtpa_d_current(amperes, flux, ld, lq)
        return pmsm.torque(3.0, flux, ld, lq, d, pmsm.q_current(amperes, d))

    held = most(min(current, share * current))
    assert stalled_torque(most(current), share * current, current) <= held * (1 + 1e-9)


@given(st.floats(10.0, 500.0), st.floats(0.05, 1.5), st.floats(0.1, 2.0))
def test_a_machine_without_magnets_never_holds_less(
    current: float, share: float, saturates: float
) -> None:
    magnetising = saturates * current

    def most(amperes: float) -> float:
        d = induction.magnetising_at(amperes, magnetising)
        return induction.torque(2.0, 1e-3, d, pmsm.q_current(amperes, d))

    held = most(min(current, share * current))
    bound = stalled_torque(most(current), share * current, current)
    assert bound <= held * (1 + 1e-9)
    # Iron that never saturates loses exactly with the square.
    if magnetising >= current:
        assert bound == pytest.approx(held)


@pytest.mark.parametrize("current", [0.0, -1.0])
def test_no_highest_current_is_refused(current: float) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        stalled_torque(100.0, 50.0, current)
