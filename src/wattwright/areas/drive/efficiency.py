"""How much of the pack's power reaches the shaft: a grid, some points, or what is typical."""

from __future__ import annotations

import math
from functools import cached_property

from wattwright.build.motor import Motor, Point
from wattwright.errors import FormulaError
from wattwright.kinds import COPPER_LOSS, FRACTION, IRON_LOSS, POWER, TORQUE, WINDAGE_LOSS
from wattwright.physics import motor_curve, motor_losses
from wattwright.values import Given, Origin, Value, constant, given, worked

# A model through a few points is no better than this, however well it meets them.
_LEAST_MISS = 0.02
# Copper, constant and iron losses are told apart by three points, no fewer.
_FEWEST = 3
# So much beyond the outermost points the model may still be asked.
_NEARLY = 1.25
# Only where nothing is known, and then nothing comes of it: see ``known``.
_NOTHING_PASSED_ON = 1e-9


class Efficiency:
    """Efficiency of one motor with its inverter at a speed and a torque.

    The grid where it reaches, else the losses fitted to the points near them, else what is
    typical: a model stretched far beyond its points would look firm and be a guess.
    """

    def __init__(self, name: str, motor: Motor) -> None:
        self._name = name
        self._motor = motor

    @property
    def known(self) -> bool:
        """True where there is an efficiency at any working point."""
        return self._motor.efficiency.known

    def at(self, speed: Value, torque: float) -> Value:
        """Efficiency at a working point."""
        turning = speed.number or 0.0
        on_grid = self._on_grid(turning, torque)
        if on_grid is not None:
            read = constant(FRACTION, on_grid, "read off the grid")
            return worked(motor_losses.efficiency_within, read, self._motor.efficiency_grid.share)
        if self._fit is None or not self._near_points(turning, torque):
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
        if self._fit is None or not self._near_points(speed, torque):
            return self._motor.efficiency.number or _NOTHING_PASSED_ON
        copper, iron, windage, constant_part = (value.number or 0.0 for value in self._fit[0])
        lost = motor_losses.losses(torque, speed, copper, iron, windage, constant_part)
        return motor_losses.efficiency(torque * speed, lost)

    def told(self, speed: float, torque: float) -> bool:
        """True where a grid or points say the losses here, and not the typical efficiency."""
        if not self._beside_nought(speed, torque) and self._on_grid(speed, torque) is not None:
            return True
        return self._fit is not None and self._near_points(speed, torque)

    def for_losses(self, speed: float, torque: float) -> float:
        """Efficiency from which losses may be worked out.

        At standstill and without torque it is nothing over nothing, so that between there and the
        next points of a grid it says nothing of what is lost.
        """
        if self._beside_nought(speed, torque):
            return self._motor.efficiency.number or _NOTHING_PASSED_ON
        return self.number(speed, torque)

    def _beside_nought(self, speed: float, torque: float) -> bool:
        grid = self._motor.efficiency_grid
        return grid.known and (speed < _first(grid.x) or torque < _first(grid.y))

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
        numbers = self._points
        if len(numbers) < _FEWEST or any(efficiency >= 1 for _, _, efficiency in numbers):
            return None
        fit = motor_losses.fitted_losses(numbers)
        if set(fit.left_out) - {"windage"}:
            return None
        label = f"fitted to {len(numbers)} points"
        origin = Given(
            f"part.{self._name}.point",
            f"{self._name}: losses {label}",
            Origin.TYPICAL,
            label,
            max(_LEAST_MISS, fit.largest_miss),
            "± as far as the points are missed, at least 2 %",
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

    @cached_property
    def _points(self) -> list[tuple[float, float, float]]:
        return [
            (p.speed.number or 0.0, p.torque.number or 0.0, p.efficiency.number or 0.0)
            for p in self._motor.point.values()
            if _whole(p)
        ]

    def _near_points(self, speed: float, torque: float) -> bool:
        """Say whether the points reach as far as this, or nearly."""
        speeds, torques = ([p[n] for p in self._points] for n in (0, 1))
        return all(
            min(known) / _NEARLY <= here <= max(known) * _NEARLY
            for here, known in ((speed, speeds), (torque, torques))
        )


def _whole(point: Point) -> bool:
    return point.speed.known and point.torque.known and point.efficiency.known


def _first(edges: tuple[float, ...]) -> float:
    """First place of a map above nought."""
    return next((edge for edge in edges if edge > 0), math.inf)
