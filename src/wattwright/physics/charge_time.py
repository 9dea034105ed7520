"""How long a charge takes: constant power or current first, then the voltage that is not passed.

    current   current_at_power, current_at_voltage, share_of_current
    way       charge_time, charge_energy, charge_reached
    mains     mains_power, mains_current, energy_from_wall

The pack is a voltage at rest that grows with its charge, behind one resistance. Charger and
management give whatever is least of a current, a power, and what holds the highest voltage.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import isclose, log, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Charge,
    Count,
    Current,
    Energy,
    Fraction,
    Power,
    Resistance,
    Time,
    Voltage,
)

CIRCUIT = Source("Ohm's law, a voltage behind a resistance", "", "computed")
BALANCE = Source("Balance of power", "", "computed")
STAGES = (
    "stretch by stretch, from each point of the curve to the next and to where another limit "
    "takes over; the shares become the parts of the charge at the highest current and at the "
    "power, the voltages those at rest that stand for these two and for the one at the highest "
    "voltage"
)

# Steps of Simpson's rule in a stretch at constant power; even.
_STEPS = 8

ASKED = {
    "power": ("power into the pack", "3 kW"),
    "at_rest": ("voltage at rest", "310 V"),
    "resistance": ("resistance of the pack", "0.15 Ω"),
    "highest": ("highest voltage of the pack", "348 V"),
    "capacity": ("charge from empty to full", "88 Ah"),
    "start": ("charge at the start, as a share", "20 %"),
    "wanted": ("charge at the end, as a share", "90 %"),
    "limit": ("highest current", "40 A"),
    "shares": ("charges of the curve, as shares", "0 %; 50 %; 100 %"),
    "voltages": ("voltages at rest at these", "280 V; 310 V; 345 V"),
    "ends_at": ("current at which it ends", "4 A"),
    "voltage": ("mains voltage at the charger", "224 V"),
    "current": ("mains current", "10 A"),
    "power_factor": ("power factor", "98 %"),
    "phases": ("phases", "1"),
    "into_pack": ("energy into the pack", "18 kWh"),
    "efficiency": ("efficiency of the charger", "93 %"),
    "share": ("share that the cold leaves", "100 %"),
    "beside": ("power taken beside the pack", "80 W"),
    "time": ("time it takes", "8 h"),
}


@formula("I", CIRCUIT)
def current_at_power(power: Power, at_rest: Voltage, resistance: Resistance) -> Current:
    """Current into a pack that takes a power.

    (√(U² + 4·R·P) - U)/(2·R), written so that nothing cancels: 2·P/(U + √(U² + 4·R·P)), with
    ``power`` P in W, ``at_rest`` U in V and ``resistance`` R in Ω.
    """
    if at_rest <= 0 or min(power, resistance) < 0:
        raise FormulaError("the voltage is above zero, power and resistance are not below")
    return 2 * power / (at_rest + sqrt(at_rest**2 + 4 * resistance * power))


@formula("I", CIRCUIT)
def current_at_voltage(highest: Voltage, at_rest: Voltage, resistance: Resistance) -> Current:
    """Current that holds a pack at a voltage: (U_h - U)/R, nothing once it rests there or above."""
    if resistance <= 0:
        raise FormulaError("the resistance must be above zero")
    return max(0.0, highest - at_rest) / resistance


@formula("I", BALANCE)
def share_of_current(current: Current, share: Fraction) -> Current:
    """Charging current that the cold leaves: k·I, in A."""
    return share * current


@formula("t", BALANCE, method=STAGES)
def charge_time(
    capacity: Charge,
    start: Fraction,
    wanted: Fraction,
    power: Power,
    limit: Current,
    highest: Voltage,
    resistance: Resistance,
    shares: Sequence[Fraction],
    voltages: Sequence[Voltage],
) -> Time:
    """Time from one charge to another.

    ∫ Q/I ds from ``start`` to ``wanted``, with ``capacity`` Q in C and the current I at a share s:
    the least of ``limit`` in A, what ``power`` in W makes, and what holds ``highest`` in V, over
    ``resistance`` in Ω from the voltage at rest, which goes straight between ``shares`` and
    ``voltages``. Raises where the current falls to nothing before the charge is there, and where
    an end lies beyond the curve.
    """
    shares, voltages = _stages(start, wanted, power, limit, highest, resistance, shares, voltages)
    return capacity * (
        shares[0] / limit
        + shares[1] * (voltages[1] + sqrt(voltages[1] ** 2 + 4 * resistance * power)) / (2 * power)
        + (wanted - start - shares[0] - shares[1]) * resistance / (highest - voltages[2])
    )


@formula("E", BALANCE, method=STAGES)
def charge_energy(
    capacity: Charge,
    start: Fraction,
    wanted: Fraction,
    power: Power,
    limit: Current,
    highest: Voltage,
    resistance: Resistance,
    shares: Sequence[Fraction],
    voltages: Sequence[Voltage],
) -> Energy:
    """Energy into the pack's terminals from one charge to another: ∫ Q·(U + R·I) ds.

    Arguments, and what raises, as of the time it takes.
    """
    shares, voltages = _stages(start, wanted, power, limit, highest, resistance, shares, voltages)
    return capacity * (
        shares[0] * (voltages[0] + resistance * limit)
        + shares[1] * (voltages[1] + sqrt(voltages[1] ** 2 + 4 * resistance * power)) / 2
        + (wanted - start - shares[0] - shares[1]) * highest
    )


@formula("s", CIRCUIT, method="the first place of the curve, straight between its points")
def charge_reached(
    ends_at: Current,
    highest: Voltage,
    resistance: Resistance,
    shares: Sequence[Fraction],
    voltages: Sequence[Voltage],
) -> Fraction:
    """Charge at which the current has fallen to where the charge ends.

    The first share at which the voltage at rest is U_h - R·I_e: ``ends_at`` I_e in A, ``highest``
    U_h in V, ``resistance`` R in Ω; ``shares`` and ``voltages`` of the curve at rest. Its first
    share where it begins above that, its last one where it ends below.
    """
    _check_curve(shares, voltages)
    wanted = highest - resistance * ends_at
    place = next((place for place, voltage in enumerate(voltages) if voltage >= wanted), None)
    if place is None or place == 0:
        return shares[0] if place == 0 else shares[-1]
    shares, voltages = shares[place - 1 : place + 1], voltages[place - 1 : place + 1]
    return shares[0] + (shares[1] - shares[0]) * (highest - resistance * ends_at - voltages[0]) / (
        voltages[1] - voltages[0]
    )


@formula("P", BALANCE)
def mains_power(voltage: Voltage, current: Current, power_factor: Fraction, phases: Count) -> Power:
    """Power out of the mains: n·U·I·λ.

    ``voltage`` U of each phase to neutral in V, ``current`` I of each in A, ``power_factor`` λ.
    """
    return phases * voltage * current * power_factor


@formula("I", BALANCE)
def mains_current(power: Power, voltage: Voltage, power_factor: Fraction, phases: Count) -> Current:
    """Current of each phase that a power takes: P/(n·U·λ)."""
    if min(voltage, power_factor, phases) <= 0:
        raise FormulaError("voltage, power factor and phases must be above zero")
    return power / (phases * voltage * power_factor)


@formula("E", BALANCE)
def energy_from_wall(into_pack: Energy, efficiency: Fraction, beside: Power, time: Time) -> Energy:
    """Energy out of the outlet for a charge.

    (E_p + P_b·t)/η: ``into_pack`` E_p in J, ``beside`` P_b in W taken over ``time`` t in s,
    ``efficiency`` η of the charger.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return (into_pack + beside * time) / efficiency


