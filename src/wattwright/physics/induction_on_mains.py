"""Induction machine on mains of one voltage and frequency: the classic equivalent circuit.

    circuit   phase_peak, reactance, thevenin_voltage, thevenin_resistance, thevenin_reactance
    torque    torque_at_slip, breakdown_slip, breakdown_torque
    current   line_current

Voltages and currents are peak values of one phase in star (amplitude-invariant), resistances and
reactances per phase with the rotor's referred to the stator. Iron losses and friction are left
out. Tests of a motor and textbooks state these values; the module on the machine in rotor-flux
coordinates says what the same motor gives behind an inverter.

Source: Chapman, Electric Machinery Fundamentals, chapter on induction motors, from memory.
"""

from __future__ import annotations

import math
from math import hypot, sqrt
from typing import Annotated

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    FREQUENCY,
    Count,
    Current,
    Inductance,
    Ratio,
    Resistance,
    Torque,
    Voltage,
)

Frequency = Annotated[float, FREQUENCY]

THEVENIN = Source(
    "Chapman, Electric Machinery Fundamentals",
    "torque of the induction motor by Thévenin's theorem",
    "memory",
)

ASKED = {
    "line_voltage": ("voltage between two lines, rms", "400 V"),
    "frequency": ("frequency", "50 Hz"),
    "inductance": ("inductance", "3 mH"),
    "phase_peak": ("phase voltage in star, peak", "327 V"),
    "rs": ("resistance of the stator", "0.6 Ω"),
    "xs": ("leakage reactance of the stator", "1.1 Ω"),
    "xm": ("magnetising reactance", "26 Ω"),
    "slip": ("slip, as a share of the synchronous speed", "0.03"),
    "thevenin_voltage": ("voltage that the rotor sees, peak", "313 V"),
    "thevenin_resistance": ("resistance that the rotor sees behind its own", "0.55 Ω"),
    "thevenin_reactance": ("reactance that the rotor sees behind its own", "1.06 Ω"),
    "rotor_reactance": ("leakage reactance of the rotor, referred to the stator", "0.5 Ω"),
    "rotor_resistance": ("resistance of the rotor, referred to the stator", "0.35 Ω"),
    "pole_pairs": ("pole pairs", "2"),
}


@formula("û", Source("Sine wave, three phases in star", "", "computed"))
def phase_peak(line_voltage: Voltage) -> Voltage:
    """Peak voltage of a phase, from the voltage between lines as it is named.

    √(2/3) U. ``line_voltage`` V rms between two lines; result V peak.
    """
    return sqrt(2 / 3) * line_voltage


@formula("X", Source("Definition", "", "computed"))
def reactance(frequency: Frequency, inductance: Inductance) -> Resistance:
    """Reactance of an inductance.

    2 π f L. ``frequency`` Hz, ``inductance`` H; result Ω.
    """
    return 2 * math.pi * frequency * inductance


@formula("û_th", THEVENIN)
def thevenin_voltage(
    phase_peak: Voltage, rs: Resistance, xs: Resistance, xm: Resistance
) -> Voltage:
    """Voltage that the rotor sees behind stator and magnetising branch.

    û X_m/√(R_s² + (X_s + X_m)²). ``phase_peak`` V, resistance ``rs`` and leakage reactance ``xs``
    of the stator and magnetising reactance ``xm`` Ω; result V peak.
    """
    return phase_peak * xm / hypot(rs, xs + xm)


@formula("R_th", THEVENIN)
def thevenin_resistance(rs: Resistance, xs: Resistance, xm: Resistance) -> Resistance:
    """Resistance that the rotor sees behind its own.

    X_m² R_s/(R_s² + (X_s + X_m)²), all Ω.
    """
    return xm**2 * rs / (rs**2 + (xs + xm) ** 2)


@formula("X_th", THEVENIN)
def thevenin_reactance(rs: Resistance, xs: Resistance, xm: Resistance) -> Resistance:
    """Reactance that the rotor sees behind its own.

    X_m (R_s² + X_s (X_s + X_m))/(R_s² + (X_s + X_m)²), all Ω.
    """
    return xm * (rs**2 + xs * (xs + xm)) / (rs**2 + (xs + xm) ** 2)


