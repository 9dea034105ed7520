"""The sheets there are, by name, and how they have changed since one was printed."""

from __future__ import annotations

from collections.abc import Callable
from weakref import WeakKeyDictionary

from wattwright.assessment import Assessment
from wattwright.bench.coupling import dial_sheet
from wattwright.bench.first_drive import first_drive_sheet
from wattwright.bench.half_shafts import angles_sheet, reassembly_sheet
from wattwright.bench.holes import holes_sheet
from wattwright.bench.hv_cables import hv_cables_sheet
from wattwright.bench.mounting import measure_sheet, pose_sheet
from wattwright.bench.propshafts import phasing_sheet, shaft_sheet
from wattwright.bench.sheet import Sheet
from wattwright.bench.weighing import donor_sheet, weigh_in_sheet
from wattwright.build.model import Build
from wattwright.errors import UsageError
from wattwright.units import Taste

Make = Callable[[Build, Assessment, Taste], Sheet]

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
}

# Of each assessment once: a page of readings asks for the sheet of every one of them.
_MADE: WeakKeyDictionary[Assessment, dict[tuple[Make, Taste], Sheet]] = WeakKeyDictionary()


def sheet(name: str, build: Build, assessment: Assessment, taste: Taste = "metric") -> Sheet:
    """Make a sheet for a build as it is. Raises UsageError where there is no such sheet."""
    if name not in SHEETS:
        raise UsageError(f"there is no sheet {name!r}; there are {', '.join(SHEETS)}")
    make, made = SHEETS[name], _MADE.setdefault(assessment, {})
    if (make, taste) not in made:
        made[make, taste] = make(build, assessment, taste)
    return made[make, taste]


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
