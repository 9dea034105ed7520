"""Charging drawn: the chain of an outlet link by link, and a charge over its time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.assessment import WORST_FIRST, Assessment, shown, title, verdict_words
from wattwright.build.reader import Opened
from wattwright.descriptions.charging import LAID_OUT, ChargingDescription, LinkFound, OutletFound
from wattwright.errors import UsageError
from wattwright.findings import Finding
from wattwright.kinds import FRACTION, POWER, TEMPERATURE, TIME
from wattwright.paper import MARGIN, TEXT, WIDE, Axis, Box
from wattwright.paper.chart import Chart, Line, draw
from wattwright.paper.stack import stacked
from wattwright.paper.svg import (
    PLAIN,
    Drawing,
    Shape,
    Stroke,
    below,
    fitted,
    heading,
    line,
    nothing_yet,
    rectangle,
    text,
    text_width,
    wrapped,
)
from wattwright.units import Taste, write
from wattwright.values import Value

_NAME = "Chain of the outlet"
_DESCRIBING = (
    "Every link from the wall to the pack: the bar is the current that it bears for hours, the "
    "dashed line what is drawn; the volts left behind it, the watts it turns to heat, how warm it "
    "gets, and its verdict."
)
_NOTHING = "Write an outlet, its supply box and the charger, to see this."
_ROW = 9.0
# Where the columns begin: name, bar, volts, watts, warmth, verdict.
_NAMES, _BAR, _BAR_END, _VOLTS, _WATTS, _WARM, _VERDICT = 0.0, 46.0, 88.0, 92.0, 111.0, 129.0, 147.0
# Bars end where twice the current that is drawn would, or more is borne.
_LONGEST = 2.0
_DRAWN = Stroke(0.5, (2.4, 1.2))
_SPINE = Stroke(0.8)
_BREAK = 1.6


def _outlet(assessment: Assessment, about: str) -> tuple[str, OutletFound] | None:
    found = assessment.descriptions.get(ChargingDescription)
    outlets: Mapping[str, OutletFound] = found.outlets if found else {}
    if about and about not in outlets:
        there = ", ".join(outlets) or "none yet"
        raise UsageError(f"there is no outlet {about!r}; there are {there}")
    name = about or next(iter(outlets), "")
    return (name, outlets[name]) if name else None


def charging_chain(
    opened: Opened, assessment: Assessment, taste: Taste, about: str = ""
) -> Drawing:
    """Draw the chain of one outlet, the first where none is named."""
    del opened
    chosen = _outlet(assessment, about)
    if chosen is None:
        return nothing_yet(_NAME, _DESCRIBING, _NOTHING, WIDE)
    name, found = chosen
    name_of = title(_NAME, found.label)
    top = heading(name_of, WIDE)
    start = below(top, 5.0)
    shapes = [*_head(start)]
    first = below(shapes, 2.0)
    drawn = found.draws.number
    scale = (_BAR_END - _BAR) / ((drawn or 16.0) * _LONGEST)
    bottom = first + len(found.links) * _ROW
    shapes.append(line((MARGIN + 1.2, first + 1.5), (MARGIN + 1.2, bottom - 4.0), _SPINE))
    for count, link in enumerate(found.links):
        verdict = _worst(assessment, f"{name}/{link.name}")
        shapes += _row(first + count * _ROW, link, scale, verdict, taste)
    if drawn is not None:
        x = MARGIN + _BAR + drawn * scale
        shapes.append(line((x, first - 1.0), (x, bottom), _DRAWN))
        words = f"drawn {_short(found.draws, taste)}"
        shapes.append(text((x, bottom + TEXT), words, anchor="middle"))
    laid_out = assessment.descriptions[ChargingDescription].otherwise[name]
    shapes += _words(below(shapes, 3.0), found, laid_out, taste)
    return Drawing(name_of, _DESCRIBING, (*top, *shapes), WIDE)


def _head(top: float) -> Iterator[Shape]:
    for left, words in (
        (_NAMES, "link"),
        (_BAR, "bears for hours"),
        (_VOLTS, "volts"),
        (_WATTS, "heat"),
        (_WARM, "warm"),
        (_VERDICT, "verdict"),
    ):
        yield text((MARGIN + left, top), words, bold=True)


def _row(
    top: float, link: LinkFound, scale: float, verdict: Finding | None, taste: Taste
) -> Iterator[Shape]:
    """One link: knot, name, bar with its amperes, and what follows from the current."""
    middle = top + _ROW / 2 - 1.0
    base = middle + 0.35 * TEXT
    yield rectangle(Box(MARGIN + 0.2, middle - 1.0, MARGIN + 2.2, middle + 1.0), PLAIN, "paper")
    rows = wrapped(link.says, _BAR - _NAMES - 6.0, 3.2)
    for count, words in enumerate(rows):
        shift = (count - (len(rows) - 1) / 2) * 3.6
        yield text((MARGIN + 4.0, base + shift - 0.3), words, size=3.2)
    yield from _bar(middle, link, scale, taste)
    warm = link.warm if link.warm.known else None
    for left, value in ((_VOLTS, link.volts), (_WATTS, link.heat), (_WARM, warm)):
        words = _short(value, taste) if value is not None else ""
        yield text((MARGIN + left, base), fitted(words, 18.0, 3.2), size=3.2)
    if verdict is not None:
        bold = verdict.verdict is WORST_FIRST[0]
        for count, words in enumerate(wrapped(verdict_words(verdict), WIDE - _VERDICT - 6.0, 3.2)):
            yield text((MARGIN + _VERDICT, base + count * 3.4 - 0.4), words, size=3.2, bold=bold)


def _bar(middle: float, link: LinkFound, scale: float, taste: Taste) -> Iterator[Shape]:
    left = MARGIN + _BAR
    bears = link.allows.number
    if bears is None:
        yield text((left, middle + 0.35 * TEXT), "not known", size=3.2)
        return
    end = min(left + bears * scale, MARGIN + _BAR_END)
    box = Box(left, middle - 1.7, max(end, left + 0.5), middle + 1.7)
    yield rectangle(box, PLAIN, "none" if link.flows else "shade")
    if left + bears * scale > MARGIN + _BAR_END:
        # It goes on: two strokes across the end say so.
        for shift in (-_BREAK, -_BREAK / 3):
            yield line((end + shift - 0.7, middle + 2.2), (end + shift + 0.7, middle - 2.2))
    words = _short(link.allows, taste)
    inside = text_width(words, 3.2) + 1.5 < end - left
    yield text((left + 1.0 if inside else end + 1.0, middle + 0.3 * TEXT), words, size=3.2)


def _short(value: Value, taste: Taste) -> str:
    """Write a value in three digits: what a picture is read to."""
    if value.number is None:
        return ""
    if value.kind is TEMPERATURE:
        return shown(value, taste, False)
    return write(float(f"{value.number:.3g}"), value.kind, taste)


def _worst(assessment: Assessment, about: str) -> Finding | None:
    """The worst that is said of one link."""
    said = [
        each
        for each in assessment.findings
        if each.about == about and each.check.id.startswith("charging.")
    ]
    return min(said, key=lambda f: (WORST_FIRST.index(f.verdict), not f.provisional), default=None)


def _words(
    top: float, found: OutletFound, others: Mapping[str, OutletFound], taste: Taste
) -> Iterator[Shape]:
    weakest = next((link for link in found.links if link.name == found.weakest), None)
    said = []
    if weakest is not None:
        first = "Weakest" if found.allows.known else "Weakest of those known"
        said.append(f"{first}: {weakest.says}, {_short(weakest.allows, taste)}.")
    if found.volts.number is not None:
        lost = _short(found.drop, taste)
        said.append(f"At the charger {_short(found.volts, taste)}, {lost} lost on the way.")
    if found.charge.time.number is not None:
        time, rate = (shown(each, taste, False) for each in (found.charge.time, found.charge.rate))
        energy = shown(found.charge.energy, taste, False)
        more = f", {rate}" if found.charge.rate.number is not None else ""
        said.append(f"A charge takes {time} and {energy} from the wall{more}.")
    for key, other in others.items():
        if key.endswith(LAID_OUT) and other.supply_allows.number is not None:
            cord = key.removesuffix(LAID_OUT).replace("_", " ")
            allows = _short(other.supply_allows, taste)
            said.append(f"Unwind {cord}: laid out whole, the chain allows {allows}.")
    said.append("Open bars decide what is drawn; shaded ones have to bear it.")
    count = 0
    for words in said:
        for row in wrapped(words, WIDE - 2 * MARGIN, most=3):
            yield text((MARGIN, top + TEXT + count * 1.35 * TEXT), row)
            count += 1


def charging_power(
    opened: Opened, assessment: Assessment, taste: Taste, about: str = ""
) -> Drawing:
    """Power into the pack and its charge over the time of a charge."""
    del opened
    chosen = _outlet(assessment, about)
    drawn = chosen[1].charge.to_draw() if chosen is not None else ()
    if chosen is None or not drawn:
        words = _NOTHING if chosen is None else "Something is missing for it: see the chain."
        return nothing_yet("Charge over time", "Nothing is known of it yet.", words, 120.0)
    power = tuple((each.time, each.power) for each in drawn)
    share = tuple((each.time, each.charge) for each in drawn)
    charts = [
        Chart(
            name,
            f"{name} over the time of the charge.",
            Axis("time", TIME, low=0.0),
            Axis(axis, kind, low=0.0),
            (Line("", points),),
            height=46.0,
        )
        for name, axis, kind, points in (
            ("Power into the pack", "power", POWER, power),
            ("Charge", "charge", FRACTION, share),
        )
    ]
    return stacked(
        title("Charge over time", chosen[1].label),
        "Power into the pack and its charge, from the start to what is wanted or reached.",
        [draw(chart, taste) for chart in charts],
    )
