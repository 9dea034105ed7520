"""Synchronous machine: closed forms by hand, invariants, and a dense search that knows no theory.

The search stands in for a general optimiser: it scans the current circle and the voltage ellipse,
then closes in on the best point found. It may find less than there is, never more.
"""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics import diode_generation, pmsm

Machine = tuple[float, float, float, float, float]

SALIENT: Machine = (3.0, 0.066, 0.37e-3, 1.2e-3, 0.0)
SURFACE: Machine = (4.0, 0.05, 0.2e-3, 0.2e-3, 0.0)
RADII, ANGLES = np.meshgrid(np.linspace(0, 1, 41), np.linspace(0, 2 * np.pi, 181))
DISK = RADII * np.cos(ANGLES), RADII * np.sin(ANGLES)


@st.composite
def cases(draw: st.DrawFn) -> tuple[float, float, float, Machine]:
    """Speed, DC voltage, current limit and machine, over more than four decades each."""

    def decades(low: float, high: float) -> float:
        return float(10.0 ** draw(st.floats(low, high)))

    flux, current, voltage = decades(-3, 0), decades(0.5, 3), decades(1, 3)
    pole_pairs = float(draw(st.integers(1, 8)))
    ld = flux / current * decades(-1.5, 1.5)
    lq = ld * draw(st.sampled_from([1.0, decades(-1, 1)]))
    rs = voltage / current * draw(st.sampled_from([0.0, decades(-4, 0)]))
    speed = voltage / flux / pole_pairs * decades(-1.5, 1.5) * draw(st.sampled_from([0, 1, 1, -1]))
    return speed, voltage, current, (pole_pairs, flux, ld, lq, rs)


def limit(speed: float, voltage: float, current: float, machine: Machine) -> float:
    start = pmsm.mtpa_d_current(current, *machine[1:4])
    return pmsm.torque_limit(speed, voltage, current, *machine, start)


def searched(speed: float, voltage: float, current: float, machine: Machine) -> float:
    pole_pairs, flux, ld, lq, rs = machine
    w, most = pole_pairs * speed, voltage / math.sqrt(3)
    best = (-math.inf, 0.0, 0.0)

    def scan(d: np.ndarray, q: np.ndarray) -> None:
        nonlocal best
        u = np.hypot(rs * d - w * lq * q, rs * q + w * (flux + ld * d))
        torque = 1.5 * pole_pairs * (flux + (ld - lq) * d) * q
        torque[(u > most) | (np.hypot(d, q) > current)] = -math.inf
        at = torque.argmax()
        best = max(best, (float(torque.flat[at]), float(d.flat[at]), float(q.flat[at])))

    scan(current * DISK[0], current * DISK[1])
    determinant = rs**2 + w**2 * ld * lq
    if determinant:
        u_d, u_q = most * DISK[0], most * DISK[1] - w * flux
        scan(
            (rs * u_d + w * lq * u_q) / determinant,
            (rs * u_q - w * ld * u_d) / determinant,
        )
    size = current / 20
    while math.isfinite(best[0]) and size > 1e-6 * current:
        scan(best[1] + size * DISK[0], best[2] + size * DISK[1])
        size /= 2.5
    return best[0]


@settings(max_examples=80, deadline=None)
@given(cases())
def test_no_search_finds_more_torque_and_no_limit_is_exceeded(
    case: tuple[float, float, float, Machine],
) -> None:
    speed, voltage, current, machine = case
    torque = limit(*case)
    full = 1.5 * machine[0] * machine[1] * current
    assert searched(*case) <= torque * (1 + 1e-9) + 1e-12 * full
    at = pmsm.limit_currents(speed, voltage, current, *machine)
    assert pmsm.torque(*machine[:4], at.d, at.q) == pytest.approx(torque, rel=1e-6, abs=1e-7 * full)
    if torque > 0:
        assert math.hypot(at.d, at.q) <= current * (1 + 1e-9)
        needed = pmsm.phase_voltage(speed, *machine, at.d, at.q)
        assert needed <= voltage / math.sqrt(3) * (1 + 1e-9)


@settings(max_examples=80, deadline=None)
@given(cases())
def test_the_envelope_is_the_limit_at_every_speed(
    case: tuple[float, float, float, Machine],
) -> None:
    speed, voltage, current, machine = case
    speeds = speed * np.array([0.5, 1.0, 1.1, -1.0])
    got = pmsm.envelope(speeds, voltage, current, *machine)
    want = [limit(float(each), voltage, current, machine) for each in speeds]
    assert got == pytest.approx(want, rel=1e-6, abs=1e-7 * 1.5 * machine[0] * machine[1] * current)


