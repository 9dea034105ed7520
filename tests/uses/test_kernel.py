"""The loop over time: energies balance, limits hold, and both forms agree."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vehicles import chance, maps, mixed, parameters
from wattwright.uses import places as at
from wattwright.uses.inputs import NAMES, Maps, Trace
from wattwright.uses.results import HELD_BACK_BY, SUMMARY, Balance
from wattwright.uses.runs import run, run_many

MAPS = maps()
SEEDS = st.integers(0, 2**32 - 1)
KMH = 1 / 3.6


def level(speeds, step=1.0, grade=0.0):
    return Trace(np.full(len(speeds) - 1, step), np.asarray(speeds, float), grade)


def held_back_by(result):
    return {HELD_BACK_BY[int(place)] for place in result.held_back_by} - {"nothing"}


# ----------------------------------------------------------------------------------------- vectors


def test_places_are_those_of_the_fields_and_columns():
    assert [getattr(at, name.upper()) for name in NAMES] == list(range(len(NAMES)))
    assert len(SUMMARY) == at.COLUMNS == len(set(SUMMARY))
    energies = [field.name for field in fields(Balance)]
    assert list(SUMMARY[: len(energies)]) == energies
    assert SUMMARY[at.ENDED_AT] == "ended_at"
    assert SUMMARY[at.PEAK_PACK] == "peak_pack"
    assert SUMMARY[at.LOWEST_HELD] == "lowest_voltage"
    assert SUMMARY[at.RMS_600_S] == "rms_600_s"


# --------------------------------------------------------------------------------------- balances


@given(SEEDS)
@settings(max_examples=150, deadline=None)
def test_energies_balance_to_round_off(seed):
    trace, drawn = chance(seed)
    result = run(trace, drawn, MAPS, compiled=False)
    parts = [abs(getattr(result.balance, field.name)) for field in fields(Balance)]
    # Motion is balanced through forces whose inertia may be far larger than what is left.
    moved = np.abs(result.wheel_force).sum() * 30 if result.steps else 0.0
    assert abs(result.balance.closure) <= 1e-13 * (sum(parts) + moved)


@given(SEEDS)
@settings(max_examples=100, deadline=None)
def test_the_traces_say_the_same_as_the_balance(seed):
    trace, drawn = chance(seed)
    result = run(trace, drawn, MAPS, compiled=False)
    steps = trace.steps[: result.steps]
    balance = result.balance
    near = {"rel": 1e-9, "abs": 1e-6}
    dc = (result.dc_power * steps).sum()
    assert balance.at_terminals == pytest.approx(dc, **near)
    assert np.allclose(result.voltage * result.current, result.dc_power, rtol=1e-11, atol=1e-7)
    loss = dc - balance.auxiliary - balance.heater - (result.shaft_power * steps).sum()
    assert balance.drive_loss == pytest.approx(loss, **near)
    drained = (result.current * steps).sum() / drawn.capacity
    assert result.charge[0] - result.charge[-1] == pytest.approx(drained, abs=1e-12)
    gained = result.speed[-1] ** 2 - result.speed[0] ** 2
    assert balance.kinetic == pytest.approx(drawn.equivalent_mass * gained / 2, **near)
    assert result.summary["last_charge"] == result.charge[-1]
    assert result.summary["peak_motor"] == result.motor.max()


@given(SEEDS)
@settings(max_examples=100, deadline=None)
def test_limits_hold_at_every_step(seed):
    trace, drawn = chance(seed)
    result = run(trace, drawn, MAPS, compiled=False)
    assert (result.speed >= 0).all()
    assert (result.speed <= trace.speeds[: len(result.speed)] + 1e-9).all() or drawn.f1 < 0
    assert (result.brake_force <= 0).all()
    pulling = result.torque > 0
    current, voltage = result.current[pulling], result.voltage[pulling]
    assert (current <= drawn.discharge_current * (1 + 1e-6)).all()
    assert (voltage >= drawn.lowest_voltage * (1 - 1e-9)).all()
    assert (result.current >= -drawn.regen_current * (1 + 1e-9)).all()
    assert (result.voltage[result.torque < 0] <= drawn.highest_voltage * (1 + 1e-9)).all()
    assert (result.charge <= 1 + 1e-12).all()
    top = drawn.highest_motor_speed * drawn.rolling_radius / drawn.ratio
    assert (result.speed <= top * (1 + 1e-12)).all()
    for name in ("drive_loss", "driveline_loss", "brakes", "pack_heat", "recovered"):
        assert getattr(result.balance, name) >= -1e-6, name


@pytest.mark.parametrize("seconds", [1800])
def test_half_the_step_changes_energies_by_less_than_a_thousandth(seconds):
    whole = mixed(seconds)
    times = np.arange(0, seconds + 0.25, 0.5)
    halves = Trace(
        np.full(len(times) - 1, 0.5),
        np.interp(times, whole.times, whole.speeds),
        np.repeat(whole.grades, 2),
    )
    coarse, fine = (run(trace, parameters(), MAPS).balance for trace in (whole, halves))
    assert fine.chemistry == pytest.approx(coarse.chemistry, rel=1e-3)
    assert fine.drive_loss == pytest.approx(coarse.drive_loss, rel=1e-3)
    assert fine.recovered == pytest.approx(coarse.recovered, rel=3e-3)


# ------------------------------------------------------------------------------ both forms agree


@pytest.mark.xdist_group("compiled")
@pytest.mark.parametrize("seed", range(25))
def test_plain_and_compiled_agree_on_every_output(seed):
    trace, drawn = chance(seed)
    plain, compiled = (run(trace, drawn, MAPS, compiled=form) for form in (False, True))
    assert (plain.steps, plain.ended) == (compiled.steps, compiled.ended)
    for field in fields(plain):
        one, other = getattr(plain, field.name), getattr(compiled, field.name)
        if isinstance(one, np.ndarray):
            assert np.allclose(one, other, rtol=1e-9, atol=1e-9), field.name
    for name in SUMMARY:
        assert plain.summary[name] == pytest.approx(
            compiled.summary[name], rel=1e-9, abs=1e-6 if name in SUMMARY[:12] else 1e-9
        )


@pytest.mark.xdist_group("compiled")
@pytest.mark.parametrize("compiled", [False, True])
def test_many_runs_are_the_same_as_one_after_another(compiled):
    trace = mixed(240)
    vehicles = [parameters(mass=mass, equivalent_mass=mass + 60) for mass in range(700, 2700, 290)]
    table = run_many(trace, vehicles, MAPS, compiled=compiled)
    assert table.dtype.names == SUMMARY
    assert len(table) == len(vehicles)
    for row, vehicle in zip(table, vehicles, strict=True):
        alone = run(trace, vehicle, MAPS, compiled=False).summary
        assert dict(zip(SUMMARY, row, strict=True)) == pytest.approx(alone, rel=1e-9, abs=1e-6)
    assert run_many(trace, [], MAPS, compiled=compiled).shape == (0,)


def test_what_is_left_out_follows_from_the_number_of_steps_alone(monkeypatch):
    from wattwright.uses import runs

    asked = []
    monkeypatch.setattr(runs.fast, "available", lambda: asked.append(1) or True)
    assert not runs.use_compiled(runs.STEPS_THAT_PAY - 1, None)
    assert runs.use_compiled(runs.STEPS_THAT_PAY, None)
    monkeypatch.setattr(runs.fast, "available", lambda: False)
    assert not runs.use_compiled(10 * runs.STEPS_THAT_PAY, None)


# ------------------------------------------------------------------------------- closed forms


def test_a_steady_speed_takes_the_power_of_the_closed_form():
    """Road load over the efficiency, losses on top, and the current of the pack's quadratic."""
    v, p = 22.0, parameters(heater=500.0, ambient=300.0, start_pack=300.0)
    result = run(level([v] * 61, grade=0.02), p, MAPS)
    climb = p.mass * 9.80665 * 0.02 / math.sqrt(1 + 0.02**2)
    force = p.f0 + p.f1 * v + p.f2 * v**2 + climb
    speed = v * p.ratio / p.rolling_radius
    torque = force * p.rolling_radius / p.ratio / p.driveline_efficiency
    loss = bilinear(MAPS.loss_speeds, MAPS.loss_torques, MAPS.losses, speed, torque)
    power = force * v / p.driveline_efficiency + loss + p.auxiliary + p.heater
    assert result.dc_power == pytest.approx(np.full(60, power), rel=1e-12)
    assert result.wheel_force == pytest.approx(np.full(60, force), rel=1e-12)
    u0 = np.interp(0.9, MAPS.charges, MAPS.open_circuit)
    current = (u0 - math.sqrt(u0**2 - 4 * power * p.resistance)) / (2 * p.resistance)
    assert result.current[0] == pytest.approx(current, rel=1e-10)
    assert result.voltage[0] == pytest.approx(u0 - current * p.resistance, rel=1e-10)


