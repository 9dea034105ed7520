"""What a use does to the vehicle: along its time, where its energy goes, and what it draws."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from wattwright.areas.drive.use_figures import PART
from wattwright.assessment import Assessment, title
from wattwright.build.reader import Opened
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Driven, Duties, Duty
from wattwright.errors import UsageError
from wattwright.kinds import (
    CURRENT,
    ENERGY_PER_DISTANCE,
    FRACTION,
    LENGTH,
    POWER,
    SPEED,
    TEMPERATURE,
    TIME,
    Kind,
)
from wattwright.paper import Axis
from wattwright.paper.bars import Bar, Bars, draw_bars
from wattwright.paper.chart import Chart, Line, Reference, draw
from wattwright.paper.stack import stacked
from wattwright.paper.svg import Drawing, nothing_yet
from wattwright.units import Taste, write

_NO_USE = "Give motor, inverter, pack, gears and tyres, and write a use, to see this."
_NO_RANGE = "Give motor, inverter, pack, gears and tyres to see this."
# So many of the things that a use lacks are named in its drawings.
_NAMED = 4
# So many points are drawn of a line along a use; more than a screen shows.
_POINTS = 400


def _duty(assessment: Assessment, about: str) -> Duty | None:
    """The use asked for, or the first. Raises UsageError where there is no such use."""
    duties = assessment.descriptions[Duties].uses if Duties in assessment.descriptions else {}
    if about and about not in duties:
        there = ", ".join(duties) if duties else "none yet"
        raise UsageError(f"there is no use {about!r}; there are {there}")
    return duties.get(about) or next(iter(duties.values()), None)


def _empty(duty: Duty | None) -> str:
    """Say why a use has nothing to draw: which of its inputs are missing."""
    if duty is None:
        return _NO_USE
    labels = list(dict.fromkeys(lack.label for lack in duty.energy.pack.lacks))
    more = f"; and {len(labels) - _NAMED} more" if len(labels) > _NAMED else ""
    return f"This use cannot be driven yet. Missing: {'; '.join(labels[:_NAMED])}{more}."


@dataclass(frozen=True)
class _Along:
    """Results of a run along its time, without the parts in which it stands switched off."""

    driven: Driven

    @property
    def times(self) -> Any:
        """Time switched on, up to every instant."""
        import numpy as np

        trace, steps = self.driven.trace, self.driven.run.steps
        return np.concatenate(([0.0], np.cumsum(trace.steps * trace.on)[:steps]))

    @property
    def shown(self) -> Any:
        """Which instants are drawn."""
        import numpy as np

        count = len(self.driven.run.speed)
        every = max(1, count // _POINTS)
        places = np.arange(0, count, every)
        return places if places[-1] == count - 1 else np.append(places, count - 1)

    def line(self, name: str, values: Any, heavy: bool = True) -> Line:
        """One line; what holds over a step is drawn at its end."""
        import numpy as np

        times = self.times
        values = np.asarray(values)
        if len(values) == len(self.driven.run.speed) - 1:
            values = np.concatenate((values[:1], values))
        points = tuple((float(times[place]), float(values[place])) for place in self.shown)
        return Line(name, points, heavy)


def along(opened: Opened, assessment: Assessment, taste: Taste, about: str = "") -> Drawing:
    """Speed, power, charge and temperatures along a use."""
    del opened
    duty = _duty(assessment, about)
    if duty is None or duty.driven is None:
        return nothing_yet("Along the use", "Nothing has been driven yet.", _empty(duty), 120.0)
    over, run = _Along(duty.driven), duty.driven.run
    wanted = duty.driven.trace.speeds[: len(run.speed)]
    behind = (duty.behind.speed.number or 0.0) > 0.1
    speeds = (over.line("wanted", wanted, False),) if behind else ()
    temperatures = [over.line(body, getattr(run, body)) for body in ("motor", "inverter", "pack")]
    coolant = over.line("coolant", run.drive_coolant, False)
    charts = [
        _over_time("Speed", "speed", SPEED, (over.line("driven", run.speed), *speeds)),
        _over_time("Power out of the pack", "power", POWER, (over.line("pack", run.dc_power),)),
        _over_time("Charge", "charge", FRACTION, (over.line("charge", run.charge),)),
        _over_time("Temperatures", "temperature", TEMPERATURE, (*temperatures, coolant)),
    ]
    name = title("Along the use", duty.demand.name.replace("_", " "))
    return stacked(
        name,
        "Speed, power, charge and temperatures over time, with all inputs as they are.",
        [draw(chart, taste) for chart in charts],
    )


def _over_time(name: str, axis: str, kind: Kind, lines: Iterable[Line]) -> Chart:
    low = 0.0 if kind in (SPEED, FRACTION) else None
    return Chart(
        name,
        f"{name} over the time of the use.",
        Axis("time switched on", TIME, low=0.0),
        Axis(axis, kind, low=low),
        tuple(lines),
        height=46.0,
    )


def energy(opened: Opened, assessment: Assessment, taste: Taste, about: str = "") -> Drawing:
    """Where the energy of a use goes."""
    del opened
    duty = _duty(assessment, about)
    bars: tuple[Bar, ...] = ()
    name = "Where the energy goes"
    if duty is not None and duty.energy.pack.known:
        name = title(name, duty.demand.name.replace("_", " "))
        bars = tuple(
            Bar(PART[part].head, value.number, value.band or None)
            for part, value in duty.energy.split.items()
            if value.number
        )
    return draw_bars(
        Bars(
            name,
            "What leaves the cells for the distance, by where it goes.",
            ENERGY_PER_DISTANCE,
            bars,
            _empty(duty),
        ),
        taste,
    )


def currents(opened: Opened, assessment: Assessment, taste: Taste, about: str = "") -> Drawing:
    """Largest root mean square of the currents, by how long it lasts, against ratings."""
    duty = _duty(assessment, about)
    lines: list[Line] = []
    references: list[Reference] = []
    if duty is not None and duty.driven is not None:
        lines.append(Line("pack", _by_window(duty.driven)))
        for name, device in opened.build.part.items():
            rating = getattr(device, "current", None)
            carried = f"drive.use_current@{name}" in assessment.by_address
            if carried and rating is not None and rating.number:
                references.append(Reference(f"{name.replace('_', ' ')}:", rating.number))
    name = "Pack current by how long it lasts"
    chart = Chart(
        title(name, duty.demand.name.replace("_", " ")) if duty else name,
        "Largest root mean square in any window of a length, with what devices carry for hours.",
        Axis("length of the window", TIME, low=0.0),
        Axis("root mean square", CURRENT, low=0.0),
        tuple(lines),
        references=tuple(references),
        empty=_empty(duty),
    )
    return draw(chart, taste)


def _by_window(driven: Driven) -> tuple[tuple[float, float], ...]:
    import numpy as np

    from wattwright.uses.traces import largest_rms

    current = driven.run.current
    steps = driven.trace.steps[: len(current)]
    lengths = np.geomspace(1.0, min(1200.0, float(steps.sum())), 60)
    return tuple((float(each), largest_rms(steps, current, float(each))) for each in lengths)


def ranges(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Range at a steady speed, on days of several temperatures."""
    del opened
    lines: Sequence[Line] = ()
    if DriveDescription in assessment.descriptions:
        at_speeds = assessment.descriptions[DriveDescription].demands.at_speeds
        lines = [
            Line(
                f"at {write(temperature, TEMPERATURE, taste)}",
                tuple((speed, reach) for speed, reach in points),
            )
            for temperature, points in at_speeds().items()
            if points
        ]
    chart = Chart(
        "Range at a steady speed",
        "Level road, driver aboard, full down to the reserve; the cabin heated as far as wanted.",
        Axis("speed", SPEED, low=0.0),
        Axis("range", LENGTH, low=0.0),
        tuple(lines),
        empty=_NO_RANGE,
    )
    return draw(chart, taste)
