"""What the mounts area says: its checks and its figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import ANGLE, COUNT, LENGTH, POSITION, RATIO

_OWN = Source("The builder's own limit; a stated default until then", "", "practice")
_HELD = (
    "Nobody works under a unit that hangs on one chain or stands on a jack alone: stands under it, "
    "a second hold, hands out of the gap when a mount is freed."
)

READING = Check(
    "mounts.reading",
    "reading against all others",
    "A reading of the survey less what fits all other readings, against what their bands explain.",
    "what the bands of all readings explain, three false alarms in a hundred surveys",
    POSITION,
    Source("Data snooping in networks of readings", "normal quantile, Bonferroni", "computed"),
    near=0.0,
)
LEVEL_READING = Check(
    "mounts.level_reading",
    "level reading against all others",
    "An angle read with a level less what fits all other readings, against what their bands "
    "explain.",
    "what the bands of all readings explain, three false alarms in a hundred surveys",
    ANGLE,
    Source("Data snooping in networks of readings", "normal quantile, Bonferroni", "computed"),
    near=0.0,
)
SPARE = Check(
    "mounts.survey_spare",
    "readings beyond what is needed",
    "How many readings of the survey check the others: with none a slip goes unseen, with one or "
    "two it is seen but seldom named.",
    "four, so that a wrong one can be named",
    COUNT,
    Source("Four readings to spare name a slip of ten deviations", "", "practice"),
    near=0.0,
    warning=True,
)
ANGLE_OFF = Check(
    "mounts.angle",
    "angle of the unit against the one wanted",
    "As the unit hangs now less as it is wanted: across it is the roll, nose is the pitch, plan "
    "the yaw.",
    "how far each angle may be off",
    ANGLE,
    _OWN,
    near=0.0,
    caution=_HELD,
)
SHAFT = Check(
    "mounts.shaft",
    "end of the shaft off its line",
    "How far an end of the output shaft is from the line it is to lie on, as the unit hangs now.",
    "how far the shaft may be off its line",
    LENGTH,
    _OWN,
    near=0.0,
)
FORCED = Check(
    "mounts.forced",
    "mount pulled by shims that do not fit",
    "What the shims to be tried pull a mount up or press it down by: four and more mounts fit "
    "only where their tops lie in one plane.",
    "how far a mount may be pulled",
    LENGTH,
    _OWN,
    near=0.0,
    caution="A mount drawn down onto a gap keeps its rubber or its casting under load for good.",
)

X = FigureKind("mounts.x", "back", "A point of the survey: back.", POSITION)
Y = FigureKind("mounts.y", "right", "A point of the survey: to the right.", POSITION)
Z = FigureKind("mounts.z", "up", "A point of the survey: up.", POSITION)
MISFIT = FigureKind(
    "mounts.survey_fit",
    "readings against their bands",
    "Root of the mean square of all residuals, each over its standard deviation: about one where "
    "all readings are as good as said.",
    RATIO,
)
RESIDUAL = FigureKind(
    "mounts.residual", "off", "A reading less what fits all other readings.", POSITION
)
LEVEL_RESIDUAL = FigureKind(
    "mounts.level_residual",
    "level off",
    "An angle read with a level less what fits all other readings.",
    ANGLE,
)
YAW = FigureKind("mounts.yaw", "yaw", "Nose of the unit turned left.", ANGLE)
PITCH = FigureKind("mounts.pitch", "pitch", "Nose of the unit up.", ANGLE)
ROLL = FigureKind("mounts.roll", "roll", "Right side of the unit up.", ANGLE)
LEVEL = FigureKind(
    "mounts.level_across",
    "what a level across will show",
    "Across a machined face, once the unit hangs as wanted; pitched, it shows less than the roll.",
    ANGLE,
)
OFF_WANTED = FigureKind(
    "mounts.shaft_left_off",
    "end of the shaft off its line, as wanted",
    "What is left once the unit hangs as wanted: its angles decide, not its place.",
    POSITION,
)
BRACKET = {
    "length": FigureKind(
        "mounts.bracket_length",
        "length",
        "From the point of the vehicle to the point of the unit as wanted, straight.",
        POSITION,
    ),
    "band": FigureKind(
        "mounts.bracket_band", "±", "How far that length may be off, by all readings.", POSITION
    ),
    "x": FigureKind("mounts.bracket_back", "back", "The same, back.", POSITION),
    "y": FigureKind("mounts.bracket_right", "right", "The same, to the right.", POSITION),
    "z": FigureKind("mounts.bracket_up", "up", "The same, up.", POSITION),
}
CHANGE = {
    "x": FigureKind(
        "mounts.change_back", "move back", "From where the unit hangs now: back.", POSITION
    ),
    "y": FigureKind(
        "mounts.change_right", "move right", "From where the unit hangs now: right.", POSITION
    ),
    "z": FigureKind(
        "mounts.change_up",
        "raise",
        "From where the unit hangs now: up; this much more under the mount.",
        POSITION,
    ),
}
BY_ROLL = FigureKind(
    "mounts.roll_per_mm", "roll", "What one millimetre more under this mount rolls.", ANGLE
)
BY_PITCH = FigureKind(
    "mounts.pitch_per_mm", "pitch", "What one millimetre more under this mount pitches.", ANGLE
)
BY_FIRST = FigureKind(
    "mounts.shaft_from_per_mm",
    "shaft, first end",
    "What one millimetre more under this mount lifts the first end of the shaft by.",
    POSITION,
)
BY_SECOND = FigureKind(
    "mounts.shaft_to_per_mm",
    "shaft, second end",
    "What one millimetre more under this mount lifts the second end of the shaft by.",
    POSITION,
)
CHECKS = (READING, LEVEL_READING, SPARE, ANGLE_OFF, SHAFT, FORCED)
FIGURES = (
    X,
    Y,
    Z,
    MISFIT,
    RESIDUAL,
    LEVEL_RESIDUAL,
    YAW,
    PITCH,
    ROLL,
    LEVEL,
    OFF_WANTED,
    *BRACKET.values(),
    *CHANGE.values(),
    BY_ROLL,
    BY_PITCH,
    BY_FIRST,
    BY_SECOND,
)
TABLES = (
    Table("brackets, from the vehicle's point to the unit's as wanted", tuple(BRACKET.values())),
    Table("from how it hangs now to how it is wanted", tuple(CHANGE.values())),
    Table("one millimetre more under a mount", (BY_ROLL, BY_PITCH, BY_FIRST, BY_SECOND)),
    Table("angles of the unit", (YAW, PITCH, ROLL)),
    Table("readings, less what fits the others", (RESIDUAL, LEVEL_RESIDUAL)),
    Table("points, in the axes of what they are on", (X, Y, Z)),
)
