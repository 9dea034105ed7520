"""Maps that a run over time looks up: torque by speed and voltage, losses, voltage at rest."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wattwright.areas.drive.fed import Fed
from wattwright.descriptions.pack import PackDescription

if TYPE_CHECKING:
    from wattwright.uses.inputs import Maps

_SPEEDS, _VOLTAGES, _TORQUES = 24, 4, 16
# Inputs move over their bands: speeds and torques a little beyond the known must be found too.
_BEYOND, _STRONGER = 1.1, 1.5
_BELOW = 0.8


def maps_of(fed: Fed, pack: PackDescription) -> Maps:
    """Work the maps out from whatever is known of motors and cells."""
    import numpy as np

    from wattwright.uses.inputs import Maps

    highest = fed.drive.max_speed
    fastest = _BEYOND * ((highest.number or 0.0) + highest.band)
    speeds = np.linspace(0.0, fastest, _SPEEDS)
    lowest = pack.v_min.number or 0.0
    voltages = np.linspace(_BELOW * lowest, 1.05 * (pack.v_max.number or 0.0), _VOLTAGES)
    limits = np.array([[fed.torque_at(float(w), float(u)) for u in voltages] for w in speeds])
    torques = np.linspace(0.0, _STRONGER * float(limits.max()), _TORQUES)
    losses = np.array([[fed.loss(float(w), float(t)) for t in torques] for w in speeds])
    cells = pack.cells
    return Maps(
        speeds,
        voltages,
        limits,
        speeds,
        torques,
        losses,
        np.array(cells.charges),
        np.array(cells.at_rest),
    )
