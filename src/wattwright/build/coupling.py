"""The coupling from the motor to the gearbox: run-out, fits, end float, what carries the torque."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.adaptor import Adaptor
from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.fits import Fit
from wattwright.build.hanging import Oil, Overhang
from wattwright.build.joints import Flange, Key, Spline, Taper
from wattwright.kinds import LENGTH, TEMPERATURE_DIFFERENCE, THERMAL_EXPANSION
from wattwright.values import Value

_DIAL = (
    "dial indicator of 0.01 mm on a magnetic stand, power off and proven dead, the shaft turned by "
    "hand through a whole turn"
)


def _reading(label: str, how: str, *, most: str = "2 mm", more: str = "") -> Quantity:
    return Quantity(
        LENGTH, label, how, minutes=15, allowed=("0 mm", most), may_be_none=True, help=more
    )


def _decided(label: str, how: str, default: str, basis: str, most: str = "20 mm") -> Quantity:
    return Quantity(
        LENGTH,
        label,
        how,
        minutes=2,
        allowed=("0 mm", most),
        default=default,
        basis=basis,
        decided=True,
    )


def _warmer(of: str, default: str, basis: str) -> Quantity:
    return Quantity(
        TEMPERATURE_DIFFERENCE,
        f"how much warmer the {of} runs than when the end float was measured",
        f"infrared thermometer or crayon on the {of} after half an hour of driving, less the "
        "temperature of the day of measuring",
        minutes=60,
        allowed=("0 K", "150 K"),
        default=default,
        basis=basis,
    )


def _expansion(of: str, default: str, basis: str) -> Quantity:
    return Quantity(
        THERMAL_EXPANSION,
        f"thermal expansion of the {of}",
        "data sheet of its material",
        minutes=5,
        allowed=("5 µm/(m·K)", "35 µm/(m·K)"),
        default=default,
        basis=basis,
    )


class RunOut(Record):
    """What a dial indicator says of each feature between motor and gearbox."""

    spigot_offset: Annotated[
        Value,
        _reading(
            "offset of the spigot's axis from that of the motor's shaft",
            f"{_DIAL}; tip in the bore of the adaptor, stand on the shaft: half of what it goes "
            "up and down",
            more="left out, it is half of the play of the fit named spigot",
        ),
    ]
    flange: Annotated[
        Value,
        _reading(
            "run-out of the coupler on the motor's shaft, once round",
            f"{_DIAL}; stand on the motor's face, tip on the diameter that centres the gearbox's "
            "shaft: highest less lowest",
        ),
    ]
    face: Annotated[
        Value,
        _reading(
            "run-out of the adaptor's face, once round",
            f"{_DIAL}; stand on the shaft, tip along the shaft on the face that the bell-housing "
            "bolts to, shaft pressed one way: highest less lowest",
        ),
    ]
    face_radius: Annotated[
        Value,
        _reading(
            "radius at which the face was read", "rule from the shaft's centre", most="500 mm"
        ),
    ]
    reach: Annotated[
        Value,
        _reading(
            "distance from that face to where the gearbox's shaft is held",
            "depth gauge from the face to the middle of coupler or pilot bearing",
            most="500 mm",
        ),
    ]
    limit: Annotated[
        Value,
        _decided(
            "run-out allowed, once round",
            "what the maker of the gearbox or of the bearing allows",
            "0.05 mm",
            "pilot and coupler, total indicator reading, common practice",
            "1 mm",
        ),
    ]


class EndFloat(Record):
    """How far the joined shafts may move along their axis, cold and warm."""

    cold: Annotated[
        Value,
        _reading(
            "end float, all bolts tight",
            f"{_DIAL}; tip along the shaft on its end, push it one way, pull it the other, by hand "
            "through the coupler or with a wooden lever",
            most="20 mm",
        ),
    ]
    length: Annotated[
        Value,
        _reading(
            "length between the bearing that holds the motor's shaft and that of the gearbox's",
            "rule over housings and adaptor",
            most="2 m",
        ),
    ]
    shaft_expansion: Annotated[
        Value, _expansion("shafts", "11.7 µm/(m·K) ± 0.5", "steel, handbooks of materials")
    ]
    housing_expansion: Annotated[
        Value,
        _expansion(
            "housings", "23 µm/(m·K) ± 1", "aluminium; cast iron 10.5, handbooks of materials"
        ),
    ]
    shaft_warmer: Annotated[
        Value, _warmer("shaft", "80 K ± 20", "rotor of a motor driven hard, common practice")
    ]
    housing_warmer: Annotated[
        Value, _warmer("housing", "50 K ± 20", "cooled motor and gearbox, common practice")
    ]
    least: Annotated[
        Value,
        _decided(
            "least end float",
            "what bearings and coupler want",
            "0.5 mm",
            "couplers of conversions, common practice",
        ),
    ]
    most: Annotated[
        Value,
        _decided(
            "most end float",
            "what bearings, seals and coupler bear",
            "1.5 mm",
            "couplers of conversions, common practice",
        ),
    ]


class Faces(Record):
    """Where a kept clutch finds its flywheel's face again."""

    before: Annotated[
        Value,
        _reading(
            "distance of the flywheel's face from the bell-housing's, as it was",
            "straight edge over the bell-housing's face and depth gauge, before the engine comes "
            "off; towards the gearbox is more",
            most="300 mm",
            more='"none" where no clutch is kept',
        ),
    ]
    stands_out: Annotated[
        Value,
        _reading(
            "how far the clutch face of the coupler stands out from the motor's face",
            "straight edge and depth gauge, coupler tight on its shaft",
            most="400 mm",
        ),
    ]
    plate: Annotated[
        Value,
        _reading(
            "thickness of the adaptor between motor and bell-housing",
            "micrometer at four places, the mean",
            most="300 mm",
        ),
    ]
    within: Annotated[
        Value,
        _decided(
            "how far the face may be off",
            "what the release bearing's travel leaves",
            "0.5 mm",
            "diaphragm clutches, common practice",
            "10 mm",
        ),
    ]


