"""What the drive area checks, each declared once."""

from __future__ import annotations

from wattwright.findings import Check
from wattwright.formula import Source
from wattwright.kinds import (
    ACCELERATION,
    CURRENT,
    GRADE,
    ROTATIONAL_SPEED,
    SPEED,
    TIME,
    TORQUE,
    VOLTAGE,
)

_RATING = Source("The maker's data sheet of the device", "", "seen")
_TARGET = Source("The builder's own target", "", "practice")
_DANGER = (
    "Several hundred volts kill. A device above its rating fails short and feeds fire; decide "
    "this before anything is bought, and let a qualified person check it before it is connected."
)

WINDOW_HIGH = Check(
    "drive.window_high",
    "highest pack voltage against what the device bears",
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
    "lowest pack voltage against what the device needs",
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
    "fastest motor speed against where it generates uncontrolled",
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

TOP_SPEED = Check(
    "drive.top_speed",
    "top speed against the one wanted",
    "Highest speed on the level in the best gear, driver aboard, pack half charged and warm.",
    "the builder's target",
    SPEED,
    _TARGET,
    near=0.05,
)
HILL_START = Check(
    "drive.hill_start",
    "hill it starts on against the steepest wanted",
    "Grade on which the torque at standstill just begins to move it, in the gear that pulls "
    "hardest; magnets hot. Whether the tyres hold is judged apart.",
    "the builder's target",
    GRADE,
    _TARGET,
    near=0.01,
    caution="A vehicle that does not start rolls back: hand brake on, nobody behind it.",
)
HILL_GRIP = Check(
    "drive.hill_grip",
    "hill the driven wheels hold on against the steepest wanted",
    "Grade on which the driven wheels begin to slide on the worst road named.",
    "the builder's target",
    GRADE,
    _TARGET,
    near=0.01,
)
BACKING = Check(
    "drive.backing",
    "hill it backs up against the steepest wanted",
    "Grade it starts on tail first, the motor turning backwards in the lowest gear used and the "
    "driven wheels not sliding on the worst road named: a driven rear axle has less load there.",
    "the builder's target",
    GRADE,
    _TARGET,
    near=0.01,
    warning=True,
)
CLIMB = Check(
    "drive.climb",
    "hill it climbs at the speed wanted against the steepest wanted",
    "Grade at which all of the force is used up at that speed, in the best gear, pack nearly "
    "empty, cold and aged. For how long, heat decides.",
    "the builder's target",
    GRADE,
    _TARGET,
    near=0.01,
)
STALL_TIME = Check(
    "drive.stall_time",
    "how long the inverter holds its current at standstill",
    "Time for which the inverter gives its current at standstill, against what a start takes.",
    "the time a start takes",
    TIME,
    _TARGET,
    caution="At standstill one switch carries all of the current; an inverter that gives up lets "
    "the vehicle roll back.",
)
TO_FIFTY = Check(
    "drive.zero_to_fifty",
    "time to 50 km/h against the one wanted",
    "From standstill on the level, driver aboard, pack half charged and warm, in the best single "
    "gear or through the gears, whichever is quicker.",
    "the builder's target",
    TIME,
    _TARGET,
)
LAUNCH = Check(
    "drive.launch_torque",
    "torque of the hardest start against what this bears",
    "Highest torque of the motors, magnets cold and no saturation, through the lowest gear used, "
    "no losses taken off.",
    "the maker's rating, or where the steel of the shaft yields",
    TORQUE,
    _RATING,
    caution="A shaft that breaks under load whips; a broken half-shaft lets the vehicle roll.",
)
FAULT = Check(
    "drive.fault_torque",
    "jolt of a shorted inverter against what this bears",
    "Largest torque in the air gap when the inverter shorts the motor's phases at full torque, "
    "magnets cold, "
    "through the lowest gear used. The rotor's inertia keeps part of it from the shaft, so past "
    "the rating is no proof of breaking.",
    "the maker's rating, or where the steel of the shaft yields",
    TORQUE,
    _RATING,
    warning=True,
)
REVERSING = Check(
    "drive.reversing_torque",
    "torque back and forth against what this bears for life",
    "The hardest start and the most braking by the motor in turn, magnets cold, through the lowest "
    "gear used, as one torque that goes back and forth. What passes once may still break after "
    "years. Play turns each change into a blow that is not in here: let the torque rise slowly "
    "through nought.",
    "what it bears once, times the share it bears back and forth",
    TORQUE,
    Source("Soderberg criterion of fatigue", "mean stress against yield", "computed"),
    warning=True,
)
REGEN_GRIP = Check(
    "drive.regen_grip",
    "braking by the motor against what the driven wheels hold",
    "Deceleration that the motor alone makes when the accelerator is let go, driver aboard, on the "
    "level, against the one at which the driven wheels slide on the most slippery road named. "
    "Downhill a driven rear axle holds a little less.",
    "friction of the driven wheels with the load that braking leaves them",
    ACCELERATION,
    Source("Moments about the wheels on the road, with friction at its limit", "", "computed"),
    strict=True,
    caution="Rear wheels that slide turn the vehicle round: set less torque, or a switch for ice.",
)
STOP_LAMP = Check(
    "drive.stop_lamp",
    "braking by the motor against where stop lamps must light",
    "Deceleration at 50 km/h when the accelerator is let go, with gears, road and air, driver "
    "aboard; stop lamps that only the pedal lights stay dark.",
    "the authority's answer",
    ACCELERATION,
    Source("The rule as answered", "", "seen"),
    near=0.05,
    caution="Whoever follows sees nothing of braking without lamps.",
)
DEVICE_CURRENT = Check(
    "drive.device_current",
    "pack current at thirty-minute power against what the device carries",
    "Direct current while the motors give their thirty-minute power and the pack is at its lowest "
    "voltage, where the current is largest.",
    "the device's continuous rating for direct current",
    CURRENT,
    _RATING,
    near=0.05,
    strict=True,
    caution="A contactor, fuse or cable above its rating burns hours later, under load.",
)

CHECKS = (
    WINDOW_HIGH,
    WINDOW_REGEN,
    WINDOW_LOW,
    DEVICE_CURRENT,
    EMF_RATING,
    GENERATION,
    OVERSPEED,
    TOP_SPEED,
    TO_FIFTY,
    HILL_START,
    STALL_TIME,
    HILL_GRIP,
    BACKING,
    CLIMB,
    LAUNCH,
    FAULT,
    REVERSING,
    REGEN_GRIP,
    STOP_LAMP,
)
