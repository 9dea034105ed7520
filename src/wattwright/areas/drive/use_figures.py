"""What is stated of every use, without a limit, each declared once; and how it is shown."""

from __future__ import annotations

from wattwright.descriptions.duty import PARTS, WINDOWS
from wattwright.findings import FigureKind, Table
from wattwright.kinds import (
    COUNT,
    CURRENT,
    ENERGY_PER_DISTANCE,
    FRACTION,
    GRADE,
    LENGTH,
    POWER,
    SPEED,
    TEMPERATURE,
    TIME,
    TORQUE,
    VOLTAGE,
    Kind,
)

USE_DISTANCE = FigureKind(
    "drive.use_distance", "distance of the use", "As planned or recorded, once.", LENGTH, "distance"
)
USE_CLIMB = FigureKind(
    "drive.use_climb",
    "climb of the use",
    "Sum of everything that goes up, once; a recorded way is cleaned and smoothed before.",
    LENGTH,
    "climb",
)
USE_DURATION = FigureKind(
    "drive.use_duration",
    "duration of the use",
    "From start to standstill, once.",
    TIME,
    "duration",
)
USE_STEEPEST = FigureKind(
    "drive.use_steepest",
    "steepest grade of the use",
    "Uphill, in any second of it.",
    GRADE,
    "steepest",
)
USE_FASTEST = FigureKind(
    "drive.use_fastest", "fastest speed of the use", "In any second of it.", SPEED, "fastest"
)
WAYS = (USE_DISTANCE, USE_CLIMB, USE_DURATION, USE_STEEPEST, USE_FASTEST)

RANGE = FigureKind(
    "drive.use_reach",
    "range of the use",
    "The use again and again until the charge falls to the reserve; temperatures go on. It ends "
    "before where it is held back in a later round.",
    LENGTH,
    "range",
)
CHARGE = FigureKind(
    "drive.use_left",
    "charge left after the use",
    "At its end, driven as often as it is repeated.",
    FRACTION,
    "charge left",
)
WHEEL = FigureKind(
    "drive.use_wheel",
    "energy at the wheels",
    "Rolling, air, climb and brakes, for the distance.",
    ENERGY_PER_DISTANCE,
    "wheels",
)
PACK = FigureKind(
    "drive.use_pack",
    "energy out of the pack",
    "At its terminals, less what comes back, for the distance.",
    ENERGY_PER_DISTANCE,
    "pack",
)
WALL = FigureKind(
    "drive.use_wall",
    "energy out of the wall",
    "What the outlet gives for it, for the distance.",
    ENERGY_PER_DISTANCE,
    "wall",
)
RECOVERED = FigureKind(
    "drive.use_recovered",
    "energy that came back",
    "Into the terminals while braking, for the distance.",
    ENERGY_PER_DISTANCE,
    "comes back",
)
BEHIND = FigureKind(
    "drive.use_behind",
    "speed missing",
    "Most by which it stays behind the speed wanted; all of it where the pack ends before the use.",
    SPEED,
    "missing",
)
BEHIND_AT = FigureKind(
    "drive.use_behind_at",
    "where most speed is missing",
    "Distance driven up to there; where the pack ends before the use, to its end.",
    LENGTH,
)
HELD_BACK = FigureKind(
    "drive.use_held_back",
    "time held back",
    "Time in which it could not do what is wanted, by what held it back.",
    TIME,
)
ENERGY_TABLE = Table(
    "uses: range, energy for the distance, charge at the end",
    (RANGE, WHEEL, PACK, WALL, RECOVERED, CHARGE, BEHIND),
)

_PART_SAYS = {
    "rolling": ("rolling", "What rolls, of the wheel's energy."),
    "air": ("air", "The part of the road load that grows with speed, wind included."),
    "climb": ("climb", "Height gained, below nought where the way leads down."),
    "brakes": ("brakes", "What the friction brakes turn into heat."),
    "driveline_loss": ("gears", "What gears and joints lose, driving and braking."),
    "drive_loss": ("motor", "What motor and inverter lose."),
    "pack_heat": ("cells", "What warms cells, joints and cables of the pack."),
    "auxiliary": ("12 V", "Lamps, pumps, wipers and everything else that is always on."),
    "heater": ("heater", "Heater or air conditioning."),
}
PART = {
    part: FigureKind(
        f"drive.use_part_{part}",
        f"energy of the use: {_PART_SAYS[part][0]}",
        f"{_PART_SAYS[part][1]} For the distance.",
        ENERGY_PER_DISTANCE,
        _PART_SAYS[part][0],
    )
    for part in PARTS
}
PART_TABLE = Table("where the energy goes, for the distance", tuple(PART.values()))


def _windowed(name: str, says: str, meaning: str) -> dict[float, FigureKind]:
    """One figure for each window, and one for the whole use at nought."""
    words = {1.0: "1 s", 10.0: "10 s", 60.0: "1 min", 600.0: "10 min", 0.0: "whole use"}
    return {
        seconds: FigureKind(
            f"drive.use_{name}_{words[seconds].replace(' ', '_')}",
            f"{says} over {words[seconds]}",
            meaning,
            CURRENT,
            words[seconds],
        )
        for seconds in (*WINDOWS, 0.0)
    }


