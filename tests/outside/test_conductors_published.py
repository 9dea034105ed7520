"""Resistance, voltage lost and short circuits of conductors against published numbers.

- Diameters and areas of wires in inches and Ω/1000 ft at 75 °C: NFPA 70, chapter 9, table 8, as
  public copies print them (stranded, uncoated copper, 2 % longer than solid; the 75 °C from
  memory).
- IEC 60228, largest resistances at 20 °C, and the factors for other temperatures of its annex,
which
  follow 1/(1 + 0.004 (t - 20)), as two public copies print them.
- IEC 60949 and IEC 60364-4-43, table 43A, and 5-54: constants k (from memory).
"""

from __future__ import annotations

import math

import pytest

from wattwright import kinds
from wattwright.physics import ampacity, conductor, contact, short_circuit_cable
from wattwright.units import read

ICE = 273.15
ALPHA = 0.00393


@pytest.mark.parametrize(
    ("gauge", "inches", "per_1000_ft"),
    [
        (14, 0.0641, 3.14),
        (12, 0.0808, 1.98),
        (10, 0.1019, 1.24),
        (8, 0.1285, 0.778),
        (6, 0.1620, 0.491),
        (4, 0.2043, 0.308),
        (2, 0.2576, 0.194),
        (1, 0.2893, 0.154),
        (0, 0.3249, 0.122),
        (-1, 0.3648, 0.0967),
        (-2, 0.4096, 0.0766),
        (-3, 0.4600, 0.0608),
    ],
)
def test_american_gauges(gauge: float, inches: float, per_1000_ft: float) -> None:
    diameter = conductor.gauge_diameter(gauge)
    assert diameter / 25.4e-3 == pytest.approx(inches, abs=1e-4)
    area = conductor.gauge_area(gauge)
    assert area == pytest.approx(math.pi / 4 * diameter**2, rel=1e-12)
    solid = conductor.resistance_of_length(17.241e-9, 304.8, area)
    hot = conductor.when_warm(solid, ALPHA, ICE + 75)
    # Stranded is 2 % more than solid; the table rounds to three digits.
    assert 1.02 * hot == pytest.approx(per_1000_ft, rel=0.012)


def test_gauges_are_those_that_the_units_read() -> None:
    for text, gauge in (("10 AWG", 10), ("2/0 AWG", -1), ("4/0 AWG", -3), ("18 AWG", 18)):
        read_area = read(text, kinds.WIRE_SIZE).number
        assert conductor.gauge_area(gauge) == pytest.approx(read_area, rel=1e-12)


@pytest.mark.parametrize(
    ("area", "stranded", "flexible"),
    [
        (1.5, 12.1, 13.3),
        (2.5, 7.41, 7.98),
        (4, 4.61, 4.95),
        (6, 3.08, 3.30),
        (10, 1.83, 1.91),
        (16, 1.15, 1.21),
        (25, 0.727, 0.780),
        (35, 0.524, 0.554),
        (50, 0.387, 0.386),
        (70, 0.268, 0.272),
        (95, 0.193, 0.206),
        (120, 0.153, 0.161),
    ],
)
def test_metric_sizes_lie_some_per_cent_above_solid_copper(
    area: float, stranded: float, flexible: float
) -> None:
    """IEC 60228 limits the resistance, not the area: a conductor may hold less than its name."""
    solid = conductor.resistance_of_length(17.241e-9, 1000.0, area * 1e-6)
    assert 1.0 < stranded / solid < 1.13
    assert 1.0 < flexible / solid < 1.18


@pytest.mark.parametrize(
    ("celsius", "factor"), [(25, 0.980), (50, 0.893), (70, 0.833), (90, 0.781)]
)
def test_resistance_with_temperature(celsius: float, factor: float) -> None:
    """The annex of IEC 60228 counts 0.4 % for each kelvin: at 90 °C that is 0.4 % more."""
    assert 1 / conductor.when_warm(1.0, 0.004, ICE + celsius) == pytest.approx(factor, abs=6e-4)
    assert 1 / conductor.when_warm(1.0, ALPHA, ICE + celsius) == pytest.approx(factor, rel=5e-3)


