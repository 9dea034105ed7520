"""Half-shafts over the travel of the suspension: how far the joints bend, how far they plunge."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.descriptions.half_shafts import Drawn, HalfShaftFound
from wattwright.descriptions.mounts import MountsDescription
from wattwright.kinds import ANGLE, POSITION, Kind
from wattwright.paper import Axis
from wattwright.paper.chart import Chart, Line, Reference, draw
from wattwright.paper.svg import Drawing
from wattwright.units import Taste

_EMPTY = "Measure a half-shaft, its arm and the travel of its hub, to see this."


def _found(assessment: Assessment) -> dict[str, HalfShaftFound]:
    found = assessment.descriptions.get(MountsDescription)
    return dict(found.half_shafts) if found else {}


def shaft_angles(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Angles of all joints over the travel of the hub."""
    del opened
    found = _found(assessment)
    lines = []
    for name, shaft in found.items():
        drawn = shaft.to_draw()
        words = name.replace("_", " ")
        lines += _lines(f"{words}, inner", drawn, lambda each: each.inner_angle)
        lines += _lines(f"{words}, outer", drawn, lambda each: each.outer_angle)
    limits = {
        limit.number for shaft in found.values() for limit in (shaft.inner_most, shaft.outer_most)
    }
    references = [Reference("most:", limit) for limit in sorted(limits - {None}, key=float)]  # type: ignore[arg-type]
    return _chart(
        "Joints of the half-shafts", "angle of the joint", ANGLE, lines, references, taste
    )


def shaft_plunge(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """How much longer each half-shaft has to be over the travel of the hub."""
    del opened
    lines = []
    for name, shaft in _found(assessment).items():
        words = name.replace("_", " ")
        lines += _lines(words, shaft.to_draw(), lambda each: each.plunge)
    return _chart(
        "Plunge of the half-shafts", "longer than at ride height", POSITION, lines, [], taste
    )


def _lines(name: str, drawn: tuple[Drawn, ...], of: Callable[[Drawn], float]) -> list[Line]:
    return [Line(name, tuple((each.rise, of(each)) for each in drawn))] if drawn else []


def _chart(
    title: str, up: str, kind: Kind, lines: list[Line], references: list[Reference], taste: Taste
) -> Drawing:
    return draw(
        Chart(
            title,
            "From hanging to the bump stop pressed, the unit as it hangs now.",
            Axis("hub above ride height", POSITION),
            Axis(up, kind),
            tuple(lines),
            references=tuple(references) if lines else (),
            empty=_EMPTY,
        ),
        taste,
    )
