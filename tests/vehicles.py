"""A made-up vehicle, traces and maps for the tests of the loop."""

from __future__ import annotations

from typing import Any

import numpy as np

from wattwright.uses.inputs import Maps, Parameters, Trace


def maps(**changes: Any) -> Maps:
    """A motor of 220 N·m and about 90 kW at 360 V, on a pack of 100 cells in series."""
    speeds = np.linspace(0.0, 1200.0, 25)
    voltages = np.linspace(200.0, 440.0, 13)
    power = 90e3 * voltages / 360.0
    torques = np.minimum(220.0, power[None, :] / np.maximum(speeds[:, None], 1.0))
    loss_torques = np.linspace(0.0, 220.0, 12)
    losses = (
        60.0
        + 0.4 * speeds[:, None]
        + 6e-4 * speeds[:, None] ** 2
        + 0.09 * loss_torques[None, :] ** 2
        + 0.012 * speeds[:, None] * loss_torques[None, :]
    )
    charges = np.array([0.0, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0])
    cell = np.array([3.0, 3.3, 3.45, 3.55, 3.65, 3.8, 3.98, 4.08, 4.18])
    given = {
        "torque_speeds": speeds,
        "torque_voltages": voltages,
        "torque_limits": torques,
        "loss_speeds": speeds,
        "loss_torques": loss_torques,
        "losses": losses,
        "charges": charges,
        "open_circuit": 100 * cell,
    }
    return Maps(**{**given, **changes})


def parameters(**changes: float) -> Parameters:
    given = {
        "mass": 1200.0,
        "equivalent_mass": 1260.0,
        "f0": 150.0,
        "f1": 1.5,
        "f2": 0.42,
        "rolling_radius": 0.29,
        "ratio": 8.0,
        "driveline_efficiency": 0.95,
        "motor_loss_share": 0.65,
        "highest_motor_speed": 1200.0,
        "regen_torque": 80.0,
        "regen_deceleration": 2.5,
        "regen_current": 150.0,
        "regen_current_full": 20.0,
        "regen_taper_from": 0.8,
        "resistance": 0.1,
        "cold_factor": 2.1,
        "cold_temperature": 273.15,
        "capacity": 60.0 * 3600,
        "discharge_current": 400.0,
        "lowest_voltage": 280.0,
        "highest_voltage": 420.0,
        "auxiliary": 300.0,
        "start_charge": 0.9,
        "ambient": 293.15,
        "start_motor": 293.15,
        "start_inverter": 293.15,
        "start_drive_coolant": 293.15,
        "start_pack": 293.15,
        "start_pack_coolant": 293.15,
        "heat_capacity_motor": 18e3,
        "heat_capacity_inverter": 5e3,
        "heat_capacity_drive_coolant": 15e3,
        "heat_capacity_pack": 180e3,
        "heat_capacity_pack_coolant": 12e3,
        "motor_resistance": 1 / 60.0,
        "inverter_to_coolant": 120.0,
        "drive_coolant_to_ambient": 150.0,
        "pack_to_coolant": 90.0,
        "pack_coolant_to_ambient": 20.0,
        "pack_to_ambient": 8.0,
        "limit_motor": 413.15,
        "limit_inverter": 353.15,
        "limit_pack": 328.15,
        "span_motor": 20.0,
        "span_inverter": 10.0,
        "span_pack": 10.0,
    }
    return Parameters(**{**given, **changes})


def mixed(seconds: int = 1800, step: float = 1.0, fastest: float = 30.0) -> Trace:
    """Town, country and stops, made of waves; the hills end as high as they began."""
    times = np.arange(0.0, seconds + step / 2, step)
    slow = 9.0 * (1 - np.cos(2 * np.pi * times / 120.0)) / 2
    part = np.maximum(0.0, times / seconds - 1 / 3) * 1.5
    speeds = np.maximum(0.0, slow + fastest * np.sin(np.pi * part) ** 2 - 1.5)
    middles = times[:-1] + step / 2
    return Trace(np.full(len(times) - 1, step), speeds, 0.03 * np.sin(2 * np.pi * middles / 450.0))


def chance(seed: int) -> tuple[Trace, Parameters]:
    """A trace and a vehicle by chance: weak and strong, hot and cold, full and nearly empty."""
    draw = np.random.default_rng(seed)
    count = int(draw.integers(20, 80))
    steps = draw.choice([0.5, 1.0, 2.0], count) if draw.random() < 0.3 else np.ones(count)
    speeds = np.maximum(0.0, np.cumsum(draw.normal(0.1, 1.2, count + 1)) + draw.uniform(-3, 20))
    grades = np.repeat(draw.normal(0.0, 0.06, count // 10 + 1), 10)[:count]
    mass = draw.uniform(600, 2600)
    ambient = draw.uniform(255, 313)
    drawn = parameters(
        mass=mass,
        equivalent_mass=mass * draw.uniform(1.0, 1.1),
        f0=draw.uniform(50, 400),
        f1=draw.uniform(-2, 6),
        f2=draw.uniform(0.2, 0.9),
        ratio=draw.uniform(3.0, 14.0),
        driveline_efficiency=draw.uniform(0.85, 1.0),
        loss_scale=draw.uniform(0.5, 2.0),
        regen_torque=draw.choice([0.0, 60.0, 200.0]),
        regen_deceleration=draw.uniform(0.5, 4.0),
        regen_current=draw.choice([20.0, 60.0, 200.0]),
        regen_current_full=draw.uniform(0.0, 20.0),
        resistance=draw.uniform(0.02, 0.4),
        capacity=draw.uniform(0.3, 60.0) * 3600,
        discharge_current=draw.uniform(60.0, 500.0),
        auxiliary=draw.uniform(0.0, 800.0),
        heater=draw.choice([0.0, 3000.0]),
        start_charge=draw.choice([0.02, 0.3, 0.7, 0.97, 1.0]),
        ambient=ambient,
        start_pack=ambient + draw.uniform(-10, 10),
        start_motor=draw.choice([ambient, 400.0]),
        start_inverter=draw.choice([ambient, 349.0]),
    )
    return Trace(steps, speeds, grades), drawn
