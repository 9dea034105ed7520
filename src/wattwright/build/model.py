"""The build as a whole: its sections, in the order in which they are explained."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.bodies import Body, Clearance
from wattwright.build.charging import Charging
from wattwright.build.cooling import Cabin, Cooling
from wattwright.build.coupling import Coupling
from wattwright.build.devices import PART_KINDS, AnyPart
from wattwright.build.drive import Driveline
from wattwright.build.fields import Plain, Record, Section
from wattwright.build.half_shafts import HalfShaft
from wattwright.build.instruments import Instrument
from wattwright.build.mounts import Mounts
from wattwright.build.outlets import Cord, Outlet, SupplyBox
from wattwright.build.pack import Pack
from wattwright.build.parts import Place
from wattwright.build.patterns import Pattern
from wattwright.build.propshafts import Propshaft
from wattwright.build.rings import Ring
from wattwright.build.road import Road
from wattwright.build.rules import Rules
from wattwright.build.survey import Survey
from wattwright.build.uses import Season, Use
from wattwright.build.vehicle import Case, Donor, Targets, Tyres, Weighing

FORMAT = 1

# Loading cases every build has; the builder's own need other names.
STANDARD_CASES = frozenset({"kerb", "driver", "full"})

# Key under which a list of named masses says that nobody has written it yet.
UNSAID = ""


class Head(Record):
    """What this build is called."""

    name: Annotated[str, Plain("name of the build")]
    currency: Annotated[str, Plain("currency of the prices")] = ""
    note: Annotated[str, Plain("note")] = ""


class Build(Record):
    """Everything one build file says."""

    format: Annotated[int, Plain("format number of this file", "1; do not change it by hand")]
    build: Annotated[Head, Section("the build itself")]
    rules: Annotated[Rules, Section("limits and answers of authority or engineer")]
    targets: Annotated[Targets, Section("what the finished vehicle should do")]
    donor: Annotated[Donor, Section("the combustion vehicle as found")]
    tyre: Annotated[Tyres, Section("the tyres it will run on")]
    place: Annotated[dict[str, Place], Section("seats, load beds and tanks, by name")]
    case: Annotated[dict[str, Case], Section("loading cases of your own, by name")]
    part: Annotated[
        dict[str, AnyPart], Section("parts of the conversion, by name", variants=PART_KINDS)
    ]
    pack: Annotated[Pack, Section("the traction pack")]
    drive: Annotated[Driveline, Section("gears, final drive and wheel")]
    road: Annotated[Road, Section("what the road takes")]
    cooling: Annotated[Cooling, Section("what takes the heat away")]
    cabin: Annotated[Cabin, Section("what keeps the cabin warm")]
    charging: Annotated[Charging, Section("inlet, and what a charge is to do")]
    outlet: Annotated[dict[str, Outlet], Section("places to charge at, by name")]
    cord: Annotated[dict[str, Cord], Section("extension cords, by name")]
    supply_box: Annotated[
        dict[str, SupplyBox], Section("boxes and posts that feed the inlet, by name")
    ]
    use: Annotated[dict[str, Use], Section("what the vehicle is put through, by name")]
    season: Annotated[
        dict[str, Season], Section("seasons and ages in which every use is driven too, by name")
    ]
    survey: Annotated[Survey, Section("points of vehicle and power unit, and what was measured")]
    mounts: Annotated[Mounts, Section("how the power unit hangs")]
    half_shaft: Annotated[
        dict[str, HalfShaft], Section("shafts from the unit to the wheels, by name")
    ]
    coupling: Annotated[Coupling, Section("how the motor's shaft is joined to the gearbox's")]
    ring: Annotated[dict[str, Ring], Section("retaining rings and their grooves, by name")]
    propshaft: Annotated[
        dict[str, Propshaft], Section("lines of shafts from gearbox or motor to the axle, by name")
    ]
    body: Annotated[dict[str, Body], Section("what takes room, by name")]
    clearance: Annotated[Clearance, Section("how far things move, and the room wanted")]
    pattern: Annotated[dict[str, Pattern], Section("hole patterns, by name")]
    weigh_in: Annotated[Weighing, Section("the conversion on the scales")]
    instrument: Annotated[
        dict[str, Instrument], Section("instruments at hand and how far they may be off, by name")
    ]