_SEEN = "clockwise or anticlockwise, looking onto the end of its shaft"


class Turning(Record):
    """Which way the motor turns, and which way the gearbox has to be turned."""

    motor: Annotated[
        Literal["", "clockwise", "anticlockwise"],
        Plain(
            "way the motor turns when it is told to go forward",
            f"{_SEEN}: on the bench, shaft guarded and a flag of tape on it, by its inverter at "
            "the lowest torque",
        ),
    ] = ""
    gearbox: Annotated[
        Literal["", "clockwise", "anticlockwise"],
        Plain(
            "way the gearbox's input has to turn to go forward",
            f"{_SEEN}, from where the motor will be: driven wheels on stands, the lowest gear in, "
            "turn a wheel forward by hand, the other held",
        ),
    ] = ""
    both_ways: Annotated[
        bool | None,
        Plain(
            "the motor may turn either way for good",
            "maker's sheet: oil pump, fan, brushes and bearings may be made for one way",
        ),
    ] = None


class Coupling(Record):
    """How the motor's shaft and the gearbox's are joined and held in line."""

    link: Annotated[
        str,
        Plain("link of the driveline that it is", "a name of [drive.link]: it says the torque"),
    ] = ""
    turning: Annotated[Turning, Section("which way motor and gearbox turn")]
    run_out: Annotated[RunOut, Section("run-out, feature by feature")]
    fit: Annotated[dict[str, Fit], Section("spigots and dowels in their holes, by name")]
    end_float: Annotated[EndFloat, Section("end float, cold and warm")]
    faces: Annotated[Faces, Section("flywheel's face, where the clutch is kept")]
    adaptor: Annotated[Adaptor, Section("the adaptor plate, for its drawing")]
    key: Annotated[Key, Section("the key, where one carries the torque")]
    spline: Annotated[Spline, Section("the splines, where these carry the torque")]
    flange: Annotated[Flange, Section("the bolted flange, where one carries the torque")]
    taper: Annotated[Taper, Section("the cone, where one carries the torque")]
    overhang: Annotated[Overhang, Section("the motor that hangs on the bell-housing")]
    oil: Annotated[Oil, Section("oil level and pick-up at the new tilt")]