def bilinear(rows, columns, heights, x, y):
    along = [np.interp(y, columns, row) for row in heights]
    return float(np.interp(x, rows, along))


def test_standstill_draws_what_is_drawn_all_the_time_and_nothing_else():
    p = parameters(heater=2000.0)
    result = run(level([0.0] * 11, grade=0.3), p, MAPS)
    assert (result.dc_power == 2300.0).all()
    assert result.distance == 0
    assert result.balance.drive_loss == result.balance.brakes == 0
    assert result.shortfall.distance == 0


def test_cold_makes_the_resistance_grow_exponentially():
    def resistance(temperature):
        p = parameters(start_pack=temperature, ambient=temperature, heater=5000.0)
        result = run(level([0.0, 0.0]), p, MAPS)
        u0 = np.interp(0.9, MAPS.charges, MAPS.open_circuit)
        return (u0 - result.voltage[0]) / result.current[0]

    assert resistance(298.15) == pytest.approx(0.1, rel=1e-9)
    assert resistance(273.15) == pytest.approx(0.21, rel=1e-9)
    assert resistance(248.15) == pytest.approx(0.441, rel=1e-9)
    assert resistance(310.0) == pytest.approx(0.1, rel=1e-9)


def test_root_mean_squares_by_window_are_those_of_the_current():
    result = run(trace := mixed(900), parameters(), MAPS)
    squares = result.current**2
    for name, length in (("rms_1_s", 1), ("rms_10_s", 10), ("rms_60_s", 60), ("rms_600_s", 600)):
        sums = np.convolve(squares, np.ones(length), "valid")
        assert result.summary[name] == pytest.approx(math.sqrt(sums.max() / length), rel=1e-12)
    assert result.summary["rms_whole"] == pytest.approx(math.sqrt(squares.mean()), rel=1e-12)
    # Where a window is longer than the run, the run is the window.
    short = run(Trace(trace.steps[:30], trace.speeds[:31]), parameters(), MAPS).summary
    assert short["rms_60_s"] == short["rms_600_s"] == short["rms_whole"]


