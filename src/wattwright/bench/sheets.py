"""The sheets there are, by name, and how they have changed since one was printed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from weakref import WeakKeyDictionary

from wattwright.assessment import Assessment
from wattwright.bench.charging_readings import readings_sheet
from wattwright.bench.coupling import dial_sheet
from wattwright.bench.first_drive import first_drive_sheet
from wattwright.bench.half_shafts import angles_sheet, reassembly_sheet
from wattwright.bench.holes import holes_sheet
from wattwright.bench.hunts import PREFIX, hunt_sheet
from wattwright.bench.hv_cables import hv_cables_sheet
from wattwright.bench.mounting import measure_sheet, pose_sheet
from wattwright.bench.propshafts import phasing_sheet, shaft_sheet
from wattwright.bench.sheet import Sheet
from wattwright.bench.weighing import donor_sheet, weigh_in_sheet
from wattwright.build.model import Build
from wattwright.errors import UsageError
from wattwright.hunts import NAMES as HUNTS
from wattwright.units import Taste

Make = Callable[[Build, Assessment, Taste], Sheet]
MakeAt = Callable[[Build, Assessment, Taste, str], Sheet]

# Sheets that are made for an outlet too: NAME@OUTLET.
OF_OUTLET: dict[str, MakeAt] = {f"{PREFIX}{name}": partial(hunt_sheet, name) for name in HUNTS}

# A new sheet is one line here; pages on screen and paper and the command line follow.
SHEETS: dict[str, Make] = {
    "weigh_donor": donor_sheet,
    "weigh_in": weigh_in_sheet,
    "measure_mounts": measure_sheet,
    "check_pose": pose_sheet,
    "transfer_holes": holes_sheet,
    "half_shaft_angles": angles_sheet,
    "half_shaft_reassembly": reassembly_sheet,
    "dial_indicator": dial_sheet,
    "propshaft_angles": shaft_sheet,
    "propshaft_phasing": phasing_sheet,
    "hv_cables": hv_cables_sheet,
    "first_drive": first_drive_sheet,
    "charging_readings": readings_sheet,
    **{name: partial(hunt_sheet, name.removeprefix(PREFIX)) for name in OF_OUTLET},
}

# Of each assessment once: a page of readings asks for the sheet of every one of them.
_MADE: WeakKeyDictionary[Assessment, dict[tuple[Make, str, Taste], Sheet]] = WeakKeyDictionary()


def is_sheet(name: str) -> bool:
    """Say whether there is such a sheet: its name alone, or with an outlet where it takes one."""
    base, at, _ = name.partition("@")
    return base in (OF_OUTLET if at else SHEETS)


def sheet(name: str, build: Build, assessment: Assessment, taste: Taste = "metric") -> Sheet:
    """Make a sheet for a build as it is. Raises UsageError where there is no such sheet."""
    if not is_sheet(name):
        raise UsageError(f"there is no sheet {name!r}; there are {', '.join(SHEETS)}")
    base, at, outlet = name.partition("@")
    made = _MADE.setdefault(assessment, {})
    key = (SHEETS[base], outlet, taste)
    if key not in made:
        made[key] = (
            OF_OUTLET[base](build, assessment, taste, outlet)
            if at
            else SHEETS[base](build, assessment, taste)
        )
    return made[key]


def stale(then: Sheet, now: Sheet, taste: Taste = "metric") -> tuple[str, ...]:
    """Say what of a sheet is another thing now than when it was printed."""
    found = []
    for line in now.lines:
        old = then.line(line.name)
        if old is None:
            found.append(f"{line.where or line.name}: a new line")
        elif old.expects(taste) != line.expects(taste):
            before, after = (each.expects(taste) or "nothing expected" for each in (old, line))
            found.append(f"{line.where or line.name}: {before} then, {after} now")
    names = {line.name for line in now.lines}
    found += [f"{old.where or old.name}: gone" for old in then.lines if old.name not in names]
    return tuple(found)
