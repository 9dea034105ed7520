"""How much of the pack's power reaches the shaft: a grid, some points, or what is typical."""

from __future__ import annotations

from functools import cached_property

from wattwright.build.motor import Motor, Point
from wattwright.errors import FormulaError
from wattwright.kinds import COPPER_LOSS, FRACTION, IRON_LOSS, POWER, TORQUE, WINDAGE_LOSS
from wattwright.physics import motor_curve, motor_losses
from wattwright.values import Given, Origin, Value, constant, given, worked

# A model through a few points is no better than this, however well it meets them.
_LEAST_MISS = 0.01
_ZERO = 1e-6


class Efficiency:
    """Efficiency of one motor with its inverter at a speed and a torque.

    The grid where it reaches, else the losses fitted to the points, else what is typical.
    """

    def __init__(self, name: str, motor: Motor) -> None:
        self._name = name
        self._motor = motor

    def at(self, speed: Value, torque: float) -> Value:
        """Efficiency at a working point."""
        turning = speed.number or 0.0
        on_grid = self._on_grid(turning, torque)
        if on_grid is not None:
            read = constant(FRACTION, on_grid, "read off the grid")
            return worked(motor_losses.efficiency_within, read, self._motor.efficiency_grid.share)
        if self._fit is None or turning * torque < _ZERO:
            return self._motor.efficiency
        loss, share = self._fit
        at = constant(TORQUE, torque, "torque found by going round")
        power = worked(motor_curve.shaft_power, at, speed)
        lost = worked(motor_losses.losses, at, speed, *loss)
        fitted = worked(motor_losses.efficiency, power, lost)
        return worked(motor_losses.efficiency_within, fitted, share)

    def number(self, speed: float, torque: float) -> float:
        """Work out the same in plain numbers."""
        on_grid = self._on_grid(speed, torque)
        if on_grid is not None:
            return on_grid
        if self._fit is None or speed * torque < _ZERO:
            return self._motor.efficiency.number or 1.0
        copper, iron, windage, constant_part = (value.number or 0.0 for value in self._fit[0])
        lost = motor_losses.losses(torque, speed, copper, iron, windage, constant_part)
        return motor_losses.efficiency(torque * speed, lost)

    def _on_grid(self, speed: float, torque: float) -> float | None:
        grid = self._motor.efficiency_grid
        if not grid.known:
            return None
        try:
            # A printed map has a row for each torque; the grid has one for each speed.
            return motor_losses.efficiency_on_grid(torque, speed, grid.y, grid.x, grid.z)
        except FormulaError:
            return None

    @cached_property
    def _fit(self) -> tuple[tuple[Value, Value, Value, Value], Value] | None:
        """Coefficients of the losses, and how far they may be off."""
        points = [point for point in self._motor.point.values() if _whole(point)]
        numbers = [
            (p.speed.number or 0.0, p.torque.number or 0.0, p.efficiency.number or 0.0)
            for p in points
        ]
        if not points or any(efficiency >= 1 for _, _, efficiency in numbers):
            return None
        fit = motor_losses.fitted_losses(numbers)
        label = f"fitted to {len(points)} points"
        soft = any(p.efficiency.given is not None and p.efficiency.given.soft for p in points)
        origin = Given(
            f"part.{self._name}.point",
            f"{self._name}: losses {label}",
            Origin.TYPICAL if soft else Origin.COMPUTED,
            label,
            max(_LEAST_MISS, fit.largest_miss),
            "± as far as the points are missed, at least 1 %",
            how="measure more working points, at other speeds and torques",
            minutes=40,
        )
        loss = (
            constant(COPPER_LOSS, fit.copper, label),
            constant(IRON_LOSS, fit.iron, label),
            constant(WINDAGE_LOSS, fit.windage, label),
            constant(POWER, fit.constant, label),
        )
        return loss, given(FRACTION, 0.0, origin)


def _whole(point: Point) -> bool:
    return point.speed.known and point.torque.known and point.efficiency.known
