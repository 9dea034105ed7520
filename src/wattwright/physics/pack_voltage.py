"""Voltage of a pack: by what is in the cells, what flows, how cold and how old it is.

    cells       cell_voltage, series_voltage
    resistance  resistance_factor, resistance_when_cold, pack_resistance
    load        voltage_under_load, voltage_while_charging, current_at_power, voltage_at_power
    limits      power_at_lowest_voltage, power_at_current, charge_current_at_highest_voltage
    typical     open_circuit_curve, COLD_FACTORS

A pack is taken as its open-circuit voltage behind one resistance: right for what sags within
seconds; within minutes diffusion adds to it, so a resistance measured over ten seconds or more is
the one to use. Currents are above zero on discharge. The highest voltage of a pack is
``series_voltage`` at the charge limit of a cell; its lowest is ``voltage_at_power`` with the cells
empty, cold and aged.

Sources: Kirchhoff's laws; the papers named row by row in the table cell_ocv.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    Fraction,
    Power,
    Ratio,
    Resistance,
    Temperature,
    Voltage,
)
from wattwright.tables import load

CIRCUIT = Source("Kirchhoff's laws", "voltage source behind one resistance", "computed")
STRAIGHT = Source("Straight lines between the points of a curve", "", "practice")
BETWEEN = (
    "the two points of the curve on either side are found by halving; the formula is the straight "
    "line between them"
)

# What cold does to the resistance of lithium-ion cells with graphite, over that at 25 °C. Cells
# differ by a third either way: typical, to be replaced by a cell's own data.
COLD_FACTORS = (
    (253.15, 5.0),
    (263.15, 3.2),
    (273.15, 2.1),
    (283.15, 1.5),
    (298.15, 1.0),
    (318.15, 0.8),
)
WARM = 298.15  # K
COLD = Source("Resistance of lithium-ion cells against temperature", "25 °C is one", "practice")

ASKED = {
    "charge_share": ("share of the charge", "45 %"),
    "charge_shares": ("shares of the charge on the curve, rising", "0 %; 50 %; 100 %"),
    "voltages": ("voltage at each of these shares", "3.2 V; 3.65 V; 4.15 V"),
    "cell_voltage": ("voltage of a cell", "3.65 V"),
    "share": ("share more, or less where below zero", "0 %"),
    "series": ("cells in series", "96"),
    "temperature": ("temperature of the cells", "5 °C"),
    "temperatures": ("temperatures of the curve, rising", "-20 °C; 0 °C; 25 °C"),
    "factors": ("factor at each of these temperatures", "5; 2.1; 1"),
    "resistance": ("resistance of the pack", "0.1 Ω"),
    "resistance_when_cold.resistance": ("resistance of the pack at 25 °C", "0.1 Ω"),
    "cold_factor": ("factor by which the resistance grows at the cold point", "3.2"),
    "cold_temperature": ("temperature of the cold point", "-10 °C"),
    "parallel": ("cells in parallel", "2"),
    "cell_resistance": ("resistance of a cell, new and at 25 °C", "1.5 mΩ"),
    "ageing": ("factor by which it has grown with age", "1.3"),
    "cold": ("factor by which it grows in the cold", "1.5"),
    "joints": ("resistance of bars, contactors, fuse and cables", "12 mΩ"),
    "open_circuit": ("voltage of the pack at rest", "350 V"),
    "current": ("current that the pack feeds", "120 A"),
    "charge_current": ("current that the pack takes in", "60 A"),
    "power": ("power that the pack feeds, charging below zero", "30 kW"),
    "lowest": ("lowest voltage allowed", "280 V"),
    "current_limit": ("largest current allowed", "200 A"),
    "highest": ("highest voltage allowed", "403 V"),
}


@dataclass(frozen=True, slots=True)
class OpenCircuitCurve:
    """Open-circuit voltage of a typical cell against the share of its charge, and from where."""

    charge_shares: tuple[float, ...]
    voltages: tuple[float, ...]
    source: Source


def open_circuit_curve(chemistry: str) -> OpenCircuitCurve:
    """Find the typical curve of a chemistry; the typical cell is at 25 °C and at rest."""
    rows = [row for row in load("cell_ocv") if row.cells["chemistry"] == chemistry]
    if not rows:
        known = ", ".join(dict.fromkeys(row.cells["chemistry"] for row in load("cell_ocv")))
        raise FormulaError(f"no typical curve for {chemistry}; there is one for {known}")
    return OpenCircuitCurve(
        tuple(row.number("charge_share") for row in rows),
        tuple(row.number("voltage_V") for row in rows),
        rows[0].source,
    )


@formula("U_cell", STRAIGHT, method=BETWEEN)
def cell_voltage(
    charge_share: Fraction, charge_shares: Sequence[Fraction], voltages: Sequence[Voltage]
) -> Voltage:
    """Open-circuit voltage of a cell at a share of its charge.

    U_a + (U_b - U_a)(s - s_a)/(s_b - s_a). ``charge_share`` and ``charge_shares`` from 0 to 1,
    these growing, ``voltages`` V; result V. Charged and discharged cells at rest differ by some
    hundredths of a volt (hysteresis), most of all in LFP, whose level middle also makes the share
    uncertain.
    """
    place = _piece(charge_share, charge_shares, voltages)
    if not charge_shares[0] <= charge_share <= charge_shares[-1]:
        raise FormulaError(
            f"the share of the charge must lie within the curve, {charge_shares[0]:g} to "
            f"{charge_shares[-1]:g}"
        )
    charge_shares, voltages = charge_shares[place : place + 2], voltages[place : place + 2]
    return voltages[0] + (voltages[1] - voltages[0]) * (charge_share - charge_shares[0]) / (
        charge_shares[1] - charge_shares[0]
    )


@formula("U_cell", Source("A share more or less of what the curve says", "", "computed"))
def voltage_within(cell_voltage: Voltage, share: Fraction) -> Voltage:
    """Voltage of a cell's curve, a share more or less.

    U (1 + s), V: ``share`` s is nought, and its band is how well the curve is known.
    """
    return cell_voltage * (1 + share)


@formula("U", CIRCUIT)
def series_voltage(series: Count, cell_voltage: Voltage) -> Voltage:
    """Voltage of cells in series.

    n U_cell, V: at the charge limit of a cell the highest voltage of the pack.
    """
    return series * cell_voltage


@formula("k_T", STRAIGHT, method=f"{BETWEEN}, level beyond the last")
def resistance_factor(
    temperature: Temperature, temperatures: Sequence[Temperature], factors: Sequence[Ratio]
) -> Ratio:
    """Resistance of cells at a temperature over that at 25 °C.

    k_a + (k_b - k_a)(T - T_a)/(T_b - T_a). ``temperature`` and ``temperatures`` K, these growing.
    Below the coldest point the factor is refused, since it grows ever faster there.
    """
    place = _piece(temperature, temperatures, factors)
    if temperature < temperatures[0]:
        raise FormulaError(f"the curve begins at {temperatures[0]:g} K, above this temperature")
    temperature = min(temperature, temperatures[-1])
    temperatures, factors = temperatures[place : place + 2], factors[place : place + 2]
    return factors[0] + (factors[1] - factors[0]) * (temperature - temperatures[0]) / (
        temperatures[1] - temperatures[0]
    )


@formula("R", Source("Exponential between a warm and a cold point", "", "practice"))
def resistance_when_cold(
    resistance: Resistance,
    cold_factor: Ratio,
    cold_temperature: Temperature,
    temperature: Temperature,
    warm: Temperature = WARM,
) -> Resistance:
    """Resistance of a pack at a temperature of its cells.

    R k^((T_w - T)/(T_w - T_c)), no less than R: ``resistance`` R in Ω when ``warm`` T_w, 25 °C, and
    above, ``cold_factor`` k at ``cold_temperature`` T_c in K; ``temperature`` T in K.
    """
    if cold_temperature >= warm:
        raise FormulaError("the cold point lies below 25 °C")
    return resistance * math.pow(
        cold_factor, max(0.0, (warm - temperature) / (warm - cold_temperature))
    )


@formula("R", CIRCUIT)
def pack_resistance(
    series: Count,
    parallel: Count,
    cell_resistance: Resistance,
    ageing: Ratio,
    cold: Ratio,
    joints: Resistance,
) -> Resistance:
    """Resistance of a pack between its terminals.

    n_s/n_p R_cell k_age k_T + R_joints. ``cell_resistance`` Ω, new and at 25 °C; ``ageing`` the
    factor by which it has grown; ``cold`` the factor of the temperature; ``joints`` Ω: bars,
    contactors, fuse and cables; result Ω.
    """
    if parallel <= 0:
        raise FormulaError("there must be a cell in parallel at least")
    return series / parallel * cell_resistance * ageing * cold + joints


@formula("U", CIRCUIT)
def voltage_under_load(open_circuit: Voltage, current: Current, resistance: Resistance) -> Voltage:
    """Voltage of a pack that feeds a current.

    U_0 - I R. ``open_circuit`` V, ``current`` A, ``resistance`` Ω; result V.
    """
    return open_circuit - current * resistance


@formula("U", CIRCUIT)
def voltage_while_charging(
    open_circuit: Voltage, charge_current: Current, resistance: Resistance
) -> Voltage:
    """Voltage of a pack that takes in a current, from a charger or from braking.

    U_0 + I R. ``open_circuit`` V, ``charge_current`` A, ``resistance`` Ω; result V.
    """
    return open_circuit + charge_current * resistance


@formula("I", CIRCUIT)
def current_at_power(power: Power, open_circuit: Voltage, resistance: Resistance) -> Current:
    """Current at which a pack feeds a power.

    The smaller root of P = I (U_0 - I R), written as 2 P/(U_0 + √(U_0² - 4 P R)) so that no
    resistance needs no case of its own. ``power`` W, below zero while charging;
    ``open_circuit`` V, ``resistance`` Ω; result A.
    """
    if open_circuit <= 0 or 4 * power * resistance > open_circuit**2:
        raise FormulaError("the pack cannot feed this power, however large the current")
    return 2 * power / (open_circuit + sqrt(open_circuit**2 - 4 * power * resistance))


@formula("U", CIRCUIT)
def voltage_at_power(power: Power, open_circuit: Voltage, resistance: Resistance) -> Voltage:
    """Voltage of a pack that feeds a power.

    (U_0 + √(U_0² - 4 P R))/2. ``power`` W, below zero while charging; ``open_circuit`` V,
    ``resistance`` Ω; result V.
    """
    if open_circuit <= 0 or 4 * power * resistance > open_circuit**2:
        raise FormulaError("the pack cannot feed this power, however large the current")
    return (open_circuit + sqrt(open_circuit**2 - 4 * power * resistance)) / 2


@formula("P_max", CIRCUIT)
def power_at_lowest_voltage(
    lowest: Voltage, open_circuit: Voltage, resistance: Resistance
) -> Power:
    """Largest power that a pack feeds without falling below a voltage.

    U (U_0 - U)/R at the lowest voltage U allowed, or at U_0/2 if that is higher: below it more
    current gives less power. ``lowest`` and ``open_circuit`` V, ``resistance`` Ω; result W.
    """
    if resistance <= 0:
        raise FormulaError("without resistance no power makes the voltage fall")
    if lowest > open_circuit:
        raise FormulaError("the pack is below this voltage before any current flows")
    return (
        max(lowest, open_circuit / 2) * (open_circuit - max(lowest, open_circuit / 2)) / resistance
    )


@formula("P_max", CIRCUIT)
def power_at_current(
    current_limit: Current, open_circuit: Voltage, resistance: Resistance
) -> Power:
    """Power of a pack at the largest current allowed.

    I (U_0 - I R). ``current_limit`` A, ``open_circuit`` V, ``resistance`` Ω; result W.
    """
    if current_limit * resistance > open_circuit / 2:
        raise FormulaError("this current is beyond the one of largest power; the voltage rules")
    return current_limit * (open_circuit - current_limit * resistance)


@formula("I_max", CIRCUIT)
def charge_current_at_highest_voltage(
    highest: Voltage, open_circuit: Voltage, resistance: Resistance
) -> Current:
    """Largest current that a pack takes in without rising above a voltage.

    (U - U_0)/R. ``highest`` and ``open_circuit`` V, ``resistance`` Ω; result A.
    """
    if resistance <= 0:
        raise FormulaError("without resistance no current makes the voltage rise")
    if highest < open_circuit:
        raise FormulaError("the pack is above this voltage before any current flows")
    return (highest - open_circuit) / resistance


def _piece(place: float, places: Sequence[float], heights: Sequence[float]) -> int:
    """Find the piece of a curve in which a place lies."""
    if len(places) != len(heights) or len(places) < 2:
        raise FormulaError("a curve needs two points or more, each with place and height")
    if any(after <= before for before, after in pairwise(places)):
        raise FormulaError("the points of a curve must grow from one to the next")
    return max(1, min(bisect_right(places, place), len(places) - 1)) - 1
