"""The traction pack as the drive sees it: cells, voltage limits and resistance."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Column, Plain, Quantity, Record, Sampled
from wattwright.kinds import (
    CHARGE,
    COUNT,
    CURRENT,
    FRACTION,
    HEAT_CAPACITY,
    RATIO,
    RESISTANCE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLTAGE,
)
from wattwright.sampled import Curve
from wattwright.values import Value

# Where a reading can kill, the usual cautions stand beside it.
LIVE = (
    "live high voltage: rated meter and leads, gloves, one hand, somebody beside you; else a "
    "qualified person"
)
_CELL = "the cell or module maker's data sheet"


class Pack(Record):
    """Cells in series and parallel, and the limits that the battery management keeps."""

    chemistry: Annotated[str, Plain("chemistry", "such as NMC or LFP, as on the label")] = ""
    series: Annotated[
        Value,
        Quantity(
            COUNT,
            "cells in series",
            "count the cell groups from the most negative to the most positive",
            minutes=5,
            allowed=("1", "300"),
            decided=True,
        ),
    ]
    parallel: Annotated[
        Value,
        Quantity(
            COUNT,
            "cells in parallel in each group",
            "label of the module, such as 2p6s",
            minutes=5,
            allowed=("1", "200"),
            default="1",
            basis="one cell in each group; the label of the module says otherwise where it is so",
            decided=True,
        ),
    ]
    charge_limit: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage of one cell at which charging stops",
            f"{_CELL}; what is set in the battery management, whichever is lower",
            minutes=5,
            allowed=("1.5 V", "5 V"),
            decided=True,
        ),
    ]
    discharge_limit: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage of one cell, under load, at which driving stops",
            f"{_CELL}; what is set in the battery management, whichever is higher",
            minutes=5,
            allowed=("1 V", "4 V"),
            decided=True,
        ),
    ]
    open_circuit: Annotated[
        Curve,
        Sampled(
            (
                Column("charge", FRACTION, ("0 %", "100 %")),
                Column("voltage", VOLTAGE, ("1 V", "5 V")),
            ),
            "voltage of one cell at rest against charge; left out: typical of the chemistry",
            f"{_CELL}; else a module discharged in steps of a tenth, rested an hour each, "
            "voltmeter over its cells, divided",
            minutes=600,
        ),
    ]
    capacity: Annotated[
        Value,
        Quantity(
            CHARGE,
            "charge of the whole pack from full to empty, warm, as it is now",
            "one module out of the pack, discharged with an electronic load from limit to limit "
            "within five hours or so, at 20 °C: amperes times hours, times the cells in parallel "
            f"over those of the module; {_CELL} says it when new",
            minutes=240,
            allowed=("1 Ah", "2000 Ah"),
        ),
    ]
    capacity_left: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of that charge which is left at the end of its life",
            f"{_CELL}; four fifths is usual",
            minutes=10,
            allowed=("30 %", "100 %"),
            default="80 % ± 5",
            basis="end of life as most data sheets count it",
        ),
    ]
    capacity_cold: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of that charge which comes out on the coldest morning",
            f"{_CELL}; or one module, cooled through in a dry chest freezer, discharged like that",
            minutes=60,
            allowed=("20 %", "100 %"),
            default="85 % ± 8",
            basis="lithium cells some degrees below freezing, common practice",
        ),
    ]
    continuous_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current the pack may give for hours",
            f"{_CELL} times the cells in parallel",
            minutes=10,
            allowed=("1 A", "3000 A"),
        ),
    ]
    regen_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest current regeneration may put into a pack that is neither full nor cold; left "
            "out: what a full pack is still allowed",
            f"{_CELL} times the cells in parallel; what is set in the battery management or "
            "inverter, whichever is lower",
            minutes=10,
            allowed=("0 A", "3000 A"),
            decided=True,
        ),
    ]
    charge_cold_from: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the cells below which they may not be charged, not even by braking",
            f"{_CELL}; what is set in the battery management, whichever is higher",
            minutes=5,
            allowed=("-30 °C", "20 °C"),
            default="0 °C",
            basis="lithium cells, common practice",
        ),
    ]
    charge_cold_full: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the cells from which they may be charged with full current",
            f"{_CELL}; what is set in the battery management, whichever is higher",
            minutes=5,
            allowed=("-25 °C", "45 °C"),
            default="15 °C",
            basis="lithium cells, common practice",
        ),
    ]
    heat_capacity: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms all cells by one kelvin; left out: by the energy they hold",
            "mass of all modules on a scale times 1.0 kJ/(kg·K)",
            minutes=10,
            allowed=("1 kJ/K", "3000 kJ/K"),
        ),
    ]
    highest_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the cells at which the management cuts the drive",
            f"{_CELL}; what is set in the battery management, whichever is lower",
            minutes=10,
            allowed=("30 °C", "80 °C"),
            default="55 °C",
            basis="lithium cells, common practice",
        ),
    ]
    derating_span: Annotated[
        Value,
        Quantity(
            TEMPERATURE_DIFFERENCE,
            "how far below that temperature the management begins to hold back",
            "setting of the battery management, read out at the bench",
            minutes=10,
            allowed=("1 K", "60 K"),
            default="8 K ± 3",
            basis="settings of inverters and managements, common practice",
        ),
    ]
    charge_taper_from: Annotated[
        Value,
        Quantity(
            FRACTION,
            "charge from which the current into the pack falls towards that of a full one",
            "setting of the battery management, read out at the bench",
            minutes=10,
            allowed=("20 %", "99 %"),
            default="90 % ± 5",
            basis="managements of lithium cells, common practice",
        ),
    ]
    discharge_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest current the pack may give for some seconds",
            f"{_CELL} times the cells in parallel; what is set in the battery management or "
            "inverter, whichever is lower",
            minutes=10,
            allowed=("1 A", "3000 A"),
            decided=True,
        ),
    ]
    low_charge: Annotated[
        Value,
        Quantity(
            FRACTION,
            "charge with which it should still drive as wanted",
            "decide it: the share left when you usually come home",
            minutes=1,
            allowed=("5 %", "50 %"),
            default="20 %",
            basis="our own figure",
            decided=True,
        ),
    ]
    cell_resistance: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of one cell, 10 s step, warm, half full",
            "fall of voltage at a step of current, 10 s, at the cell's own posts, over the step, "
            f"on one module out of the pack; in the pack it is {LIVE}",
            minutes=20,
            allowed=("0.01 mΩ", "1 Ω"),
        ),
    ]
    joints: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of all links, fuses and cables of the pack together",
            "millivolts over each joint and cable at a steady current, added up, over the current; "
            f"{LIVE}",
            minutes=40,
            allowed=("0 mΩ", "1 Ω"),
        ),
    ]
    cold_factor: Annotated[
        Value,
        Quantity(
            RATIO,
            "resistance on the coldest morning over that when warm",
            f"{_CELL}; two to four at freezing is usual",
            minutes=20,
            allowed=("1", "20"),
        ),
    ]
    cold_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the cells on the coldest morning, at which cold_factor and "
            "capacity_cold hold",
            "thermometer taped to a module overnight, on the coldest morning; where both come from "
            "a sheet or a freezer, the temperature said there",
            minutes=5,
            allowed=("-40 °C", "15 °C"),
            default="-20 °C",
            basis="common practice for a cold climate",
        ),
    ]
    age_factor: Annotated[
        Value,
        Quantity(
            RATIO,
            "resistance at the end of life over that when new",
            f"{_CELL}; one and a half to two is usual",
            minutes=10,
            allowed=("1", "5"),
        ),
    ]
    regen_current_full: Annotated[
        Value,
        Quantity(
            CURRENT,
            "regenerative current still allowed with a full pack",
            "setting of inverter or battery management; 0 A where it is tapered to nothing",
            minutes=5,
            allowed=("0 A", "1000 A"),
            decided=True,
        ),
    ]
