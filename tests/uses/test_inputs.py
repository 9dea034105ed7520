"""What cannot be driven is refused, by name."""

from __future__ import annotations

import math

import numpy as np
import pytest

from vehicles import maps, mixed, parameters
from wattwright.errors import UseError
from wattwright.uses.inputs import NAMES, Parameters, Trace, fitting


def test_a_trace_keeps_its_own_copy_and_knows_its_instants():
    steps = np.ones(3)
    trace = Trace(steps, [0, 1, 2, 3], 0.1)
    steps[0] = 9.0
    assert trace.times.tolist() == [0, 1, 2, 3]
    assert trace.grades.tolist() == [0.1] * 3
    assert trace.sines == pytest.approx([0.1 / math.sqrt(1.01)] * 3)


@pytest.mark.parametrize(
    ("steps", "speeds", "grades", "says"),
    [
        ([1, 1], [0, 1], 0.0, "one more speed"),
        ([1, 0], [0, 1, 2], 0.0, "takes some time"),
        ([1, -1], [0, 1, 2], 0.0, "takes some time"),
        ([1, 1], [0, -1, 2], 0.0, "below nought"),
        ([1, math.nan], [0, 1, 2], 0.0, "finite"),
        ([1, 1], [0, math.inf, 2], 0.0, "finite"),
        ([1, 1], [0, 1, 2], [0.0, math.nan], "finite"),
        ([], [0], 0.0, "hold something"),
    ],
)
def test_a_trace_that_cannot_be_driven_is_refused(steps, speeds, grades, says):
    with pytest.raises(UseError, match=says):
        Trace(steps, speeds, grades)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"mass": 0.0}, "mass must be above"),
        ({"heat_capacity_pack": 0.0}, "heat_capacity_pack must be above"),
        ({"auxiliary": -1.0}, "auxiliary must not be below"),
        ({"ratio": math.nan}, "ratio must be a finite"),
        ({"equivalent_mass": 1000.0}, "equivalent mass"),
        ({"driveline_efficiency": 1.1}, "driveline efficiency"),
        ({"motor_loss_share": 1.1}, "share of the loss"),
        ({"regen_fade_low": 4.0}, "fades"),
        ({"regen_taper_from": 1.0}, "tapers"),
        ({"regen_current_full": 500.0}, "charging current"),
        ({"cold_factor": 0.9}, "cold"),
        ({"cold_temperature": 300.0}, "cold"),
        ({"lowest_voltage": 500.0}, "lowest voltage"),
        ({"start_charge": 1.1}, "charge at the beginning"),
        ({"end_charge": 0.95}, "charge at the end"),
    ],
)
def test_parameters_that_make_no_sense_are_refused(changes, says):
    with pytest.raises(UseError, match=says):
        parameters(**changes)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"charges": np.array([0.0, 0.5, 0.5])}, "grow"),
        ({"charges": np.array([0.0])}, "grow"),
        ({"open_circuit": np.array([300.0, 400.0])}, "one height"),
        ({"losses": np.ones((2, 2))}, "one height"),
        ({"losses": np.ones(5)}, "dimension"),
        ({"losses": np.full((25, 12), -1.0)}, "not below"),
        ({"loss_torques": np.linspace(0, 100, 12)}, "highest limit"),
        ({"open_circuit": np.zeros(9)}, "not below"),
    ],
)
def test_maps_that_make_no_sense_are_refused(changes, says):
    with pytest.raises(UseError, match=says):
        maps(**changes)


def test_maps_must_reach_the_highest_speed_of_the_motor():
    with pytest.raises(UseError, match="highest speed"):
        fitting([parameters(), parameters(highest_motor_speed=1300.0)], maps())


def test_the_vector_holds_every_number_at_its_place():
    p = parameters(mass=777.0)
    assert p.vector[Parameters.index("mass")] == 777.0
    assert [p.vector[Parameters.index(name)] == getattr(p, name) for name in NAMES]
    assert len(p.vector) == len(NAMES)


def test_windows_begin_where_they_should():
    trace = Trace([1.0, 2.0, 4.0, 8.0], [0, 1, 1, 1, 0])
    begins, shares = (each.reshape(4, 5) for each in trace.windows)
    # Of 1 s: from 0, 2, 6 and 14 s on.
    assert begins[0].tolist() == [-1, 0, 1, 2, 3]
    assert shares[0, 1:].tolist() == pytest.approx([0.0, 0.5, 0.75, 0.875])
    assert (begins[2:] == -1).all()
    assert mixed(60).windows[0].reshape(4, 61)[2].tolist() == [-1] * 60 + [0]
