"""Motor curves: by hand, and scaling with voltage against the equations of the machine."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics import motor_curve, pmsm

SPEEDS = [0.0, 100.0, 200.0, 400.0]
TORQUES = [220.0, 200.0, 120.0, 40.0]
MACHINES = {
    "salient, current reaches past the magnets": (3.0, 0.066, 0.37e-3, 1.2e-3),
    "salient, magnets stronger than the current": (4.0, 0.12, 0.3e-3, 0.7e-3),
    "surface magnets": (4.0, 0.05, 0.2e-3, 0.2e-3),
}

numbers = st.floats(0.1, 1000.0)


@pytest.mark.parametrize(
    ("speed", "torque"),
    [(0.0, 220.0), (50.0, 210.0), (100.0, 200.0), (150.0, 160.0), (300.0, 80.0), (400.0, 40.0)],
)
def test_between_points_the_curve_is_straight(speed: float, torque: float) -> None:
    assert motor_curve.torque_on_curve(speed, SPEEDS, TORQUES) == pytest.approx(torque)


def test_below_the_first_point_the_curve_is_level_and_beyond_the_last_unknown() -> None:
    assert motor_curve.torque_on_curve(20.0, SPEEDS[1:], TORQUES[1:]) == 200.0
    with pytest.raises(FormulaError, match=r"ends below this speed"):
        motor_curve.torque_on_curve(400.1, SPEEDS, TORQUES)


@pytest.mark.parametrize(
    ("speeds", "torques", "message"),
    [
        ([0.0], [1.0], "two points or more"),
        ([], [], "two points or more"),
        ([0.0, 1.0], [1.0, 2.0, 3.0], "two points or more"),
        ([0.0, 1.0, 1.0], [3.0, 2.0, 1.0], "must grow"),
        ([0.0, 2.0, 1.0], [3.0, 2.0, 1.0], "must grow"),
    ],
)
def test_a_curve_that_is_none_is_refused(
    speeds: list[float], torques: list[float], message: str
) -> None:
    with pytest.raises(FormulaError, match=message):
        motor_curve.torque_on_curve(0.5, speeds, torques)
    with pytest.raises(FormulaError, match=message):
        motor_curve.torques_on_curve(np.array([0.5]), speeds, torques)


@given(st.lists(st.tuples(numbers, numbers), min_size=2, max_size=8), st.floats(0.0, 1.0))
def test_the_array_of_a_curve_is_the_curve(rows: list[tuple[float, float]], share: float) -> None:
    speeds = list(np.cumsum([step for step, _ in rows]))
    torques = [torque for _, torque in rows]
    speed = share * speeds[-1]
    one = motor_curve.torque_on_curve(speed, speeds, torques)
    many = motor_curve.torques_on_curve(np.array([speed, speeds[-1] * 1.01]), speeds, torques)
    assert many[0] == pytest.approx(one, rel=1e-9)
    assert np.isnan(many[1])
    assert min(torques) * (1 - 1e-12) <= one <= max(torques) * (1 + 1e-12)


@given(numbers, numbers, st.floats(0.0, 5000.0))
def test_ratings_give_the_smaller_of_torque_and_power(
    torque: float, kilowatts: float, speed: float
) -> None:
    power = 1e3 * kilowatts
    want = min(torque, power / speed) if speed else torque
    one = motor_curve.torque_of_ratings(speed, torque, power)
    assert one == pytest.approx(want)
    many = motor_curve.torques_of_ratings(np.array([0.0, speed]), torque, power)
    assert many == pytest.approx([torque, one])
    assert motor_curve.shaft_power(one, speed) <= power * (1 + 1e-12)
    corner = motor_curve.corner_speed(torque, power)
    assert motor_curve.shaft_power(torque, corner) == pytest.approx(power)


def test_ratings_by_hand() -> None:
    # 200 N·m and 60 kW meet at 300 rad/s
    assert motor_curve.corner_speed(200.0, 60e3) == 300.0
    assert motor_curve.torque_of_ratings(250.0, 200.0, 60e3) == 200.0
    assert motor_curve.torque_of_ratings(600.0, 200.0, 60e3) == 100.0
    with pytest.raises(FormulaError, match="above zero"):
        motor_curve.torque_of_ratings(600.0, 0.0, 60e3)
    with pytest.raises(FormulaError, match="above zero"):
        motor_curve.torque_of_ratings(600.0, 200.0, 0.0)
    with pytest.raises(FormulaError, match="above zero"):
        motor_curve.corner_speed(0.0, 60e3)


def test_voltage_by_hand() -> None:
    # 350 V motor on 210 V: six tenths; 300 rad/s then is what 500 rad/s was
    ratio = motor_curve.voltage_ratio(210.0, 350.0)
    assert ratio == pytest.approx(0.6)
    assert motor_curve.equivalent_speed(300.0, ratio) == pytest.approx(500.0)
    assert motor_curve.power_at_voltage(60e3, ratio) == pytest.approx(36e3)
    for function in (motor_curve.equivalent_speed, motor_curve.power_at_voltage):
        assert declaration(function).outside([1.0, 0.6]) == ()
        assert declaration(function).outside([1.0, 0.29]) != ()
        assert declaration(function).outside([1.0, 1.21]) != ()
    for voltages in ((0.0, 350.0), (210.0, 0.0)):
        with pytest.raises(FormulaError, match="above zero"):
            motor_curve.voltage_ratio(*voltages)
    with pytest.raises(FormulaError, match="above zero"):
        motor_curve.equivalent_speed(300.0, 0.0)


@given(numbers, st.floats(10.0, 300.0), st.floats(0.3, 1.2), st.floats(0.0, 2000.0))
def test_ratings_scale_as_curves_do(
    torque: float, kilowatts: float, ratio: float, speed: float
) -> None:
    power = 1e3 * kilowatts
    by_speed = motor_curve.torque_of_ratings(
        motor_curve.equivalent_speed(speed, ratio), torque, power
    )
    by_power = motor_curve.torque_of_ratings(
        speed, torque, motor_curve.power_at_voltage(power, ratio)
    )
    assert by_speed == pytest.approx(by_power)


@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
@pytest.mark.parametrize("voltage", [105.0, 210.0, 300.0, 420.0])
def test_scaling_is_exact_for_a_machine_without_resistance(
    machine: tuple[float, ...], voltage: float
) -> None:
    """At every speed: level part, field weakening, and most torque per volt."""
    speeds = np.linspace(0.0, 3000.0, 301)
    ratio = motor_curve.voltage_ratio(voltage, 350.0)
    on_curve = np.array([motor_curve.equivalent_speed(float(w), ratio) for w in speeds])
    here = pmsm.envelope(speeds, voltage, 240.0, *machine, 0.0)
    scaled = pmsm.envelope(on_curve, 350.0, 240.0, *machine, 0.0)
    assert here == pytest.approx(scaled, rel=1e-9, abs=1e-6)
    assert here[0] > 2 * here[-1]


def test_power_beyond_the_corner_goes_with_the_voltage() -> None:
    speeds = np.linspace(1.0, 3000.0, 6000)
    powers = {
        voltage: float((speeds * pmsm.envelope(speeds, voltage, 240.0, *machine, 0.0)).max())
        for machine in [MACHINES["surface magnets"]]
        for voltage in (150.0, 300.0)
    }
    assert powers[150.0] == pytest.approx(
        motor_curve.power_at_voltage(powers[300.0], 0.5), rel=1e-4
    )


def test_resistance_makes_the_scaled_curve_a_little_too_good() -> None:
    machine = (*MACHINES["salient, current reaches past the magnets"], 0.018)
    speeds = np.linspace(150.0, 400.0, 26)
    here = pmsm.envelope(speeds, 210.0, 240.0, *machine)
    scaled = pmsm.envelope(speeds / 0.6, 350.0, 240.0, *machine)
    assert (here <= scaled * (1 + 1e-9)).all()
    assert (here >= 0.95 * scaled).all()


@given(st.floats(0.0, 400.0), st.floats(0.0, 400.0))
def test_a_falling_curve_gives_a_falling_torque(one: float, two: float) -> None:
    slow, fast = sorted((one, two))
    assert all(after < before for before, after in pairwise(TORQUES))
    assert motor_curve.torque_on_curve(fast, SPEEDS, TORQUES) <= motor_curve.torque_on_curve(
        slow, SPEEDS, TORQUES
    )


def test_importing_the_module_brings_no_numerics_library() -> None:
    code = "import sys, wattwright.physics.motor_curve; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


# -------------------------------------------------------------------------- sums, shares and losses


def test_sums_and_shares_by_hand() -> None:
    assert motor_curve.total_power([20e3, 15e3]) == 35e3
    assert motor_curve.torque_within(200.0, 0.0) == 200.0
    assert motor_curve.torque_within(200.0, -0.05) == pytest.approx(190.0)
    # 90 % of one gear and 95 % behind it leave 85.5 %.
    assert motor_curve.power_at_wheels(20e3, 0.9 * 0.95) == pytest.approx(17.1e3)


@pytest.mark.parametrize("share", [0.0, -0.5, 1.01])
def test_power_through_gears_that_are_none_is_refused(share: float) -> None:
    with pytest.raises(FormulaError, match="above 0 and is 1 at most"):
        motor_curve.power_at_wheels(20e3, share)
