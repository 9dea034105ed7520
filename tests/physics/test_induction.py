"""Induction machine: closed forms by hand, invariants, and two circuits that must agree."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import induction, induction_on_mains

Machine = tuple[float, float, float, float, float]
Case = tuple[float, float, float, float, Machine]

# Pole pairs, R_s, L_σ, L_M, R_R
MACHINE: Machine = (2.0, 0.02, 0.25e-3, 4e-3, 0.015)


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Speed, DC voltage, limits of current and magnetising current, and machine."""

    def decades(low: float, high: float) -> float:
        return float(10.0 ** draw(st.floats(low, high)))

    pairs = float(draw(st.integers(1, 6)))
    current, voltage = decades(1, 3), decades(1, 3)
    magnetising = current * decades(-1.3, 0.2)
    inductance = decades(-3.5, -1.5)
    leakage = inductance * decades(-2, -0.5)
    rs = voltage / current * draw(st.sampled_from([0.0, decades(-4, 0.7)]))
    rr = voltage / current * decades(-3, -0.5)
    speed = voltage / (inductance * magnetising * pairs) * decades(-1.5, 1.5)
    speed *= draw(st.sampled_from([0, 1, 1, -1]))
    return speed, voltage, current, magnetising, (pairs, rs, leakage, inductance, rr)


def limit(speed: float, voltage: float, current: float, most: float, machine: Machine) -> float:
    start = induction.current_ratio(current, most)
    return induction.torque_limit(speed, voltage, current, most, *machine, start)


def needed(speed: float, machine: Machine, d: float, q: float) -> float:
    pairs, rs, leakage, inductance, rr = machine
    slip = induction.slip_speed(inductance, rr, d, q)
    return induction.phase_voltage(speed, slip, pairs, rs, leakage, inductance, d, q)


@settings(max_examples=150, deadline=None)
@given(cases())
def test_no_ratio_gives_more_torque_and_no_limit_is_exceeded(case: Case) -> None:
    speed, voltage, current, most, machine = case
    found = limit(*case)
    at = induction.limit_currents(speed, voltage, current, most, *machine)
    assert induction.torque(machine[0], machine[3], at.d, at.q) == pytest.approx(found, rel=1e-9)
    assert at.d <= most * (1 + 1e-9)
    assert math.hypot(at.d, at.q) <= current * (1 + 1e-9)
    assert needed(speed, machine, at.d, at.q) <= voltage / math.sqrt(3) * (1 + 1e-9)
    # Voltage is proportional to i_d where the ratio is kept, so each ratio has a largest i_d.
    pairs, rs, leakage, inductance, rr = machine
    x = np.geomspace(1e-4, 1e5, 90001)
    w = pairs * speed + rr * x / inductance
    square = (rs - w * leakage * x) ** 2 + (rs * x + w * (leakage + inductance)) ** 2
    need = np.maximum(np.maximum(most**-2, (1 + x**2) / current**2), 3 * square / voltage**2)
    scan = (1.5 * pairs * inductance * x / need).max()
    assert scan <= found * (1 + 1e-6)
    assert scan >= found * (1 - 1e-3)


@settings(max_examples=100, deadline=None)
@given(cases(), st.floats(1.0, 2.0))
def test_wider_limits_never_give_less(case: Case, more: float) -> None:
    speed, voltage, current, most, machine = case
    least = limit(*case) * (1 - 1e-6)
    assert limit(speed, voltage * more, current, most, machine) >= least
    assert limit(speed, voltage, current * more, most, machine) >= least
    assert limit(speed, voltage, current, most * more, machine) >= least


@settings(max_examples=100, deadline=None)
@given(cases(), st.floats(1.0, 3.0))
def test_driving_torque_never_grows_with_speed(case: Case, faster: float) -> None:
    speed, *limits = case
    slow = limit(abs(speed), *limits)
    assert limit(abs(speed) * faster, *limits) <= slow * (1 + 1e-6)


@settings(max_examples=100, deadline=None)
@given(cases(), st.floats(0.3, 3.0))
def test_voltage_and_speed_go_together(case: Case, times: float) -> None:
    """Without stator resistance, and with the rotor's in proportion, torque is the same."""
    speed, voltage, current, most, (pairs, _, leakage, inductance, rr) = case
    base = limit(speed, voltage, current, most, (pairs, 0.0, leakage, inductance, rr))
    scaled = limit(
        times * speed,
        times * voltage,
        current,
        most,
        (pairs, 0.0, leakage, inductance, times * rr),
    )
    assert scaled == pytest.approx(base, rel=1e-6)


