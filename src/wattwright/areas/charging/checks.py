"""What is said of outlets and charges: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import (
    CURRENT,
    ENERGY,
    FRACTION,
    POWER,
    RATIO,
    RESISTANCE,
    SPEED,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VOLTAGE,
)

_MAINS = (
    "Mains work is for people with the licence for it. Never lift an earth, never bypass a "
    "breaker or a residual-current device, never open an outlet or a post that may be live."
)
_CORD = (
    "A cord that carries current for hours is laid out whole: wound up it cooks from the inside. "
    "Feel plug and cord after half an hour; what is too hot to hold is unplugged at the wall."
)
_PRINTED = Source("What is printed on each link, tables of the code, heat balance", "", "computed")
_PILOT = Source("IEC 61851-1, annex A: no pilot asks for less than 6 A", "", "seen")

LINK = Check(
    "charging.link",
    "current drawn against what this link bears",
    "What pilot, charger and pack together draw for hours, against each link from the breaker to "
    "the inlet. Nothing but the pilot keeps a charger from drawing more than a socket or a cord "
    "bears.",
    "what the link bears for hours",
    CURRENT,
    _PRINTED,
    near=0.0,
    caution=_MAINS,
)
SMALLEST = Check(
    "charging.smallest",
    "current the chain allows against the smallest pilot",
    "The least that any link up to the connector allows. Below 6 A there is no pilot for it, and "
    "so no charging: another outlet, or a thicker cord.",
    "6 A, the smallest current a pilot can say",
    CURRENT,
    _PILOT,
    near=0.0,
)
DROP = Check(
    "charging.drop",
    "share of the voltage lost on the way",
    "From the outlet with nothing plugged in to the charger, everything as warm as it gets. Up to "
    "3 % is good; what is lost is heat in wires and contacts.",
    "what you allow, else 5 %",
    FRACTION,
    Source("3 % good, 3 % to 5 % doubtful, more is too much", "", "practice"),
    caution=_CORD,
)
VOLTS = Check(
    "charging.input_low",
    "voltage at the charger under load",
    "Below its lowest input voltage a charger folds back or stops, and starts again as the voltage "
    "comes back: it ticks.",
    "lowest input voltage of the charger",
    VOLTAGE,
    Source("The maker's data sheet of the device", "", "seen"),
    near=0.0,
)
VOLTS_HIGH = Check(
    "charging.input_high",
    "highest voltage at the charger",
    "With nothing drawn the charger sees what the outlet has.",
    "highest input voltage of the charger",
    VOLTAGE,
    Source("The maker's data sheet of the device", "", "seen"),
    near=0.0,
)
BOX_VOLTS = Check(
    "charging.box_low",
    "voltage at the supply box under load",
    "Below its own limit a supply box stops, before the charger would.",
    "voltage below which the box stops",
    VOLTAGE,
    Source("The maker's data sheet of the device", "", "seen"),
    near=0.0,
)
WARM = Check(
    "charging.wire_temperature",
    "temperature of the conductors",
    "After hours of the current that is drawn, in the warmest air, lying as it does: heat of the "
    "conductors against conduction, free convection and radiation.",
    "what the insulation bears for life",
    TEMPERATURE,
    Source("Heat balance; limits of insulation, IEC 60364-5-52", "", "computed"),
    near=5.0,
    caution=_CORD,
)
CONTACT = Check(
    "charging.contact_warmth",
    "warmth of the contacts above the air",
    "After half an hour of the current that is drawn. A contact warms with the square of the "
    "current, wears by it, and warms more: what is hot today burns next year.",
    "30 K, at which a plug's face is near 60 °C on a warm day",
    TEMPERATURE_DIFFERENCE,
    Source("Plug's face up to 60 °C after half an hour", "", "practice"),
    caution=_CORD,
)
LEAKAGE = Check(
    "charging.leakage",
    "leakage to earth against what trips",
    "Filters of charger and of everything else on the same residual-current device. A device may "
    "trip from half of what is printed on it.",
    "half of the rated residual current",
    CURRENT,
    Source("Residual-current devices trip between half and all of their rating", "", "practice"),
    caution=_MAINS,
)
DC_RESIDUAL = Check(
    "charging.dc_residual",
    "smooth residual current that nothing stops",
    "A fault behind the charger's rectifier can leak direct current, which blinds devices that are "
    "not made for it, for everybody in the house. Either the box stops at 6 mA, or the device is "
    "of type B.",
    "what the type of the residual-current device bears: A and F 6 mA, AC nothing",
    CURRENT,
    Source(
        "IEC 62955 and IEC 60364-7-722: type B, or type A with detection of 6 mA",
        "as published guides to charging at home say it",
        "seen",
    ),
    near=0.0,
    strict=True,
    caution=_MAINS,
)
TOUCH = Check(
    "charging.touch_voltage",
    "voltage a case can have without anything opening",
    "TT: resistance of the rod times the rated residual current. Floating or no earth: half of the "
    "mains through the filters, a tingle that trips nothing; the next fault puts all of it there.",
    "what you allow, else 50 V",
    VOLTAGE,
    Source("IEC 60364-4-41, conventional touch voltage", "", "practice"),
    near=0.0,
    strict=True,
    caution=_MAINS,
)
BEGINS = Check(
    "charging.box_begins",
    "supply box begins at this earth",
    "1: it begins; -1: it looks for an earth, finds it floating or missing, and refuses. That is "
    "the box at work: a generator wants its neutral bonded to earth by somebody with the licence.",
    "above nought",
    RATIO,
    Source("The maker's data sheet of the box", "", "seen"),
    near=0.0,
    caution=_MAINS,
)
LOOP = Check(
    "charging.loop",
    "current of an earth fault against what opens the breaker at once",
    "TN: voltage over the impedance of the loop, against the rating times 5, 10 or 20 of curve B, "
    "C or D. Where a residual-current device stands before it, that opens too.",
    "magnetic trip of the breaker",
    CURRENT,
    Source("IEC 60364-4-41, automatic disconnection", "", "practice"),
    near=0.0,
    strict=True,
    caution=_MAINS,
)
COLD = Check(
    "charging.cold",
    "cells warm enough to be charged",
    "Charged below it, lithium plates out on the anode and never comes back. Between it and the "
    "temperature from which all is taken the charge is slower.",
    "temperature below which the pack takes no charge",
    TEMPERATURE,
    Source("The cell maker's data sheet; a stated default until then", "", "practice"),
    near=2.0,
)
LOCK = Check(
    "charging.drive_lock",
    "it cannot drive while plugged in",
    "1: it cannot; -1: it can, and somebody will, with the post behind it.",
    "above nought",
    RATIO,
    Source("UN Regulation No. 100, 5.3: no driving while connected", "", "memory"),
    near=0.0,
)
ISOLATED = Check(
    "charging.isolated",
    "charger isolates the pack from the mains",
    "1: it does; -1: it does not. Then every leak of the pack to the body trips the outlet, which "
    "is the device doing its work, and the pack is on the mains while it charges.",
    "above nought",
    RATIO,
    Source("Chargers without a transformer", "", "practice"),
    near=0.0,
    caution=_MAINS,
)
CURRENT_ALLOWED = FigureKind(
    "charging.current", "allowed", "The least that any link allows for hours.", CURRENT
)
DRAWN = FigureKind(
    "charging.draws",
    "drawn",
    "The least of what pilot, charger and pack draw: what flows.",
    CURRENT,
)
WEAKEST = FigureKind(
    "charging.weakest",
    "weakest link",
    "The link that allows least among those that are known: mend this one first.",
    CURRENT,
)
LINK_ALLOWS = FigureKind("charging.allows", "bears", "What a link bears for hours.", CURRENT)
LINK_HEAT = FigureKind(
    "charging.link_heat", "heat", "What a link turns to heat with the current drawn.", POWER
)
LINK_VOLTS = FigureKind(
    "charging.volts_behind", "volts behind it", "Voltage that is left behind a link.", VOLTAGE
)
LINK_WARM = FigureKind(
    "charging.warm", "conductors", "Temperature of its conductors after hours.", TEMPERATURE
)
OPEN_VOLTS = FigureKind(
    "charging.open_volts", "volts, open", "At the outlet with nothing plugged in.", VOLTAGE
)
AT_CHARGER = FigureKind(
    "charging.volts", "volts at the charger", "At the charger with the current drawn.", VOLTAGE
)
OUT_OF_WALL = FigureKind("charging.power", "out of the wall", "Power out of the mains.", POWER)
GAIN = FigureKind(
    "charging.gain",
    "gained by mending it",
    "Power out of the mains more, if the weakest link bore as much as the next.",
    POWER,
)
INTO_PACK = FigureKind("charging.into_pack", "into the pack", "Power into the pack.", POWER)
TIME_TAKEN = FigureKind(
    "charging.time", "time", "From the charge at the start to the one wanted or reached.", TIME
)
ENERGY_TAKEN = FigureKind("charging.energy", "energy", "Energy out of the outlet for it.", ENERGY)
COST = FigureKind("charging.cost", "cost", "Cost of it, in the currency of the build.", RATIO)
RATE = FigureKind(
    "charging.rate", "distance", "Distance charged for each hour, by your consumption.", SPEED
)
REACHED = FigureKind("charging.reached", "charge at the end", "Where the charge ends.", FRACTION)
LEAK = FigureKind("charging.leaks", "leakage", "Leakage to earth of all on that device.", CURRENT)
EARTH_PATH = FigureKind(
    "charging.earth_path", "path to earth", "Loop or rod, as measured.", RESISTANCE
)

OTHER_ALLOWS = FigureKind(
    "charging.other_allows",
    "chain would allow",
    "With this cord laid out, or a size thicker and laid out: what all links up to the connector "
    "allow.",
    CURRENT,
)
OTHER_DROP = FigureKind("charging.other_drop", "lost on the way", "So much less is lost.", FRACTION)
OTHER_VOLTS = FigureKind(
    "charging.other_volts", "volts at the charger", "So much is left at the charger.", VOLTAGE
)
OTHER_TIME = FigureKind(
    "charging.other_time", "time", "How long the charge would take with the pilot as it is.", TIME
)

CHECKS: tuple[Check, ...] = (
    LINK,
    SMALLEST,
    VOLTS,
    VOLTS_HIGH,
    BOX_VOLTS,
    DROP,
    WARM,
    CONTACT,
    TOUCH,
    BEGINS,
    LOOP,
    DC_RESIDUAL,
    LEAKAGE,
    COLD,
    LOCK,
    ISOLATED,
)
OUTLETS = (
    CURRENT_ALLOWED,
    DRAWN,
    OPEN_VOLTS,
    AT_CHARGER,
    OUT_OF_WALL,
    INTO_PACK,
    RATE,
    REACHED,
    TIME_TAKEN,
    ENERGY_TAKEN,
    COST,
)
LINKS = (LINK_ALLOWS, LINK_VOLTS, LINK_HEAT, LINK_WARM)
OTHERWISE = (OTHER_ALLOWS, OTHER_DROP, OTHER_VOLTS, OTHER_TIME)
FIGURES: tuple[FigureKind, ...] = (
    *OUTLETS,
    WEAKEST,
    GAIN,
    *LINKS,
    LEAK,
    EARTH_PATH,
    *OTHERWISE,
)
TABLES: tuple[Table, ...] = (
    Table("Outlets", OUTLETS),
    Table("With the cord laid out, or a thicker one", OTHERWISE),
    Table("Links of the chain, from the wall", LINKS),
)
