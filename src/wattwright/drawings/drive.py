"""What the motors give at several voltages, and what each gear makes of it against the road."""

from __future__ import annotations

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.descriptions.drive import Curve, Drawn, DriveDescription
from wattwright.drawings.said import number
from wattwright.kinds import FORCE, GRADE, ROTATIONAL_SPEED, SPEED, TORQUE
from wattwright.paper import Axis
from wattwright.paper.chart import Chart, Line, Mark, Reference, draw
from wattwright.paper.svg import Drawing
from wattwright.units import Taste, write

_EMPTY = Drawn({}, {}, {})
# A line of road load far above every gear only squeezes the gears together.
_ABOVE = 1.15


def _drawn(assessment: Assessment) -> Drawn:
    found = assessment.descriptions.get(DriveDescription)
    return found.to_draw() if found else _EMPTY


def envelope(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Torque of all motors against speed, at several voltages of the pack."""
    del opened
    lines = tuple(
        Line(name, tuple(zip(curve.x, curve.y, strict=True)), heavy=place > 1)
        for place, (name, curve) in enumerate(_drawn(assessment).envelope.items())
    )
    chart = Chart(
        "What the motors give",
        "Torque against speed with the voltage held, and on the pack as it sags under the load.",
        Axis("speed of the motor", ROTATIONAL_SPEED, low=0.0),
        Axis("torque of all motors", TORQUE, low=0.0),
        lines,
        empty="Give the motor by a curve, its circuit or its ratings, with its inverter.",
    )
    return draw(chart, taste)


def force(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Force at the road in each gear, against what the road takes on several grades."""
    drawn = _drawn(assessment)
    gears = [
        Line(gear.replace("_", " "), tuple(zip(curve.x, curve.y, strict=True)), label_at="start")
        for gear, curve in drawn.force.items()
        if curve.x
    ]
    most = _ABOVE * max((y for line in gears for _, y in line.points), default=0.0)
    hill = opened.build.targets.hill_grade.number
    roads = [
        Line(_road(grade, hill, taste), _below(curve, most), heavy=False)
        for grade, curve in drawn.road.items()
        if gears and curve.y[0] < most
    ]
    wanted = opened.build.targets.top_speed.number
    chart = Chart(
        "Force at the road, driver aboard, pack half charged",
        "What each gear gives, pack half charged and warm, against what the road takes, driver "
        "aboard.",
        Axis("speed", SPEED, low=0.0),
        Axis("force", FORCE, low=0.0, high=most or None),
        (*gears, *roads),
        marks=_starts(assessment, gears),
        references=(Reference("wanted:", wanted, "x"),) if wanted and gears else (),
        empty="Give motor, inverter, pack, gears and tyres, and weigh the vehicle, to see this.",
        height=100.0,
    )
    return draw(chart, taste)


def _starts(assessment: Assessment, gears: list[Line]) -> tuple[Mark, ...]:
    """What the inverter holds at standstill in the lowest gear, where that is less."""
    if not gears:
        return ()
    held = number(assessment.by_address, f"drive.start_force@{gears[0].name.replace(' ', '_')}")
    most = gears[0].points[0][1]
    if held is None or held > 0.99 * most:
        return ()
    return (Mark("start", (0.0, held)),)


def _road(grade: float, wanted: float | None, taste: Taste) -> str:
    if not grade:
        return "level"
    words = f"{write(grade, GRADE, taste)} uphill"
    return f"{words}, wanted" if grade == wanted else words


def _below(curve: Curve, most: float) -> tuple[tuple[float, float], ...]:
    return tuple((x, y) for x, y in zip(curve.x, curve.y, strict=True) if y <= most)