# ------------------------------------------------------------------------------ what is not reached


def hard(seconds=20, reach=40.0):
    return level(np.linspace(0.0, reach, seconds + 1))


def test_too_little_torque_reaches_less_and_says_how_much():
    result = run(hard(), parameters(mass=3000.0, equivalent_mass=3100.0), MAPS)
    assert "torque" in held_back_by(result)
    assert result.steps == 20
    missed = hard().speeds - result.speed
    assert result.shortfall.speed == pytest.approx(missed.max())
    assert missed[result.shortfall.at] == missed.max() > 2
    wanted = (hard().speeds[1:] + hard().speeds[:-1]).sum() / 2
    assert result.shortfall.distance == pytest.approx(wanted - result.distance)
    slow = result.motor_speed < 300
    held = result.held_back_by[slow] == at.BY_TORQUE
    assert held.any()
    assert result.torque[slow][held] == pytest.approx(220.0, rel=1e-9)


def test_the_limit_of_torque_is_that_at_the_voltage_which_the_power_leaves():
    result = run(hard(40, 50.0), parameters(resistance=0.2), MAPS)
    held = (result.held_back_by == at.BY_TORQUE) & (result.motor_speed > 450)
    assert held.sum() > 5
    for speed, voltage, torque in zip(
        result.motor_speed[held], result.voltage[held], result.torque[held], strict=True
    ):
        limit = bilinear(
            MAPS.torque_speeds, MAPS.torque_voltages, MAPS.torque_limits, speed, voltage
        )
        assert torque == pytest.approx(limit, rel=1e-8)


def test_a_weak_pack_limits_by_current_and_by_voltage():
    by_current = run(hard(), parameters(discharge_current=90.0), MAPS)
    assert "pack power" in held_back_by(by_current)
    assert by_current.current.max() == pytest.approx(90.0, rel=1e-8)
    by_voltage = run(hard(), parameters(lowest_voltage=385.0), MAPS)
    assert "pack power" in held_back_by(by_voltage)
    assert by_voltage.voltage.min() == pytest.approx(385.0, rel=1e-9)


@pytest.mark.parametrize(
    ("changes", "share", "why"),
    [
        ({"start_motor": 403.15}, 0.5, "motor temperature"),
        ({"start_inverter": 350.65}, 0.25, "inverter temperature"),
    ],
)
def test_heat_takes_torque_away_evenly_up_to_the_limit(changes, share, why):
    result = run(level([0.0, 5.0]), parameters(**changes), MAPS)
    assert held_back_by(result) == {why}
    assert result.torque[0] == pytest.approx(share * 220.0, rel=1e-8)


