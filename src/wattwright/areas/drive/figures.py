"""What the drive area states without a limit, each declared once; ``TABLE`` is by gear."""

from __future__ import annotations

from wattwright.findings import FigureKind
from wattwright.kinds import (
    ACCELERATION,
    COUNT,
    CURRENT,
    FORCE,
    GRADE,
    LENGTH,
    POWER,
    RATIO,
    ROTATIONAL_SPEED,
    SPEED,
    TIME,
    TORQUE,
)

ROLLING = FigureKind(
    "drive.rolling_circumference",
    "distance the driven wheel rolls in one turn",
    "Measured, or from the tyre size where it was not.",
    LENGTH,
)
TURNS_PER_KM = FigureKind(
    "drive.turns_per_kilometre",
    "turns of the driven wheel in a kilometre",
    "For setting a speedometer or a hub sensor.",
    COUNT,
)
ROAD_LIMIT = FigureKind(
    "drive.road_limit",
    "road speed at the motor's highest speed",
    "Fastest this gear allows, uphill or down.",
    SPEED,
)
GENERATED_CURRENT = FigureKind(
    "drive.generated_current",
    "current into the empty pack, inverter not switching",
    "Direct current the magnets feed through the diodes at that speed.",
    CURRENT,
)
GENERATED_TORQUE = FigureKind(
    "drive.generated_torque",
    "braking torque of the motor, inverter not switching",
    "Torque that this takes from the motor's shaft at that speed.",
    TORQUE,
)

PEAK_TORQUE = FigureKind(
    "drive.peak_torque",
    "torque at low speed",
    "At the highest current of motor and inverter, magnets hot, less what saturation takes; from "
    "the maker's curve or ratings where those are known.",
    TORQUE,
)
BASE_SPEED = FigureKind(
    "drive.base_speed",
    "motor speed at which the voltage runs out",
    "Above it the torque falls; with the pack full, and with it empty.",
    ROTATIONAL_SPEED,
)
TORQUE_AT_TOP = FigureKind(
    "drive.torque_at_top",
    "torque left at the fastest driving, pack empty",
    "Largest torque of the motor at that speed and the lowest voltage of the pack.",
    TORQUE,
)

HOLD_TIME = FigureKind(
    "drive.hold_time",
    "time it holds its highest torque",
    "From a warm motor until the windings reach their limit, by the heat of copper as hot as that "
    "limit alone.",
    TIME,
)
PEAK_POWER = FigureKind(
    "drive.peak_power",
    "highest power at the shaft",
    "Of all motors, as far as the pack feeds it in this state.",
    POWER,
)
PEAK_CURRENT = FigureKind(
    "drive.peak_current",
    "pack current at highest power",
    "Direct current out of the pack, with everything else that runs.",
    CURRENT,
)
THIRTY_POWER = FigureKind(
    "drive.thirty_minute_power",
    "power at the shaft for thirty minutes",
    "What counts on a long hill.",
    POWER,
)
THIRTY_CURRENT = FigureKind(
    "drive.thirty_minute_current",
    "pack current at thirty-minute power",
    "At the pack's lowest voltage, where it is largest.",
    CURRENT,
)
THROUGH_FIFTY = FigureKind(
    "drive.shifting_to_fifty",
    "time to 50 km/h through the gears",
    "From the lowest gear used, each change where the next gear pulls harder or this one ends.",
    TIME,
)
THROUGH_SIXTY = FigureKind(
    "drive.shifting_to_sixty_miles",
    "time to 60 mph through the gears",
    "From the lowest gear used, each change where the next gear pulls harder or this one ends.",
    TIME,
)
BEST_GEAR = FigureKind(
    "drive.best_gear",
    "best single gear: what it gives over what is wanted",
    "The gear whose smallest reserve over top speed, hill and time wanted is largest; its working "
    "shows which of them decides. One is just enough.",
    RATIO,
)

