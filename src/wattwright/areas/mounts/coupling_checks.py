"""What is said of the coupling: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import ANGLE, FORCE, LENGTH, POSITION, RATIO, STRESS, TORQUE

_BEARING = (
    "Power off and proven dead, hands clear, before the shaft is turned. Never lift or hang the "
    "motor by its shaft. A coupling that runs out eats the gearbox's front bearing, then its seal "
    "and its gears."
)
_LIMIT = Source("Run-out of pilot and coupler, 0.05 mm once round", "", "practice")
_ISO = Source("ISO 286-2, limit deviations of holes and shafts", "as the table's row says", "seen")
_FLOAT = Source("End float of couplers in conversions, 0.5 mm to 1.5 mm", "", "practice")
_FIT = (
    "What centres is bored, reamed or turned and measured with gauge and micrometer: no paper "
    "template and no bolt locates it."
)

_ENDS = Source(
    "IEC 60034-8, direction of rotation seen onto the drive end",
    "two ends face to face",
    "computed",
)
_RUNAWAY = (
    "The first turn is with the driven wheels on stands, nobody before or behind the vehicle and a "
    "hand on the cut-off: told to go forward it may go back."
)
ROTATION = Check(
    "mounts.rotation",
    "motor turns the gearbox forward",
    "1: told to go forward, the motor turns the gearbox's input as that drives forward; -1: it "
    "drives back. Each is looked at onto the end of its own shaft, and ends that face each other "
    "are seen to turn opposite ways. A gearbox or axle that was turned round in the vehicle wants "
    "the other way: look whether its oil pick-up, its thrust faces and its teeth like that.",
    "above nought: the way the gearbox wants",
    RATIO,
    _ENDS,
    near=0.0,
    caution=_RUNAWAY,
)
MAY_TURN = Check(
    "mounts.rotation_allowed",
    "motor may turn as it has to",
    "Above nought it may; below, it was made for one way alone and has to turn both: because it "
    "drives backwards by itself, or because it turns the gearbox back and has to be set the other "
    "way. Set the direction in the inverter, by its maker's steps: two phases changed without the "
    "sensor of the rotor make it run away. Where a gear and the motor both could drive backwards, "
    "lock one of them.",
    "above nought: one way or either, as it has to",
    RATIO,
    _ENDS,
    near=0.0,
    caution=_RUNAWAY,
)
RUN_OUT = Check(
    "mounts.run_out",
    "run-out of the coupling, once round",
    "What an indicator shows on the gearbox's shaft where spigot, coupler and face point in "
    "directions of their own: root of the sum of squares of what each brings. An offset shows "
    "twice.",
    "what the builder allows, else 0.05 mm",
    LENGTH,
    _LIMIT,
    caution=_BEARING,
)
RUN_OUT_WORST = Check(
    "mounts.run_out_worst",
    "run-out of the coupling at worst",
    "What it shows where all features point the same way: their plain sum. Turning the coupler on "
    "its shaft, or the adaptor on its bolts, may bring it down before anything is cut.",
    "what the builder allows, else 0.05 mm",
    LENGTH,
    _LIMIT,
    warning=True,
)
RECUT = Check(
    "mounts.run_out_recut",
    "run-out once this feature is cut again",
    "The feature that gains most, cut again in one setting with what it has to run true to: what "
    "would be left of the run-out.",
    "what the builder allows, else 0.05 mm",
    LENGTH,
    _LIMIT,
    caution=_BEARING,
)
FIT_HOLE = Check(
    "mounts.fit_hole",
    "hole against its class",
    "How far the measured hole is from the middle of the limits of its class.",
    "half of the tolerance of its class",
    POSITION,
    _ISO,
    near=0.0,
    caution=_FIT,
)
FIT_SHAFT = Check(
    "mounts.fit_shaft",
    "spigot or dowel against its class",
    "How far the measured spigot, dowel or shaft is from the middle of the limits of its class.",
    "half of the tolerance of its class",
    POSITION,
    _ISO,
    near=0.0,
    caution=_FIT,
)
FIT = Check(
    "mounts.fit",
    "play of the fit",
    "Measured hole less measured shaft, against the most that both classes allow; below zero it "
    "is pressed.",
    "widest hole less thinnest shaft of the classes",
    POSITION,
    _ISO,
    near=0.0,
    caution=_FIT,
)
END_FLOAT = Check(
    "mounts.end_float",
    "end float left",
    "How far the joined shafts still move along their axis: as measured, and once shafts and "
    "housings have grown with warmth.",
    "what the builder wants, else 0.5 mm",
    LENGTH,
    _FLOAT,
    caution="Without float the bearings are pressed against each other and burn.",
)
END_FLOAT_MOST = Check(
    "mounts.end_float_most",
    "end float against the most",
    "How far the joined shafts move along their axis, against what seals and coupler bear.",
    "what the builder allows, else 1.5 mm",
    LENGTH,
    _FLOAT,
)
FACE = Check(
    "mounts.flywheel_face",
    "flywheel's face against where it was",
    "Where the clutch's face stands with the adaptor, less where it stood on the engine: too far "
    "in and the clutch does not free, too far out and it slips.",
    "what the builder allows, else 0.5 mm",
    POSITION,
    Source("Travel that a release bearing has to spare", "", "practice"),
    near=0.0,
)
_STRESS = Source("Statics of keys, splines and bolts", "", "computed")
_REVERSES = "The torque reverses in regeneration: it works both flanks, and play becomes a blow. "


def _stress(identifier: str, says: str, meaning: str) -> Check:
    return Check(
        identifier, says, _REVERSES + meaning, "what the builder's source allows", STRESS, _STRESS
    )


KEY_SHEAR = _stress("mounts.key_shear", "shear of the key", "Stress along the shaft's surface.")
KEY_PRESSURE = _stress("mounts.key_pressure", "pressure on the key", "Stress on its flank.")
KEY_SIZE = Check(
    "mounts.key_size",
    "key against the standard for its shaft",
    "How far the width of the key is from that which the standard has for this shaft. Another one "
    "may be of another standard, or filed to fit: then slot, key and hub belong to each other "
    "alone, and a key from the shop does not.",
    "what calipers tell apart on a key",
    POSITION,
    Source("DIN 6885-1, parallel keys", "as the table's row says", "seen"),
    near=0.0,
    warning=True,
)
BOLT_SIZE = Check(
    "mounts.flange_bolt_size",
    "bolt of the flange against the nearest of a standard",
    "How far the bolt is from the nearest metric or unified one, by its shank or by the core of "
    "its thread, which the working names. Between two sizes it was measured wrongly or turned "
    "down.",
    "what bolts measure under their names",
    POSITION,
    Source("ISO 261 and ASME B1.1, diameters and pitches", "as the table's row says", "seen"),
    near=0.0,
    warning=True,
    caution="A bolt of unknown strength holds no coupling: use one with its grade on the head.",
)
SPLINE = _stress(
    "mounts.spline_pressure",
    "pressure on the splines",
    "Stress on the flanks of those teeth that carry.",
)
BOLTS = _stress(
    "mounts.flange_shear",
    "shear of the flange's bolts",
    "Stress in the bolts if friction fails, all bearing alike, which clearance holes do not give.",
)


def _slips(identifier: str, says: str, meaning: str) -> Check:
    return Check(
        identifier,
        says,
        meaning,
        "friction times what presses the faces",
        TORQUE,
        Source("Friction between faces pressed together", "", "computed"),
    )


FLANGE = _slips(
    "mounts.flange_slip", "torque against the flange's slip", "Torque the bolted faces see."
)
TAPER = _slips("mounts.taper_slip", "torque against the cone's slip", "Torque the cone sees.")

OVERHANG = Check(
    "mounts.overhang",
    "bending of the bell-housing",
    "Moment of a motor that hangs on the face alone, over a pothole. A tail mount takes it off; it "
    "has to be soft, or it fights the face.",
    "what the bell-housing was made for",
    TORQUE,
    Source("Statics of a beam held at one end", "", "computed"),
    caution="Hold the motor by chain or jack, never by its shaft, until every bolt is tight.",
)
OIL = Check(
    "mounts.oil_tilt",
    "tilt of the gearbox against the one it was made for",
    "How far the level of the oil lies askew. Past it, fill to another mark or move the plug.",
    "what the builder allows, else 3°",
    ANGLE,
    Source("Tilt of gearboxes and transaxles, 3° either way", "", "practice"),
    near=0.0,
)
TAIL = FigureKind(
    "mounts.tail_load", "load of the tail mount", "What the tail mount carries, jolts too.", FORCE
)
PICK_UP = FigureKind(
    "mounts.oil_level",
    "oil at the pick-up",
    "How much higher the oil stands at pick-up or highest bearing than before; below zero it is "
    "lower: fill so much more, or it runs dry uphill.",
    POSITION,
)
PART = FigureKind(
    "mounts.run_out_part",
    "run-out this feature brings",
    "Total indicator reading that comes of this feature alone.",
    LENGTH,
)
WITHOUT = FigureKind(
    "mounts.run_out_without",
    "left without it",
    "Run-out that the others leave if this feature were true.",
    LENGTH,
)
KEY_WIDTH = FigureKind(
    "mounts.key_width", "key for this shaft, width", "Width that the standard has for it.", LENGTH
)
KEY_IN_HUB = FigureKind(
    "mounts.key_in_hub",
    "key for this shaft, height in the hub",
    "What of a key of the standard stands out of the shaft's slot: its flank in the hub.",
    LENGTH,
)
NOMINAL = FigureKind("mounts.fit_nominal", "nominal", "Nominal diameter of a fit.", LENGTH)


def _deviation(identifier: str, says: str) -> FigureKind:
    meaning = "Deviation of a fit from its nominal diameter, to write on the drawing."
    return FigureKind(identifier, says, meaning, POSITION)


HOLE_UPPER = _deviation("mounts.fit_hole_upper", "hole, upper")
HOLE_LOWER = _deviation("mounts.fit_hole_lower", "hole, lower")
SHAFT_UPPER = _deviation("mounts.fit_shaft_upper", "shaft, upper")
SHAFT_LOWER = _deviation("mounts.fit_shaft_lower", "shaft, lower")
LOOSEST = FigureKind("mounts.fit_loosest", "loosest", "Most play the classes allow.", POSITION)
TIGHTEST = FigureKind(
    "mounts.fit_tightest",
    "tightest",
    "Least play the classes allow; below zero it is pressed.",
    POSITION,
)

CHECKS: tuple[Check, ...] = (
    ROTATION,
    MAY_TURN,
    RUN_OUT,
    RUN_OUT_WORST,
    RECUT,
    FIT_HOLE,
    FIT_SHAFT,
    FIT,
    END_FLOAT,
    END_FLOAT_MOST,
    FACE,
    KEY_SHEAR,
    KEY_PRESSURE,
    KEY_SIZE,
    SPLINE,
    FLANGE,
    BOLTS,
    BOLT_SIZE,
    TAPER,
    OVERHANG,
    OIL,
)
STACK = (PART, WITHOUT)
FITS = (NOMINAL, HOLE_UPPER, HOLE_LOWER, SHAFT_UPPER, SHAFT_LOWER, LOOSEST, TIGHTEST)
FIGURES: tuple[FigureKind, ...] = (
    *STACK,
    *FITS,
    KEY_WIDTH,
    KEY_IN_HUB,
    TAIL,
    PICK_UP,
)
TABLES: tuple[Table, ...] = (Table("Run-out, feature by feature", STACK), Table("Fits", FITS))
