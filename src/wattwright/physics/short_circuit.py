"""What a motor with magnets does to its shaft when the inverter shorts its phases.

    steady     steady_torque, reactance_at_greatest, greatest_steady_torque,
               speed_of_greatest_steady_torque, steady_current, fast_current
    transient  stator_flux, greatest_short_circuit_torque

An inverter shorts the phases on purpose, to keep the EMF off the pack, or because switches have
failed. Currents and flux linkages are peak values of one phase (amplitude-invariant), inductances
constants, iron losses left out. With the equations of the machine in rotor coordinates and no
voltage, at the electrical speed w = p ω,

    0 = R i_d - w L_q i_q              i_d = -w² L_q ψ/(R² + w² L_d L_q)
    0 = R i_q + w (ψ + L_d i_d)        i_q = -w R ψ/(R² + w² L_d L_q)

Right after the short the torque is far larger. Without resistance the flux that the stator had
stays where it was (theorem of constant flux linkages) while the magnets turn past it.
"""

from __future__ import annotations

from math import hypot, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    FluxLinkage,
    Inductance,
    Ratio,
    Resistance,
    RotationalSpeed,
    Torque,
)

DQ = Source(
    "Equations of the synchronous machine in rotor coordinates", "voltage nought", "computed"
)
GREATEST = Source(
    "Equations of the synchronous machine in rotor coordinates",
    "voltage nought, derivative of the torque by speed nought",
    "computed",
)
CONSTANT_FLUX = Source(
    "Theorem of constant flux linkages", "stator resistance left out", "computed"
)

ASKED = {
    "speed": ("speed of the shaft", "5400 rpm"),
    "pole_pairs": ("pole pairs", "4"),
    "flux": ("flux linkage of the coldest magnets, peak", "66 mWb"),
    "ld": ("inductance along the magnets, L_d", "0.2 mH"),
    "lq": ("inductance across the magnets, L_q", "0.37 mH"),
    "rs": ("resistance of winding, cable and switch, for each phase", "12 mΩ"),
    "reactance_ratio": ("reactance over resistance where it brakes hardest", "1.6"),
    "d_current": ("current along the magnets, against them below zero", "-90 A"),
    "q_current": ("current across the magnets", "280 A"),
    "stator_flux": ("flux linkage of the stator before the short, peak", "114 mWb"),
}


@formula("T_short", DQ)
def steady_torque(
    speed: RotationalSpeed,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    rs: Resistance,
) -> Torque:
    """Braking torque of a shorted motor once the first jolt is over.

    T = 3/2 p ψ² R w (R² + w² L_q²)/(R² + w² L_d L_q)², w = p ω. ``speed`` rad/s of the shaft,
    ``flux`` Wb peak of the coldest magnets, ``ld`` and ``lq`` H, ``rs`` Ω per phase of winding,
    cable and switch together; result N·m against the turning. Iron losses and friction come on
    top of it.
    """
    if min(pole_pairs, ld, lq, rs) <= 0:
        raise FormulaError("pole pairs, inductances and the resistance must be above zero")
    return (
        1.5
        * pole_pairs
        * flux**2
        * rs
        * pole_pairs
        * speed
        * (rs**2 + (pole_pairs * speed * lq) ** 2)
        / (rs**2 + (pole_pairs * speed) ** 2 * ld * lq) ** 2
    )


@formula("u", GREATEST)
def reactance_at_greatest(ld: Inductance, lq: Inductance) -> Ratio:
    """Reactance over resistance at which a shorted motor brakes hardest.

    With u = w L_q/R and k = L_d/L_q the torque goes as u (1 + u²)/(1 + k u²)², which is greatest
    where k u⁴ - 3 (1 - k) u² - 1 = 0: u = √((3 (1 - k) + √(9 (1 - k)² + 4 k))/(2 k)). It is 1
    without saliency. ``ld`` and ``lq`` H.
    """
    if min(ld, lq) <= 0:
        raise FormulaError("inductances must be above zero")
    return sqrt((3 * (lq - ld) + sqrt(9 * (lq - ld) ** 2 + 4 * ld * lq)) / (2 * ld))


@formula("T_short", GREATEST)
def greatest_steady_torque(
    reactance_ratio: Ratio, pole_pairs: Count, flux: FluxLinkage, ld: Inductance, lq: Inductance
) -> Torque:
    """Largest steady braking torque of a shorted motor, whatever its resistance.

    T = 3/2 p ψ²/L_q · u (1 + u²)/(1 + u² L_d/L_q)². Resistance moves the speed at which it
    stands, not its size; without saliency it is 3/2 p ψ²/(2 L). ``reactance_ratio`` u is the one
    at which the motor brakes hardest, ``flux`` Wb peak, ``ld`` and ``lq`` H; result N·m.
    """
    if min(pole_pairs, ld, lq) <= 0:
        raise FormulaError("pole pairs and inductances must be above zero")
    return (
        1.5
        * pole_pairs
        * flux**2
        / lq
        * reactance_ratio
        * (1 + reactance_ratio**2)
        / (1 + reactance_ratio**2 * ld / lq) ** 2
    )


