"""Induction machine in rotor-flux coordinates: torque and its limits.

    circuit     leakage, rotor_flux_inductance, rotor_flux_resistance
    points      torque, slip_speed, phase_voltage, current_ratio, base_speed
    limits      torque_limit; limit_currents without working

Currents, voltages and flux linkages are peak values of one phase (amplitude-invariant). The
equivalent circuit has five values per phase: stator resistance R_s, stator leakage L_ls,
magnetising inductance L_m, and rotor leakage L_lr and rotor resistance R_r referred to the stator.
In coordinates that turn with the rotor flux four are left, exactly: with L_r = L_m + L_lr

    L_σ = L_ls + L_m L_lr/L_r          L_M = L_m²/L_r          R_R = R_r (L_m/L_r)²

and in steady state, with the shaft turning at ω and w = p ω + R_R i_q/(L_M i_d) in the stator,

    u_d = R_s i_d - w L_σ i_q          T = 3/2 p L_M i_d i_q
    u_q = R_s i_q + w (L_σ + L_M) i_d

An inverter without overmodulation gives |u| ≤ U_dc/√3. Inductances are constants here; what
saturation allows is the limit on the magnetising current i_d. Iron losses and friction are left
out, and so is the effect of heat and frequency on the rotor's resistance.

Source: textbooks on vector control.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt, tan

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    Inductance,
    Ratio,
    Resistance,
    RotationalSpeed,
    Torque,
    Voltage,
)
from wattwright.waves import zeros

CIRCUIT = Source("Equivalent circuit of the induction machine", "inverse-Γ form", "computed")
DQ = Source("Equations of the induction machine in rotor-flux coordinates", "peak", "computed")
LIMIT = Source(
    "Equations of the induction machine in rotor-flux coordinates",
    "largest torque within the limits of current, magnetising current and voltage",
    "computed",
)

ASKED = {
    "stator_leakage": ("leakage inductance of the stator", "0.1 mH"),
    "magnetising": ("magnetising inductance", "3 mH"),
    "rotor_leakage": ("leakage inductance of the rotor, referred to the stator", "0.1 mH"),
    "rotor_resistance": ("resistance of the rotor, referred to the stator", "20 mΩ"),
    "pole_pairs": ("pole pairs", "2"),
    "rotor_flux_inductance": ("magnetising inductance of the rotor flux, L_M", "2.8 mH"),
    "rotor_flux_resistance": ("resistance of the rotor beside the rotor flux, R_R", "18 mΩ"),
    "d_current": ("magnetising current, peak", "100 A"),
    "q_current": ("current that makes torque, peak", "250 A"),
    "speed": ("speed of the shaft", "1500 rpm"),
    "slip_speed": ("electrical speed by which the field overtakes the rotor", "150 rpm"),
    "rs": ("resistance of a stator phase", "15 mΩ"),
    "leakage": ("leakage inductance of stator and rotor together, L_σ", "0.2 mH"),
    "current_limit": ("limit of the phase current, peak", "300 A"),
    "magnetising_limit": ("limit of the magnetising current, peak", "120 A"),
    "dc_voltage": ("voltage of the DC side", "350 V"),
    "current_ratio": ("ratio of torque to magnetising current to set out from", "2.3"),
}


@dataclass(frozen=True, slots=True)
class Currents:
    """A point in rotor-flux coordinates, peak amperes."""

    d: float
    q: float


@formula("L_σ", CIRCUIT)
def leakage(
    stator_leakage: Inductance, magnetising: Inductance, rotor_leakage: Inductance
) -> Inductance:
    """Leakage of stator and rotor together, seen from the stator.

    L_ls + L_m L_lr/(L_m + L_lr), all H: the inductance left when the rotor is shorted.
    """
    if magnetising <= 0:
        raise FormulaError("the magnetising inductance must be above zero")
    return stator_leakage + magnetising * rotor_leakage / (magnetising + rotor_leakage)


@formula("L_M", CIRCUIT)
def rotor_flux_inductance(magnetising: Inductance, rotor_leakage: Inductance) -> Inductance:
    """Inductance with which the magnetising current makes the flux of the rotor.

    L_m²/(L_m + L_lr), both H.
    """
    if magnetising <= 0:
        raise FormulaError("the magnetising inductance must be above zero")
    return magnetising**2 / (magnetising + rotor_leakage)


@formula("R_R", CIRCUIT)
def rotor_flux_resistance(
    rotor_resistance: Resistance, magnetising: Inductance, rotor_leakage: Inductance
) -> Resistance:
    """Rotor resistance in the circuit whose magnetising branch carries the rotor flux.

    R_r (L_m/(L_m + L_lr))². ``rotor_resistance`` Ω referred to the stator, inductances H.
    """
    if magnetising <= 0:
        raise FormulaError("the magnetising inductance must be above zero")
    return rotor_resistance * (magnetising / (magnetising + rotor_leakage)) ** 2


@formula("T", DQ)
def torque(
    pole_pairs: Count, rotor_flux_inductance: Inductance, d_current: Current, q_current: Current
) -> Torque:
    """Torque of two currents.

    T = 3/2 p L_M i_d i_q. ``rotor_flux_inductance`` L_M H, currents A peak; result N·m in the air
    gap, before iron losses and friction.
    """
    return 1.5 * pole_pairs * rotor_flux_inductance * d_current * q_current


@formula("w_slip", DQ)
def slip_speed(
    rotor_flux_inductance: Inductance,
    rotor_flux_resistance: Resistance,
    d_current: Current,
    q_current: Current,
) -> RotationalSpeed:
    """Electrical speed by which the field overtakes the rotor.

    R_R i_q/(L_M i_d), which is R_r i_q/(L_r i_d). ``rotor_flux_inductance`` L_M H,
    ``rotor_flux_resistance`` R_R Ω, currents A peak; result in electrical rad/s, pole pairs times
    that of the shaft.
    """
    if rotor_flux_inductance <= 0 or d_current <= 0:
        raise FormulaError("inductance and magnetising current must be above zero")
    return rotor_flux_resistance * q_current / (rotor_flux_inductance * d_current)


@formula("û", DQ)
def phase_voltage(
    speed: RotationalSpeed,
    slip_speed: RotationalSpeed,
    pole_pairs: Count,
    rs: Resistance,
    leakage: Inductance,
    rotor_flux_inductance: Inductance,
    d_current: Current,
    q_current: Current,
) -> Voltage:
    """Peak voltage of a phase that two currents need at a speed.

    √(u_d² + u_q²) with the voltage equations at the head of this module. ``speed`` rad/s of the
    shaft, ``slip_speed`` electrical rad/s, ``rs`` Ω, ``leakage`` L_σ and
    ``rotor_flux_inductance`` L_M H, currents A peak; result V.
    """
    return hypot(
        rs * d_current - (pole_pairs * speed + slip_speed) * leakage * q_current,
        rs * q_current
        + (pole_pairs * speed + slip_speed) * (leakage + rotor_flux_inductance) * d_current,
    )


@formula("i_q/i_d", DQ)
def current_ratio(current_limit: Current, magnetising_limit: Current) -> Ratio:
    """Ratio of the two currents that gives most torque while the voltage allows it.

    √(max(1, I²/M² - 1)): both currents the same, or the magnetising current at its limit and the
    rest across it. ``current_limit`` I and ``magnetising_limit`` M in A peak.
    """
    if current_limit <= 0 or magnetising_limit <= 0:
        raise FormulaError("both limits of current must be above zero")
    return sqrt(max(1, (current_limit / magnetising_limit) ** 2 - 1))


@formula("i_d", DQ)
def magnetising_at(current_limit: Current, magnetising_limit: Current) -> Current:
    """Magnetising current at which a current gives most torque at low speed.

    The smaller of M and I/√2: half of the square each way, unless the iron saturates first.
    ``current_limit`` I and ``magnetising_limit`` M in A peak.
    """
    if current_limit <= 0 or magnetising_limit <= 0:
        raise FormulaError("both limits of current must be above zero")
    return min(magnetising_limit, current_limit / sqrt(2))


@formula("ω_base", DQ)
def base_speed(
    dc_voltage: Voltage,
    slip_speed: RotationalSpeed,
    pole_pairs: Count,
    rs: Resistance,
    leakage: Inductance,
    rotor_flux_inductance: Inductance,
    d_current: Current,
    q_current: Current,
) -> RotationalSpeed:
    """Highest speed at which a DC voltage still drives two currents.

    |u| = U_dc/√3 solved for w: with Ψ² = ((L_σ + L_M) i_d)² + (L_σ i_q)² and
    b = R_s L_M i_d i_q, w = (√(b² + Ψ² (U_dc²/3 - R_s² I²)) - b)/Ψ² and ω = (w - w_slip)/p. For
    the currents of most torque this is the base speed.

    ``dc_voltage`` V, ``slip_speed`` electrical rad/s, ``rs`` Ω, ``leakage`` L_σ and
    ``rotor_flux_inductance`` L_M H, currents A peak; result rad/s of the shaft, below zero where
    the voltage is too low for standstill. Holds up to U_dc/√3, without overmodulation.
    """
    if dc_voltage**2 <= 3 * rs**2 * (d_current**2 + q_current**2):
        raise FormulaError("this voltage does not even drive the current through the resistance")
    return (
        (
            sqrt(
                (rs * rotor_flux_inductance * d_current * q_current) ** 2
                + (
                    ((leakage + rotor_flux_inductance) * d_current) ** 2
                    + (leakage * q_current) ** 2
                )
                * (dc_voltage**2 / 3 - rs**2 * (d_current**2 + q_current**2))
            )
            - rs * rotor_flux_inductance * d_current * q_current
        )
        / (((leakage + rotor_flux_inductance) * d_current) ** 2 + (leakage * q_current) ** 2)
        - slip_speed
    ) / pole_pairs


@formula(
    "T_max",
    LIMIT,
    method="the ratio of the two currents is moved from the one of most torque, where the voltage "
    "forbids that, to the best of the ratios where the limit of voltage crosses the one of "
    "current or of magnetising current, and where torque along it neither rises nor falls, roots "
    "of three quartics",
)
def torque_limit(
    speed: RotationalSpeed,
    dc_voltage: Voltage,
    current_limit: Current,
    magnetising_limit: Current,
    pole_pairs: Count,
    rs: Resistance,
    leakage: Inductance,
    rotor_flux_inductance: Inductance,
    rotor_flux_resistance: Resistance,
    current_ratio: Ratio,
) -> Torque:
    """Largest torque at a speed that current, saturation and voltage allow.

    With x = i_q/i_d the voltage equations are i_d times a factor, so each limit says how large
    i_d may be: T = 3/2 p L_M x i_d² and, with w = p ω + R_R x/L_M,

        1/i_d² = max(1/M², (1 + x²)/I²,
                     3 ((R_s - w L_σ x)² + (R_s x + w (L_σ + L_M))²)/U_dc²)

    largest over x. This is full flux, field weakening at the whole current, and breakdown torque,
    whichever rules.

    ``speed`` rad/s of the shaft; below zero the torque works against the turning, so that the
    result is the braking torque at that speed. ``dc_voltage`` V, ``current_limit`` I and
    ``magnetising_limit`` M in A peak, ``rs`` and ``rotor_flux_resistance`` R_R Ω, ``leakage`` L_σ
    and ``rotor_flux_inductance`` L_M H. ``current_ratio`` is the one of most torque, where the
    search sets out. Result N·m in the air gap. Holds without overmodulation, with inductances as
    they are at the limit of the magnetising current: with less of it they are rather larger.
    """
    _check(
        dc_voltage, current_limit, magnetising_limit, pole_pairs, rs, leakage,
        rotor_flux_inductance, rotor_flux_resistance,
    )  # fmt: skip
    machine = (pole_pairs * speed, rs, leakage, rotor_flux_inductance, rotor_flux_resistance)
    current_ratio = _best_ratio(
        current_ratio, dc_voltage, current_limit, magnetising_limit, *machine
    )
    return (
        1.5
        * pole_pairs
        * rotor_flux_inductance
        * current_ratio
        / max(
            1 / magnetising_limit**2,
            (1 + current_ratio**2) / current_limit**2,
            3
            * (
                (
                    rs
                    - (
                        pole_pairs * speed
                        + rotor_flux_resistance * current_ratio / rotor_flux_inductance
                    )
                    * leakage
                    * current_ratio
                )
                ** 2
                + (
                    rs * current_ratio
                    + (
                        pole_pairs * speed
                        + rotor_flux_resistance * current_ratio / rotor_flux_inductance
                    )
                    * (leakage + rotor_flux_inductance)
                )
                ** 2
            )
            / dc_voltage**2,
        )
    )


def limit_currents(
    speed: float,
    dc_voltage: float,
    current_limit: float,
    magnetising_limit: float,
    pole_pairs: float,
    rs: float,
    leakage: float,
    rotor_flux_inductance: float,
    rotor_flux_resistance: float,
) -> Currents:
    """Find the currents of the largest torque; arguments as for ``torque_limit``."""
    _check(
        dc_voltage, current_limit, magnetising_limit, pole_pairs, rs, leakage,
        rotor_flux_inductance, rotor_flux_resistance,
    )  # fmt: skip
    machine = (pole_pairs * speed, rs, leakage, rotor_flux_inductance, rotor_flux_resistance)
    limits = (dc_voltage, current_limit, magnetising_limit)
    start = current_ratio(current_limit, magnetising_limit)
    ratio = _best_ratio(start, *limits, *machine)
    d = 1 / sqrt(max(_needs(ratio, *limits, _square(*machine))))
    return Currents(d, ratio * d)


Quartic = tuple[float, float, float, float, float]


def _check(
    dc_voltage: float, current: float, magnetising: float, pairs: float, *circuit: float
) -> None:
    rs, leakage, inductance, resistance = circuit
    above = (dc_voltage, current, magnetising, pairs, leakage, inductance, resistance)
    if min(above) <= 0 or rs < 0:
        raise FormulaError(
            "voltage, limits of current, pole pairs, inductances and the rotor's resistance must "
            "be above zero, and the stator's resistance not below"
        )


def _square(electrical: float, rs: float, leakage: float, inductance: float, rr: float) -> Quartic:
    """Square of voltage over i_d, as a quartic in the ratio of the currents, constant first."""
    a, b, whole = electrical, rr / inductance, leakage + inductance
    return (
        rs**2 + (a * whole) ** 2,
        2 * a * (b * whole**2 + rs * inductance),
        rs**2 + (a * leakage) ** 2 + (b * whole) ** 2 + 2 * rs * inductance * b,
        2 * a * b * leakage**2,
        (b * leakage) ** 2,
    )


def _needs(
    x: float, dc_voltage: float, current: float, magnetising: float, square: Quartic
) -> tuple[float, float, float]:
    """What each limit asks 1/i_d² to be at least."""
    c0, c1, c2, c3, c4 = square
    volts = (((c4 * x + c3) * x + c2) * x + c1) * x + c0
    return magnetising**-2, (1 + x * x) / current**2, 3 * volts / dc_voltage**2


def _best_ratio(
    start: float, dc_voltage: float, current: float, magnetising: float, *machine: float
) -> float:
    """Ratio of currents with the largest torque.

    Each limit gives a torque x/need, which rises and falls with x, braking under the limit of
    voltage perhaps twice. The largest of the least of them lies on a summit of one or on a
    crossing of two. ``start`` is the best that the limits of current have to offer.
    """
    square = _square(*machine)
    limits = (dc_voltage, current, magnetising, square)
    need = _needs(start, *limits)
    if need[2] <= max(need[:2]):
        return start
    c0, c1, c2, c3, c4 = square
    i, m = 3 * (current / dc_voltage) ** 2, 3 * (magnetising / dc_voltage) ** 2
    found = [start]
    found += _roots((-c0, 0.0, c2, 2 * c3, 3 * c4))
    found += _roots((i * c0 - 1, i * c1, i * c2 - 1, i * c3, i * c4))
    found += _roots((m * c0 - 1, m * c1, m * c2, m * c3, m * c4))
    return max(found, key=lambda x: x / max(_needs(x, *limits)))


def _roots(quartic: Quartic) -> Iterator[float]:
    """Roots above zero of a quartic, constant first, as zeros of a wave with x = s tan(θ/2)."""
    scale = sqrt(sqrt(abs(quartic[0] / quartic[4]))) or 1.0
    k0, k1, k2, k3, k4 = (number * scale**power for power, number in enumerate(quartic))
    half = (k0 + k4) / 2
    second = (half - k2 / 2) / 4
    wave = (half - second, (k0 - k4) / 2, (k1 + k3) / 4, second, (k1 - k3) / 8)
    for angle in zeros(wave):
        x = scale * tan(angle / 2)
        if x > 0:
            yield x