RESERVE = FigureKind(
    "drive.gear_reserve",
    "what the gear gives over what is wanted",
    "Smallest of what the gear gives over top speed, hill and time wanted; one is just enough.",
    RATIO,
    "reserve",
)
GEAR_RATIO = FigureKind(
    "drive.total_ratio",
    "turns of the motor for one of the wheels",
    "Gear and final drive together.",
    RATIO,
    "ratio",
)
START_FORCE = FigureKind(
    "drive.start_force",
    "force at standstill",
    "Force at the road by the torque the inverter holds at standstill.",
    FORCE,
    "start force",
)
START_GRADE = FigureKind(
    "drive.start_grade",
    "hill it starts on",
    "Steepest grade it starts on with a driver aboard, if the tyres hold; 100 % at most.",
    GRADE,
    "starts on",
)
GEAR_TOP = FigureKind(
    "drive.gear_top_speed",
    "top speed",
    "On the level, pack half charged and warm, or where this gear ends.",
    SPEED,
    "top speed",
)
GEAR_TOP_LOW = FigureKind(
    "drive.gear_top_speed_low",
    "top speed, pack nearly empty and cold",
    "On the level, pack at its low charge, cold and aged.",
    SPEED,
    "nearly empty",
)
GEAR_TOP_THIRTY = FigureKind(
    "drive.gear_top_speed_thirty",
    "top speed for thirty minutes",
    "On the level at the torque and power the motor gives for thirty minutes.",
    SPEED,
    "for 30 min",
)
CLIMB_30 = FigureKind(
    "drive.climb_30",
    "hill climbed at 30 km/h",
    "At all the force there is; for how long, heat decides.",
    GRADE,
    "hill at 30",
)
CLIMB_50 = FigureKind(
    "drive.climb_50",
    "hill climbed at 50 km/h",
    "At all the force there is; for how long, heat decides.",
    GRADE,
    "hill at 50",
)
CLIMB_80 = FigureKind(
    "drive.climb_80",
    "hill climbed at 80 km/h",
    "At all the force there is; for how long, heat decides.",
    GRADE,
    "hill at 80",
)
THIRTY_30 = FigureKind(
    "drive.climb_30_thirty",
    "hill climbed at 30 km/h for thirty minutes",
    "At the torque and power the motor gives for thirty minutes.",
    GRADE,
    "30 min at 30",
)
THIRTY_50 = FigureKind(
    "drive.climb_50_thirty",
    "hill climbed at 50 km/h for thirty minutes",
    "At the torque and power the motor gives for thirty minutes.",
    GRADE,
    "30 min at 50",
)
THIRTY_80 = FigureKind(
    "drive.climb_80_thirty",
    "hill climbed at 80 km/h for thirty minutes",
    "At the torque and power the motor gives for thirty minutes.",
    GRADE,
    "30 min at 80",
)
GEAR_FIFTY = FigureKind(
    "drive.to_fifty",
    "time to 50 km/h",
    "From standstill on the level, in this gear alone.",
    TIME,
    "0 to 50",
)
GEAR_SIXTY = FigureKind(
    "drive.to_sixty_miles",
    "time to 60 mph",
    "From standstill on the level, in this gear alone.",
    TIME,
    "0 to 60 mph",
)
GEAR_EIGHTY = FigureKind(
    "drive.fifty_to_eighty",
    "time from 50 to 80 km/h",
    "On the level, in this gear.",
    TIME,
    "50 to 80",
)
GEAR_REGEN = FigureKind(
    "drive.regen_deceleration",
    "braking by the motor",
    "Deceleration by the motor alone when the accelerator is let go, driver aboard.",
    ACCELERATION,
    "regen",
)

CLIMBS = ((CLIMB_30, THIRTY_30), (CLIMB_50, THIRTY_50), (CLIMB_80, THIRTY_80))
TABLE = (
    GEAR_RATIO,
    START_FORCE,
    START_GRADE,
    GEAR_TOP,
    GEAR_TOP_LOW,
    GEAR_TOP_THIRTY,
    CLIMB_30,
    CLIMB_50,
    CLIMB_80,
    THIRTY_30,
    THIRTY_50,
    THIRTY_80,
    GEAR_FIFTY,
    GEAR_EIGHTY,
    GEAR_SIXTY,
    GEAR_REGEN,
    RESERVE,
)
FIGURES = (
    *TABLE,
    BEST_GEAR,
    THROUGH_FIFTY,
    THROUGH_SIXTY,
    PEAK_POWER,
    PEAK_CURRENT,
    THIRTY_POWER,
    THIRTY_CURRENT,
    HOLD_TIME,
    ROLLING,
    TURNS_PER_KM,
    ROAD_LIMIT,
    TORQUE_AT_TOP,
    PEAK_TORQUE,
    BASE_SPEED,
    GENERATED_CURRENT,
    GENERATED_TORQUE,
)
