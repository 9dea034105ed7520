"""What takes the heat away, and what keeps the cabin warm, until circuits are planned."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Quantity, Record
from wattwright.kinds import HEAT_CAPACITY, RATIO, TEMPERATURE, THERMAL_CONDUCTANCE
from wattwright.values import Value

_LOOP = (
    "litres filled in, by a measuring jug, times 3.6 kJ/(L·K), and half a kJ/K for each kg of "
    "radiator"
)
_STEADY = "half an hour at a steady load on a hill or rollers, two thermometers"


class Cooling(Record):
    """The loop of motor and inverter, and the one of the pack."""

    drive_coolant: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms the coolant of motor and inverter by one kelvin",
            _LOOP,
            minutes=10,
            allowed=("0.5 kJ/K", "200 kJ/K"),
            default="16 kJ/K ± 6",
            basis="four litres with a small radiator, common practice",
        ),
    ]
    radiator: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat its radiator passes on for each kelvin above the outside air, fan on",
            f"{_STEADY}: heat of motor and inverter over coolant less outside",
            minutes=60,
            allowed=("5 W/K", "2000 W/K"),
            default="120 W/K ± 50",
            basis="small car radiators with a fan, common practice",
        ),
    ]
    inverter_to_coolant: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the inverter passes to the coolant for each kelvin between them",
            f"{_STEADY}: heat of the inverter over base plate less coolant",
            minutes=60,
            allowed=("5 W/K", "2000 W/K"),
            default="150 W/K ± 60",
            basis="liquid cooled base plates, common practice",
        ),
    ]
    pack_coolant: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms the coolant of the pack by one kelvin; none: no coolant",
            _LOOP,
            minutes=10,
            allowed=("0.5 kJ/K", "200 kJ/K"),
            may_be_none=True,
        ),
    ]
    pack_to_coolant: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the cells pass to their coolant for each kelvin between them",
            f"{_STEADY}: heat of the cells over cells less coolant",
            minutes=60,
            allowed=("0 W/K", "3000 W/K"),
            default="60 W/K ± 30",
            basis="one plate under the modules, common practice",
        ),
    ]
    pack_radiator: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the pack's coolant passes to the outside air for each kelvin above it",
            f"{_STEADY}: heat of the cells over coolant less outside",
            minutes=60,
            allowed=("0 W/K", "2000 W/K"),
            default="40 W/K ± 20",
            basis="a small radiator of its own, common practice",
        ),
    ]
    pack_to_air: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the pack passes to the air around its box for each kelvin between them",
            "pack warmed by charging, left alone for a night: the management's logged temperatures "
            "against a thermometer outside",
            minutes=30,
            allowed=("0 W/K", "200 W/K"),
            default="4 W/K ± 3",
            basis="a lined box, common practice",
        ),
    ]


class Cabin(Record):
    """What heating takes, where nobody has measured it."""

    temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature wanted in the cabin",
            "decide it: enough to keep the screen clear, hat and gloves on, is about 12 °C",
            minutes=1,
            allowed=("0 °C", "30 °C"),
            default="18 °C",
            basis="a cabin in a coat, common practice",
        ),
    ]
    heat_loss: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the cabin loses for each kelvin above the outside, with the air that is let in",
            "cabin warmed through by a heater of known power, one thermometer inside and one "
            "outside: power over the difference once it no longer rises",
            minutes=60,
            allowed=("5 W/K", "500 W/K"),
            default="80 W/K ± 40",
            basis="small cabins at town speed, common practice",
        ),
    ]
    heater_gain: Annotated[
        Value,
        Quantity(
            RATIO,
            "heat for each watt the heater takes: 1 for an element, 2 to 3 for a heat pump",
            "the maker's sheet of the heater",
            minutes=5,
            allowed=("0.5", "5"),
            default="1",
            basis="a heating element",
        ),
    ]