def _check_curve(shares: Sequence[float], voltages: Sequence[float]) -> None:
    rising = all(one < other for one, other in pairwise(shares))
    if len(shares) < 2 or len(shares) != len(voltages) or not rising:
        raise FormulaError("a curve has two points or more, each at a larger charge than the last")


def _at_rest(share: float, shares: Sequence[float], voltages: Sequence[float]) -> float:
    place = min(max(bisect_left(shares, share), 1), len(shares) - 1)
    low, high = shares[place - 1], shares[place]
    part = (share - low) / (high - low)
    return voltages[place - 1] + part * (voltages[place] - voltages[place - 1])


def _edges(
    start: float,
    end: float,
    bends: Sequence[float],
    shares: Sequence[float],
    voltages: Sequence[float],
) -> list[float]:
    """Ends of the stretches between which neither the curve nor what limits the current changes.

    ``bends`` are the voltages at rest at which one limit hands over to another.
    """
    _check_curve(shares, voltages)
    if not shares[0] <= start <= end <= shares[-1]:
        raise FormulaError("the charge grows from start to end, both on the curve")
    crossings = (share for at in bends for share in _crossings(at, shares, voltages))
    inner = sorted({*shares, *crossings})
    return [start, *(share for share in inner if start < share < end), end]


def _crossings(
    voltage: float, shares: Sequence[float], voltages: Sequence[float]
) -> Iterator[float]:
    """Shares at which the curve passes a voltage between two of its points."""
    points = zip(shares, voltages, strict=True)
    for (share, below), (next_share, above) in pairwise(points):
        if (below - voltage) * (above - voltage) < 0:
            yield share + (next_share - share) * (voltage - below) / (above - below)


