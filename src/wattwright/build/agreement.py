"""Whether the fields of a build agree: names that exist, limits in order, nothing said twice."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Protocol

from wattwright.build.adaptor_agreement import check_adaptor
from wattwright.build.bodies_agreement import check_bodies
from wattwright.build.cables_agreement import check_cables
from wattwright.build.charging_agreement import check_charging
from wattwright.build.coupling_agreement import check_coupling
from wattwright.build.devices import Inverter, OnThePack
from wattwright.build.instruments import KINDS
from wattwright.build.model import STANDARD_CASES, UNSAID, Build
from wattwright.build.motor import Motor
from wattwright.build.pattern_agreement import check_patterns
from wattwright.build.propshaft_agreement import check_propshafts
from wattwright.build.rings_agreement import check_rings
from wattwright.build.survey_agreement import check_survey
from wattwright.build.uses_agreement import check_uses
from wattwright.errors import UnitsError
from wattwright.kinds import TEMPERATURE
from wattwright.units import read
from wattwright.values import Value

_REVERSE = frozenset({"reverse", "rev", "r", "back", "backward", "backwards"})
_WARM_CELLS = read("25 °C", TEMPERATURE).number
# A curve read off paper with a ruler may pass the power by so much.
_MORE_POWER = 1.05


class Reading(Protocol):
    """Where problems go, and on which line a path stands."""

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""

    def line(self, path: tuple[str, ...]) -> int | None:
        """Line on which a path stands."""


def check_agreement(build: Build, reading: Reading) -> None:
    """Note every disagreement between fields."""
    aboard: dict[tuple[str, ...], Mapping[str, Value]] = {
        ("donor", "weighed", "aboard"): build.donor.weighed.aboard
    }
    aboard[("weigh_in", "aboard")] = build.weigh_in.aboard
    aboard.update({("case", name, "aboard"): case.aboard for name, case in build.case.items()})
    for path, masses in aboard.items():
        for name in masses:
            place = build.place.get(name)
            if place is None and name != UNSAID:
                near = difflib.get_close_matches(name, list(build.place), n=1)
                hint = f"did you mean {near[0]}?" if near else f"write [place.{name}]"
                reading.problem((*path, name), "there is no such place", do=hint)
            elif place is not None and place.role == "tank" and path[0] != "donor":
                what = "a tank holds the donor's fuel, which the conversion does not carry"
                reading.problem((*path, name), what, do="leave it out")
    _check_feeding(build, reading)
    for name, gear in build.drive.gear.items():
        if name.casefold() in _REVERSE and not gear.backwards:
            what = "looks like the reverse gear and would be taken for one that drives forwards"
            reading.problem(("drive", "gear", name), what, do="write backwards = true in it")
    _check_curves(build, reading)
    drivers = [name for name, place in build.place.items() if place.role == "driver"]
    drivers.sort(key=lambda name: reading.line(("place", name)) or 0)
    for name in drivers[1:]:
        reading.problem(("place", name, "role"), f"{drivers[0]} is the driver already")
    _check_order(build, reading)
    _check_cold(build, reading)
    check_uses(build, reading)
    check_survey(build, reading)
    check_bodies(build, reading)
    check_cables(build, reading)
    check_patterns(build, reading)
    check_coupling(build, reading)
    check_charging(build, reading)
    check_adaptor(build, reading)
    check_rings(build, reading)
    check_propshafts(build, reading)
    _check_instruments(build, reading)
    for name in STANDARD_CASES & build.case.keys():
        reading.problem(("case", name), "is worked out by itself", do="choose another name")


def _check_instruments(build: Build, reading: Reading) -> None:
    """How far an instrument may be off is a quantity of what it measures."""
    for name, instrument in build.instrument.items():
        if not instrument.within:
            continue
        path = ("instrument", name, "within")
        kind = KINDS[instrument.measures]
        try:
            off = read(instrument.within, kind).number
        except UnitsError as error:
            reading.problem(path, str(error), do=f"it measures {instrument.measures}")
            continue
        if off < 0.0:
            reading.problem(path, "is below nought", instrument.within, "write it without a sign")


def _check_feeding(build: Build, reading: Reading) -> None:
    """Refuse a motor fed by something that is no inverter: its EMF would meet the wrong rating."""
    inverters = [name for name, part in build.part.items() if isinstance(part, Inverter)]
    for name, part in build.part.items():
        if isinstance(part, Motor) and part.fed_by and part.fed_by not in inverters:
            near = difflib.get_close_matches(part.fed_by, inverters, n=1)
            hint = f"did you mean {near[0]}?" if near else "write the name of an inverter"
            reading.problem(("part", name, "fed_by"), "there is no such inverter", do=hint)


def _check_curves(build: Build, reading: Reading) -> None:
    """Refuse a curve that gives more power than the motor is said to have."""
    for name, part in build.part.items():
        if not isinstance(part, Motor) or part.peak_power.number is None:
            continue
        most = max((x * y for x, y in zip(part.curve.x, part.curve.y, strict=True)), default=0.0)
        if most > _MORE_POWER * part.peak_power.number:
            what = (
                f"rises to {most:.0f} W, past the highest power of {part.peak_power.number:.0f} W"
            )
            reading.problem(
                ("part", name, "curve"), what, do="check units and points, or correct peak_power"
            )


def _check_order(build: Build, reading: Reading) -> None:
    """Refuse limits that have changed places: the lower must not be above the higher."""
    pairs: list[tuple[tuple[str, ...], Value, Value]] = [
        (("pack", "discharge_limit"), build.pack.discharge_limit, build.pack.charge_limit)
    ]
    cold = (build.pack.charge_cold_from, build.pack.charge_cold_full)
    if cold[0].number is not None and cold[0].number == cold[1].number:
        what = "is the temperature of full current too: nothing lies between"
        reading.problem(("pack", "charge_cold_full"), what, do="a kelvin or more above the other")
    pairs.append((("pack", "charge_cold_from"), *cold))
    for name, part in build.part.items():
        if isinstance(part, OnThePack):
            pairs.append((("part", name, "voltage_low"), part.voltage_low, part.voltage_high))
        if isinstance(part, Motor):
            for kind in ("power", "torque"):
                names = f"continuous_{kind}", f"peak_{kind}"
                low, high = (getattr(part, each) for each in names)
                pairs.append((("part", name, names[0]), low, high))
    for where, weighing in (
        (("donor", "weighed"), build.donor.weighed),
        (("weigh_in",), build.weigh_in),
    ):
        _refuse_both(reading, where, [weighing.fl, weighing.fr], weighing.front, "front")
        _refuse_both(reading, where, [weighing.rl, weighing.rr], weighing.rear, "rear")
        lift = weighing.lift
        _refuse_both(reading, (*where, "lift"), [lift.angle], lift.height, "height")
    for path, low, high in pairs:
        if low.number is not None and high.number is not None and low.number > high.number:
            reading.problem(path, "is above the limit it must stay below", do="change them over")


def _check_cold(build: Build, reading: Reading) -> None:
    """Refuse a cold point that may be warm: between the two the cells are looked up."""
    cold = build.pack.cold_temperature
    if cold.number is not None and cold.number + cold.band >= _WARM_CELLS:
        what = "may be 25 °C at the end of its band, where cells count as warm"
        do = "write it with a smaller ±, or as it was on a colder morning"
        reading.problem(("pack", "cold_temperature"), what, do=do)


def _refuse_both(
    reading: Reading, where: tuple[str, ...], finer: list[Value], other: Value, name: str
) -> None:
    """Refuse two readings of one thing: nobody could tell which of them was meant."""
    if other.known and any(value.known for value in finer):
        what = "says again what stands beside it another way"
        reading.problem((*where, name), what, do="keep one of the two")