@pytest.mark.parametrize("speed", [150.0, 300.0, 900.0])
def test_voltage_and_speed_go_together_while_slip_is_small(speed: float) -> None:
    machine = (2.0, 0.0, 0.25e-3, 4e-3, 1e-6)
    assert limit(speed, 300.0, 400.0, 120.0, machine) == pytest.approx(
        limit(1.2 * speed, 360.0, 400.0, 120.0, machine), rel=1e-4
    )


@settings(max_examples=100, deadline=None)
@given(cases())
def test_the_base_speed_uses_the_whole_voltage(case: Case) -> None:
    _, voltage, current, most, machine = case
    pairs, rs, leakage, inductance, rr = machine
    assume(rs * current < 0.9 * voltage / math.sqrt(3))
    ratio = induction.current_ratio(current, most)
    d = min(most, current / math.hypot(1, ratio))
    q = ratio * d
    slip = induction.slip_speed(inductance, rr, d, q)
    base = induction.base_speed(voltage, slip, pairs, rs, leakage, inductance, d, q)
    assert needed(base, machine, d, q) == pytest.approx(voltage / math.sqrt(3), rel=1e-7)
    full = induction.torque(pairs, inductance, d, q)
    assume(base > 0)
    assert limit(0.999 * base, voltage, current, most, machine) == pytest.approx(full, rel=1e-9)
    assert limit(1.02 * base, voltage, current, most, machine) < full


def test_full_flux_by_hand() -> None:
    # 120 A along, √(400² - 120²) = 381.576 A across: 1.5·2·4 mH·120·381.576
    assert induction.current_ratio(400.0, 120.0) == pytest.approx(381.576 / 120, rel=1e-6)
    assert limit(50.0, 300.0, 400.0, 120.0, MACHINE) == pytest.approx(549.469, abs=0.001)
    # Much magnetising current allowed: both currents the same, 1.5·2·4 mH·400²/2
    assert induction.current_ratio(400.0, 390.0) == 1.0
    assert limit(0.0, 300.0, 400.0, 390.0, MACHINE) == pytest.approx(960.0)
    # 15 mΩ/4 mH = 3.75 1/s times the ratio 2
    assert induction.slip_speed(4e-3, 0.015, 100.0, 200.0) == pytest.approx(7.5)


def test_breakdown_by_hand() -> None:
    """Without stator resistance and far beyond the current: x = L/L_σ, i_d = u/(√2 w L)."""
    pairs, leakage, inductance = 2.0, 0.25e-3, 4e-3
    machine = (pairs, 0.0, leakage, inductance, 1e-9)
    whole, w = leakage + inductance, 2.0 * 2000
    d = 300 / math.sqrt(3) / (math.sqrt(2) * w * whole)
    want = 1.5 * pairs * inductance * d**2 * whole / leakage
    assert limit(2000.0, 300.0, 1000.0, 120.0, machine) == pytest.approx(want, rel=1e-6)
    at = induction.limit_currents(2000.0, 300.0, 1000.0, 120.0, *machine)
    assert at.q / at.d == pytest.approx(17.0, rel=1e-5)


def test_voltage_with_full_flux_by_hand() -> None:
    """At standstill 57.735 V drive 115.47 A through 0.5 Ω: 50 A along, 104.083 A across."""
    machine = (2.0, 0.5, 0.25e-3, 4e-3, 1e-9)
    want = 1.5 * 2 * 4e-3 * 50 * 104.083
    assert limit(0.0, 100.0, 400.0, 50.0, machine) == pytest.approx(want, rel=1e-5)


def test_braking_gives_more_than_driving_beyond_the_base_speed() -> None:
    assert limit(-600.0, 300.0, 400.0, 120.0, MACHINE) > limit(600.0, 300.0, 400.0, 120.0, MACHINE)


