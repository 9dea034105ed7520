"""The pack's description: its voltages and resistance, named once for every area."""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class PackState:
    """The pack at one charge: what it gives at rest, and what load takes from that.

    ``current`` is what it may give for some seconds before its own limit or its lowest voltage,
    ``power`` what that makes at its terminals.
    """

    says: str
    open_circuit: Value
    resistance: Value
    current: Value
    power: Value


@dataclass(frozen=True, slots=True, eq=False)
class PackCells:
    """What going through a use needs to know of the pack.

    ``charges`` and ``at_rest`` are the voltage of the whole pack at rest in plain numbers, empty
    where it is not known. ``resistance`` and ``capacity`` are warm and as they are now;
    ``capacity_cold`` and ``cold_factor`` hold at the ``cold_temperature`` of the cells.
    """

    charges: tuple[float, ...]
    at_rest: tuple[float, ...]
    resistance: Value
    capacity: Value
    capacity_cold: Value
    capacity_left: Value
    cold_factor: Value
    cold_temperature: Value
    age_factor: Value
    discharge_current: Value
    continuous_current: Value
    regen_current: Value
    regen_current_full: Value
    charge_cold_from: Value
    charge_cold_full: Value
    charge_taper_from: Value
    derating_span: Value
    low_charge: Value
    heat_capacity: Value
    highest_temperature: Value


@dataclass(frozen=True, slots=True, eq=False)
class PackDescription:
    """Voltages at the terminals of the pack.

    ``v_max`` is cells in series times the charge limit; ``v_regen`` adds what regeneration into
    a full pack lifts it by, cold and aged, and is ``v_max`` itself where none is allowed.
    ``v_min`` is cells in series times the discharge limit, which the battery management keeps
    under load. ``half`` is half charged, warm and new; ``low`` is the charge it should still
    drive with, on the coldest morning at the end of its life.
    """

    v_max: Value
    v_regen: Value
    v_min: Value
    resistance: Value
    resistance_worst: Value
    half: PackState
    low: PackState
    cells: PackCells

    @property
    def states(self) -> dict[str, PackState]:
        """Both states, by the word they bear in addresses."""
        return {"half": self.half, "low": self.low}
