"""Motor on a sagging pack: by hand, power that balances, and limits that meet where they should."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import fed_by_pack as fed
from wattwright.physics import pack_voltage

torques = st.floats(0.0, 300.0)
speeds = st.floats(1.0, 1000.0)
shares = st.floats(0.3, 1.0)
auxiliaries = st.floats(0.0, 5000.0)
rest_voltages = st.floats(50.0, 800.0)
resistances = st.floats(0.01, 1.0)


def test_power_by_hand() -> None:
    # 100 N·m at 300 rad/s are 30 kW; at 90 % 33.33 kW, and half a kilowatt beside it
    assert fed.dc_power(100.0, 300.0, 0.9, 500.0) == pytest.approx(33_833.333, abs=1e-3)
    assert fed.dc_power_of(30_000.0, 0.9, 500.0) == pytest.approx(33_833.333, abs=1e-3)
    assert fed.torque_at_power(33_833.3333, 500.0, 300.0, 0.9) == pytest.approx(100.0)
    # A shaft that stands takes nothing beyond what everything else takes.
    assert fed.dc_power(100.0, 0.0, 0.9, 500.0) == 500.0


@given(torques, speeds, shares, auxiliaries, rest_voltages, resistances)
def test_what_the_motor_takes_is_what_the_pack_gives(
    torque: float, speed: float, share: float, auxiliary: float, rest: float, resistance: float
) -> None:
    taken = fed.dc_power(torque, speed, share, auxiliary)
    assume(taken < 0.99 * rest**2 / (4 * resistance))
    voltage = pack_voltage.voltage_at_power(taken, rest, resistance)
    current = pack_voltage.current_at_power(taken, rest, resistance)
    assert voltage * current == pytest.approx(torque * speed / share + auxiliary, abs=1e-6)
    assert voltage == pytest.approx(rest - resistance * current)
    # The higher of the two voltages at which a source gives this power.
    assert voltage >= rest / 2


@given(st.floats(0.0, 2e5), speeds, shares, auxiliaries)
def test_power_and_torque_are_two_sides_of_one_balance(
    power: float, speed: float, share: float, auxiliary: float
) -> None:
    torque = fed.torque_at_power(power, auxiliary, speed, share)
    power = max(power, auxiliary)
    assert fed.dc_power(torque, speed, share, auxiliary) == pytest.approx(power, abs=1e-6)
    assert fed.dc_power_of(torque * speed, share, auxiliary) == pytest.approx(power, abs=1e-6)


def test_a_pack_that_feeds_less_than_the_rest_takes_leaves_no_torque() -> None:
    assert fed.torque_at_power(300.0, 500.0, 100.0, 0.9) == 0.0


@pytest.mark.parametrize("share", [0.0, -0.1, 1.0001])
def test_an_efficiency_that_is_none_is_refused(share: float) -> None:
    with pytest.raises(FormulaError, match="above 0 and is 1 at most"):
        fed.dc_power(10.0, 10.0, share, 0.0)
    with pytest.raises(FormulaError, match="above 0 and is 1 at most"):
        fed.dc_power_of(10.0, share, 0.0)


@pytest.mark.parametrize("speed", [0.0, -1.0])
def test_at_standstill_a_power_gives_no_particular_torque(speed: float) -> None:
    with pytest.raises(FormulaError, match="at standstill"):
        fed.torque_at_power(1000.0, 0.0, speed, 0.9)


def test_torques_on_one_shaft_add_up_and_the_weaker_limit_rules() -> None:
    assert fed.total_torque([71.0, 20.0, 9.0]) == 100.0
    assert fed.weaker_torque(71.0, 50.0) == fed.weaker_torque(50.0, 71.0) == 50.0


# ------------------------------------------------------------------------------------- settling


@given(st.floats(10.0, 200.0), st.floats(-5.0, 0.0), st.floats(-20.0, 20.0))
def test_where_the_answer_is_a_straight_line_one_step_is_the_whole_way(
    settled: float, gain: float, off: float
) -> None:
    def answer(trial: float) -> float:
        return settled + gain * (trial - settled)

    trial = settled + off
    found = fed.settled_torque(trial, answer(trial), gain)
    assert found == pytest.approx(settled)
    # There trial and answer agree, and no step moves it any more.
    assert fed.settled_torque(found, answer(found), gain) == pytest.approx(found)


def test_torque_that_raises_its_own_voltage_is_refused() -> None:
    with pytest.raises(FormulaError, match="cannot raise the voltage"):
        fed.settled_torque(10.0, 11.0, 0.01)


@given(st.floats(10.0, 50.0), st.floats(-2.0, 2.0), st.floats(1.0, 100.0))
def test_speed_settles_where_a_straight_force_meets_a_straight_road_load(
    settled: float, off: float, rise: float
) -> None:
    # Force falls by as much as the road load gains on it.
    trial = settled + off
    surplus = -rise * off
    assert fed.settled_speed(trial, 1000.0 + surplus, 1000.0, rise) == pytest.approx(settled)


@pytest.mark.parametrize("rise", [0.0, -3.0])
def test_a_road_load_that_does_not_gain_settles_nowhere(rise: float) -> None:
    with pytest.raises(FormulaError, match="does not gain"):
        fed.settled_speed(30.0, 1000.0, 900.0, rise)


# -------------------------------------------------------------------------------------- current


@pytest.mark.parametrize(
    ("limit", "lowest", "current"),
    [
        (100.0, 288.0, 100.0),  # its own limit: (350 - 288)/0.4 would be 155 A
        (400.0, 288.0, 155.0),  # the lowest voltage
        (900.0, 100.0, 437.5),  # half of 350 V, at which a source gives most power
        (900.0, 175.0, 437.5),
    ],
)
def test_each_limit_of_a_pack_rules_in_its_turn(
    limit: float, lowest: float, current: float
) -> None:
    assert fed.allowed_current(limit, lowest, 350.0, 0.4) == pytest.approx(current)


@given(st.floats(1.0, 2000.0), st.floats(0.0, 0.999), rest_voltages, resistances)
def test_no_current_goes_past_a_limit(
    limit: float, share: float, rest: float, resistance: float
) -> None:
    current = fed.allowed_current(limit, share * rest, rest, resistance)
    left = rest - current * resistance
    assert 0 < current <= limit
    assert left >= max(share, 0.5) * rest - 1e-9
    # A limit that is not touched leaves another that is.
    assert current == limit or left == pytest.approx(max(share, 0.5) * rest)


@pytest.mark.parametrize(
    ("rest", "resistance", "message"),
    [(350.0, 0.0, "without resistance"), (288.0, 0.4, "not above"), (250.0, 0.4, "not above")],
)
def test_a_pack_that_has_no_such_current_is_refused(
    rest: float, resistance: float, message: str
) -> None:
    with pytest.raises(FormulaError, match=message):
        fed.allowed_current(400.0, 288.0, rest, resistance)


# ----------------------------------------------------------------------------------------- heat


def test_heat_of_three_phases_by_hand() -> None:
    # 240 A peak are 169.7 A rms: three times 169.7² * 0.02 Ω = 1728 W
    assert fed.copper_loss(0.02, 240.0) == pytest.approx(1728.0)
    assert fed.copper_loss(0.02, 240.0) == pytest.approx(3 * 0.02 * (240 / math.sqrt(2)) ** 2)


def test_warming_by_hand() -> None:
    # 1728 W through 60 K/kW end 103.68 K above 60 °C; 80 K of it after 240 s * ln(1/(1 - 0.7716))
    time = fed.time_to_limit(4000.0, 0.06, 1728.0, 333.15, 413.15)
    assert time == pytest.approx(240.0 * math.log(103.68 / 23.68))
    assert time == pytest.approx(354.4, abs=0.05)


@given(st.floats(500.0, 20_000.0), st.floats(0.01, 0.2), st.floats(1.0, 100.0), st.floats(1.1, 20))
def test_warming_step_by_step_takes_the_same_time(
    capacity: float, resistance: float, rise: float, over: float
) -> None:
    loss = over * rise / resistance
    time = fed.time_to_limit(capacity, resistance, loss, 300.0, 300.0 + rise)
    # Runge's middle point: the error left is the third power of a step, one in four thousand.
    warm, steps = 0.0, 4000
    step = time / steps
    for _ in range(steps):
        middle = warm + step / 2 * (loss - warm / resistance) / capacity
        warm += step * (loss - middle / resistance) / capacity
    assert warm == pytest.approx(rise, rel=1e-4)
    # Without a way out for the heat it would take C ΔT/P, which is less.
    assert time >= capacity * rise / loss


@pytest.mark.parametrize(
    ("loss", "limit", "message"),
    [
        (0.0, 400.0, "must warm it"),
        (1000.0, 300.0, "must warm it"),
        (1000.0, 360.0, "never warms it"),  # 60 K above the coolant, and that is where it ends
    ],
)
def test_a_loss_that_never_gets_there_is_refused(loss: float, limit: float, message: str) -> None:
    with pytest.raises(FormulaError, match=message):
        fed.time_to_limit(4000.0, 0.06, loss, 300.0, limit)