PACK_RMS = _windowed(
    "pack",
    "pack current",
    "Largest root mean square in any window of this length: what warms fuses and cables.",
)
PHASE_RMS = _windowed(
    "phase",
    "phase current",
    "Largest root mean square, over time, of the peak of the sine; for A rms divide by 1.414.",
)
PEAK = FigureKind(
    "drive.use_peak", "highest pack current", "In any step of the use.", CURRENT, "highest"
)
CHARGING = FigureKind(
    "drive.use_charging",
    "highest current into the pack",
    "While braking, in any step of the use.",
    CURRENT,
    "back in",
)
LOWEST = FigureKind(
    "drive.use_lowest", "lowest pack voltage", "Under load, in the use.", VOLTAGE, "lowest"
)
PACK_TABLE = Table(
    "pack current, root mean square by window", (*PACK_RMS.values(), PEAK, CHARGING, LOWEST)
)
PHASE_TABLE = Table("phase current, peak of the sine, by window", tuple(PHASE_RMS.values()))


def _by_body(name: str, says: str, meaning: str, kind: Kind) -> dict[str, FigureKind]:
    bodies = ("motor", "inverter", "pack")
    return {
        body: FigureKind(f"drive.use_{name}_{body}", f"{says}: {body}", meaning, kind, body)
        for body in bodies
    }


HOTTEST = _by_body(
    "warmest", "warmest", "Highest temperature of windings, base plate or cells.", TEMPERATURE
)
HEAT = _by_body("heat", "heat on average", "Mean loss over the use.", POWER)
HEAT["driveline"] = FigureKind(
    "drive.use_heat_gears", "heat on average: gears", "Mean loss over the use.", POWER, "gears"
)
HEAT_TABLE = Table("warmest", tuple(HOTTEST.values()))
LOSS_TABLE = Table("heat on average", tuple(HEAT.values()))

LARGEST = FigureKind(
    "drive.use_torque",
    "largest torque along the driveline",
    "While driving, in any step of the use.",
    TORQUE,
    "driving",
)
SMALLEST = FigureKind(
    "drive.use_braking_torque",
    "largest braking torque along the driveline",
    "While the motor brakes, below nought.",
    TORQUE,
    "braking",
)
REVERSALS = FigureKind(
    "drive.use_reversals",
    "changes between driving and braking",
    "How often the torque turns round in the use, counted above a twentieth of the largest.",
    COUNT,
    "turns round",
)
TORQUE_TABLE = Table("torque along the driveline", (LARGEST, SMALLEST, REVERSALS))

IF = {
    says: FigureKind(
        f"drive.use_if_{word}",
        f"range if: {says}",
        "The same way, one thing otherwise.",
        LENGTH,
        head,
    )
    for says, word, head in (
        ("10 % faster", "faster", "10 % faster"),
        ("100 kg more", "heavier", "+ 100 kg"),
        ("headwind of 20 km/h", "headwind", "20 km/h wind"),
        ("10 K colder", "colder", "10 K colder"),
        ("heater 1 kW more", "heater", "+ 1 kW heat"),
        ("pack at the end of its life", "aged", "old pack"),
    )
}
IF_TABLE = Table("range if one thing is otherwise", tuple(IF.values()))

STEADY_RANGE = FigureKind(
    "drive.steady_range",
    "range at a steady speed",
    "Level road, driver aboard, full down to the reserve, in the air of the road; only as far as "
    "the speed is held.",
    LENGTH,
    "range",
)
STEADY_PACK = FigureKind(
    "drive.steady_pack",
    "energy out of the pack at a steady speed",
    "At its terminals, for the distance.",
    ENERGY_PER_DISTANCE,
    "pack",
)
STEADY_WALL = FigureKind(
    "drive.steady_wall",
    "energy out of the wall at a steady speed",
    "What the outlet gives for it, for the distance.",
    ENERGY_PER_DISTANCE,
    "wall",
)
STEADY_TABLE = Table(
    "steady speed on the level, driver aboard", (STEADY_RANGE, STEADY_PACK, STEADY_WALL)
)
HILL_WARMEST = {
    body: FigureKind(
        f"drive.hill_warmest_{body}",
        f"warmest on the hill: {body}",
        "At the top of the hill wanted, as heavy as it gets, on a hot day, the pack held at its "
        "low charge.",
        TEMPERATURE,
    )
    for body in ("motor", "inverter", "pack")
}

HELD_GRADE = FigureKind(
    "drive.hill_held",
    "hill held for half an hour",
    "Steepest, driver aboard, on a hot day, warm already, in the gear that multiplies most; until "
    "power is taken back, and no steeper than the driven wheels hold. What the pack holds is left "
    "out of account.",
    GRADE,
    "for half an hour",
)
HELD_TIME = FigureKind(
    "drive.hill_time",
    "how long the hill wanted is held",
    "The same, on the steepest hill wanted; an hour stands for as long as you like.",
    TIME,
    "hill wanted",
)
HILL_TABLE = Table("hills until something is too warm, driver aboard", (HELD_GRADE, HELD_TIME))
ENDED_BY = FigureKind(
    "drive.hill_ended_by",
    "how long the hill wanted is held, and what ends it",
    "A body that is too warm, the force of motor and pack, or the grip of the driven wheels.",
    TIME,
)

USE_TABLES = (
    Table("uses: the way, once", WAYS),
    ENERGY_TABLE,
    IF_TABLE,
    PART_TABLE,
    PACK_TABLE,
    PHASE_TABLE,
    HEAT_TABLE,
    LOSS_TABLE,
    TORQUE_TABLE,
    STEADY_TABLE,
    HILL_TABLE,
)
USE_FIGURES = (
    *dict.fromkeys(kind for each in USE_TABLES for kind in each.figures),
    BEHIND_AT,
    HELD_BACK,
    ENDED_BY,
    *HILL_WARMEST.values(),
)
