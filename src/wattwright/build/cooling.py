"""What takes the heat away: lumps of coolant and what they pass on, until a circuit is planned."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Quantity, Record
from wattwright.kinds import HEAT_CAPACITY, THERMAL_CONDUCTANCE
from wattwright.values import Value

_LOOP = "litres filled in times 3.6 kJ/(L·K), and what the hoses and the radiator weigh"


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
            "heat the radiator passes on for each kelvin above the outside air, fan on",
            "half an hour at a steady load: heat of motor and inverter over coolant less outside",
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
            "half an hour at a steady load: heat of the inverter over base plate less coolant",
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
            default="10 kJ/K ± 5",
            basis="a small loop of its own, common practice",
        ),
    ]
    pack_to_coolant: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the cells pass to their coolant for each kelvin between them; 0 W/K: no plates",
            "half an hour at a steady load: heat of the cells over cells less coolant",
            minutes=60,
            allowed=("0 W/K", "3000 W/K"),
            default="0 W/K",
            basis="cells without plates",
        ),
    ]
    pack_radiator: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the pack's coolant passes to the outside air for each kelvin above it",
            "half an hour at a steady load: heat of the cells over coolant less outside",
            minutes=60,
            allowed=("0 W/K", "2000 W/K"),
            default="0 W/K",
            basis="no radiator for the pack",
        ),
    ]
    pack_to_air: Annotated[
        Value,
        Quantity(
            THERMAL_CONDUCTANCE,
            "heat the pack passes to the air around its box for each kelvin between them",
            "pack warmed by charging, left alone for a night: logged temperatures of the "
            "management against the outside",
            minutes=30,
            allowed=("0 W/K", "200 W/K"),
            default="4 W/K ± 3",
            basis="a lined box under the floor, common practice",
        ),
    ]
