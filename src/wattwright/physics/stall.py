"""What less current leaves of a motor's torque, as at standstill.

current_share                      of the current that the torque is known for
weakened_torque, weakened_power    what that share leaves
saturated_torque                   what saturation takes of a torque worked out without it
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Fraction, Power, Torque

LOWER = Source("Torque of a field that the current itself makes", "lower bound", "computed")

ASKED = {
    "current": ("phase current that there is, peak", "210 A"),
    "known_for": ("phase current that the torque is known for, peak", "300 A"),
    "torque": ("torque at the whole current", "160 N·m"),
    "power": ("power at the whole current", "60 kW"),
    "share": ("share of the current", "70 %"),
    "saturated_torque.torque": ("torque worked out without saturation", "160 N·m"),
    "loss": ("share that saturation takes", "10 %"),
}


@formula("k_I", Source("Definition", "", "computed"))
def current_share(current: Current, known_for: Current) -> Fraction:
    """Current there is over the current that a torque is known for, never above one.

    ``current`` and ``known_for`` A peak.
    """
    if known_for <= 0:
        raise FormulaError("the current a torque is known for must be above zero")
    return min(1, current / known_for)


@formula("T", LOWER)
def weakened_torque(torque: Torque, share: Fraction) -> Torque:
    """Torque that a share of the current leaves at least.

    T k²: torque falls with the current where magnets make the field, and with its square where
    the current does; the square is the less of the two. ``torque`` N·m at the whole current;
    result N·m. A motor that saturates at its whole current loses less than this.
    """
    return torque * share**2


@formula("P", LOWER)
def weakened_power(power: Power, share: Fraction) -> Power:
    """Power beyond the corner that a share of the current leaves at least.

    P k², as for torque. ``power`` W at the whole current; result W.
    """
    return power * share**2


@formula("T", Source("Share of the torque that saturation takes", "", "practice"))
def saturated_torque(torque: Torque, loss: Fraction) -> Torque:
    """Torque of a machine whose inductances were measured with little current.

    T (1 - s): at its highest current the iron is full, and s of the ``torque`` N·m worked out
    without that is missing.
    """
    return torque * (1 - loss)
