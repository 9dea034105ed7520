"""Uncontrolled generation: what magnets drive through the diodes when nobody switches.

    diode_voltage, speed_generation_ends, generated_current, generated_dc_current, generated_torque

Currents, voltages and flux linkages are peak values of one phase (amplitude-invariant).

Source: Jahns and Caliskan, Uncontrolled generator operation of interior PM synchronous machines
following high-speed inverter shutdown, IEEE Transactions on Industry Applications 35 (1999), from
memory.
"""

from __future__ import annotations

import math
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    FluxLinkage,
    Inductance,
    RotationalSpeed,
    Torque,
    Voltage,
)

BRIDGE = Source("Fourier series of six-step voltage and current", "", "computed")
DIODES = Source(
    "Jahns and Caliskan, Uncontrolled generator operation of interior PM synchronous machines, "
    "IEEE Trans. Industry Applications 35 (1999)",
    "fundamental wave of the diode bridge, stator resistance left out",
    "memory",
)

ASKED = {
    "dc_voltage": ("voltage of the DC side", "350 V"),
    "diode_voltage": ("phase voltage at which the diodes conduct, peak", "223 V"),
    "flux": ("flux linkage of the magnets, peak", "66 mWb"),
    "pole_pairs": ("pole pairs", "4"),
    "ld": ("inductance along the magnets, L_d", "0.2 mH"),
    "lq": ("inductance across the magnets, L_q", "0.37 mH"),
    "phase_emf": ("voltage that the magnets induce in a phase, peak", "304 V"),
    "speed": ("speed of the shaft", "11,000 rpm"),
    "generated_current": ("phase current through the diodes, peak", "150 A"),
    "generated_dc_current": ("current into the DC side", "90 A"),
}


@formula("û_D", BRIDGE)
def diode_voltage(dc_voltage: Voltage) -> Voltage:
    """Peak of the fundamental phase voltage at which diodes conduct into a DC voltage.

    2 U_dc/π, the fundamental of the six-step wave, in phase with the current. ``dc_voltage`` V;
    result V. Diode drops are left out.
    """
    return 2 * dc_voltage / math.pi


@formula("ω_end", DIODES)
def speed_generation_ends(
    diode_voltage: Voltage,
    flux: FluxLinkage,
    pole_pairs: Count,
    ld: Inductance,
    lq: Inductance,
) -> RotationalSpeed:
    """Speed below which the diodes can no longer keep generation going.

    With r = L_d/L_q, E = 2 V √(r (1 - r)) where r is below one half, else E = V; ω = E/(p ψ).
    A salient machine that has begun to generate goes on below the speed at which it begins.

    ``diode_voltage`` V, ``flux`` Wb peak, ``ld`` and ``lq`` H; result rad/s of the shaft.
    """
    if flux <= 0 or ld <= 0 or lq <= 0:
        raise FormulaError("flux linkage and inductances must be above zero")
    return (
        2 * diode_voltage * sqrt(min(ld / lq, 0.5) * (1 - min(ld / lq, 0.5))) / (pole_pairs * flux)
    )


@formula("î_gen", DIODES)
def generated_current(
    phase_emf: Voltage,
    diode_voltage: Voltage,
    speed: RotationalSpeed,
    pole_pairs: Count,
    ld: Inductance,
    lq: Inductance,
) -> Current:
    """Peak phase current that the magnets drive through the diodes.

    The bridge is a load of constant fundamental voltage V in phase with the current: a resistance
    V/I in each phase. The dq circuit with that load gives, with r = L_d/L_q,

        I = √((E² - 2 V² r + E √(E² - 4 V² r (1 - r)))/2)/(p ω L_d)

    which approaches the short-circuit current ψ/L_d at high speed. Without stator resistance it
    is rather too large than too small. Of the two currents possible below the speed of E = V in
    a salient machine this is the larger, the one that lasts.

    ``phase_emf`` and ``diode_voltage`` V peak, ``speed`` rad/s of the shaft, ``ld`` and ``lq`` H;
    result A peak. Between the speed at which the line peak reaches the DC voltage and the one of
    E = V, ten per cent more, current comes in pulses, which this fundamental wave does not know.
    """
    if ld <= 0 or lq <= 0 or speed <= 0:
        raise FormulaError("speed and inductances must be above zero")
    if phase_emf < 2 * diode_voltage * sqrt(min(ld / lq, 0.5) * (1 - min(ld / lq, 0.5))):
        raise FormulaError("at this speed the diodes keep no current going")
    return sqrt(
        (
            phase_emf**2
            - 2 * diode_voltage**2 * ld / lq
            + phase_emf * sqrt(phase_emf**2 - 4 * diode_voltage**2 * ld / lq * (1 - ld / lq))
        )
        / 2
    ) / (pole_pairs * speed * ld)


@formula("I_dc", BRIDGE)
def generated_dc_current(generated_current: Current) -> Current:
    """Direct current that the diodes feed into the pack.

    3/π of the peak phase current: power of the fundamental, 3/2 V I with V = 2 U_dc/π, over U_dc.
    ``generated_current`` A peak; result A.
    """
    return 3 * generated_current / math.pi


@formula("T_gen", BRIDGE)
def generated_torque(
    dc_voltage: Voltage, generated_dc_current: Current, speed: RotationalSpeed
) -> Torque:
    """Braking torque while the magnets feed the pack through the diodes.

    T = U_dc I_dc/ω. ``dc_voltage`` V, ``generated_dc_current`` A, ``speed`` rad/s of the shaft;
    result N·m. Losses of the machine brake on top of it.
    """
    if speed <= 0:
        raise FormulaError("the speed must be above zero")
    return dc_voltage * generated_dc_current / speed
