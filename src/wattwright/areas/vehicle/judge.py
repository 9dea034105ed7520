"""The weight book against its limits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.vehicle import checks
from wattwright.areas.vehicle.describe import Own
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.build.vehicle import Tyre
from wattwright.descriptions.vehicle import Case, Standing, VehicleDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import COUNT
from wattwright.physics import axle_loads, tyre
from wattwright.values import (
    Value,
    asked_for,
    constant,
    either,
    exceeds,
    largest,
    smallest,
    worked,
)

Said = Iterator[Finding | Figure]

# Above it a tyre is likely a commercial one, rated at a far higher pressure than the default.
HIGHEST_PASSENGER_INDEX = constant(COUNT, 100.0, "highest load index taken for a passenger tyre")


def judge(own: Own, vehicle: VehicleDescription, rules: Rules) -> Said:
    """Compare every loading case, the change, the lifts and the weigh-ins with their limits."""
    plate, allowed = _donor_limits(own), _conversion_limits(own, rules)
    front_tyre, rear_tyre = _carries(own.tyre.front), _carries(own.tyre.rear)
    for case in vehicle.cases:
        yield from _axles_and_gross(allowed, case.conversion, case.name)
        yield from _axles_and_gross(plate, case.donor, f"{case.name}/donor")
        yield from _tyres(front_tyre, rear_tyre, case)
        yield checks.SIDE_IMBALANCE.within(
            case.conversion.side_imbalance, rules.side_imbalance.value, case.name
        )
        yield checks.SPLIT_CHANGE.within(
            worked(axle_loads.change_of_share, case.donor.rear_share, case.conversion.rear_share),
            rules.split_change.value,
            case.name,
        )
        yield from _figures(case.conversion, allowed.gross, case.name)
        yield from _figures(case.donor, plate.gross, f"{case.name}/donor")
    yield _mass_change(rules, vehicle.cases[0])
    for axle, tyres in (("front", own.tyre.front), ("rear", own.tyre.rear)):
        yield checks.TYRE_SPEED.at_most(own.targets.top_speed, tyres.speed_symbol, axle)
    yield from _weighings(vehicle)


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """Highest loads of one side: the donor answers to its plate, the conversion to rules too."""

    front: Value
    rear: Value
    gross: Value


def _donor_limits(own: Own) -> Limits:
    return Limits(own.donor.front.limit, own.donor.rear.limit, own.donor.gross_limit)


def _conversion_limits(own: Own, rules: Rules) -> Limits:
    plate = _donor_limits(own)
    return Limits(
        _ruled(rules.axle_front.value, plate.front),
        _ruled(rules.axle_rear.value, plate.rear),
        _ruled(rules.gross_mass.value, plate.gross),
    )


def _ruled(rule: Value, plate: Value) -> Value:
    """Take an answered rule; one nobody has answered yet may lower the plate, never raise it."""
    answered = rule.given is not None and rule.given.confirmed
    if answered or plate.absent:
        return either(rule, plate, asking=1)
    return smallest(rule, plate) if rule.known else plate


def _axles_and_gross(limits: Limits, standing: Standing, about: str) -> Said:
    yield checks.AXLE_LOAD.at_most(standing.loads.front, limits.front, f"front/{about}")
    yield checks.AXLE_LOAD.at_most(standing.loads.rear, limits.rear, f"rear/{about}")
    yield checks.GROSS_MASS.at_most(standing.loads.mass, limits.gross, about)


def _tyres(front: Value, rear: Value, case: Case) -> Said:
    wheels = case.conversion
    yield checks.TYRE_LOAD.at_most(largest(wheels.fl, wheels.fr), front, f"front/{case.name}")
    yield checks.TYRE_LOAD.at_most(largest(wheels.rl, wheels.rr), rear, f"rear/{case.name}")


def _carries(tyres: Tyre) -> Value:
    rated = either(tyres.max_load, worked(tyre.load_capacity, tyres.load_index), asking=1)
    rated_pressure = tyres.rated_pressure
    if not said(rated_pressure) and exceeds(tyres.load_index, HIGHEST_PASSENGER_INDEX):
        rated_pressure = asked_for(rated_pressure, "no default for so high a load index")
    from_table = worked(
        tyre.load_from_table, tyres.load_at_pressure, tyres.pressure, tyres.table_pressure
    )
    return either(
        smallest(from_table, rated),
        worked(tyre.load_at_pressure, rated, tyres.pressure, rated_pressure),
        asking=1,
    )


def _mass_change(rules: Rules, kerb: Case) -> Finding:
    before, after = kerb.donor.loads.mass, kerb.conversion.loads.mass
    change = worked(axle_loads.relative_change, before, after)
    return checks.MASS_CHANGE.within(change, rules.mass_change.value, kerb.name)


def _figures(standing: Standing, gross_limit: Value, about: str) -> Said:
    loads = standing.loads
    yield checks.MASS_TOTAL.of(loads.mass, about)
    yield checks.FRONT.of(loads.front, about)
    yield checks.REAR.of(loads.rear, about)
    for wheel, declared in checks.WHEELS.items():
        yield declared.of(getattr(standing, wheel), about)
    yield checks.REAR_SHARE.of(standing.rear_share, about)
    yield checks.DIAGONAL.of(standing.diagonal_imbalance, about)
    yield checks.CG_X.of(standing.cg_x, about)
    yield checks.CG_Y.of(standing.cg_y, about)
    yield checks.CG_Z.of(standing.cg_z, about)
    yield checks.PAYLOAD.of(worked(axle_loads.payload, gross_limit, loads.mass), about)


def _weighings(vehicle: VehicleDescription) -> Said:
    for lift in vehicle.lifts:
        yield checks.LIFT_ACCURACY.at_most(lift.reached, lift.wanted, lift.about)
        yield checks.LIFT_HEIGHT.of(lift.height, lift.about)
        yield checks.LIFT_ANGLE.of(lift.angle_needed, lift.about)
    for seen in vehicle.weigh_ins:
        for axle, disagreement in seen.disagreement.items():
            yield checks.WEIGH_IN.within(disagreement, seen.accuracy[axle], axle)
        if seen.disagrees:
            yield checks.MISSING_MASS.of(seen.missing_mass)
            yield checks.MISSING_X.of(seen.missing_x)
            yield checks.MISSING_Y.of(seen.missing_y)
