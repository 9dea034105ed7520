"""Permanent magnet synchronous machine in rotor coordinates: torque, its limits, and its EMF.

    points       mtpa_d_current, q_current, weakening_current, torque, phase_voltage, base_speed
    limits       torque_limit; limit_currents and envelope without working
    EMF          line_emf_peak, phase_emf_peak, speed_of_emf, flux_at_temperature

Currents, voltages and flux linkages are peak values of one phase (amplitude-invariant). With the
rotor turning at ω, electrical w = p ω, the machine is

    u_d = R_s i_d - w L_q i_q          T = 3/2 p (ψ + (L_d - L_q) i_d) i_q
    u_q = R_s i_q + w (ψ + L_d i_d)

and an inverter without overmodulation gives |u| ≤ U_dc/√3. Inductances and flux linkage are
constants here: a real machine saturates, and gives less torque at large currents than this says.
Iron losses and friction are left out.

Sources: textbooks on vector control for the equations; Jahns and Caliskan, Uncontrolled generator
operation of interior PM synchronous machines following high-speed inverter shutdown, IEEE
Transactions on Industry Applications 35 (1999), for generation through the diodes (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import copysign, cos, hypot, sin, sqrt
from typing import TYPE_CHECKING, Any

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    FluxLinkage,
    Fraction,
    Inductance,
    Resistance,
    RotationalSpeed,
    Temperature,
    Torque,
    Voltage,
)
from wattwright.limit_edges import on_the_arc, on_the_ellipse
from wattwright.waves import zeros, zeros_of_many

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DQ = Source("Equations of the synchronous machine in rotor coordinates", "peak values", "computed")
MTPA = Source(
    "Equations of the synchronous machine in rotor coordinates",
    "torque on a circle of constant current, derivative nought",
    "computed",
)
LIMIT = Source(
    "Equations of the synchronous machine in rotor coordinates",
    "largest torque inside the current circle and the voltage ellipse",
    "computed",
)
MAGNET = Source("Reversible loss of remanence, linear in temperature", "", "practice")

# How far a point may lie outside a limit and still count as on it: rounding, no more.
ROUNDING = 1e-10
# Slower than any shaft turns: at this speed the formulas hold as they do at rest, without 0/0.
STANDSTILL = 1e-12

ASKED = {
    "current": ("phase current, peak", "300 A"),
    "flux": ("flux linkage of the magnets, peak", "66 mWb"),
    "ld": ("inductance along the magnets, L_d", "0.2 mH"),
    "lq": ("inductance across the magnets, L_q", "0.37 mH"),
    "d_current": ("current along the magnets, against them below zero", "-90 A"),
    "q_current": ("current across the magnets", "280 A"),
    "speed": ("speed of the shaft", "5400 rpm"),
    "weakening_current.speed": ("speed of the shaft", "9000 rpm"),
    "dc_voltage": ("voltage of the DC side", "350 V"),
    "pole_pairs": ("pole pairs", "4"),
    "rs": ("resistance of a phase", "12 mΩ"),
    "current_limit": ("limit of the phase current, peak", "300 A"),
    "loss_in_100_kelvin": ("share of the flux that is lost over 100 K", "12 %"),
    "reference": ("temperature at which the flux is known", "20 °C"),
    "temperature": ("temperature of the magnets", "100 °C"),
}


@dataclass(frozen=True, slots=True)
class Currents:
    """A point in rotor coordinates, peak amperes."""

    d: float
    q: float


@formula("i_d", MTPA)
def mtpa_d_current(current: Current, flux: FluxLinkage, ld: Inductance, lq: Inductance) -> Current:
    """Current along the magnets at which a current gives most torque.

    i_d = 2 ΔL I² / (ψ + √(ψ² + 8 ΔL² I²)) with ΔL = L_d - L_q: the root of
    2 ΔL i_d² + ψ i_d - ΔL I² = 0, written so that ΔL = 0 needs no case of its own.

    ``current`` A peak, ``flux`` Wb peak, ``ld`` and ``lq`` H; result A, below zero where
    L_q > L_d. Holds without saturation.
    """
    if flux <= 0:
        raise FormulaError("the flux linkage of the magnets must be above zero")
    return 2 * (ld - lq) * current**2 / (flux + sqrt(flux**2 + 8 * (ld - lq) ** 2 * current**2))


@formula("i_q", DQ)
def q_current(current: Current, d_current: Current) -> Current:
    """Current across the magnets that the current along them leaves.

    i_q = √(I² - i_d²). ``current`` and ``d_current`` A peak; result A peak.
    """
    if abs(d_current) > current:
        raise FormulaError("the current along the magnets is larger than the whole current")
    return sqrt(current**2 - d_current**2)


@formula("i_w", DQ)
def weakening_current(
    speed: RotationalSpeed,
    dc_voltage: Voltage,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
) -> Current:
    """Current against the magnets that keeps their voltage below what the inverter has.

    max(0, (ψ - U_dc/(√3 p ω))/L_d), no torque, no resistance. ``speed`` rad/s of the shaft above
    nought, ``dc_voltage`` V, ``flux`` Wb peak, ``ld`` H; result A peak. It flows whether or not
    the motor pulls. With torque the voltage needs more of it still.
    """
    if speed <= 0:
        raise FormulaError("the field is weakened only while the motor turns")
    return max(0.0, (flux - dc_voltage / (sqrt(3) * pole_pairs * speed)) / ld)


@formula("T", DQ)
def torque(
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    d_current: Current,
    q_current: Current,
) -> Torque:
    """Torque of two currents.

    T = 3/2 p (ψ + (L_d - L_q) i_d) i_q. ``flux`` Wb peak, ``ld`` and ``lq`` H, currents A peak;
    result N·m in the air gap, before iron losses and friction. Holds without saturation.
    """
    return 1.5 * pole_pairs * (flux + (ld - lq) * d_current) * q_current


@formula("û", DQ)
def phase_voltage(
    speed: RotationalSpeed,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    rs: Resistance,
    d_current: Current,
    q_current: Current,
) -> Voltage:
    """Peak voltage of a phase that two currents need at a speed.

    √(u_d² + u_q²) with the voltage equations at the head of this module. ``speed`` rad/s of the
    shaft, ``flux`` Wb peak, ``ld`` and ``lq`` H, ``rs`` Ω per phase, currents A peak; result V.
    """
    return hypot(
        rs * d_current - pole_pairs * speed * lq * q_current,
        rs * q_current + pole_pairs * speed * (flux + ld * d_current),
    )


@formula("ω_base", DQ)
def base_speed(
    dc_voltage: Voltage,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    rs: Resistance,
    d_current: Current,
    q_current: Current,
) -> RotationalSpeed:
    """Highest speed at which a DC voltage still drives two currents.

    |u| = U_dc/√3 solved for w: with Ψ² = (ψ + L_d i_d)² + (L_q i_q)² and
    b = R_s i_q (ψ + (L_d - L_q) i_d), w = (√(b² + Ψ² (U_dc²/3 - R_s² I²)) - b)/Ψ², ω = w/p.
    For the currents of most torque per ampere this is the base speed. ``rs`` = 0 leaves the
    resistance out.

    ``dc_voltage`` V, ``flux`` Wb peak, ``ld`` and ``lq`` H, ``rs`` Ω per phase, currents A peak;
    result rad/s of the shaft. Holds up to U_dc/√3, without overmodulation.
    """
    if dc_voltage**2 <= 3 * rs**2 * (d_current**2 + q_current**2):
        raise FormulaError("this voltage does not even drive the current at standstill")
    return (
        sqrt(
            (rs * q_current * (flux + (ld - lq) * d_current)) ** 2
            + ((flux + ld * d_current) ** 2 + (lq * q_current) ** 2)
            * (dc_voltage**2 / 3 - rs**2 * (d_current**2 + q_current**2))
        )
        - rs * q_current * (flux + (ld - lq) * d_current)
    ) / (pole_pairs * ((flux + ld * d_current) ** 2 + (lq * q_current) ** 2))


@formula(
    "T_max",
    LIMIT,
    method="the current along the magnets is moved from the one of most torque per ampere, where "
    "the voltage forbids that, to the best of the points where the voltage ellipse crosses the "
    "current circle and where torque along the ellipse neither rises nor falls, roots of two "
    "quartics; it is the whole current where no torque is possible",
)
def torque_limit(
    speed: RotationalSpeed,
    dc_voltage: Voltage,
    current_limit: Current,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    rs: Resistance,
    d_current: Current,
) -> Torque:
    """Largest torque at a speed that current and voltage allow.

    Maximum over i_d of 3/2 p m i_q with m = ψ + (L_d - L_q) i_d and i_q the smaller of what the
    current leaves, √(I² - i_d²), and what the voltage leaves, with a = R_s² + (w L_q)²,

        (√(a U_dc²/3 - (R_s² i_d + w² L_q (ψ + L_d i_d))²) - R_s w m)/a

    This is most torque per ampere, field weakening on the current circle, and most torque per
    volt, whichever rules. Nought where no currents within the limits give torque.

    ``speed`` rad/s of the shaft; below zero the torque works against the turning, so that the
    result is the braking torque at that speed. ``dc_voltage`` V, ``current_limit`` A peak,
    ``flux`` Wb peak, ``ld`` and ``lq`` H, ``rs`` Ω per phase. ``d_current`` A is the one of most
    torque per ampere, where the search sets out; the result does not depend on it. Result N·m.
    Holds without saturation and without overmodulation.
    """
    found = limit_currents(speed, dc_voltage, current_limit, pole_pairs, flux, ld, lq, rs)
    d_current = found.d if found.q else -current_limit
    speed = copysign(max(abs(speed), STANDSTILL), speed)
    return (
        1.5
        * pole_pairs
        * (flux + (ld - lq) * d_current)
        * max(
            0,
            min(
                sqrt(max(0, current_limit**2 - d_current**2)),
                (
                    sqrt(
                        max(
                            0,
                            (rs**2 + (pole_pairs * speed * lq) ** 2) * dc_voltage**2 / 3
                            - (
                                rs**2 * d_current
                                + (pole_pairs * speed) ** 2 * lq * (flux + ld * d_current)
                            )
                            ** 2,
                        )
                    )
                    - rs * pole_pairs * speed * (flux + (ld - lq) * d_current)
                )
                / (rs**2 + (pole_pairs * speed * lq) ** 2),
            ),
        )
    )


@formula("ê_phase", DQ)
def phase_emf_peak(speed: RotationalSpeed, flux: FluxLinkage, pole_pairs: Count) -> Voltage:
    """Peak voltage that the magnets alone induce in a phase.

    ê = p ω ψ. ``speed`` rad/s of the shaft, ``flux`` Wb peak; result V.
    """
    return pole_pairs * speed * flux


@formula("ê_line", DQ)
def line_emf_peak(speed: RotationalSpeed, flux: FluxLinkage, pole_pairs: Count) -> Voltage:
    """Peak voltage that the magnets alone induce between two lines.

    ê = √3 p ω ψ for a sinusoidal machine. ``speed`` rad/s of the shaft, ``flux`` Wb peak of the
    coldest magnets; result V.
    """
    return sqrt(3) * pole_pairs * speed * flux


@formula("ω_gen", DQ)
def speed_of_emf(dc_voltage: Voltage, flux: FluxLinkage, pole_pairs: Count) -> RotationalSpeed:
    """Speed above which the magnets drive current through the diodes into a DC voltage.

    ω = U_dc/(√3 p ψ): there the peak between two lines equals the DC voltage. It is the lowest
    DC voltage that counts. ``dc_voltage`` V, ``flux`` Wb peak; result rad/s of the shaft.
    """
    if flux <= 0:
        raise FormulaError("the flux linkage of the magnets must be above zero")
    return dc_voltage / (sqrt(3) * pole_pairs * flux)


@formula("ψ_T", MAGNET, valid={"temperature": (233.15, 453.15), "loss_in_100_kelvin": (0.0, 0.25)})
def flux_at_temperature(
    flux: FluxLinkage,
    loss_in_100_kelvin: Fraction,
    reference: Temperature,
    temperature: Temperature,
) -> FluxLinkage:
    """Flux linkage of magnets at another temperature.

    ψ (1 - a (T - T_0)/100 K). ``flux`` Wb at ``reference`` K, ``loss_in_100_kelvin`` the share
    of the flux that is lost over 100 K, ``temperature`` K; result Wb. Cold magnets are strong.
    Holds while nothing is lost for good, which heat and field weakening together can cause.
    """
    return flux * (1 - loss_in_100_kelvin * (temperature - reference) / 100)


# From here on: how the limits are found.


def limit_currents(
    speed: float,
    dc_voltage: float,
    current_limit: float,
    pole_pairs: float,
    flux: float,
    ld: float,
    lq: float,
    rs: float,
) -> Currents:
    """Find the currents of the largest torque; both nought where there is no torque.

    Torque has saddles inside the limits but no summit, so its largest value lies on their edge:
    at the summit on the circle, at a summit on the ellipse, or where the two cross. Arguments as
    for ``torque_limit``.
    """
    _check(dc_voltage, current_limit, pole_pairs, flux, ld, lq, rs)
    machine = (pole_pairs * speed, flux, ld, lq, rs)
    voltage = dc_voltage / sqrt(3) * (1 + ROUNDING)
    d = mtpa_d_current(current_limit, flux, ld, lq)
    q = q_current(current_limit, d)
    if hypot(*_voltages(*machine, d, q)) <= voltage:
        return Currents(d, q)
    quick = on_the_arc(*machine, dc_voltage / sqrt(3), (d, q), current_limit)
    if quick is not None:
        return Currents(*quick)
    ellipse = _ellipse(dc_voltage / sqrt(3), *machine)
    quick = on_the_ellipse(*ellipse, flux, ld - lq, current_limit)
    if quick is not None:
        return Currents(*quick)
    crossing, rising = _conditions(*ellipse, current_limit, flux, ld - lq)
    found = [_on(*ellipse, cos(angle), sin(angle)) for angle in zeros(crossing)]
    summits = [_on(*ellipse, cos(angle), sin(angle)) for angle in zeros(rising)]
    found += (each for each in summits if hypot(*each) <= current_limit * (1 + ROUNDING))
    best = max(found, key=lambda each: (flux + (ld - lq) * each[0]) * each[1], default=(0.0, 0.0))
    return Currents(*best) if (flux + (ld - lq) * best[0]) * best[1] > 0 else Currents(0.0, 0.0)


def envelope(
    speeds: Floats,
    dc_voltage: float,
    current_limit: float,
    pole_pairs: float,
    flux: float,
    ld: float,
    lq: float,
    rs: float,
) -> Floats:
    """Largest torque at many speeds: ``torque_limit`` for an array, rad/s in and N·m out."""
    import numpy as np

    _check(dc_voltage, current_limit, pole_pairs, flux, ld, lq, rs)
    voltage = dc_voltage / sqrt(3) * (1 + ROUNDING)
    electrical = pole_pairs * np.asarray(speeds, dtype=float)
    d = mtpa_d_current(current_limit, flux, ld, lq)
    q = q_current(current_limit, d)
    torques = np.full(electrical.shape, torque(pole_pairs, flux, ld, lq, d, q))
    weak = np.hypot(*_voltages(electrical, flux, ld, lq, rs, d, q)) > voltage
    fast = electrical[weak]
    if fast.size:
        ellipse = _ellipse(dc_voltage / sqrt(3), fast, flux, ld, lq, rs)
        conditions = _conditions(*ellipse, current_limit, flux, ld - lq)
        row, angle = zeros_of_many(np.concatenate(conditions, axis=1))
        place = row % fast.size
        axis_d, axis_q = (np.array(axis)[:, place] for axis in ellipse)
        along, across = _on(axis_d, axis_q, np.cos(angle), np.sin(angle))
        room = current_limit * (1 + ROUNDING)
        within = (row < fast.size) | (np.hypot(along, across) <= room)
        given = 1.5 * pole_pairs * (flux + (ld - lq) * along) * across
        best = np.zeros(fast.shape)
        np.maximum.at(best, place[within], given[within])
        torques[weak] = best
    return torques


def _check(
    dc_voltage: float,
    current_limit: float,
    pole_pairs: float,
    flux: float,
    ld: float,
    lq: float,
    rs: float,
) -> None:
    if min(dc_voltage, current_limit, pole_pairs, flux, ld, lq) <= 0 or rs < 0:
        raise FormulaError(
            "voltage, current limit, pole pairs, flux linkage and inductances must be above zero, "
            "and the resistance not below"
        )


# The next six take floats or arrays. A wave (a0, a1, b1, a2, b2) stands for
# a0 + a1 cos θ + b1 sin θ + a2 cos 2θ + b2 sin 2θ, an axis (x0, x1, x2) for its first three.


def _voltages(
    electrical: Any, flux: float, ld: float, lq: float, rs: float, d: float, q: float
) -> tuple[Any, Any]:
    return rs * d - electrical * lq * q, rs * q + electrical * (flux + ld * d)


def _ellipse(
    voltage: float, electrical: Any, flux: float, ld: float, lq: float, rs: float
) -> tuple[Any, Any]:
    """Currents i_d and i_q as axes while a voltage of constant size turns through θ."""
    scale = rs**2 + electrical**2 * ld * lq
    emf = electrical * flux
    return (
        (-electrical * lq * emf / scale, voltage * rs / scale, voltage * electrical * lq / scale),
        (-rs * emf / scale, -voltage * electrical * ld / scale, voltage * rs / scale),
    )


def _conditions(d: Any, q: Any, current: float, flux: float, saliency: float) -> tuple[Any, Any]:
    """Waves that are nought where the ellipse crosses the circle, and where torque turns."""
    square = [one + two for one, two in zip(_product(d, d), _product(q, q), strict=True)]
    square[0] = square[0] - current**2
    flow = _product((flux + saliency * d[0], saliency * d[1], saliency * d[2]), q)
    return square, [0.0 * flow[0], flow[2], -flow[1], 2 * flow[4], -2 * flow[3]]


def _product(x: Any, y: Any) -> tuple[Any, ...]:
    return (
        x[0] * y[0] + (x[1] * y[1] + x[2] * y[2]) / 2,
        x[0] * y[1] + x[1] * y[0],
        x[0] * y[2] + x[2] * y[0],
        (x[1] * y[1] - x[2] * y[2]) / 2,
        (x[1] * y[2] + x[2] * y[1]) / 2,
    )


def _on(d: Any, q: Any, cosine: Any, sine: Any) -> tuple[Any, Any]:
    return d[0] + d[1] * cosine + d[2] * sine, q[0] + q[1] * cosine + q[2] * sine
