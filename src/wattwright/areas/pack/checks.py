"""What the pack area says."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind
from wattwright.kinds import POWER, RESISTANCE, VOLTAGE

V_MAX = FigureKind(
    "pack.v_max", "highest voltage", "Cells in series times the charge limit.", VOLTAGE
)
V_REGEN = FigureKind(
    "pack.v_regen",
    "highest voltage while regenerating",
    "Highest voltage with what regeneration into a full pack lifts it by.",
    VOLTAGE,
)
V_MIN = FigureKind(
    "pack.v_min",
    "lowest voltage",
    "Cells in series times the discharge limit, kept under load: empty, cold and aged.",
    VOLTAGE,
)
RESISTANCE_WARM = FigureKind(
    "pack.resistance", "resistance, warm and new", "Resistance of the whole pack.", RESISTANCE
)
RESISTANCE_WORST = FigureKind(
    "pack.resistance_worst",
    "resistance, cold and aged",
    "Resistance of the whole pack on the coldest morning at the end of its life.",
    RESISTANCE,
)
OPEN_CIRCUIT = FigureKind(
    "pack.open_circuit",
    "voltage at rest",
    "Whole pack at rest, half charged, and at the low charge it should still drive with.",
    VOLTAGE,
)
POWER_FED = FigureKind(
    "pack.power",
    "power it can feed for some seconds",
    "At its highest current, or at its lowest voltage where that comes first.",
    POWER,
)
CHECKS: tuple[Check, ...] = ()
FIGURES = (V_MAX, V_REGEN, V_MIN, RESISTANCE_WARM, RESISTANCE_WORST, OPEN_CIRCUIT, POWER_FED)
