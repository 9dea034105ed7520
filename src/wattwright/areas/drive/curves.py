"""Curves to draw: the motors at several voltages, and force against road load in each gear."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive.gear import InGear
from wattwright.areas.drive.performance import Scene
from wattwright.descriptions.drive import Curve, Drawn
from wattwright.descriptions.pack import PackDescription
from wattwright.physics.tractive import driving_force

_POINTS = 120
_GRADES = (0.0, 0.05, 0.10, 0.15, 0.20)
_NOTHING = Curve((), ())


def curves(scene: Scene, pack: PackDescription) -> Drawn:
    """Work out all curves; empty ones where something is missing."""
    gears = scene.own.drive.gear
    force = {
        name: {word: _force(scene.in_gear(gear, word)) for word in scene.fed}
        for name, gear in gears.items()
    }
    fastest = max(
        (curve.x[-1] for by in force.values() for curve in by.values() if curve.x), default=0.0
    )
    return Drawn(dict(_envelopes(scene, pack)), force, dict(_roads(scene, fastest)))


def _steps(most: float) -> tuple[float, ...]:
    return tuple(most * step / _POINTS for step in range(_POINTS + 1))


def _envelopes(scene: Scene, pack: PackDescription) -> Iterator[tuple[str, Curve]]:
    drive = scene.drive
    most = drive.max_speed.number
    if most is None or not drive.models or not all(model.known for model in drive.models):
        return
    for word, voltage in (("full", pack.v_max.number), ("lowest", pack.v_min.number)):
        if voltage is not None:
            speeds = _steps(most)
            torques = (sum(m.number(speed, voltage) for m in drive.models) for speed in speeds)
            yield f"{word} voltage, {voltage:.0f} V held", Curve(speeds, tuple(torques))
    for word, fed in scene.fed.items():
        if fed.known:
            speeds = _steps(most)
            torques = (fed.settle(speed).torque for speed in speeds)
            yield pack.states[word].says, Curve(speeds, tuple(torques))


def _force(in_gear: InGear) -> Curve:
    limit = in_gear.limit.number
    if not in_gear.known or limit is None:
        return _NOTHING
    speeds = _steps(limit)
    return Curve(speeds, tuple(in_gear.exactly(speed) for speed in speeds))


def _roads(scene: Scene, fastest: float) -> Iterator[tuple[float, Curve]]:
    taking, mass = scene.taking(), scene.driver.number
    if not taking.known or mass is None or not fastest:
        return
    f0, f1, f2 = (value.number or 0.0 for value in (taking.f0, taking.f1, taking.f2))
    wanted = scene.own.targets.hill_grade.number
    grades = {*_GRADES, *([wanted] if wanted is not None else [])}
    for grade in sorted(grades):
        speeds = _steps(fastest)
        forces = (driving_force(f0, f1, f2, speed, mass, grade) for speed in speeds)
        yield grade, Curve(speeds, tuple(forces))
