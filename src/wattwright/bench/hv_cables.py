"""The sheet for the power cables: crimp, pull, torque, shield, isolation and label, one by one."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment, shown
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.cables import Cable
from wattwright.build.model import Build
from wattwright.kinds import LENGTH, RESISTANCE, TORQUE, VOLTAGE
from wattwright.units import Taste

_CAUTIONS = (
    (
        "Several hundred volts of direct current kill, and the pack cannot be switched off. Local "
        "codes and licensed practice come first: where the law wants a qualified person, this "
        "sheet is for that person."
    ),
    (
        "Never on a live circuit: service disconnect out, locked and with you, five minutes for "
        "the capacitors, then prove both poles dead, against each other and against the body, "
        "with a meter tried on a live source before and after."
    ),
    (
        "Gloves for the pack's voltage, air-tested today, under leather; eyes covered; insulated "
        "tools; no rings, watch or chain; one hand where one will do, and somebody within call."
    ),
    "Two-pole work at the modules is never dead: cover every terminal but the one in hand.",
)
_TOOLS = (
    "gloves, face shield, insulated torque wrench and sockets",
    "meter for the pack's voltage, and a known live source to try it on",
    "hexagonal crimping tool with the die of the lug, calipers",
    "bench supply of 50 A and millivoltmeter, isolation tester",
    "tape, marker, labels, heat-shrink",
)
_METER = "meter, tried before and after"


def hv_cables_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Make every power cable ready, in the order in which it cannot be forgotten."""
    del assessment
    lines = list(_before())
    for name, part in build.part.items():
        if isinstance(part, Cable) and part.state != "removed":
            lines += _cable(name, part, taste)
    return Sheet(
        "hv_cables",
        "Power cables: crimps, bolts, shields, labels",
        "That every power cable is what the build says, and every joint of it cold for years: "
        "before the pack is connected for the first time.",
        _CAUTIONS,
        _TOOLS,
        (*lines, *_after()),
    )


def _before() -> Iterator[Line]:
    yield Line(
        "dead",
        "Service disconnect out and locked, five minutes waited, both poles proven dead: between "
        "them, and each against the body.",
        "pack's terminals",
        _METER,
        kind=VOLTAGE,
        stop_if="it shows more than a few volts, or the meter fails its second try: nothing is "
        "touched; find out why",
    )


def _cable(name: str, own: Cable, taste: Taste) -> Iterator[Line]:
    words = name.replace("_", " ")
    lug = own.lug or "a lug of its size"
    yield Line(
        f"{name}_length",
        f"Lay a cord along its way and measure it; the cable is "
        f"{shown(own.wire.section, taste, band=False)}.",
        words,
        "cord, tape",
        f"part.{name}.wire.length",
        LENGTH,
        own.wire.length,
    )
    yield Line(
        f"{name}_crimp",
        f"Strip, push the strands in to the sight hole, crimp with the die for {lug}; look at both "
        "ends: no strand outside, no crack.",
        words,
        "crimping tool, calipers",
        stop_if="a strand is cut or outside, or the die did not close: cut it off and begin again",
    )
    yield Line(
        f"{name}_pull",
        "Pull each lug with your weight against a vice, then look whether the mark at its edge "
        "has moved.",
        words,
        "vice, marker",
        stop_if="it moved at all: another die or another lug",
    )
    yield Line(
        f"{name}_lug",
        "50 A through lug and post, millivolts from the post to the cable beside the lug, over "
        "50 A: each joint by itself; the worst.",
        words,
        "bench supply, millivoltmeter",
        f"part.{name}.lug_contact",
        RESISTANCE,
        own.lug_contact,
        stop_if="one is twice the others: clean both faces, bolt again, read again",
    )
    yield from _shield(name, words, own)
    yield Line(
        f"{name}_torque",
        "Bolt the lug flat on its post, nothing between the two, tighten, and mark bolt and lug "
        "with one line.",
        words,
        "insulated torque wrench",
        kind=TORQUE,
        expected=own.lug_torque,
        stop_if="no torque is known: ask the maker of the device, do not guess",
    )
    yield Line(
        f"{name}_bend",
        "Find the tightest bend, and the can that just fits it: half its diameter.",
        words,
        "cans or jars, calipers",
        f"part.{name}.bend",
        LENGTH,
        own.bend,
        stop_if="the jacket creases or whitens: another way for it",
    )
    yield Line(
        f"{name}_clips",
        "Measure the widest distance between clips; tug everywhere: no edge touches, nothing hot "
        "or moving comes near.",
        words,
        "tape",
        f"part.{name}.clips",
        LENGTH,
        own.clips,
        limit=own.clips_limit,
        stop_if="it can be pulled onto an edge or the exhaust's old place: one more clip",
    )
    yield Line(
        f"{name}_label",
        f"Label both ends: {words}, from {own.begins.replace('_', ' ') or '?'} to "
        f"{own.ends.replace('_', ' ') or '?'}, pole or phase, and the sign of high voltage; jacket "
        "or conduit orange along its whole way.",
        words,
        "labels, heat-shrink",
    )


def _shield(name: str, words: str, own: Cable) -> Iterator[Line]:
    if own.shield in ("both_ends", "one_end"):
        where = "from case to case" if own.shield == "both_ends" else "at the end that is bonded"
        yield Line(
            f"{name}_shield",
            f"Continuity of the shield {where}, and none between shield and conductor.",
            words,
            "ohmmeter",
            kind=RESISTANCE,
            stop_if="above 0.1 Ω, or anything at all to the conductor: open the gland and look",
        )
    yield Line(
        f"{name}_isolation",
        "Both ends free: conductor against shield and body with the isolation tester, at the "
        "voltage its maker allows.",
        words,
        "isolation tester",
        kind=RESISTANCE,
        stop_if="below 10 MΩ: dry it, look for a nick, and do not connect it",
    )


def _after() -> Iterator[Line]:
    yield Line(
        "poles",
        "Pole by pole from the pack to every device: what is marked plus arrives at plus.",
        "all cables",
        "ohmmeter",
        stop_if="one is the wrong way round: nothing is connected before it is right",
    )
    yield Line(
        "covers",
        "Covers, plugs and their interlocks shut; no finger and no tool meets a live part.",
        "all devices",
        "",
        stop_if="one is missing: the disconnect stays out",
    )
    yield Line(
        "again",
        "After the first drives, dead again and proven dead: look at each mark over bolt and lug, "
        "and feel for heat that was.",
        "all lugs",
        "lamp",
        stop_if="a mark has parted, or insulation has changed colour: take that joint apart",
    )