@formula("T", THEVENIN)
def torque_at_slip(
    slip: Ratio,
    thevenin_voltage: Voltage,
    thevenin_resistance: Resistance,
    thevenin_reactance: Resistance,
    rotor_reactance: Resistance,
    rotor_resistance: Resistance,
    frequency: Frequency,
    pole_pairs: Count,
) -> Torque:
    """Torque at a slip, on mains of one voltage and frequency.

    T = 3/2 p û_th² (R_r/s)/(2 π f ((R_th + R_r/s)² + (X_th + X_r)²)), multiplied out by s² so
    that it holds at synchronous speed. ``slip`` s is the share of the synchronous speed that the
    rotor lags, below zero when driven; ``thevenin_voltage`` V peak, the others Ω, ``frequency``
    Hz; result N·m in the air gap.
    """
    if frequency <= 0 or rotor_resistance <= 0:
        raise FormulaError("frequency and rotor resistance must be above zero")
    return (
        1.5
        * pole_pairs
        * thevenin_voltage**2
        * rotor_resistance
        * slip
        / (
            2
            * math.pi
            * frequency
            * (
                (thevenin_resistance * slip + rotor_resistance) ** 2
                + (slip * (thevenin_reactance + rotor_reactance)) ** 2
            )
        )
    )


@formula("î", THEVENIN)
def line_current(
    slip: Ratio,
    phase_peak: Voltage,
    rs: Resistance,
    xs: Resistance,
    xm: Resistance,
    rotor_reactance: Resistance,
    rotor_resistance: Resistance,
) -> Current:
    """Peak current of a line at a slip.

    û over the size of R_s + j X_s + j X_m (R_r/s + j X_r)/(R_r/s + j (X_r + X_m)), multiplied out
    by s so that it holds at synchronous speed. ``phase_peak`` V, all others Ω; result A peak.
    """
    if rotor_resistance <= 0:
        raise FormulaError("the rotor's resistance must be above zero")
    return (
        phase_peak
        * hypot(rotor_resistance, slip * (rotor_reactance + xm))
        / hypot(
            rs * rotor_resistance - slip * (xs * (rotor_reactance + xm) + xm * rotor_reactance),
            slip * rs * (rotor_reactance + xm) + (xs + xm) * rotor_resistance,
        )
    )


@formula("s_b", THEVENIN)
def breakdown_slip(
    thevenin_resistance: Resistance,
    thevenin_reactance: Resistance,
    rotor_reactance: Resistance,
    rotor_resistance: Resistance,
) -> Ratio:
    """Slip of the largest torque on mains.

    R_r/√(R_th² + (X_th + X_r)²), all Ω.
    """
    if thevenin_reactance + rotor_reactance <= 0:
        raise FormulaError("the reactances must be above zero")
    return rotor_resistance / hypot(thevenin_resistance, thevenin_reactance + rotor_reactance)


@formula("T_b", THEVENIN)
def breakdown_torque(
    thevenin_voltage: Voltage,
    thevenin_resistance: Resistance,
    thevenin_reactance: Resistance,
    rotor_reactance: Resistance,
    frequency: Frequency,
    pole_pairs: Count,
) -> Torque:
    """Largest torque on mains of one voltage and frequency, driving.

    T = 3/4 p û_th²/(2 π f (R_th + √(R_th² + (X_th + X_r)²))). ``thevenin_voltage`` V peak, the
    others Ω, ``frequency`` Hz; result N·m in the air gap. The rotor's resistance has no part.
    """
    if frequency <= 0 or thevenin_reactance + rotor_reactance <= 0:
        raise FormulaError("frequency and reactances must be above zero")
    return (
        0.75
        * pole_pairs
        * thevenin_voltage**2
        / (
            2
            * math.pi
            * frequency
            * (
                thevenin_resistance
                + hypot(thevenin_resistance, thevenin_reactance + rotor_reactance)
            )
        )
    )
