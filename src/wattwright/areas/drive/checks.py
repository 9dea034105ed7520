"""What the drive area says: its checks and its figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind
from wattwright.formula import Source
from wattwright.kinds import CURRENT, LENGTH, ROTATIONAL_SPEED, SPEED, TORQUE, VOLTAGE

_RATING = Source("The maker's data sheet of the device", "", "seen")
_DANGER = (
    "Several hundred volts kill. A device above its rating fails short and feeds fire; decide "
    "this before anything is bought, and let a qualified person check it before it is connected."
)

WINDOW_HIGH = Check(
    "drive.window_high",
    "pack voltage against what the device bears",
    "Highest voltage of the full pack against the highest DC voltage a device bears.",
    "the device's rating for direct current",
    VOLTAGE,
    _RATING,
    near=0.0,
    strict=True,
    caution=_DANGER,
)
WINDOW_REGEN = Check(
    "drive.window_regen",
    "voltage while regenerating against what the device bears",
    "Voltage of the full pack lifted by regeneration, against what a device bears.",
    "the device's rating for direct current",
    VOLTAGE,
    _RATING,
    near=0.0,
    strict=True,
    caution=_DANGER,
)
WINDOW_LOW = Check(
    "drive.window_low",
    "pack voltage against what the device needs",
    "Lowest voltage the battery management allows the pack under load, against what a device "
    "needs to work.",
    "the device's lowest working voltage",
    VOLTAGE,
    _RATING,
    near=0.0,
    strict=True,
)
EMF_RATING = Check(
    "drive.emf_rating",
    "back-EMF against what the inverter bears",
    "Peak line voltage of the magnets, cold, at the motor's highest speed, against the inverter's "
    "rating: with the contactors open nothing else holds it down.",
    "rating of the inverter's link and switches",
    VOLTAGE,
    _RATING,
    near=0.0,
    strict=True,
    caution="A motor that is turned makes voltage with everything switched off: towing, coasting "
    "and downhill included.",
)
GENERATION = Check(
    "drive.generation",
    "motor speed against where it generates uncontrolled",
    "Motor speed at the fastest driving, in the lowest gear used, against the speed at which its "
    "cold magnets feed the empty pack through the diodes whenever the inverter stops switching: "
    "braking nobody asked for.",
    "speed at which the line peak equals the pack's lowest voltage",
    ROTATIONAL_SPEED,
    Source("Line peak EMF equal to the DC voltage", "", "computed"),
    near=0.0,
    strict=True,
    warning=True,
    caution="Above this speed a tripped inverter brakes the driven wheels and charges the pack.",
)
OVERSPEED = Check(
    "drive.overspeed",
    "motor speed at the fastest driving",
    "Speed of the motor when this gear is in at the fastest driving, as after a missed downshift, "
    "against its highest speed.",
    "the motor's highest speed",
    ROTATIONAL_SPEED,
    _RATING,
    near=0.05,
    caution="A long downhill turns the motor faster still.",
)

ROLLING = FigureKind(
    "drive.rolling_circumference",
    "distance the driven wheel rolls in one turn",
    "Measured, or from the tyre size where it was not.",
    LENGTH,
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
    "Most torque per ampere at the highest current of motor and inverter, without saturation: a "
    "real machine gives less.",
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

CHECKS = (WINDOW_HIGH, WINDOW_REGEN, WINDOW_LOW, EMF_RATING, GENERATION, OVERSPEED)
FIGURES = (
    ROLLING,
    ROAD_LIMIT,
    TORQUE_AT_TOP,
    PEAK_TORQUE,
    BASE_SPEED,
    GENERATED_CURRENT,
    GENERATED_TORQUE,
)
