"""What is typical of cells of a chemistry, for as long as the builder's own data is missing."""

from __future__ import annotations

from functools import cache
from typing import Literal

from wattwright.build.pack import Pack
from wattwright.kinds import FRACTION, VOLTAGE
from wattwright.physics import pack_voltage
from wattwright.tables import load
from wattwright.units import read
from wattwright.values import Given, Lack, Origin, Value, constant, given, lacking, worked

# How far cells that bear the same letters differ in rest voltage at the same charge.
_BETWEEN_MAKES = 0.05  # V, at one cell; common practice
_LABEL = "read the chemistry off the label of cell or module, such as NMC or LFP"


def typical_limit(own: Pack, side: Literal["charge", "discharge"]) -> Value:
    """Voltage limit that cells of the chemistry usually have, where a table may say so."""
    row = load("cell_limits").rows.get(f"{own.chemistry.strip().upper()} {side} voltage")
    if row is None or not row.limits:
        return getattr(own, f"{side}_limit")  # type: ignore[no-any-return]
    text = row.cells["value"]
    origin = Given(
        f"pack.{side}_limit",
        f"pack: usual {side} limit of {own.chemistry} cells",
        Origin.TYPICAL,
        text,
        detail=str(row.source),
        how="the cell or module maker's data sheet",
        minutes=5,
    )
    return given(VOLTAGE, read(text, VOLTAGE).number, origin)


def open_circuit(own: Pack, charge: Value) -> Value:
    """Voltage at rest of one cell at a charge: the builder's own curve, else a typical one."""
    curve = own.open_circuit
    if not curve.known:
        return _typical_open_circuit(own, charge)
    shares = [constant(FRACTION, share, "point of the curve") for share in curve.x]
    voltages = [constant(VOLTAGE, voltage, "point of the curve") for voltage in curve.y]
    on_curve = worked(pack_voltage.cell_voltage, charge, shares, voltages)
    return worked(pack_voltage.voltage_within, on_curve, curve.share)


def open_circuit_curve(own: Pack) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Voltage of one cell at rest against charge, in plain numbers; empty where not known."""
    if own.open_circuit.known:
        return own.open_circuit.x, own.open_circuit.y
    points = _open_circuit_points(own.chemistry.strip().upper())
    return tuple(share for share, _ in points), tuple(voltage for _, voltage in points)


def _typical_open_circuit(own: Pack, charge: Value) -> Value:
    """Voltage at rest of one cell of the chemistry at a charge."""
    points = _open_circuit_points(own.chemistry.strip().upper())
    if charge.number is None:
        return Value(VOLTAGE, None, lacks=charge.lacks)
    if not points:
        known = ", ".join(_chemistries())
        why = f"no table knows {own.chemistry!r}; known: {known}" if own.chemistry else "not given"
        return lacking(VOLTAGE, Lack("pack.chemistry", "pack: chemistry", why, _LABEL, 5))
    shares, voltages = zip(*points, strict=True)
    percent = f"{100 * charge.number:g} %"
    origin = Given(
        "pack.chemistry",
        f"pack: open-circuit voltage of one {own.chemistry} cell at {percent}",
        Origin.TYPICAL,
        f"{own.chemistry} at {percent}",
        _BETWEEN_MAKES,
        "± 0.05 V between makes",
        how="pack rested an hour at this charge: voltmeter over the cells of one module, divided",
        minutes=15,
    )
    return given(VOLTAGE, pack_voltage.cell_voltage(charge.number, shares, voltages), origin)


@cache
def _open_circuit_points(chemistry: str) -> tuple[tuple[float, float], ...]:
    rows = (row for row in load("cell_ocv") if row.cells["chemistry"].upper() == chemistry)
    return tuple((row.number("charge_share"), row.number("voltage_V")) for row in rows)


@cache
def _chemistries() -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.cells["chemistry"] for row in load("cell_ocv")))
