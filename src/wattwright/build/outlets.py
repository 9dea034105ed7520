"""Outlets of the builder's list: breaker, wiring, earth, residual-current device, socket."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.conductors import Wire, contact_of, warmest, warming_of
from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import COUNT, CURRENT, FRACTION, RESISTANCE, VOLTAGE
from wattwright.values import Value

_LICENSED = "an electrician with the licence for it"
_PLATE = "printed on it; photograph it"


def _rating(label: str, how: str, most: str = "250 A", *, none: bool = False) -> Quantity:
    return Quantity(
        CURRENT, label, how, minutes=3, allowed=("0.5 A", most), may_be_none=none, decided=True
    )


class Earth(Record):
    """The earth of an outlet, and what cuts it off."""

    system: Annotated[
        Literal["", "TN", "TT", "IT", "none"],
        Plain(
            "earthing system",
            "TN: earth comes with the supply; TT: an earth rod of the building's own; IT or a "
            f"generator without: floating; none: no earth at all. {_LICENSED} says it",
        ),
    ] = ""
    loop: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "impedance of the earth fault loop",
            f"{_LICENSED}, with a loop tester at the socket",
            minutes=15,
            allowed=("0.01 Ω", "5000 Ω"),
            may_be_none=True,
        ),
    ]
    rod: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of the earth rod to the ground, of a TT system",
            f"{_LICENSED}, with an earth tester and two stakes, in the driest month",
            minutes=45,
            allowed=("0.1 Ω", "20000 Ω"),
            may_be_none=True,
        ),
    ]
    device: Annotated[
        Literal["", "none", "AC", "A", "F", "B"],
        Plain(
            "type of the residual-current device",
            "printed on it as a sign: a sine (AC), sine and half waves (A), those and two more "
            "(F), and a straight line too (B); none: there is no such device",
        ),
    ] = ""
    trips_at: Annotated[
        Value,
        Quantity(
            CURRENT,
            "rated residual current",
            f"{_PLATE}, such as 30 mA or 0.03 A",
            minutes=3,
            allowed=("4 mA", "1 A"),
            may_be_none=True,
            decided=True,
        ),
    ]
    shared: Annotated[
        Value,
        Quantity(
            CURRENT,
            "leakage to earth of what else hangs on that device",
            f"{_LICENSED}, leakage clamp round line and neutral together, vehicle unplugged",
            minutes=15,
            allowed=("0 mA", "300 mA"),
            default="2 mA ± 2",
            basis="lamps and a freezer, common practice",
        ),
    ]
    touch_limit: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage that a case may take after a fault",
            "IEC 60364-4-41: 50 V, and 25 V where animals stand or it is wet",
            minutes=2,
            allowed=("12 V", "120 V"),
            default="50 V",
            basis="IEC 60364-4-41, dry places",
            decided=True,
        ),
    ]


class Outlet(Record):
    """One place to charge at, with all that stands behind it."""

    label: Annotated[str, Plain("where it is", "a few words")] = ""
    voltage: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage there with nothing plugged in",
            "energy meter that plugs in, or a tester made for sockets; between line and neutral, "
            "of two lines between these; never bare probes",
            minutes=5,
            allowed=("90 V", "300 V"),
        ),
    ]
    phases: Annotated[
        Value,
        Quantity(
            COUNT,
            "phases it gives",
            "three where a plug has three lines, else one; two lines of a split supply are one",
            minutes=1,
            allowed=("1", "3"),
            default="1",
            basis="one phase",
            decided=True,
        ),
    ]
    breaker: Annotated[
        Value, _rating("rating of its breaker or fuse", f"{_PLATE}; of the one nearest to it")
    ]
    breaker_curve: Annotated[
        Literal["", "B", "C", "D", "fuse"],
        Plain("curve of that breaker", "the letter before the rating, such as C16; or a fuse"),
    ] = ""
    continuous_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the breaker that may be drawn for hours",
            "80 % where a continuous-load rule applies (NEC 210.20), 100 % where none does; ask "
            f"{_LICENSED}",
            minutes=5,
            allowed=("30 %", "100 %"),
            default="80 % ± 0",
            basis="continuous loads of three hours and more, NEC 210.20",
            decided=True,
        ),
    ]
    other_load: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current of all else on that breaker while it charges",
            "energy meter at each, or their plates: freezer, pump, lamps",
            minutes=15,
            allowed=("0 A", "200 A"),
            default="0 A",
            basis="nothing else on it",
            decided=True,
        ),
    ]
    wiring: Annotated[Wire, Section("wiring from that breaker to the socket")]
    wiring_table: Annotated[
        Value,
        _rating(
            "current the code's table allows that wiring",
            f"{_LICENSED}: IEC 60364-5-52, NEC 310.16 or the local table, by how it lies",
        ),
    ]
    socket: Annotated[
        str,
        Plain(
            "kind of socket",
            "a name of the table outlets, such as CEE 7/3 or IEC 60309 16 A; fixed: a box or post",
        ),
    ] = ""
    socket_current: Annotated[
        Value,
        _rating(
            "current the socket bears for hours",
            "of an industrial one what is printed; of a household one less: left out, by its kind",
        ),
    ]
    contact: Annotated[Value, contact_of("the plug in this socket")]
    contact_warming: Annotated[Value, warming_of("the plug in this socket")]
    warmest: Annotated[Value, warmest("socket and wiring", "30 °C ± 5", "a warm day indoors")]
    earth: Annotated[Earth, Section("its earth and residual-current device")]
    drop_most: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the voltage that may be lost up to the charger",
            "what you decide; 3 % is good, more than 5 % is heat in the wrong places",
            minutes=1,
            allowed=("0.5 %", "15 %"),
            default="5 % ± 0",
            basis="3 % to 5 % doubtful, common practice",
            decided=True,
        ),
    ]
    cords: Annotated[
        str,
        Plain(
            "extension cords between socket and supply box",
            "names of [cord], in their order, with commas between; left out: none",
        ),
    ] = ""
    box: Annotated[str, Plain("supply box", "a name of [supply_box]")] = ""
    price: Annotated[
        float | None, Plain("price of one kilowatt hour", "in the currency named in [build]")
    ] = None

    @property
    def cord_names(self) -> tuple[str, ...]:
        """Cords from the socket onwards."""
        return tuple(piece.strip() for piece in self.cords.split(",") if piece.strip())


class Cord(Wire):
    """An extension cord with its own plug and sockets, perhaps on a reel."""

    label: Annotated[str, Plain("what it is", "a few words")] = ""
    wound: Annotated[
        bool | None, Plain("used wound up", "true: on its reel or in a heap; false: laid out whole")
    ] = None
    layers: Annotated[
        Value,
        Quantity(
            COUNT,
            "layers it lies in where it is wound",
            "count them at the edge of the reel, with what is usually left on it",
            minutes=2,
            allowed=("1", "8"),
        ),
    ]
    plug_current: Annotated[
        Value,
        _rating(
            "current its plug and sockets bear for hours",
            "printed on them, the least of both; of household ones less, as of a socket",
        ),
    ]
    printed: Annotated[
        Value,
        _rating(
            "current printed for the way it is used", "on the reel, unwound or wound", none=True
        ),
    ]
    contact: Annotated[Value, contact_of("its sockets")]
    contact_warming: Annotated[Value, warming_of("its sockets")]
    warmest: Annotated[Value, warmest("it", "30 °C ± 5", "a warm day")]


class SupplyBox(Record):
    """The box that tells the vehicle how much it may draw, and closes its contacts."""

    label: Annotated[str, Plain("what it is", "a few words")] = ""
    pilot: Annotated[
        Value,
        _rating(
            "current it tells the vehicle", "its switch or setting; read with the vehicle on it"
        ),
    ]
    current: Annotated[Value, _rating("current it is made for", _PLATE)]
    stops_below: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage below which it stops",
            "its maker's sheet",
            minutes=10,
            allowed=("60 V", "230 V"),
            may_be_none=True,
        ),
    ]
    earth_check: Annotated[
        bool | None, Plain("it refuses to begin without an earth", "its maker's sheet")
    ] = None
    dc_detection: Annotated[
        Value,
        Quantity(
            CURRENT,
            "smooth residual current at which it stops",
            "its maker's sheet: 6 mA by IEC 62955 or IEC 62752; none: it does not look",
            minutes=5,
            allowed=("1 mA", "50 mA"),
            may_be_none=True,
            decided=True,
        ),
    ]
    trips_at: Annotated[
        Value,
        Quantity(
            CURRENT,
            "residual current at which it trips",
            "its maker's sheet: 20 mA or 30 mA; none: it leaves that to the building",
            minutes=5,
            allowed=("4 mA", "50 mA"),
            may_be_none=True,
            decided=True,
        ),
    ]
    cable: Annotated[Wire, Section("its cable, socket to vehicle")]
    coding: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance that codes the cable, proximity to earth in its plug",
            "ohmmeter between both pins, cable in the hand",
            minutes=3,
            allowed=("50 Ω", "5 kΩ"),
            may_be_none=True,
        ),
    ]
    contact: Annotated[Value, contact_of("its connector")]
    contact_warming: Annotated[Value, warming_of("its connector")]
