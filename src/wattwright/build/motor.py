"""The motor, by whichever data the builder has: circuit, curve, or ratings."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Column, Plain, Quantity, Record, Sampled, Section
from wattwright.build.parts import Part
from wattwright.kinds import (
    COUNT,
    CURRENT,
    FLUX_LINKAGE,
    FRACTION,
    HEAT_CAPACITY,
    INDUCTANCE,
    INERTIA,
    POWER,
    RESISTANCE,
    ROTATIONAL_SPEED,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    THERMAL_RESISTANCE,
    TORQUE,
    VOLTAGE,
)
from wattwright.sampled import Curve, Grid
from wattwright.values import Value

_TEST = "a motor repair shop's low-voltage test from a variable supply, some seconds at a time"
_SHEET = "the maker's data sheet or the plate on the case; photograph it"
_SPEED_COLUMN = Column("speed", ROTATIONAL_SPEED, ("0 rpm", "30000 rpm"))
_TORQUE_COLUMN = Column("torque", TORQUE, ("0 N·m", "3000 N·m"))


class Point(Record):
    """One working point of motor and inverter whose efficiency is known."""

    speed: Annotated[
        Value,
        Quantity(
            ROTATIONAL_SPEED,
            "speed of the shaft",
            f"{_SHEET}; optical counter where it is measured",
            minutes=5,
            allowed=("10 rpm", "30000 rpm"),
        ),
    ]
    torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "torque of the shaft",
            f"{_SHEET}; lever and scale on a bench where it is measured",
            minutes=20,
            allowed=("0.1 N·m", "3000 N·m"),
        ),
    ]
    efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "efficiency of motor and inverter together",
            "shaft power over DC power, by the inverter's own readings of DC voltage and current, "
            "on a bench with guarded shaft; a meter there is live high voltage, for a qualified "
            "person",
            minutes=20,
            allowed=("5 %", "100 %"),
        ),
    ]


class Motor(Part):
    """The motor, by whichever data the builder has."""

    kind: Annotated[Literal["motor"], Plain("kind of device")]
    fed_by: Annotated[
        str, Plain("name of the inverter that feeds it", "needed only where there are several")
    ] = ""
    pole_pairs: Annotated[
        Value,
        Quantity(
            COUNT,
            "pole pairs",
            "data sheet, or turn the shaft by hand with two phases fed a small direct current "
            "and count the rests in one turn",
            minutes=15,
            allowed=("1", "20"),
            decided=True,
        ),
    ]
    flux: Annotated[
        Value,
        Quantity(
            FLUX_LINKAGE,
            "flux linkage of the magnets, peak, magnets at 20 °C; none: no magnets",
            "motor out or its three cables off the inverter, insulated from each other; spin the "
            "shaft with a drill at a counted speed, drill held in a clamp; true-rms meter between "
            "two phases: line rms times 0.8165 over the electrical speed; the terminals are live "
            "while it turns",
            minutes=30,
            allowed=("1 mWb", "1 Wb"),
            may_be_none=True,
        ),
    ]
    ld: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "inductance along the magnets",
            "data sheet; or cables off the inverter, LCR meter at 100 Hz to 1 kHz between two "
            "phases, shaft turned by hand: half the smallest reading; it knows no saturation",
            minutes=20,
            allowed=("1 µH", "100 mH"),
        ),
    ]
    lq: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "inductance across the magnets",
            "data sheet; or cables off the inverter, LCR meter at 100 Hz to 1 kHz between two "
            "phases, shaft turned by hand: half the largest reading; it knows no saturation",
            minutes=20,
            allowed=("1 µH", "100 mH"),
        ),
    ]
    stator_leakage: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "leakage inductance of one stator phase, of a motor without magnets",
            f"data sheet; else {_TEST}, rotor locked: half of what is left of the impedance",
            minutes=60,
            allowed=("0.1 µH", "100 mH"),
        ),
    ]
    rotor_leakage: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "leakage inductance of the rotor, seen from the stator",
            f"data sheet; else {_TEST}, rotor locked: the other half",
            minutes=60,
            allowed=("0.1 µH", "100 mH"),
        ),
    ]
    magnetising: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "magnetising inductance of one phase, of a motor without magnets",
            f"data sheet; else {_TEST}, rotor free: phase voltage over current and electrical "
            "speed, less the leakage",
            minutes=60,
            allowed=("10 µH", "1 H"),
        ),
    ]
    rotor_resistance: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of the rotor, seen from the stator",
            f"data sheet; else {_TEST}, rotor locked: real part of the impedance less the stator's",
            minutes=60,
            allowed=("0.01 mΩ", "10 Ω"),
        ),
    ]
    magnetising_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "magnetising current above which the iron saturates, peak of the sine",
            "data sheet: no-load current at rated voltage and frequency; A rms times 1.414",
            minutes=15,
            allowed=("0.5 A", "1500 A"),
        ),
    ]
    rs: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of one phase",
            "cables off the inverter; four-wire meter between two phases, motor cold and still: "
            "half the reading",
            minutes=10,
            allowed=("0.01 mΩ", "10 Ω"),
        ),
    ]
    current_limit: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest phase current the motor bears, peak of the sine",
            f"{_SHEET}; where it is given in A rms multiply by 1.414",
            minutes=5,
            allowed=("1 A", "3000 A"),
        ),
    ]
    max_speed: Annotated[
        Value,
        Quantity(
            ROTATIONAL_SPEED,
            "highest speed",
            f"{_SHEET}; rotor and bearings",
            minutes=5,
            allowed=("100 rpm", "30000 rpm"),
        ),
    ]
    curve_voltage: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "DC voltage for which the curve or the ratings hold",
            f"{_SHEET}; the voltage printed beside the curve",
            minutes=5,
            allowed=("12 V", "1500 V"),
        ),
    ]
    curve_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "phase current for which the curve or the ratings hold, peak of the sine",
            f"{_SHEET}; left out: the highest current the motor bears",
            minutes=5,
            allowed=("1 A", "3000 A"),
        ),
    ]
    saturation: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the torque that saturation takes at the highest current, of a motor known "
            "by flux and inductances",
            "torque at the shaft by lever and scale at a known current on a bench, against the one "
            "worked out; left out: typical",
            minutes=120,
            allowed=("0 %", "50 %"),
            default="12 % ± 10",
            basis="inductances from a meter with little current, common practice",
        ),
    ]
    fault_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "highest torque when its phases are shorted at full load",
            f"{_SHEET}; worked out where flux and inductances are known",
            minutes=20,
            allowed=("1 N·m", "10000 N·m"),
        ),
    ]
    peak_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "highest torque; beside flux and inductances, the lower of the two counts",
            f"{_SHEET}; with the inverter it will run on",
            minutes=5,
            allowed=("1 N·m", "3000 N·m"),
        ),
    ]
    peak_power: Annotated[
        Value,
        Quantity(
            POWER,
            "highest power; beside flux and inductances, the lower of the two counts",
            f"{_SHEET}; with the inverter it will run on, at the DC voltage stated",
            minutes=5,
            allowed=("0.5 kW", "1000 kW"),
        ),
    ]
    continuous_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "torque it gives for thirty minutes",
            f"{_SHEET}; with the cooling it will have",
            minutes=5,
            allowed=("1 N·m", "3000 N·m"),
        ),
    ]
    continuous_power: Annotated[
        Value,
        Quantity(
            POWER,
            "power it gives for thirty minutes",
            f"{_SHEET}; UN Regulation No. 85 names it so; with the cooling it will have",
            minutes=5,
            allowed=("0.5 kW", "1000 kW"),
        ),
    ]
    efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "efficiency of motor and inverter together at large torque",
            f"{_SHEET}; a grid or some points say more",
            minutes=10,
            allowed=("30 %", "99 %"),
            default="88 % ± 5",
            basis="motor and inverter at large torque, common practice",
        ),
    ]
    loss_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the losses of motor and inverter that warms the motor",
            f"{_SHEET}: efficiencies of both apart; the losses of the motor over those of both",
            minutes=10,
            allowed=("30 %", "95 %"),
            default="75 % ± 10",
            basis="motors with their inverters, common practice",
        ),
    ]
    point: Annotated[dict[str, Point], Section("working points whose efficiency is known, by name")]
    inertia: Annotated[
        Value,
        Quantity(
            INERTIA,
            "inertia of the rotor with coupling and clutch",
            f"{_SHEET}; else mass of the rotor times the square of 0.7 of its radius",
            minutes=10,
            allowed=("0.0005 kg·m²", "2 kg·m²"),
            default="0.05 kg·m² ± 0.03",
            basis="motors of this size with a coupling, common practice",
        ),
    ]
    heat_capacity: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms its windings by one kelvin",
            "mass of the copper times 0.39 kJ/(kg·K), a fifth of the motor's mass where it is "
            "unknown",
            minutes=15,
            allowed=("0.1 kJ/K", "100 kJ/K"),
        ),
    ]
    thermal_resistance: Annotated[
        Value,
        Quantity(
            THERMAL_RESISTANCE,
            "warming of the windings above the coolant for one watt of loss",
            "half an hour at a steady load: windings less coolant, over the loss",
            minutes=60,
            allowed=("0.1 K/kW", "2000 K/kW"),
        ),
    ]
    winding_limit: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature at which its windings are shut down",
            "setting of the inverter; class of the insulation on the plate",
            minutes=10,
            allowed=("80 °C", "220 °C"),
            default="140 °C",
            basis="class F or H less a reserve, common practice",
        ),
    ]
    derating_span: Annotated[
        Value,
        Quantity(
            TEMPERATURE_DIFFERENCE,
            "how far below that temperature the inverter begins to hold back",
            "setting of the inverter, read out with its own program at the bench",
            minutes=10,
            allowed=("1 K", "60 K"),
            default="20 K ± 5",
            basis="settings of inverters and managements, common practice",
        ),
    ]
    warm: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of coolant or case from which a hill is taken",
            "thermometer on the hose or case after half an hour's drive",
            minutes=10,
            allowed=("0 °C", "120 °C"),
            default="60 °C",
            basis="warm coolant on a hot day, common practice",
        ),
    ]
    curve: Annotated[
        Curve,
        Sampled(
            (_SPEED_COLUMN, _TORQUE_COLUMN),
            "torque against speed, at the highest current, at one DC voltage",
            "maker's sheet: read 8 or more points off the printed curve with a ruler, the first "
            "at standstill and the last at the highest speed",
            minutes=30,
        ),
    ]
    efficiency_grid: Annotated[
        Grid,
        Sampled(
            (_SPEED_COLUMN, _TORQUE_COLUMN, Column("efficiency", FRACTION, ("1 %", "100 %"))),
            "efficiency of motor and inverter together by speed and torque",
            "maker's sheet, or a bench with torque and DC power measured: read it off the contour "
            "lines at crossings of whole speeds and torques",
            minutes=60,
        ),
    ]