@settings(max_examples=80, deadline=None)
@given(cases(), st.floats(1.0, 2.0))
def test_more_voltage_or_current_never_gives_less(
    case: tuple[float, float, float, Machine], more: float
) -> None:
    speed, voltage, current, machine = case
    torque = limit(*case)
    room = 1e-7 * machine[0] * machine[1] * current
    assert limit(speed, voltage * more, current, machine) >= torque * (1 - 1e-9) - room
    assert limit(speed, voltage, current * more, machine) >= torque * (1 - 1e-9) - room


@settings(max_examples=80, deadline=None)
@given(cases(), st.floats(1.0, 3.0))
def test_without_resistance_torque_never_grows_with_speed(
    case: tuple[float, float, float, Machine], faster: float
) -> None:
    speed, voltage, current, (*machine, _) = case
    speed = abs(speed)
    slow = limit(speed, voltage, current, (*machine, 0.0))
    assert limit(speed * faster, voltage, current, (*machine, 0.0)) <= slow * (1 + 1e-9)
    # Nor does it matter then which way the shaft turns.
    assert limit(-speed, voltage, current, (*machine, 0.0)) == pytest.approx(slow, rel=1e-9)


@given(st.floats(1.0, 1000.0), st.floats(0.001, 1.0), st.floats(1e-5, 0.01), st.floats(1e-5, 0.01))
def test_most_torque_per_ampere_is_the_summit_of_the_circle(
    current: float, flux: float, ld: float, lq: float
) -> None:
    d = pmsm.mtpa_d_current(current, flux, ld, lq)
    best = pmsm.torque(2.0, flux, ld, lq, d, pmsm.q_current(current, d))
    angles = np.linspace(0, 2 * np.pi, 721)
    around = 3.0 * (flux + (ld - lq) * current * np.cos(angles)) * current * np.sin(angles)
    assert best >= around.max() * (1 - 1e-12)
    assert d * (ld - lq) >= 0


@settings(max_examples=60, deadline=None)
@given(cases())
def test_the_base_speed_uses_the_whole_voltage(case: tuple[float, float, float, Machine]) -> None:
    _, voltage, current, machine = case
    assume(machine[4] * current < 0.9 * voltage / math.sqrt(3))
    d = pmsm.mtpa_d_current(current, *machine[1:4])
    q = pmsm.q_current(current, d)
    base = pmsm.base_speed(voltage, *machine, d, q)
    needed = pmsm.phase_voltage(base, *machine, d, q)
    assert needed == pytest.approx(voltage / math.sqrt(3), rel=1e-7)
    full = pmsm.torque(*machine[:4], d, q)
    assert limit(0.999 * base, voltage, current, machine) == pytest.approx(full, rel=1e-9)
    assert limit(1.02 * base, voltage, current, machine) < full


def test_surface_magnets_by_hand() -> None:
    pole_pairs, flux, inductance, *_ = SURFACE
    assert pmsm.mtpa_d_current(200.0, flux, inductance, inductance) == 0
    assert limit(100.0, 300.0, 200.0, SURFACE) == pytest.approx(1.5 * 4 * 0.05 * 200)
    # ψ = 0.05 and L I = 0.04 stand at right angles: 0.064031 Wb at 173.205 V
    base = pmsm.base_speed(300.0, *SURFACE, 0.0, 200.0)
    assert base == pytest.approx(173.205 / 0.0640312 / 4, rel=1e-5)
    # Field weakening on the circle, from (ψ + L i_d)² + L² i_q² = (û/w)² and i_d² + i_q² = I².
    speed = 1.5 * base
    flux_left = 300 / math.sqrt(3) / (pole_pairs * speed)
    d = (flux_left**2 - flux**2 - (inductance * 200) ** 2) / (2 * flux * inductance)
    want = 1.5 * pole_pairs * flux * math.sqrt(200**2 - d**2)
    assert limit(speed, 300.0, 200.0, SURFACE) == pytest.approx(want, rel=1e-9)


def test_magnets_too_strong_for_the_current_end_the_speed() -> None:
    # ψ - L I = 0.01 Wb is the least flux; 173.205 V are used up at w = 17320.5 rad/s
    end = 17320.508 / 4
    assert limit(0.99 * end, 300.0, 200.0, SURFACE) > 0
    assert limit(1.001 * end, 300.0, 200.0, SURFACE) == 0.0
    assert pmsm.limit_currents(1.001 * end, 300.0, 200.0, *SURFACE) == pmsm.Currents(0.0, 0.0)
    assert pmsm.envelope(np.array([1.001 * end]), 300.0, 200.0, *SURFACE)[0] == 0.0


