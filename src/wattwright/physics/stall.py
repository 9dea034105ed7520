"""Torque at standstill, where one switch of the inverter carries the whole current.

stalled_torque   from the torque at the highest current
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Torque


@formula(
    "T_0",
    Source("Torque of a field that the current itself makes", "lower bound", "computed"),
)
def stalled_torque(torque: Torque, stall_current: Current, current: Current) -> Torque:
    """Torque that a lower current holds at standstill, from the torque at the highest current.

    T min(1, I_0/I)²: torque falls with the current where magnets make the field, and with its
    square where the current does; the square is the less of the two. ``torque`` N·m at
    ``current`` A, ``stall_current`` A; result N·m. Holds without saturation; a motor that
    saturates at its highest current loses less than this.
    """
    if current <= 0:
        raise FormulaError("the highest current must be above zero")
    return torque * min(1, stall_current / current) ** 2