@settings(max_examples=100)
@given(
    st.floats(-0.3, 1.0).filter(lambda slip: abs(slip) > 1e-3),
    st.floats(0.005, 0.5),
    st.floats(1e-4, 2e-3),
    st.floats(2e-3, 5e-2),
    st.floats(1e-4, 2e-3),
    st.floats(0.005, 0.5),
)
def test_both_circuits_are_one_machine(
    slip: float, rs: float, stator: float, main: float, rotor: float, rr: float
) -> None:
    """At any slip on mains, the currents in rotor-flux coordinates need the mains' voltage."""
    peak, hertz, pairs = 300.0, 50.0, 2.0
    w = 2 * math.pi * hertz
    xs, xm, xr = (induction_on_mains.reactance(hertz, each) for each in (stator, main, rotor))
    thevenin = (
        induction_on_mains.thevenin_voltage(peak, rs, xs, xm),
        induction_on_mains.thevenin_resistance(rs, xs, xm),
        induction_on_mains.thevenin_reactance(rs, xs, xm),
    )
    torque = induction_on_mains.torque_at_slip(slip, *thevenin, xr, rr, hertz, pairs)
    current = induction_on_mains.line_current(slip, peak, rs, xs, xm, xr, rr)
    leakage = induction.leakage(stator, main, rotor)
    inductance = induction.rotor_flux_inductance(main, rotor)
    resistance = induction.rotor_flux_resistance(rr, main, rotor)
    # The ratio that makes this slip; then the current alone is left.
    ratio = slip * w * inductance / resistance
    d = current / math.hypot(1, ratio)
    q = ratio * d
    turning = induction.slip_speed(inductance, resistance, d, q)
    assert turning == pytest.approx(slip * w)
    shaft = (w - turning) / pairs
    assert induction.torque(pairs, inductance, d, q) == pytest.approx(torque, rel=1e-9)
    machine = (pairs, rs, leakage, inductance, resistance)
    assert needed(shaft, machine, d, q) == pytest.approx(peak, rel=1e-9)
    # Breakdown is the largest torque of any slip.
    most = induction_on_mains.breakdown_torque(*thevenin, xr, hertz, pairs)
    at = induction_on_mains.breakdown_slip(*thevenin[1:], xr, rr)
    assert torque <= most * (1 + 1e-12)
    top = induction_on_mains.torque_at_slip(at, *thevenin, xr, rr, hertz, pairs)
    assert top == pytest.approx(most, rel=1e-9)


def test_at_synchronous_speed_only_the_magnetising_current_flows() -> None:
    # 300 V over 1 + 29 Ω
    assert induction_on_mains.line_current(0, 300, 0.0, 1.0, 29.0, 1.0, 0.5) == pytest.approx(10.0)
    assert induction_on_mains.torque_at_slip(0, 250, 0.5, 1.0, 1.0, 0.3, 50, 2) == 0
    assert induction_on_mains.phase_peak(400.0) == pytest.approx(326.599, abs=0.001)


@pytest.mark.parametrize("place", range(1, 9))
def test_a_machine_without_a_part_is_refused(place: int) -> None:
    numbers = [100.0, 300.0, 400.0, 120.0, *MACHINE]
    numbers[place] = -0.01 if place == 5 else 0.0
    with pytest.raises(FormulaError, match="above zero"):
        induction.torque_limit(*numbers, 1.0)
    with pytest.raises(FormulaError, match="above zero"):
        induction.limit_currents(*numbers)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (induction.leakage, (1e-4, 0.0, 1e-4)),
        (induction.rotor_flux_inductance, (0.0, 1e-4)),
        (induction.rotor_flux_resistance, (0.1, 0.0, 1e-4)),
        (induction.slip_speed, (4e-3, 0.1, 0.0, 10.0)),
        (induction.current_ratio, (100.0, 0.0)),
        (induction.base_speed, (10.0, 0.0, 2.0, 0.1, 1e-4, 4e-3, 100.0, 100.0)),
        (induction_on_mains.torque_at_slip, (0.1, 250, 0.5, 1.0, 1.0, 0.3, 0.0, 2)),
        (induction_on_mains.line_current, (0.1, 250, 0.5, 1.0, 29.0, 1.0, 0.0)),
        (induction_on_mains.breakdown_slip, (0.1, 0.0, 0.0, 0.3)),
        (induction_on_mains.breakdown_torque, (250.0, 0.1, 1.0, 0.5, 0.0, 2.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError, match=r"above zero|through the resistance"):
        call(*numbers)  # type: ignore[operator]


def test_importing_the_module_brings_no_numerics_library() -> None:
    code = "import sys, wattwright.physics.induction; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@given(st.floats(1.0, 1000.0), st.floats(1.0, 1000.0))
def test_the_magnetising_current_is_the_best_that_the_iron_allows(
    current: float, saturates: float
) -> None:
    best = induction.magnetising_at(current, saturates)
    assert best <= saturates
    # Torque goes with i_d i_q: nowhere on the circle up to saturation is there more.
    along = np.linspace(0.0, min(saturates, current), 501)
    across = np.sqrt(np.maximum(0.0, current**2 - along**2))
    most = best * math.sqrt(max(0.0, current**2 - best**2))
    assert most >= (along * across).max() * (1 - 1e-12)
    # The ratio in which the limits are searched is the one of these two currents.
    ratio = induction.current_ratio(current, saturates)
    assert ratio * best == pytest.approx(math.sqrt(current**2 - best**2), rel=1e-9)


def test_magnetising_current_by_hand() -> None:
    # 200 A: 141.4 A each way, unless the iron saturates at 90 A.
    assert induction.magnetising_at(200.0, 300.0) == pytest.approx(141.421, abs=1e-3)
    assert induction.magnetising_at(200.0, 90.0) == 90.0
    for limits in ((0.0, 90.0), (200.0, 0.0)):
        with pytest.raises(FormulaError, match="above zero"):
            induction.magnetising_at(*limits)