def test_most_torque_per_volt_by_hand() -> None:
    # ψ/L = 250 A is within 400 A: at speed i_d = -ψ/L, i_q = û/(w L), and power stays
    speed = 5000.0
    q = 300 / math.sqrt(3) / (4 * speed * 0.2e-3)
    assert limit(speed, 300.0, 400.0, SURFACE) == pytest.approx(1.5 * 4 * 0.05 * q, rel=1e-9)
    at = pmsm.limit_currents(speed, 300.0, 400.0, *SURFACE)
    assert (at.d, at.q) == (pytest.approx(-250.0), pytest.approx(q))


def test_at_standstill_only_current_and_resistance_count() -> None:
    assert limit(0.0, 300.0, 200.0, SURFACE) == pytest.approx(60.0)
    # 0.1 Ω lets 17.3205 V drive 173.205 A
    weak = limit(0.0, 30.0, 200.0, (*SURFACE[:4], 0.1))
    assert weak == pytest.approx(1.5 * 4 * 0.05 * 173.205, rel=1e-6)


def test_resistance_takes_from_driving_and_gives_to_braking() -> None:
    machine = (*SALIENT[:4], 0.018)
    lossless = limit(400.0, 300.0, 240.0, SALIENT)
    assert limit(400.0, 300.0, 240.0, machine) < lossless < limit(-400.0, 300.0, 240.0, machine)


def test_a_machine_with_more_flux_along_its_magnets_crosses_from_one_side_to_the_other() -> None:
    # L_d ten times L_q: current with the magnets at low speed, against them at high speed
    machine = (4.0, 0.02, 2e-3, 0.2e-3, 0.0)
    assert pmsm.limit_currents(100.0, 300.0, 200.0, *machine).d > 100
    at = pmsm.limit_currents(2000.0, 300.0, 200.0, *machine)
    assert at.d < 0 < at.q
    assert limit(2000.0, 300.0, 200.0, machine) >= searched(2000.0, 300.0, 200.0, machine) > 0


def test_where_the_search_sets_out_does_not_matter() -> None:
    torques = {
        pmsm.torque_limit(500.0, 300.0, 240.0, *SALIENT, start) for start in (-200.0, 0.0, 100.0)
    }
    assert len(torques) == 1


def test_an_envelope_of_no_speeds_is_empty() -> None:
    assert pmsm.envelope(np.array([]), 300.0, 240.0, *SALIENT).shape == (0,)


@pytest.mark.parametrize("place", range(1, 7))
def test_a_machine_without_a_part_is_refused(place: int) -> None:
    numbers = [100.0, 300.0, 240.0, *SALIENT]
    numbers[place] = 0.0
    with pytest.raises(FormulaError, match="above zero"):
        pmsm.torque_limit(*numbers, 0.0)
    with pytest.raises(FormulaError, match="above zero"):
        pmsm.envelope(np.array([100.0]), *numbers[1:])


def test_other_numbers_that_make_no_sense_are_refused() -> None:
    with pytest.raises(FormulaError, match="resistance not below"):
        pmsm.torque_limit(100.0, 300.0, 240.0, *SALIENT[:4], -0.01, 0.0)
    with pytest.raises(FormulaError, match="larger than the whole"):
        pmsm.q_current(100.0, -101.0)
    with pytest.raises(FormulaError, match="above zero"):
        pmsm.mtpa_d_current(100.0, 0.0, 1e-3, 1e-3)
    with pytest.raises(FormulaError, match="at standstill"):
        pmsm.base_speed(10.0, *SALIENT[:4], 0.1, 0.0, 100.0)
    with pytest.raises(FormulaError, match="above zero"):
        pmsm.speed_of_emf(300.0, 0.0, 3.0)
    with pytest.raises(FormulaError, match="above zero"):
        diode_generation.speed_generation_ends(190.0, 0.0, 3.0, 1e-3, 1e-3)
    with pytest.raises(FormulaError, match="above zero"):
        diode_generation.generated_current(200.0, 190.0, 0.0, 3.0, 1e-3, 1e-3)
    with pytest.raises(FormulaError, match="above zero"):
        diode_generation.generated_torque(300.0, 10.0, 0.0)


def test_emf_by_hand() -> None:
    assert pmsm.phase_emf_peak(500.0, 0.066, 3.0) == pytest.approx(99.0)
    assert pmsm.line_emf_peak(500.0, 0.066, 3.0) == pytest.approx(171.473, rel=1e-5)
    # A tenth per kelvin: 45 K colder is 4.5 % stronger
    cold = pmsm.flux_at_temperature(0.066, 0.10, 293.15, 248.15)
    assert cold == pytest.approx(0.066 * 1.045)
    assert pmsm.flux_at_temperature(0.066, 0.10, 293.15, 393.15) == pytest.approx(0.066 * 0.9)
    declared = declaration(pmsm.flux_at_temperature)
    assert declared.outside([0.066, 0.1, 293.15, 253.15]) == ()
    assert declared.outside([0.066, 0.1, 293.15, 493.15]) != ()


