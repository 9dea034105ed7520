"""The hardest second of a use, worked with the plain formulas, and where all energy went."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.descriptions.duty import PARTS, Duties, Duty, HillDuty, SteadyDuty
from wattwright.kinds import (
    ACCELERATION,
    ENERGY,
    GRADE,
    POWER,
    SPEED,
    TEMPERATURE,
    VOLTAGE,
)
from wattwright.physics import (
    acceleration,
    around_run,
    gearing,
    motor_curve,
    motor_losses,
    pack_voltage,
    tractive,
)
from wattwright.uses.results import Balance
from wattwright.values import Value, constant, worked

_ROUND_OFF = 1e-9
_OF_THE_HILL = ("drive.hill_heat", "drive.hill_kept", "drive.hill_warmest")
_PREFIXES = ("drive.use_", "drive.steady_", "drive.hill_")


@dataclass(frozen=True, eq=False)
class Hardest:
    """The step with the highest pack current: when it begins, s, and that current, worked."""

    time: float
    current: Value


def duty_behind(duties: Duties, address: str) -> Duty | SteadyDuty | HillDuty | None:
    """Find the use that what stands under an address comes from; none where it is of several."""
    if not address.startswith(_PREFIXES):
        return None
    if address.startswith("drive.hill_"):
        return duties.hill if address.startswith(_OF_THE_HILL) else None
    about = address.partition("@")[2]
    every: Mapping[str, Duty | SteadyDuty] = {**duties.uses, **duties.steady}
    fitting = [name for name in every if f"{about}/".startswith(f"{name}/")]
    return every[max(fitting, key=len)] if fitting else None


def energies(balance: Balance) -> dict[str, Value]:
    """Where the energy that left the cells went, and what is left unexplained."""
    parts = {"left the cells": balance.chemistry}
    parts |= {part.replace("_", " "): getattr(balance, part) for part in PARTS}
    parts |= {"gained in speed": balance.kinetic, "left over": balance.closure}
    # Up and down the same hill leaves a height that is nothing but round-off.
    noise = _ROUND_OFF * abs(balance.chemistry)
    return {
        name: constant(ENERGY, number if abs(number) > noise else 0.0, "from the run")
        for name, number in parts.items()
    }


def hardest(duty: Duty | SteadyDuty | HillDuty) -> Hardest | None:
    """Work out the step with the highest pack current, by the formulas the loop repeats."""
    driven = duty.driven
    if driven is None or not driven.run.steps:
        return None
    run, trace = driven.run, driven.trace
    # Each stands for itself here; where it comes from is in the working above.
    inputs = {
        name: constant(value.kind, value.number or 0.0, f"{name.replace('_', ' ')} of the run")
        for name, value in duty.demand.inputs.items()
    }
    step = int(run.current.argmax())
    if run.torque[step] <= 0 or run.speed[step] + run.speed[step + 1] <= 0:
        return None
    before, after = float(run.speed[step]), float(run.speed[step + 1])
    speed = constant(SPEED, (before + after) / 2, "mean speed of the step")
    grade = constant(GRADE, float(trace.grades[step]), "grade of the step")
    rate = (after - before) / float(trace.steps[step])
    against = worked(
        tractive.driving_force,
        *(inputs[name] for name in ("f0", "f1", "f2")),
        speed,
        inputs["mass"],
        grade,
    )
    inertia = worked(
        acceleration.inertia_force,
        inputs["equivalent_mass"],
        constant(ACCELERATION, rate, "acceleration of the step"),
    )
    force = worked(around_run.total, (against, inertia))
    geared = inputs["ratio"], inputs["rolling_radius"]
    torque = worked(
        gearing.motor_torque, force, geared[1], geared[0], inputs["driveline_efficiency"]
    )
    turning = worked(gearing.motor_speed, speed, *geared)
    shaft = worked(motor_curve.shaft_power, torque, turning)
    own = (inputs["auxiliary"], inputs["heater"])
    lost = float(run.dc_power[step] - run.shaft_power[step]) - sum(v.number or 0.0 for v in own)
    drive = worked(
        motor_losses.dc_power, shaft, constant(POWER, max(0.0, lost), "read off the map of losses")
    )
    taken = worked(around_run.total, (drive, *own))
    cells = constant(TEMPERATURE, float(run.pack[step]), "of the cells in the step")
    resistance = worked(
        pack_voltage.resistance_when_cold,
        *(inputs[name] for name in ("resistance", "cold_factor", "cold_temperature")),
        cells,
        constant(TEMPERATURE, pack_voltage.WARM, "warm cells"),
    )
    at_rest = float(run.voltage[step]) + float(run.current[step]) * (resistance.number or 0.0)
    rest = constant(VOLTAGE, at_rest, "at rest, at the charge of the step")
    current = worked(pack_voltage.current_at_power, taken, rest, resistance)
    return Hardest(float(trace.times[step]), current)