def _stages(
    start: float,
    end: float,
    power: float,
    limit: float,
    highest: float,
    resistance: float,
    shares: Sequence[float],
    voltages: Sequence[float],
) -> tuple[list[float], list[float]]:
    """Part the charge among what limits it, and find the voltage at rest that stands for each.

    At the highest current the mean one; at the power the one whose terminals are the mean; at the
    highest voltage the one whose current takes as long.
    """
    if min(power, limit, highest, resistance) <= 0:
        raise FormulaError("power, current, voltage and resistance must be above zero")
    bends = (
        power / limit - resistance * limit,
        highest - resistance * limit,
        highest - resistance * power / highest,
    )
    at_limit = at_power = at_highest = 0.0
    volts = terminals = slowness = 0.0
    for low, high in pairwise(_edges(start, end, bends, shares, voltages)):
        part = high - low
        first, last = (_at_rest(share, shares, voltages) for share in (low, high))
        middle = (first + last) / 2
        if max(first, last) >= highest:
            raise FormulaError("the voltage at rest reaches the highest one before that charge")
        currents = (
            limit,
            current_at_power(power, middle, resistance),
            current_at_voltage(highest, middle, resistance),
        )
        if min(currents) == limit:
            at_limit += part
            volts += part * middle
        elif min(currents) == currents[1]:
            at_power += part
            terminals += part * _mean_terminal(first, last, power, resistance)
        else:
            at_highest += part
            slowness += part / _logarithmic_mean(highest - first, highest - last)
    terminal = terminals / at_power if at_power else highest
    return [at_limit, at_power], [
        volts / at_limit if at_limit else 0.0,
        terminal - resistance * power / terminal,
        highest - at_highest / slowness if at_highest else 0.0,
    ]


def _mean_terminal(first: float, last: float, power: float, resistance: float) -> float:
    """Mean voltage of the terminals at a power, by Simpson's rule between two voltages at rest."""

    def terminal(at_rest: float) -> float:
        return (at_rest + sqrt(at_rest**2 + 4 * resistance * power)) / 2

    step = (last - first) / _STEPS
    inner = ((4 if count % 2 else 2) * terminal(first + count * step) for count in range(1, _STEPS))
    return (terminal(first) + sum(inner) + terminal(last)) / (3 * _STEPS)


def _logarithmic_mean(one: float, other: float) -> float:
    """Mean of a current that falls by an exponential from one to the other."""
    return one if isclose(one, other, rel_tol=1e-7) else (one - other) / log(one / other)
