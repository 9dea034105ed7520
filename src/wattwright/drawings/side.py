"""Side view with parts, axle loads and centre of gravity."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wattwright.assessment import Assessment
from wattwright.build.parts import Part as PartRecord
from wattwright.build.reader import Opened
from wattwright.drawings.said import number
from wattwright.kinds import MASS
from wattwright.paper import MARGIN, NARROW, Box, View
from wattwright.paper.dimension import Part, centre_of_gravity, dimension, ground, load, parts
from wattwright.paper.svg import Drawing, Label, Shape, circle, heading, nothing_yet
from wattwright.units import Taste, write

# A part without outside measures is drawn this large: a mark of its place, not of its size.
_MARK = 0.08
# Lighter parts than the heaviest few are dots without names: the drawing is read at arm's length.
_NAMED = 9
_DOT = 0.7


def side(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Side view with parts, axle loads and centre of gravity, as planned, at kerb."""
    title = "Side view at kerb"
    describing = "Parts, axle loads and centre of gravity, seen from the left."
    wheelbase = opened.build.donor.wheelbase.number
    if wheelbase is None:
        return nothing_yet(title, describing, "Measure the wheelbase to see this.", NARROW)
    placed = list(_placed(opened.build.part))
    boxes = [(each.low, each.high) for each in placed]
    lows, highs = [(-0.5, 0.0), *(low for low, _ in boxes)], [(wheelbase + 0.5, 1.0)]
    highs += [high for _, high in boxes]
    view = View.of(
        (min(x for x, _ in lows), 0.0),
        (max(x for x, _ in highs), max(z for _, z in highs)),
        Box(MARGIN, 26.0, NARROW - MARGIN, 72.0),
    )
    level = view.at(0.0, 0.0)[1]
    named, dots = placed[:_NAMED], placed[_NAMED:]
    fixed = [
        *ground(MARGIN, NARROW - MARGIN, level),
        *_wheels(assessment, view, wheelbase),
        *(circle(view.at(*each.middle), _DOT, None, "ink") for each in dots),
        *dimension(
            view.at(0.0, 0.0),
            view.at(wheelbase, 0.0),
            wheelbase,
            taste=taste,
            offset=9.5,
            name="wheelbase",
        ),
        *_axle_loads(assessment, view, wheelbase, level, taste),
    ]
    centre = tuple(_centre(assessment, view))
    key = [f"Dots: {len(dots)} lighter parts"] if dots else []
    mass = number(assessment.by_address, "vehicle.mass@kerb")
    if centre and mass is not None:
        key.append(f"Quartered: centre of gravity, {write(mass, MASS, taste)}")
    legend = Label(tuple(key))
    fixed += legend.at(MARGIN, level + 38.0)
    names = parts(
        [Part(each.name, view.box(each.low, each.high)) for each in named],
        Box(MARGIN, 10.0, NARROW - MARGIN, level),
        taken=[shape.box for shape in (*fixed, *centre) if shape.words or shape in centre],
        key_top=level + 41.0 + legend.height,
    )
    return Drawing(title, describing, (*heading(title), *fixed, *names, *centre))


@dataclass(frozen=True, slots=True)
class _Placed:
    """A part that stands somewhere, as a box in the side view."""

    name: str
    low: tuple[float, float]
    high: tuple[float, float]

    @property
    def middle(self) -> tuple[float, float]:
        return (self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2


def _placed(records: Mapping[str, PartRecord]) -> Iterator[_Placed]:
    """Parts of the plan whose place is known, heaviest first."""
    kept = {name: record for name, record in records.items() if record.state != "removed"}
    for name in sorted(kept, key=lambda name: (-_mass(kept[name]), name)):
        record = kept[name]
        x, z = record.at.x.number, record.at.z.number
        if x is None or z is None:
            continue
        half = (record.size.length.number or _MARK) / 2, (record.size.height.number or _MARK) / 2
        low, high = (x - half[0], max(0.0, z - half[1])), (x + half[0], z + half[1])
        yield _Placed(name.replace("_", " "), low, high)


def _mass(record: PartRecord) -> float:
    return (record.mass.number or 0.0) * (record.count.number or 1.0)


def _wheels(assessment: Assessment, view: View, wheelbase: float) -> Iterator[Shape]:
    circumference = number(assessment.by_address, "drive.rolling_circumference")
    if circumference is None:
        return
    radius = circumference / (2 * math.pi)
    for x in (0.0, wheelbase):
        yield circle(view.at(x, radius), radius * view.mm_per_metre)


def _centre(assessment: Assessment, view: View) -> Iterator[Shape]:
    x = number(assessment.by_address, "vehicle.cg_x@kerb")
    z = number(assessment.by_address, "vehicle.cg_z@kerb")
    if x is not None and z is not None:
        yield from centre_of_gravity(view.at(x, z))


def _axle_loads(
    assessment: Assessment, view: View, wheelbase: float, level: float, taste: Taste
) -> Iterator[Shape]:
    for axle, x in (("front", 0.0), ("rear", wheelbase)):
        amount = number(assessment.by_address, f"vehicle.{axle}@kerb")
        if amount is not None:
            tip = (view.at(x, 0.0)[0], level + 12.0)
            yield from load(tip, amount, MASS, taste, name=f"{axle.capitalize()} axle", up=True)
