"""Charge over time: closed forms by hand, and what must hold for any pack."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import charge_time

SHARES, VOLTS = [0.0, 0.1, 0.5, 0.9, 1.0], [270.0, 300.0, 318.0, 338.0, 350.0]
CAPACITY, RESISTANCE, HIGHEST = 88 * 3600.0, 0.15, 348.0


def time(
    start: float, wanted: float, power: float = 3000.0, limit: float = 40.0, scale: float = 1.0
) -> float:
    """Charge of the pack; ``scale`` puts so many of it side by side."""
    return charge_time.charge_time(
        CAPACITY * scale,
        start,
        wanted,
        power * scale,
        limit * scale,
        HIGHEST,
        RESISTANCE / scale,
        SHARES,
        VOLTS,
    )


def test_constant_current_by_hand() -> None:
    # 88 Ah · 0.4 at 8.8 A: 4 h
    assert time(0.2, 0.6, 1e6, 8.8) == pytest.approx(4 * 3600.0, rel=1e-12)


def test_constant_power_into_a_flat_pack_by_hand() -> None:
    # 300 V and 0.5 Ω take 10 A at 3050 W: 300·10 + 0.5·100
    assert charge_time.current_at_power(3050.0, 300.0, 0.5) == pytest.approx(10.0)
    found = charge_time.charge_time(
        36_000.0, 0.0, 1.0, 3050.0, 1e3, 400.0, 0.5, [0.0, 1.0], [300.0, 300.0]
    )
    assert found == pytest.approx(3600.0, rel=1e-12)


def test_constant_voltage_on_a_straight_curve_decays_by_exponentials() -> None:
    # The current falls with R·Q over the rise of the curve: t = Q·R/k · ln(I_1/I_2)
    shares, volts, high, ohms = [0.0, 1.0], [300.0, 350.0], 350.0, 0.2
    capacity = 36_000.0
    for end in (0.9, 0.99, 0.9999):
        found = charge_time.charge_time(capacity, 0.8, end, 1e9, 1e9, high, ohms, shares, volts)
        by_hand = capacity * ohms / 50.0 * math.log(0.2 / (1 - end))
        assert found == pytest.approx(by_hand, rel=1e-9)


def test_three_stages_by_hand() -> None:
    """Current, then power, then voltage, on a straight curve with a resistance of nearly nothing.

    1 Ah from 100 V to 110 V. 10 A up to 105 V, where 1050 W take over: to 110 V the current is
    1050 W/U. The highest voltage is just above, so that the last stage has no length. First half:
    half of 3600 C at 10 A, 180 s. Second: ∫ Q·U/P ds = 1800 C · 107.5 V/1050 W = 184.29 s.
    """
    numbers = (1050.0, 10.0, 110.0 + 1e-6, 1e-9, [0.0, 1.0], [100.0, 110.0])
    assert charge_time.charge_time(3600.0, 0.0, 0.5, *numbers) == pytest.approx(180.0, rel=1e-6)
    second = charge_time.charge_time(3600.0, 0.5, 1.0, *numbers)
    assert second == pytest.approx(1800 * 107.5 / 1050, rel=1e-6)
    # What went in: 105 V · 1 Ah in the middle.
    energy = charge_time.charge_energy(3600.0, 0.0, 1.0, *numbers)
    assert energy == pytest.approx(105.0 * 3600.0, rel=1e-6)


@settings(max_examples=60)
@given(st.floats(0.0, 0.9), st.floats(0.0, 0.9), st.floats(0.0, 0.9))
def test_times_and_energies_add_up(one: float, two: float, three: float) -> None:
    low, middle, high = sorted((one, two, three))
    whole, parts = time(low, high), time(low, middle) + time(middle, high)
    assert whole == pytest.approx(parts, rel=1e-9, abs=1e-6)

    def energy(start: float, end: float) -> float:
        return charge_time.charge_energy(
            CAPACITY, start, end, 3000.0, 40.0, HIGHEST, RESISTANCE, SHARES, VOLTS
        )

    assert energy(low, high) == pytest.approx(energy(low, middle) + energy(middle, high))


@settings(max_examples=60)
@given(st.floats(500.0, 20_000.0), st.floats(500.0, 20_000.0), st.floats(2.0, 60.0))
def test_more_power_or_current_is_never_slower(one: float, other: float, limit: float) -> None:
    less, more = sorted((one, other))
    assert time(0.2, 0.9, more, limit) <= time(0.2, 0.9, less, limit) * (1 + 1e-6)
    assert time(0.2, 0.9, less, limit * 1.5) <= time(0.2, 0.9, less, limit) * (1 + 1e-6)


@settings(max_examples=60)
@given(st.floats(500.0, 20_000.0), st.floats(2.0, 60.0))
def test_power_and_limit_bound_time_and_energy(power: float, limit: float) -> None:
    taken = time(0.2, 0.9, power, limit)
    energy = charge_time.charge_energy(
        CAPACITY, 0.2, 0.9, power, limit, HIGHEST, RESISTANCE, SHARES, VOLTS
    )
    assert taken >= 0.7 * CAPACITY / limit * (1 - 1e-6)
    assert energy <= power * taken * (1 + 1e-6)
    # Between what is kept at rest and what the highest voltage would put in.
    at_rest = CAPACITY * sum(
        (high - low) * (first + second) / 2
        for low, high, first, second in ((0.2, 0.5, 304.5, 318.0), (0.5, 0.9, 318.0, 338.0))
    )
    assert at_rest < energy <= HIGHEST * 0.7 * CAPACITY * (1 + 1e-9)


@given(st.floats(0.1, 10.0))
def test_packs_side_by_side_with_so_much_more_power_take_as_long(scale: float) -> None:
    assert time(0.1, 0.95, scale=scale) == pytest.approx(time(0.1, 0.95), rel=1e-6)


@given(st.floats(0.5, 400.0))
def test_the_charge_that_is_reached_has_that_current(ends_at: float) -> None:
    found = charge_time.charge_reached(ends_at, HIGHEST, RESISTANCE, SHARES, VOLTS)
    assume(SHARES[0] < found < SHARES[-1])
    at_rest = charge_time._at_rest(found, SHARES, VOLTS)
    current = charge_time.current_at_voltage(HIGHEST, at_rest, RESISTANCE)
    assert current == pytest.approx(ends_at, rel=1e-6)


def test_the_charge_that_is_reached_at_the_ends_of_the_curve() -> None:
    reached = charge_time.charge_reached
    assert reached(4.0, 400.0, RESISTANCE, SHARES, VOLTS) == 1.0
    assert reached(4.0, 250.0, RESISTANCE, SHARES, VOLTS) == 0.0
    # 338 V + 0.6 · 12 V = 345.2 V; 348 V less 0.7 Ω · 4 A
    assert reached(4.0, 348.0, 0.7, SHARES, VOLTS) == pytest.approx(0.96)
    # A curve that is flat, and falls a little as measured ones do: the first place counts.
    assert reached(4.0, 318.6, 0.15, [0, 0.4, 0.6, 1], [300, 320, 319, 340]) == pytest.approx(0.36)


def test_nothing_falls_away_at_the_highest_voltage() -> None:
    assert charge_time.current_at_voltage(340.0, 341.0, 0.1) == 0.0
    with pytest.raises(FormulaError, match="reaches the highest one before"):
        time(0.2, 1.0)


def test_mains_and_wall_by_hand() -> None:
    # 230 V · 16 A · 0.98, and three times of it
    assert charge_time.mains_power(230.0, 16.0, 0.98, 1) == pytest.approx(3606.4)
    assert charge_time.mains_power(230.0, 16.0, 0.98, 3) == pytest.approx(10819.2)
    assert charge_time.mains_current(3606.4, 230.0, 0.98, 1) == pytest.approx(16.0)
    # (18 kWh + 80 W · 8 h)/0.93 = 20.043 kWh
    kwh = 3.6e6
    wall = charge_time.energy_from_wall(18 * kwh, 0.93, 80.0, 8 * 3600.0)
    assert wall / kwh == pytest.approx(18.64 / 0.93)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (charge_time.current_at_power, (3000.0, 0.0, 0.1)),
        (charge_time.current_at_voltage, (348.0, 330.0, 0.0)),
        (charge_time.mains_current, (3000.0, 0.0, 1.0, 1)),
        (charge_time.energy_from_wall, (1.0, 1.1, 0.0, 0.0)),
        (charge_time.charge_reached, (4.0, 348.0, 0.1, [0.0], [300.0])),
        (charge_time.charge_reached, (4.0, 348.0, 0.1, [0.0, 1.0], [300.0])),
        (charge_time.charge_reached, (4.0, 348.0, 0.1, [1.0, 0.0], [300.0, 340.0])),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[object, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]


@pytest.mark.parametrize(("start", "wanted"), [(0.5, 0.4), (-0.1, 0.5), (0.5, 1.1)])
def test_a_charge_beyond_the_curve_is_refused(start: float, wanted: float) -> None:
    with pytest.raises(FormulaError, match="both on the curve"):
        time(start, wanted)