def test_forty_metres_of_one_and_a_half_square_millimetres() -> None:
    """10 A at 230 V through 40 m of flexible 1.5 mm², out and back, 13.3 Ω/km at 20 °C.

    1.064 Ω, 10.64 V, 106.4 W, 4.6 %. With the conductor at 50 °C 11.9 V, 5.2 %; at 70 °C, the limit
    of PVC, 12.7 V, 5.5 %.
    """
    cold = conductor.of_loop(13.3e-3, 40.0, 2)
    assert conductor.voltage_lost(10.0, cold) == pytest.approx(10.64, abs=0.005)
    assert conductor.power_lost(10.0, cold) == pytest.approx(106.4, abs=0.05)
    assert conductor.share_lost(10.64, 230.0) == pytest.approx(0.0463, abs=5e-5)
    for celsius, volts, share in ((50, 11.9, 0.0517), (70, 12.73, 0.0553)):
        warm = conductor.of_loop(conductor.when_warm(13.3e-3, ALPHA, ICE + celsius), 40.0, 2)
        lost = conductor.voltage_lost(10.0, warm)
        assert lost == pytest.approx(volts, abs=0.01)
        assert conductor.share_lost(lost, 230.0) == pytest.approx(share, abs=1e-4)


@pytest.mark.parametrize(
    ("start", "end", "k"),
    [
        (70, 160, 115),
        (70, 140, 103),
        (90, 160, 100),
        (90, 250, 143),
        (60, 200, 141),
        (85, 220, 134),
        (180, 350, 132),
        (30, 160, 143),
        (30, 250, 176),
        (30, 200, 159),
    ],
)
def test_k_of_copper(start: float, end: float, k: float) -> None:
    found = short_circuit_cable.copper_density(ICE + start, ICE + end)
    assert found / 1e6 == pytest.approx(k, abs=0.6)


@pytest.mark.parametrize(
    ("start", "end", "k"), [(70, 160, 76), (90, 250, 94), (60, 200, 93), (85, 220, 89)]
)
def test_k_of_aluminium(start: float, end: float, k: float) -> None:
    """IEC 60364-4-43, table 43A, aluminium, from memory."""
    found = short_circuit_cable.aluminium_density(ICE + start, ICE + end)
    assert found / 1e6 == pytest.approx(k, abs=0.7)


def test_the_constants_follow_from_the_metal() -> None:
    """K² = Q_c (β + 20)/ρ_20 (IEC 60949): 3.45e-3·254.5/17.241e-6 is 225.7²."""
    copper = math.sqrt(3.45e6 * (234.5 + 20) / 17.241e-9)
    assert copper == pytest.approx(short_circuit_cable.COPPER_K, rel=2e-3)
    aluminium = math.sqrt(2.5e6 * (228 + 20) / 28.264e-9)
    assert aluminium == pytest.approx(short_circuit_cable.ALUMINIUM_K, rel=2e-3)


def test_short_circuits_worked_by_hand() -> None:
    """35 mm² in PVC for 0.1 s: 115·35/√0.1 = 12.73 kA; 25 mm² in XLPE at 5 kA: 0.511 s."""
    sc = short_circuit_cable
    assert sc.withstand_current(115e6, 35e-6, 0.1) == pytest.approx(12.73e3, rel=1e-3)
    assert sc.withstand_time(143e6, 25e-6, 5000.0) == pytest.approx(0.511, abs=5e-4)
    assert sc.withstand(115e6, 4e-6) == pytest.approx(211_600.0)
    assert sc.least_area(115e6, 12.73e3, 0.1) == pytest.approx(35e-6, rel=1e-3)


@pytest.mark.parametrize(
    ("limit", "air", "factor"),
    [
        (60, 40, 0.82),
        (60, 50, 0.58),
        (75, 40, 0.88),
        (75, 60, 0.58),
        (90, 10, 1.15),
        (90, 40, 0.91),
        (90, 50, 0.82),
        (90, 75, 0.50),
        (70, 40, 0.87),
        (70, 45, 0.79),
        (70, 50, 0.71),
        (70, 55, 0.61),
    ],
)
def test_factors_for_warm_air(limit: float, air: float, factor: float) -> None:
    """NFPA 70, table 310.15(B)(1)(1), and IEC 60364-5-52, table B.52.14, rounded to 0.01."""
    found = ampacity.ambient_factor(ICE + limit, ICE + air, ICE + 30)
    assert found == pytest.approx(factor, abs=0.0055)


def test_copper_softens_and_melts_at_the_voltages_of_the_handbook() -> None:
    """Holm, Electric Contacts: 0.12 V and 190 °C, 0.43 V and 1083 °C (from memory), within 5 %."""
    assert contact.hottest_spot(293.15, 0.12) == pytest.approx(ICE + 190, rel=0.05)
    assert contact.hottest_spot(293.15, 0.43) == pytest.approx(ICE + 1083, rel=0.05)


def test_the_number_of_lorenz_is_that_of_the_theory_of_metals() -> None:
    """π²/3·(k/e)², k 1.380649e-23 J/K, e 1.602176634e-19 C: 2.443e-8 V²/K²."""
    theory = math.pi**2 / 3 * (1.380649e-23 / 1.602176634e-19) ** 2
    assert pytest.approx(theory, rel=5e-3) == contact.LORENZ