def test_a_hot_pack_gives_a_part_of_its_power_and_at_its_limit_none():
    cool = run(hard(), parameters(discharge_current=90.0), MAPS)
    everywhere = {"ambient": 323.15, "start_pack": 323.15, "start_pack_coolant": 323.15}
    warm = run(hard(), parameters(discharge_current=90.0, **everywhere), MAPS)
    assert "pack temperature" in held_back_by(warm)
    assert warm.dc_power.max() - 300 == pytest.approx((cool.dc_power.max() - 300) / 2, rel=0.02)
    hot = run(hard(), parameters(start_pack=330.0, ambient=330.0, start_pack_coolant=330.0), MAPS)
    assert hot.distance == 0
    assert (hot.dc_power == 300).all()


def test_too_steep_a_hill_ends_in_a_stand_and_never_backwards():
    speeds = [12.0] * 40
    result = run(level(speeds, grade=0.6), parameters(ratio=4.0), MAPS)
    assert result.speed[-1] == 0
    assert (np.diff(result.speed) <= 0).all()
    assert (result.torque >= 0).all()
    assert abs(result.balance.closure) < 1e-9 * result.balance.climb
    energy = parameters().equivalent_mass * 12.0**2 / 2
    assert -result.balance.kinetic == pytest.approx(energy)


def test_a_pack_without_power_lets_the_vehicle_coast():
    p = parameters(start_pack=330.0, ambient=330.0, start_pack_coolant=330.0)
    result = run(level([20.0] * 31), p, MAPS)
    assert (result.torque == 0).all()
    lost = 1260 * (20.0**2 - result.speed[-1] ** 2) / 2
    assert lost == pytest.approx(result.balance.rolling + result.balance.air, rel=1e-12)


def test_the_highest_speed_of_the_motor_is_the_vehicles():
    result = run(level(np.linspace(20.0, 50.0, 61)), parameters(highest_motor_speed=800.0), MAPS)
    assert result.speed[-1] == pytest.approx(800.0 * 0.29 / 8.0)
    assert "highest speed" in held_back_by(result)


def test_an_empty_pack_ends_the_run_there():
    trace = mixed(1800)
    result = run(trace, parameters(start_charge=0.1), MAPS)
    assert result.ended == "empty"
    assert 0 < result.steps < 1800
    assert result.charge[-1] <= 0 < result.charge[-2]
    assert len(result.speed) == len(result.charge) == result.steps + 1
    assert len(result.torque) == result.steps


def test_a_pack_that_cannot_feed_the_heater_ends_the_run():
    result = run(mixed(60), parameters(discharge_current=10.0, heater=9000.0), MAPS)
    assert (result.ended, result.steps) == ("pack cannot feed", 0)
    assert result.summary["rms_whole"] == 0


# ------------------------------------------------------------------------------------ regeneration

STOP = [25.0, 24.0, 23.0, 22.0, 21.0]


def test_the_accelerator_released_brakes_by_the_torque_set_and_brakes_do_the_rest():
    result = run(level([25.0, 22.0, 19.0, 16.0]), parameters(start_charge=0.5), MAPS)
    assert result.torque == pytest.approx(np.full(3, -80.0))
    by_motor = 80.0 * 8.0 / 0.29 / 0.95
    assert result.brake_force == pytest.approx(result.wheel_force + by_motor)
    gentle = run(level([25.0, 24.5, 24.0]), parameters(start_charge=0.5), MAPS)
    assert (gentle.brake_force == 0).all()
    assert (gentle.torque < 0).all()
    assert (gentle.torque > -80).all()


def test_braking_by_the_motor_fades_between_two_speeds():
    def torque(mean):
        return run(level([mean + 1.2, mean - 1.2]), parameters(start_charge=0.5), MAPS).torque[0]

    assert torque(10.1 * KMH) == pytest.approx(-80)
    assert torque(7.5 * KMH) == pytest.approx(-40)
    assert torque(6.0 * KMH) == pytest.approx(-16)
    assert torque(5.0 * KMH) == 0


def test_grip_of_the_driven_axle_limits_braking_by_the_motor():
    p = parameters(start_charge=0.5, regen_deceleration=0.5)
    result = run(level(STOP), p, MAPS)
    at_wheel = -result.torque * 8.0 / 0.29 / 0.95
    assert at_wheel == pytest.approx(np.full(4, 1200 * 0.5))


