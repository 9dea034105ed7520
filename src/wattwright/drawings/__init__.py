"""The drawings a build has, by name. Each is a view of the assessment, for screen and paper.

Some are of one use: ``along@market_run``; without a name they show the first. Those of the
vehicle are of one ledger: ``plan@fitted``; without a name they show what is planned. Those of the
mounts are seen from a side: ``mounts@rear``. That of a hole pattern is of one pattern:
``pattern@plate``, that of a propshaft of one propshaft: ``shaft_line@main``, that of a fuse of one
power cable: ``fuse_curves@NAME``, those of charging of one outlet: ``charging_chain@barn``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from wattwright.assessment import Assessment
from wattwright.build.cables import Cable
from wattwright.build.model import Build
from wattwright.build.reader import Opened
from wattwright.drawings.adaptor import adaptor
from wattwright.drawings.charging import charging_chain, charging_power
from wattwright.drawings.clearances import clearances
from wattwright.drawings.drive import envelope, force
from wattwright.drawings.fuse_curves import fuse_curves
from wattwright.drawings.half_shafts import shaft_angles, shaft_plunge
from wattwright.drawings.hanging import chosen_side
from wattwright.drawings.mount_loads import mount_loads
from wattwright.drawings.mounts import mounts
from wattwright.drawings.pattern import pattern
from wattwright.drawings.placed import chosen_ledger
from wattwright.drawings.plan import plan
from wattwright.drawings.propshafts import shaft_excitation, shaft_line
from wattwright.drawings.rear import rear
from wattwright.drawings.side import side
from wattwright.drawings.survey import survey
from wattwright.drawings.uses import along, currents, energy, ranges
from wattwright.drawings.windows import windows
from wattwright.errors import UsageError
from wattwright.paper.svg import Drawing
from wattwright.units import Taste

# Called with the build, its assessment and the taste; those of a use or ledger with its name too.
Make = Callable[..., Drawing]

OF_USE: dict[str, Make] = {"along": along, "energy": energy, "currents": currents}
OF_LEDGER: dict[str, Make] = {"side": side, "plan": plan, "rear": rear}
OF_SIDE: dict[str, Make] = {"mounts": mounts, "survey": survey, "mount_loads": mount_loads}
OF_PATTERN: dict[str, Make] = {"pattern": pattern}
OF_PROPSHAFT: dict[str, Make] = {"shaft_line": shaft_line}
OF_OUTLET: dict[str, Make] = {"charging_chain": charging_chain, "charging_power": charging_power}
OF_CABLE: dict[str, Make] = {"fuse_curves": fuse_curves}
OF_HALF_SHAFTS: dict[str, Make] = {"shaft_angles": shaft_angles, "shaft_plunge": shaft_plunge}
# Drawings of one thing that has a name in the build.
_OF_ONE = (*OF_USE, *OF_PATTERN, *OF_PROPSHAFT, *OF_CABLE, *OF_OUTLET)
DRAWINGS: dict[str, Make] = {
    "windows": windows,
    "force": force,
    "envelope": envelope,
    "range": ranges,
    "clearances": clearances,
    **OF_HALF_SHAFTS,
    "shaft_excitation": shaft_excitation,
    "adaptor": adaptor,
    **OF_LEDGER,
    **OF_USE,
    **OF_SIDE,
    **OF_PATTERN,
    **OF_PROPSHAFT,
    **OF_OUTLET,
    **OF_CABLE,
}

# Where each belongs, for the pages of the areas; those of a use stand with it.
OF_AREA: dict[str, tuple[str, ...]] = {
    "vehicle": ("side",),
    "pack": ("windows",),
    "charging": ("charging_chain", "charging_power"),
    "drive": ("force", "envelope", "range"),
    "high_voltage": ("fuse_curves",),
    "mounts": (
        *("mounts", "mounts@rear", "mounts@plan", "mount_loads", "mount_loads@rear"),
        *("survey@side", "survey", "shaft_angles", "shaft_plunge", "clearances", "pattern"),
        *("adaptor", "shaft_line", "shaft_excitation"),
    ),
}


def of_area(area: str, opened: Opened) -> tuple[str, ...]:
    """List the drawings on the page of an area; one for each pattern, propshaft, cable."""
    build = opened.build
    by_name: dict[str, Iterable[str]] = {
        **dict.fromkeys(OF_PATTERN, build.pattern),
        **dict.fromkeys(OF_PROPSHAFT, build.propshaft),
        **dict.fromkeys(OF_OUTLET, build.outlet),
        **dict.fromkeys(OF_CABLE, cables(build)),
    }
    of_any: dict[str, object] = {
        **dict.fromkeys(OF_HALF_SHAFTS, build.half_shaft),
        "shaft_excitation": build.propshaft,
        "adaptor": build.coupling.adaptor.begun,
    }
    names: list[str] = []
    for name in OF_AREA.get(area, ()):
        if name in by_name:
            names += [f"{name}@{about}" for about in by_name[name]]
        elif of_any.get(name, True):
            names.append(name)
    return tuple(names)


def cables(build: Build) -> list[str]:
    """Name the power cables that are not given up."""
    parts = build.part.items()
    return [name for name, each in parts if isinstance(each, Cable) and each.state != "removed"]


def check_name(name: str) -> tuple[str, str]:
    """Split a name into the drawing and its use or ledger. Raises UsageError for no such one."""
    kind, _, about = name.partition("@")
    if kind not in DRAWINGS:
        raise UsageError(f"there is no drawing {kind!r}; there are {', '.join(DRAWINGS)}")
    if about and kind in OF_LEDGER:
        chosen_ledger(about)
    elif about and kind in OF_SIDE:
        chosen_side(about)
    elif about and kind not in _OF_ONE:
        raise UsageError(f"{kind} is not of one use; only {', '.join(OF_USE)} are")
    return kind, about


def drawing(name: str, opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Draw what a name says. Raises UsageError where there is no such drawing, use or ledger."""
    kind, about = check_name(name)
    arguments = (opened, assessment, taste)
    return DRAWINGS[kind](*arguments, about) if about else DRAWINGS[kind](*arguments)
