"""What carries the torque from the motor into the gearbox: key, spline, taper or flange."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Quantity, Record
from wattwright.kinds import ANGLE, COUNT, FORCE, FRACTION, LENGTH, RATIO, STRESS
from wattwright.values import Value

_STEEL = "data sheet of the steel; a quarter of its tensile strength where the torque reverses"


def _length(label: str, how: str, most: str = "500 mm") -> Quantity:
    return Quantity(LENGTH, label, how, minutes=5, allowed=("0.2 mm", most))


def _stress(label: str, how: str) -> Quantity:
    return Quantity(STRESS, label, how, minutes=15, allowed=("5 MPa", "2000 MPa"), decided=True)


_FRICTION = Quantity(
    RATIO,
    "friction between the two faces",
    "0.12 to 0.15 for clean dry steel on steel; nothing but a slip test says it better",
    minutes=30,
    allowed=("0.02", "0.8"),
    default="0.12 ± 0.03",
    basis="clean steel on steel, degreased, common practice",
)


class Key(Record):
    """A parallel key between shaft and hub."""

    diameter: Annotated[
        Value, _length("diameter of the shaft at the key", "micrometer beside the slot")
    ]
    width: Annotated[Value, _length("width of the key", "micrometer over the key", "60 mm")]
    height: Annotated[
        Value,
        _length(
            "height of the key inside the hub",
            "depth gauge in the hub's slot, less the chamfer; half of a square key",
            "40 mm",
        ),
    ]
    length: Annotated[
        Value, _length("length of the key that lies in both slots", "calipers, round ends left out")
    ]
    shear_allowed: Annotated[Value, _stress("shear stress allowed in the key", _STEEL)]
    pressure_allowed: Annotated[
        Value, _stress("pressure allowed on its flank", "data sheet of key and hub, the softer one")
    ]


class Spline(Record):
    """Splines between shaft and hub."""

    mean_diameter: Annotated[
        Value, _length("mean diameter of the teeth", "mean of outer and root diameter, calipers")
    ]
    teeth: Annotated[
        Value,
        Quantity(COUNT, "number of teeth", "count them all round", minutes=2, allowed=("4", "100")),
    ]
    flank: Annotated[
        Value,
        _length(
            "height of the flanks that touch",
            "half of outer diameter of the shaft less inner one of the hub, calipers",
            "10 mm",
        ),
    ]
    length: Annotated[
        Value,
        _length("length that is engaged", "blue the shaft, put it together, measure the bright"),
    ]
    bearing: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the teeth that carry",
            "blue on the flanks, turned under load by hand: teeth that show it, of all of them",
            minutes=20,
            allowed=("5 %", "100 %"),
            default="50 % ± 20",
            basis="old splines beside new ones, common practice",
        ),
    ]
    pressure_allowed: Annotated[
        Value,
        _stress("pressure allowed on the flanks", "data sheet of shaft and hub, the softer one"),
    ]


class Flange(Record):
    """Two faces pressed together by bolts; friction carries, bolts in shear are the reserve."""

    bolts: Annotated[
        Value,
        Quantity(COUNT, "number of bolts", "count them all round", minutes=1, allowed=("2", "24")),
    ]
    circle: Annotated[
        Value, _length("diameter of the circle of bolts", "calipers, from bolt to opposite bolt")
    ]
    clamp: Annotated[
        Value,
        Quantity(
            FORCE,
            "force with which one bolt presses",
            "three quarters of its proof load, where it is tightened by the table for its grade",
            minutes=10,
            allowed=("100 N", "500 kN"),
        ),
    ]
    friction: Annotated[Value, _FRICTION]
    bolt: Annotated[
        Value, _length("diameter of a bolt where the faces meet", "calipers; a thread: its core")
    ]
    shear_allowed: Annotated[Value, _stress("shear stress allowed in the bolts", _STEEL)]


class Taper(Record):
    """A cone pulled into its seat."""

    mean_diameter: Annotated[
        Value,
        _length("mean diameter of the cone where it bears", "calipers at both ends, the mean"),
    ]
    half_angle: Annotated[
        Value,
        Quantity(
            ANGLE,
            "half of the angle of the cone",
            "from the diameters at both ends and the length between them, or the drawing",
            minutes=15,
            allowed=("0.3°", "20°"),
        ),
    ]
    pull: Annotated[
        Value,
        Quantity(
            FORCE,
            "force that pulls the cone home",
            "of its bolt or nut: three quarters of the proof load, tightened by the table",
            minutes=10,
            allowed=("100 N", "500 kN"),
        ),
    ]
    friction: Annotated[Value, _FRICTION]
