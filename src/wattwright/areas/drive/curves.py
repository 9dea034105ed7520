"""Curves to draw: the motors at several voltages, and force against road load in each gear."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive.fed import Fed
from wattwright.areas.drive.gear import InGear
from wattwright.areas.drive.performance import Scene
from wattwright.descriptions.drive import Curve, Drawn
from wattwright.descriptions.pack import PackDescription
from wattwright.physics.tractive import driving_force

_POINTS = 120
_GRADES = (0.0, 0.05, 0.10, 0.15, 0.20)
# A grade so near the wanted one would only hide it.
_APART = 0.02
# Drawn a little beyond the fastest that any gear reaches.
_BEYOND = 1.1
_NOTHING = Curve((), ())


def curves(scene: Scene, pack: PackDescription) -> Drawn:
    """Work out all curves; empty ones where something is missing."""
    taking = scene.taking
    runs = {name: run.half for name, run in scene.runs.items()}
    tops = [run.top_speed(taking).number or 0.0 for run in runs.values()]
    fastest = _BEYOND * max(*tops, scene.own.targets.top_speed.number or 0.0, 0.0)
    return Drawn(
        dict(_envelopes(scene, pack)),
        {name: _force(scene.fed["half"], run, fastest) for name, run in runs.items()},
        dict(_roads(scene, fastest)),
    )


def _steps(most: float) -> tuple[float, ...]:
    return tuple(most * step / _POINTS for step in range(_POINTS + 1))


def _envelopes(scene: Scene, pack: PackDescription) -> Iterator[tuple[str, Curve]]:
    drive = scene.drive
    most = drive.max_speed.number
    if most is None or not drive.models or not all(model.known for model in drive.models):
        return
    for word, voltage in (("full", pack.v_max.number), ("lowest", pack.v_min.number)):
        if voltage is not None:
            speeds = _steps(min(most, *(model.reach(voltage) for model in drive.models)))
            torques = (sum(m.number(speed, voltage) for m in drive.models) for speed in speeds)
            yield f"{word} voltage, {voltage:.0f} V held", Curve(speeds, tuple(torques))
    for word, fed in scene.fed.items():
        if fed.known:
            speeds = _steps(fed.reach)
            torques = (fed.settle(speed).torque for speed in speeds)
            yield pack.states[word].says, Curve(speeds, tuple(torques))


def _force(fed: Fed, in_gear: InGear, fastest: float) -> Curve:
    limit = in_gear.limit.number
    if not in_gear.known or limit is None:
        return _NOTHING
    speeds = _steps(min(limit, fastest, fed.reach / in_gear.turns))
    torques = (fed.settle(speed * in_gear.turns).torque for speed in speeds)
    return Curve(speeds, tuple(torque * in_gear.per_torque for torque in torques))


def _roads(scene: Scene, fastest: float) -> Iterator[tuple[float, Curve]]:
    taking, mass = scene.taking, scene.driver.number
    if not taking.known or mass is None or not fastest:
        return
    f0, f1, f2 = (value.number or 0.0 for value in (taking.f0, taking.f1, taking.f2))
    wanted = scene.own.targets.hill_grade.number
    grades = {grade for grade in _GRADES if wanted is None or abs(grade - wanted) > _APART}
    grades |= {wanted} if wanted is not None else set()
    for grade in sorted(grades):
        speeds = _steps(fastest)
        forces = (driving_force(f0, f1, f2, speed, mass, grade) for speed in speeds)
        yield grade, Curve(speeds, tuple(forces))
