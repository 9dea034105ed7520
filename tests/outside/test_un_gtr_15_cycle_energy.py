"""Energy that a trace takes at the wheels, by the method of a test regulation.

Source: UN GTR No. 15, Annex 7, cycle energy demand, from memory: over all steps in which the force
F = f0 + f1 v + f2 v² + 1.03 m a is above nought, the sum of F d, with v the mean of the two speeds,
a their difference over the step and d the distance. Worked out here on whole arrays.
"""

from __future__ import annotations

import numpy as np
import pytest

from vehicles import maps, mixed, parameters
from wattwright.uses.inputs import Trace
from wattwright.uses.runs import run

ROTATING = 1.03


def demand(trace, mass, f0, f1, f2):
    mean = (trace.speeds[1:] + trace.speeds[:-1]) / 2
    acceleration = np.diff(trace.speeds) / trace.steps
    force = f0 + f1 * mean + f2 * mean**2 + ROTATING * mass * acceleration
    distance = mean * trace.steps
    driving = force > 0
    return (force * distance)[driving].sum(), (force * distance)[~driving].sum()


@pytest.mark.parametrize("seconds", [600, 1800])
@pytest.mark.parametrize("mass", [900.0, 1500.0])
@pytest.mark.parametrize("road", [(90.0, 0.0, 0.35), (190.0, 2.5, 0.5)])
def test_energy_at_the_wheels_is_the_cycle_energy_demand(seconds, mass, road):
    waves = mixed(seconds, fastest=25.0)
    trace = Trace(waves.steps, waves.speeds)
    f0, f1, f2 = road
    p = parameters(mass=mass, equivalent_mass=ROTATING * mass, f0=f0, f1=f1, f2=f2)
    result = run(trace, p, maps())
    assert result.shortfall.speed == 0
    work = result.wheel_force * np.diff(trace.times) * (result.speed[1:] + result.speed[:-1]) / 2
    driving, braking = demand(trace, mass, f0, f1, f2)
    assert work[result.wheel_force > 0].sum() == pytest.approx(driving, rel=1e-12)
    assert work[result.wheel_force < 0].sum() == pytest.approx(braking, rel=1e-9)


def test_the_shaft_gives_that_energy_over_the_efficiency_of_the_gears():
    waves = mixed(600)
    trace = Trace(waves.steps, waves.speeds)
    p = parameters(equivalent_mass=ROTATING * 1200.0)
    result = run(trace, p, maps())
    driving, _ = demand(trace, 1200.0, p.f0, p.f1, p.f2)
    shaft = (result.shaft_power * trace.steps)[result.shaft_power > 0].sum()
    assert shaft == pytest.approx(driving / p.driveline_efficiency, rel=1e-12)
