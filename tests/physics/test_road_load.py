"""Road load: parts and coefficients that say the same, and coast-downs that give them back."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot, isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics import road_load as rl
from wattwright.tables import load

masses = st.floats(500.0, 3000.0)
grades = st.floats(-0.4, 0.4)
speeds = st.floats(0.0, 60.0)
winds = st.floats(-15.0, 15.0)
coefficients = st.tuples(st.floats(30.0, 300.0), st.floats(0.2, 1.2))


@given(masses, grades)
def test_a_slope_takes_going_up_what_it_gives_going_down(mass: float, grade: float) -> None:
    assert rl.grade_force(mass, grade) == -rl.grade_force(mass, -grade)
    assert rl.rolling_force(mass, grade, 0.012) == rl.rolling_force(mass, -grade, 0.012)


@given(masses, grades)
def test_weight_is_split_square_to_the_road_and_along_it(mass: float, grade: float) -> None:
    whole = hypot(rl.grade_force(mass, grade), rl.rolling_force(mass, grade, 1.0))
    assert whole == pytest.approx(mass * 9.80665)
    assert rl.grade_force(mass, grade) == pytest.approx(grade * rl.rolling_force(mass, grade, 1.0))


@given(masses, st.floats(0.006, 0.02), st.floats(0.9, 1.4), st.floats(0.3, 0.6), speeds, winds)
def test_coefficients_and_parts_say_the_same(
    mass: float, crr: float, density: float, drag: float, speed: float, wind: float
) -> None:
    f0, f2 = rl.rolling_constant(mass, crr), rl.air_square(density, drag, 1.9)
    got = rl.road_load(
        rl.constant_in_wind(f0, f2, wind), rl.linear_in_wind(0.0, f2, wind), f2, speed
    )
    air = rl.air_force(density, drag, 1.9, speed, wind)
    if speed + wind >= 0:
        assert got == pytest.approx(rl.rolling_force(mass, 0.0, crr) + air, rel=1e-9, abs=1e-9)
    else:
        # A wind that pushes gives the same size with the other sign.
        assert air <= 0
        assert got == pytest.approx(rl.rolling_force(mass, 0.0, crr) - air, rel=1e-9, abs=1e-9)


def test_parts_by_hand() -> None:
    # 1.2/2 · 0.45 · 1.9 · 20² = 205.2; into 5 m/s of wind 25²: 320.625; before 25 m/s of it: -5²
    assert rl.air_force(1.2, 0.45, 1.9, 20.0, 0.0) == pytest.approx(205.2)
    assert rl.air_force(1.2, 0.45, 1.9, 20.0, 5.0) == pytest.approx(320.625)
    assert rl.air_force(1.2, 0.45, 1.9, 20.0, -25.0) == pytest.approx(-12.825)
    assert rl.air_square(1.2, 0.45, 1.9) == pytest.approx(0.513)
    assert rl.rolling_constant(1000.0, 0.012) == pytest.approx(117.6798)
    assert rl.road_load(100.0, 2.0, 0.5, 10.0) == 170.0
    assert rl.square_at_density(0.5, 1.2, 1.08) == pytest.approx(0.45)
    assert rl.mid_speed(30.0, 20.0) == 25.0
    assert rl.coast_down_force(1200.0, 30.0, 28.0, 6.0) == pytest.approx(400.0)


@given(coefficients, st.floats(20.0, 50.0), st.floats(2.0, 15.0))
def test_two_windows_give_the_coefficients_back(
    pair: tuple[float, float], fast: float, slow: float
) -> None:
    f0, f2 = pair
    windows = (rl.road_load(f0, 0.0, f2, fast), fast, rl.road_load(f0, 0.0, f2, slow), slow)
    assert rl.two_window_square(*windows) == pytest.approx(f2, rel=1e-9)
    assert rl.two_window_constant(*windows) == pytest.approx(f0, rel=1e-9)
    both = [windows[0], windows[2]], [fast, slow]
    assert rl.fitted_square(2.0, *both) == pytest.approx(f2, rel=1e-6)
    assert rl.fitted_constant(2.0, *both) == pytest.approx(f0, rel=1e-6)


@given(coefficients, st.lists(st.integers(-20, 20), min_size=4, max_size=4))
def test_no_other_coefficients_come_closer_to_the_windows(
    pair: tuple[float, float], errors: list[int]
) -> None:
    speeds = [10.0, 15.0, 22.0, 30.0]
    forces = [
        rl.road_load(pair[0], 0.0, pair[1], v) + e for v, e in zip(speeds, errors, strict=True)
    ]

    def miss(f0: float, f2: float) -> float:
        rows = zip(forces, speeds, strict=True)
        return sum((force - rl.road_load(f0, 0.0, f2, v)) ** 2 for force, v in rows)

    f0 = rl.fitted_constant(4.0, forces, speeds)
    f2 = rl.fitted_square(4.0, forces, speeds)
    least = miss(f0, f2)
    for other in ((f0 + 1, f2), (f0 - 1, f2), (f0, f2 + 0.01), (f0, f2 - 0.01)):
        assert miss(*other) > least


@given(coefficients, masses, st.floats(15.0, 45.0), st.floats(0.5, 3.0))
def test_a_short_window_shows_the_force_at_its_middle(
    pair: tuple[float, float], mass: float, speed: float, half: float
) -> None:
    time = rl.coast_down_time(mass, *pair, speed + half, speed - half)
    force = rl.coast_down_force(mass, speed + half, speed - half, time)
    want = rl.road_load(pair[0], 0.0, pair[1], rl.mid_speed(speed + half, speed - half))
    # The force shown is a harmonic mean over the window: for pure drag it is k (v² - h²).
    assert force == pytest.approx(want, rel=1.001 * (half / speed) ** 2 + 1e-9)


@given(coefficients, masses, st.floats(10.0, 25.0))
def test_coasting_in_two_parts_takes_as_long(
    pair: tuple[float, float], mass: float, stop: float
) -> None:
    whole = rl.coast_down_time(mass, *pair, 30.0, 5.0)
    parts = rl.coast_down_time(mass, *pair, 30.0, stop), rl.coast_down_time(mass, *pair, stop, 5.0)
    assert sum(parts) == pytest.approx(whole)
    assert rl.coast_down_time(2 * mass, *pair, 30.0, 5.0) == pytest.approx(2 * whole)


REFUSED: list[tuple[Callable[[], float], str]] = [
    (lambda: rl.coast_down_force(1000.0, 20.0, 20.0, 5.0), "a lower one"),
    (lambda: rl.coast_down_force(1000.0, 20.0, -1.0, 5.0), "a lower one"),
    (lambda: rl.coast_down_force(1000.0, 20.0, 10.0, 0.0), "takes some time"),
    (lambda: rl.coast_down_time(1000.0, 0.0, 0.5, 20.0, 10.0), "above zero"),
    (lambda: rl.coast_down_time(1000.0, 100.0, 0.0, 20.0, 10.0), "above zero"),
    (lambda: rl.coast_down_time(1000.0, 100.0, 0.5, 10.0, 20.0), "a lower one"),
    (lambda: rl.two_window_square(300.0, 20.0, 200.0, 20.0), "different speeds"),
    (lambda: rl.two_window_constant(200.0, 10.0, 300.0, 20.0), "fast one first"),
    (lambda: rl.fitted_square(2.0, [200.0, 210.0], [20.0, 20.0]), "two different speeds"),
    (lambda: rl.fitted_constant(2.0, [200.0, 210.0], [20.0, 20.0]), "two different speeds"),
    (lambda: rl.fitted_square(3.0, [200.0, 300.0], [20.0, 30.0]), "one force and one speed"),
    (lambda: rl.fitted_constant(2.0, [200.0, 300.0], [20.0]), "one force and one speed"),
    (lambda: rl.square_at_density(0.5, 0.0, 1.2), "above zero"),
    (lambda: rl.equivalent_mass(1000.0, 5.0, 0.0), "above zero"),
    (lambda: rl.default_constant(2610.5), "ends at 2,610 kg"),
    (lambda: rl.default_square(0.0), "ends at 2,610 kg"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_what_cannot_be_is_refused(call: Callable[[], float], words: str) -> None:
    with pytest.raises(FormulaError, match=words):
        call()


def test_every_row_of_the_default_table_is_found_to_its_last_kilogram() -> None:
    rows = list(load("road_load_default"))
    assert len(rows) == 21
    for row in rows:
        low, high = row.number("over_kg"), row.number("up_to_kg")
        for mass in (low + 0.001, (low + high) / 2, high):
            assert rl.default_row(mass) is row
            assert rl.default_constant(mass) == row.number("a_n")
            square = row.number("b_n_per_kmh2") * 3.6**2
            assert isclose(rl.default_square(mass), square, rel_tol=1e-12)


def test_the_rows_of_the_default_table_join_and_grow() -> None:
    rows = list(load("road_load_default"))
    assert [row.number("up_to_kg") for row in rows[:-1]] == [r.number("over_kg") for r in rows[1:]]
    loads = [row.number("force_80_n") for row in rows]
    assert loads == sorted(set(loads))


@pytest.mark.parametrize("mass", [0.0, -5.0, 2611.0])
def test_outside_the_default_table_there_is_no_row(mass: float) -> None:
    with pytest.raises(FormulaError, match="ends at 2,610 kg"):
        rl.default_row(mass)


@pytest.mark.parametrize("mass", [300.0, 900.0, 1080.0, 1080.5, 1250.0, 2610.0])
def test_what_stands_on_a_row_from_memory_is_noted(mass: float) -> None:
    for fn in (rl.default_constant, rl.default_square):
        noted = bool(declaration(fn).outside((mass,)))
        assert noted is not rl.default_row(mass).limits


def test_what_turns_faster_counts_by_the_square() -> None:
    # motor 0.04·(2·4)² = 2.56, shaft 0.05·16 = 0.8, wheels 3.0
    assert rl.inertia_at_axle(0.04, 0.05, 3.0, 2.0, 4.0) == pytest.approx(6.36)
    assert rl.equivalent_mass(1000.0, 6.36, 0.3) == pytest.approx(1000 + 70.6667)
    assert rl.equivalent_mass_by_share(1000.0, 0.03) == pytest.approx(1030.0)


@given(st.floats(0.0, 0.2), st.floats(0.0, 5.0), st.floats(0.5, 5.0), st.floats(2.5, 6.0))
def test_equivalent_mass_holds_the_kinetic_energy_of_all_that_turns(
    motor: float, wheels: float, gear: float, final: float
) -> None:
    speed, radius = 10.0, 0.29
    wheel = speed / radius
    energy = (1000 * speed**2 + wheels * wheel**2 + motor * (wheel * gear * final) ** 2) / 2
    felt = rl.equivalent_mass(1000.0, rl.inertia_at_axle(motor, 0, wheels, gear, final), radius)
    assert felt * speed**2 / 2 == pytest.approx(energy)


# ------------------------------------------------------------------------ what the drive asks of it


@given(masses, st.floats(0.004, 0.05))
def test_coefficient_and_constant_undo_each_other(mass: float, crr: float) -> None:
    constant = rl.rolling_constant(mass, crr)
    assert rl.coefficient_of_constant(constant, mass) == pytest.approx(crr)
    # The same tyres under another mass take as much more as they carry.
    assert rl.rolling_constant(2 * mass, crr) == pytest.approx(2 * constant)


def test_sums_by_hand() -> None:
    # 98.0665 N under a tonne are a hundredth of its weight.
    assert rl.coefficient_of_constant(98.0665, 1000.0) == pytest.approx(0.01)
    assert rl.reference_mass(980.0, 100.0) == 1080.0
    assert rl.total_inertia([0.02, 0.03]) == pytest.approx(0.05)


def test_a_share_more_or_less_of_a_default() -> None:
    assert rl.square_within(0.5, 0.0) == 0.5
    assert rl.square_within(0.5, -0.25) == 0.375


@pytest.mark.parametrize("mass", [0.0, -1.0])
def test_a_road_load_without_a_mass_is_refused(mass: float) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        rl.coefficient_of_constant(100.0, mass)