def test_a_full_pack_takes_little_and_none_above_its_highest_voltage():
    p = parameters(start_charge=0.97, regen_torque=200.0)
    result = run(level(STOP), p, MAPS)
    taper = (result.charge[:-1] - 0.8) / 0.2
    assert -result.current == pytest.approx(150 - 130 * taper, rel=1e-9)
    assert (result.brake_force < 0).all()
    full = run(level(STOP), parameters(start_charge=1.0, regen_torque=200.0), MAPS)
    assert (full.current >= -1e-9).all()
    high = parameters(start_charge=0.7, highest_voltage=392.0, regen_torque=200.0)
    assert run(level(STOP), high, MAPS).voltage.max() == pytest.approx(392.0, rel=1e-9)


def test_the_torque_map_and_heat_limit_braking_by_the_motor():
    fast = level([40.0, 36.0])
    result = run(fast, parameters(start_charge=0.5, regen_torque=500.0, regen_current=999.0), MAPS)
    u0 = np.interp(0.5, MAPS.charges, MAPS.open_circuit)
    limit = bilinear(
        MAPS.torque_speeds, MAPS.torque_voltages, MAPS.torque_limits, result.motor_speed[0], u0
    )
    assert result.torque[0] == pytest.approx(-limit, rel=1e-9)
    hot = run(fast, parameters(start_charge=0.5, start_motor=413.15), MAPS)
    assert hot.torque[0] == 0
    assert hot.brake_force[0] == hot.wheel_force[0]


# ------------------------------------------------------------------------------------ monotone


@pytest.mark.parametrize(
    "changes",
    [
        ({}, {"mass": 1400.0, "equivalent_mass": 1460.0}),
        ({}, {"f1": 4.5, "f0": 165.0}),
        ({}, {"f2": 0.5}),
        ({}, {"ambient": 263.15, "start_pack": 263.15, "start_pack_coolant": 263.15}),
        ({}, {"resistance": 0.15}),
        ({}, {"auxiliary": 800.0}),
        ({}, {"heater": 2000.0}),
        ({}, {"driveline_efficiency": 0.9}),
        ({}, {"loss_scale": 1.5}),
        ({}, {"regen_torque": 0.0}),
    ],
    ids=lambda pair: ",".join(pair[1]),
)
def test_more_of_what_costs_never_uses_less(changes):
    trace = mixed(900, fastest=24.0)
    less, more = (run(trace, parameters(**each), MAPS) for each in changes)
    assert less.shortfall.speed == more.shortfall.speed == 0
    assert more.balance.chemistry > less.balance.chemistry
    assert more.charge[-1] < less.charge[-1]


@given(SEEDS, st.sampled_from(["mass", "f2", "auxiliary", "resistance", "loss_scale"]))
@settings(max_examples=60, deadline=None)
def test_by_chance_too_wherever_the_trace_is_followed(seed, name):
    trace, drawn = chance(seed)
    changes = {name: getattr(drawn, name) * 1.1 + 1e-6}
    if name == "mass":
        changes["equivalent_mass"] = drawn.equivalent_mass * 1.1 + 1e-6
        trace = Trace(trace.steps, trace.speeds)
    one, other = (run(trace, each, MAPS) for each in (drawn, replace(drawn, **changes)))
    same = one.ended == other.ended == "end of trace"
    if same and one.shortfall.distance == other.shortfall.distance == 0:
        kinetic = other.balance.kinetic - one.balance.kinetic
        # A vehicle that is heavier brings more with it from the beginning, which need not come out
        # of the pack, nor what would be lost of it on the way to the wheels: as much again at most.
        assert other.balance.chemistry - 2 * min(0.0, kinetic) >= one.balance.chemistry - 1e-6


def test_maps_of_other_shapes_are_looked_up_alike():
    """A map with points twice as dense along straight pieces is the same map."""
    dense = np.linspace(0.0, 220.0, 23)
    losses = np.array([np.interp(dense, MAPS.loss_torques, row) for row in MAPS.losses])
    changed = {field.name: getattr(MAPS, field.name) for field in fields(Maps)}
    other = Maps(**{**changed, "loss_torques": dense, "losses": losses})
    one, two = (run(mixed(300), parameters(), each).balance for each in (MAPS, other))
    assert two.chemistry == pytest.approx(one.chemistry, rel=1e-12)
