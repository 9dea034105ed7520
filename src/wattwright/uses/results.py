"""What a run yields: traces, a balance of energies, and by how much it stayed behind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np

from wattwright.uses import places as at
from wattwright.uses.inputs import Array, Trace

Ended = Literal["end of trace", "empty", "pack cannot feed"]
ENDED: tuple[Ended, ...] = ("end of trace", "empty", "pack cannot feed")
HeldBackBy = Literal[
    "nothing",
    "torque",
    "pack power",
    "motor temperature",
    "inverter temperature",
    "pack temperature",
    "highest speed",
]
HELD_BACK_BY: tuple[HeldBackBy, ...] = (
    "nothing",
    "torque",
    "pack power",
    "motor temperature",
    "inverter temperature",
    "pack temperature",
    "highest speed",
)

# Columns of a summary: energies J, distances m, speeds m/s, temperatures K, currents A, voltages V,
# torques N·m.
SUMMARY = (
    "chemistry",
    "pack_heat",
    "auxiliary",
    "heater",
    "drive_loss",
    "driveline_loss",
    "rolling",
    "air",
    "climb",
    "brakes",
    "kinetic",
    "recovered",
    "distance",
    "distance_short",
    "largest_miss",
    "largest_miss_at",
    "ended_at",
    "ended_by",
    "last_charge",
    "peak_motor",
    "peak_inverter",
    "peak_drive_coolant",
    "peak_pack",
    "peak_pack_coolant",
    "peak_current",
    "peak_charge_current",
    "lowest_voltage",
    "highest_voltage",
    "rms_1_s",
    "rms_10_s",
    "rms_60_s",
    "rms_600_s",
    "rms_whole",
    "largest_torque",
    "smallest_torque",
)
# Everything that has a temperature, in the order in which it is warmed.
BODIES = ("motor", "inverter", "drive_coolant", "pack", "pack_coolant")
# What a summary is as a table with named columns.
COLUMNS = np.dtype([(name, np.float64) for name in SUMMARY])


@dataclass(frozen=True)
class Balance:
    """Where the energy went, J.

    ``chemistry`` is what left the cells, and equals the sum of the others but ``recovered``.
    ``drive_loss`` is that of motor and inverter. ``rolling`` is what the constant part of the road
    load took, ``air`` the part that grows with speed, and all that the wind adds.
    ``climb`` and ``kinetic`` may be below nought. ``recovered`` is what came back in at the
    terminals.
    """

    chemistry: float
    pack_heat: float
    auxiliary: float
    heater: float
    drive_loss: float
    driveline_loss: float
    rolling: float
    air: float
    climb: float
    brakes: float
    kinetic: float
    recovered: float

    @property
    def at_terminals(self) -> float:
        """Energy out of the pack's terminals, less what came back, J."""
        return self.chemistry - self.pack_heat

    @property
    def closure(self) -> float:
        """What is left unexplained, J: nothing but round-off."""
        parts: list[float] = [getattr(self, field.name) for field in fields(self)[1:-1]]
        return self.chemistry - sum(parts)


@dataclass(frozen=True)
class Shortfall:
    """By how much a run stayed behind its trace, up to where it ended.

    ``speed`` largest missing, m/s, at the instant ``at`` of the trace; ``distance`` short, m.
    """

    speed: float
    at: int
    distance: float


@dataclass(frozen=True, eq=False)
class Run:
    """One run over a trace.

    One more than steps: ``speed`` m/s, ``charge``, and the temperatures ``motor``, ``inverter``,
    ``drive_coolant``, ``pack``, ``pack_coolant`` K. One per step: ``wheel_force`` N, brakes
    included; ``brake_force`` N of the friction brakes; ``torque`` N·m and ``motor_speed`` rad/s
    while it moves; ``shaft_power`` and ``dc_power`` W, means of the step; ``current`` A and
    ``voltage`` V of the pack; ``held_back_by``, one of ``HELD_BACK_BY`` by its place.

    ``steps`` were driven of those in the trace, and all of this ends there; ``ended`` says why.
    ``balance`` J, ``shortfall``, ``distance`` m; ``summary`` holds all columns of ``SUMMARY``.
    """

    steps: int
    ended: Ended
    speed: Array
    charge: Array
    motor: Array
    inverter: Array
    drive_coolant: Array
    pack: Array
    pack_coolant: Array
    wheel_force: Array
    brake_force: Array
    torque: Array
    motor_speed: Array
    shaft_power: Array
    dc_power: Array
    current: Array
    voltage: Array
    held_back_by: Array
    balance: Balance
    shortfall: Shortfall
    distance: float
    summary: dict[str, float]


def run_of(
    trace: Trace, states: Sequence[float], channels: Sequence[float], summary: Sequence[float]
) -> Run:
    """Put together what the loop has left behind."""
    count = len(trace.steps)
    named = dict(zip(SUMMARY, map(float, summary), strict=True))
    driven = int(named["ended_at"])
    at_instants = np.asarray(states).reshape(at.STATES, count + 1)[:, : driven + 1]
    of_steps = np.asarray(channels).reshape(at.CHANNELS, count)[:, :driven]
    # In the order of the fields: what holds at instants, then what holds over steps.
    names = [field.name for field in fields(Run)[2:]]
    arrays: dict[str, Any] = dict(zip(names, (*at_instants, *of_steps), strict=False))
    return Run(
        steps=driven,
        ended=ENDED[int(named["ended_by"])],
        **arrays,
        balance=Balance(*(named[field.name] for field in fields(Balance))),
        shortfall=Shortfall(
            named["largest_miss"], int(named["largest_miss_at"]), named["distance_short"]
        ),
        distance=named["distance"],
        summary=named,
    )
