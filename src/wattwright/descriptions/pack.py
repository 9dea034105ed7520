"""The pack's description: its voltages and resistance, named once for every area."""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class PackDescription:
    """Voltages at the terminals of the pack.

    ``v_max`` is cells in series times the charge limit; ``v_regen`` adds what regeneration into
    a full pack lifts it by, cold and aged, and is ``v_max`` itself where none is allowed.
    ``v_min`` is cells in series times the discharge limit, which the battery management keeps
    under load.
    """

    v_max: Value
    v_regen: Value
    v_min: Value
    resistance: Value
    resistance_worst: Value