@given(st.floats(1.0, 1000.0), st.floats(0.001, 1.0), st.integers(1, 10))
def test_generation_begins_where_the_line_emf_is_the_dc_voltage(
    voltage: float, flux: float, pole_pairs: int
) -> None:
    speed = pmsm.speed_of_emf(voltage, flux, float(pole_pairs))
    assert pmsm.line_emf_peak(speed, flux, float(pole_pairs)) == pytest.approx(voltage)


def circuit(resistance: float, w: float, flux: float, ld: float, lq: float) -> tuple[float, float]:
    """Currents of the short-circuited dq circuit with a resistance in each phase."""
    matrix = [[resistance, -w * lq], [w * ld, resistance]]
    d, q = np.linalg.solve(matrix, [0.0, -w * flux])
    return float(d), float(q)


@settings(max_examples=100)
@given(st.floats(0.005, 0.5), st.floats(1e-4, 5e-3), st.floats(0.5, 8.0), st.floats(1.001, 6.0))
def test_generated_current_solves_the_circuit_and_its_power_brakes(
    flux: float, ld: float, ratio: float, over: float
) -> None:
    dc_voltage, pole_pairs, lq = 300.0, 4.0, ratio * ld
    v = diode_generation.diode_voltage(dc_voltage)
    assert v == pytest.approx(190.98593)
    speed = over * diode_generation.speed_generation_ends(v, flux, pole_pairs, ld, lq)
    emf = pmsm.phase_emf_peak(speed, flux, pole_pairs)
    current = diode_generation.generated_current(emf, v, speed, pole_pairs, ld, lq)
    w = pole_pairs * speed
    d, q = circuit(v / current, w, flux, ld, lq)
    assert math.hypot(d, q) == pytest.approx(current, rel=1e-6)
    assert current <= max(flux / ld, flux / lq) * (1 + 1e-9)
    direct = diode_generation.generated_dc_current(current)
    braking = diode_generation.generated_torque(dc_voltage, direct, speed)
    assert braking == pytest.approx(-pmsm.torque(pole_pairs, flux, ld, lq, d, q), rel=1e-6)
    # No smaller load resistance carries a larger current that would last.
    for share in (0.9, 0.5, 0.1):
        resistance = share * v / current
        assert math.hypot(*circuit(resistance, w, flux, ld, lq)) * resistance < v


def test_slower_than_the_end_the_diodes_feed_nothing() -> None:
    for ld in (1e-3, 0.2e-3):
        end = diode_generation.speed_generation_ends(190.0, 0.1, 4.0, ld, 1e-3)
        emf = pmsm.phase_emf_peak(0.999 * end, 0.1, 4.0)
        with pytest.raises(FormulaError, match="keep no current going"):
            diode_generation.generated_current(emf, 190.0, 0.999 * end, 4.0, ld, 1e-3)


def test_fast_the_current_is_the_one_of_a_short_circuit() -> None:
    speed = 1e6
    emf = pmsm.phase_emf_peak(speed, 0.066, 3.0)
    current = diode_generation.generated_current(emf, 190.0, speed, 3.0, 0.37e-3, 1.2e-3)
    assert current == pytest.approx(0.066 / 0.37e-3, rel=1e-4)


def test_importing_the_module_brings_no_numerics_library() -> None:
    code = "import sys, wattwright.physics.pmsm; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@given(st.floats(50.0, 1500.0), st.floats(100.0, 500.0), st.floats(0.02, 0.2))
def test_the_weakened_field_just_meets_the_voltage(speed: float, dc: float, flux: float) -> None:
    """With no torque and no resistance the phase needs what the inverter has, or less as it is."""
    current = pmsm.weakening_current(speed, dc, 3.0, flux, 0.3e-3)
    needed = pmsm.phase_voltage(speed, 3.0, flux, 0.3e-3, 0.5e-3, 0.0, -current, 0.0)
    if current > 0:
        assert needed == pytest.approx(dc / math.sqrt(3), rel=1e-9)
    else:
        assert needed <= dc / math.sqrt(3) * (1 + 1e-12)


def test_nothing_is_weakened_at_standstill() -> None:
    with pytest.raises(FormulaError, match="while the motor turns"):
        pmsm.weakening_current(0.0, 300.0, 3.0, 0.1, 0.3e-3)
    # 0.1 Wb at 3 x 800 rad/s makes 240 V; 300 V DC give 173.2 V: 66.8 V over 0.72 Ω.
    assert pmsm.weakening_current(800.0, 300.0, 3.0, 0.1, 0.3e-3) == pytest.approx(92.8, abs=0.1)
