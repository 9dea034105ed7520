"""How much of the pack's power reaches the shaft: a grid, some points, or what is typical."""

from __future__ import annotations

from wattwright.build.devices import Motor
from wattwright.values import Value


class Efficiency:
    """Efficiency of one motor with its inverter at a speed and a torque."""

    def __init__(self, motor: Motor) -> None:
        self._typical = motor.efficiency

    def at(self, speed: float, torque: float) -> Value:
        """Efficiency at a working point."""
        del speed, torque
        return self._typical

    def number(self, speed: float, torque: float) -> float:
        """Work out the same in plain numbers."""
        return self.at(speed, torque).number or 1.0
