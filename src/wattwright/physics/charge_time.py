"""How long a charge takes: constant power or current first, then the voltage that is not passed.

    current   current_at_power, current_at_voltage, share_of_current
    way       charge_time, charge_energy, charge_reached, power_at
    mains     mains_power, mains_current, energy_from_wall

The pack is a voltage at rest that grows with its charge, behind one resistance. Charger and
management give whatever is least of a current, a power, and what holds the highest voltage.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import sqrt

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
INTEGRAL = (
    "integral over the charge by Simpson's rule, stretch by stretch: between points of the curve, "
    "to where another limit takes over, and at the highest voltage to where the current has halved"
)

# Steps of Simpson's rule in a stretch; even.
_STEPS = 8
# So often the current may halve on its way out: it is a millionth of a millionth then.
_HALVINGS = 40

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
    "power_at.share": ("charge, as a share", "60 %"),
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


@formula("t", BALANCE, method=INTEGRAL)
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
    edges = _edges(start, wanted, power, limit, highest, resistance, shares, voltages)

    def slowness(share: float) -> float:
        current = _current(share, power, limit, highest, resistance, shares, voltages)
        if current <= 0:
            raise FormulaError("the voltage at rest reaches the highest one before that charge")
        return capacity / current

    return _integral(slowness, edges)


@formula("E", BALANCE, method=INTEGRAL)
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
    edges = _edges(start, wanted, power, limit, highest, resistance, shares, voltages)

    def volts(share: float) -> float:
        current = _current(share, power, limit, highest, resistance, shares, voltages)
        return capacity * (_at_rest(share, shares, voltages) + resistance * current)

    return _integral(volts, edges)


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
    return shares[place - 1] + (shares[place] - shares[place - 1]) * (
        (wanted - voltages[place - 1]) / (voltages[place] - voltages[place - 1])
    )


@formula("P", CIRCUIT, method="the current is the least of three; the formula is what it makes")
def power_at(
    share: Fraction,
    power: Power,
    limit: Current,
    highest: Voltage,
    resistance: Resistance,
    shares: Sequence[Fraction],
    voltages: Sequence[Voltage],
) -> Power:
    """Power into the pack's terminals at a charge: (U + R·I)·I.

    ``share`` of the charge; the other arguments as those of the time it takes.
    """
    current = _current(share, power, limit, highest, resistance, shares, voltages)
    return (_at_rest(share, shares, voltages) + resistance * current) * current


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


def _current(
    share: float,
    power: float,
    limit: float,
    highest: float,
    resistance: float,
    shares: Sequence[float],
    voltages: Sequence[float],
) -> float:
    at_rest = _at_rest(share, shares, voltages)
    return min(
        limit,
        current_at_power(power, at_rest, resistance),
        current_at_voltage(highest, at_rest, resistance),
    )


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
    power: float,
    limit: float,
    highest: float,
    resistance: float,
    shares: Sequence[float],
    voltages: Sequence[float],
) -> list[float]:
    """Ends of the stretches in which the current goes smoothly and no further than to its half."""
    _check_curve(shares, voltages)
    if not shares[0] <= start <= end <= shares[-1]:
        raise FormulaError("the charge grows from start to end, both on the curve")
    at = [power / limit - resistance * limit] if limit > 0 else []
    for current in (limit, power / highest if highest > 0 else 0.0):
        at += [highest - resistance * current / 2**times for times in range(_HALVINGS)]
    bends = {*shares, *(share for voltage in at for share in _crossings(voltage, shares, voltages))}
    return [start, *sorted(share for share in bends if start < share < end), end]


def _crossings(
    voltage: float, shares: Sequence[float], voltages: Sequence[float]
) -> Iterator[float]:
    """Shares at which the curve passes a voltage between two of its points."""
    points = zip(shares, voltages, strict=True)
    for (share, below), (next_share, above) in pairwise(points):
        if (below - voltage) * (above - voltage) < 0:
            yield share + (next_share - share) * (voltage - below) / (above - below)


def _integral(of: Callable[[float], float], edges: Sequence[float]) -> float:
    """Add up stretch by stretch, each by Simpson's rule."""
    total = 0.0
    for low, high in pairwise(edges):
        step = (high - low) / _STEPS
        inner = ((4 if count % 2 else 2) * of(low + count * step) for count in range(1, _STEPS))
        total += step / 3 * (of(low) + sum(inner) + of(high))
    return total