@formula("ω_short", GREATEST)
def speed_of_greatest_steady_torque(
    reactance_ratio: Ratio, pole_pairs: Count, lq: Inductance, rs: Resistance
) -> RotationalSpeed:
    """Speed at which a shorted motor brakes hardest.

    ω = u R/(p L_q): mostly a crawl. ``reactance_ratio`` u is the one at which the motor brakes
    hardest, ``lq`` H, ``rs`` Ω per phase; result rad/s of the shaft.
    """
    if min(pole_pairs, lq) <= 0:
        raise FormulaError("pole pairs and inductances must be above zero")
    return reactance_ratio * rs / (pole_pairs * lq)


@formula("î_short", DQ)
def steady_current(
    speed: RotationalSpeed,
    pole_pairs: Count,
    flux: FluxLinkage,
    ld: Inductance,
    lq: Inductance,
    rs: Resistance,
) -> Current:
    """Peak phase current of a shorted motor once the first jolt is over.

    ψ w √(R² + w² L_q²)/(R² + w² L_d L_q), w = p ω. ``speed`` rad/s of the shaft, ``flux`` Wb peak,
    ``ld`` and ``lq`` H, ``rs`` Ω per phase; result A peak.
    """
    if min(pole_pairs, ld, lq, rs) <= 0:
        raise FormulaError("pole pairs, inductances and the resistance must be above zero")
    return (
        flux
        * pole_pairs
        * abs(speed)
        * hypot(rs, pole_pairs * speed * lq)
        / (rs**2 + (pole_pairs * speed) ** 2 * ld * lq)
    )


@formula("î_short", DQ)
def fast_current(flux: FluxLinkage, ld: Inductance) -> Current:
    """Peak phase current that a shorted motor comes to at high speed.

    ψ/L_d, all of it against the magnets. It is also the largest steady one unless L_d is more
    than twice L_q. ``flux`` Wb peak, ``ld`` H; result A peak.
    """
    if ld <= 0:
        raise FormulaError("the inductance must be above zero")
    return flux / ld


@formula("λ_0", DQ)
def stator_flux(
    flux: FluxLinkage, ld: Inductance, lq: Inductance, d_current: Current, q_current: Current
) -> FluxLinkage:
    """Flux linkage of the stator with two currents.

    √((ψ + L_d i_d)² + (L_q i_q)²). ``flux`` Wb peak of the magnets, ``ld`` and ``lq`` H, currents
    A peak; result Wb peak. It is ψ where no current flows, and near voltage over electrical speed
    where a motor turns fast. Holds without saturation.
    """
    return hypot(flux + ld * d_current, lq * q_current)


@formula("T_jolt", CONSTANT_FLUX)
def greatest_short_circuit_torque(
    pole_pairs: Count, stator_flux: FluxLinkage, flux: FluxLinkage, ld: Inductance, lq: Inductance
) -> Torque:
    """Largest torque in the air gap right after the phases are shorted.

    The stator keeps its flux λ_0 while the rotor turns by θ: λ_d = λ_0 cos θ, λ_q = -λ_0 sin θ,
    i_d = (λ_d - ψ)/L_d, i_q = λ_q/L_q. Then T = -3/2 p λ_0 sin θ (A - B cos θ) with A = ψ/L_d and
    B = λ_0 (1/L_d - 1/L_q). It is largest where 2 B cos² θ - A cos θ - B = 0, and with
    S = √(A² + 8 B²) it is there 3/8 p λ_0 √((3 A + S)³/(2 (A + S))), in both directions by turns.
    Without saliency this is 3/2 p λ_0 ψ/L.

    ``stator_flux`` λ_0 Wb before the short, ``flux`` ψ Wb peak of the coldest magnets, ``ld`` and
    ``lq`` H unsaturated; result N·m. Resistance takes a few per cent away where λ_0 was ψ or more.
    Where a weakened field made λ_0 smaller it adds, as the magnets build flux up again: at w L/R
    of 20, 3 % for half of ψ and a fifth for a quarter. With ψ in place of a smaller λ_0 the result
    is above the jolt in any case. A rotor in which eddy currents can flow has smaller inductances
    at first and gives more. The shaft sees less than the air gap, as the rotor's inertia takes
    part of it, while the electrical frequency is well above the one at which rotor and driveline
    swing; near that one it may see more.
    """
    if min(pole_pairs, flux, ld, lq) <= 0 or stator_flux < 0:
        raise FormulaError(
            "pole pairs, inductances and the flux linkage of the magnets must be above zero, and "
            "that of the stator not below"
        )
    return (
        3
        / 8
        * pole_pairs
        * stator_flux
        * sqrt(
            (3 * flux / ld + hypot(flux / ld, sqrt(8) * stator_flux * (1 / ld - 1 / lq))) ** 3
            / (2 * (flux / ld + hypot(flux / ld, sqrt(8) * stator_flux * (1 / ld - 1 / lq))))
        )
    )
