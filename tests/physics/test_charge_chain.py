"""The chain of an outlet: sums that are done by hand, and what holds for all numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import charge_chain as chain

volts = st.floats(100.0, 250.0)
ohms = st.floats(0.0, 2.0)
watts = st.floats(100.0, 5000.0)


def test_cords_and_contacts_as_the_trade_works_them_out() -> None:
    """Ohm's law on cords, common practice of home charging; printed with 17.2 to 17.5 Ω·mm²/km.

    15 m of 1.3 mm² at 12 A and 120 V: 4.8 V, 57 W; of 3.3 mm² 1.9 V, 23 W; 25 m of 2.5 mm² at 16 A:
    5.6 V, 90 W. A contact of 50 mΩ at 16 A makes 13 W, one of 5 mΩ 1.3 W.
    """
    for length, section, current, lost, heat in (
        (15, 1.3, 12, 4.8, 57),
        (15, 3.3, 12, 1.9, 23),
        (25, 2.5, 16, 5.6, 90),
    ):
        way = 2 * length * 17.2e-3 / section
        left = chain.volts_left(120.0, current, way)
        assert chain.volts_lost(120.0, left) == pytest.approx(lost, abs=0.1)
        assert chain.heat_of_way(current, way, 1) == pytest.approx(heat, abs=2.0)
    for contact, heat in ((50e-3, 13), (5e-3, 1.3)):
        assert chain.contact_warmth(16.0, contact, 1.0) == pytest.approx(heat, rel=0.02)
    assert chain.of_contacts(5e-3, 2) == pytest.approx(10e-3)


def test_a_breaker_of_20_a_leaves_16_a_for_hours() -> None:
    """NEC 210.20: a continuous load counts five quarters, so that 20 A leave 16 A, 15 A 12 A."""
    assert chain.left_of_breaker(20.0, 0.8, 0.0) == pytest.approx(16.0)
    assert chain.left_of_breaker(15.0, 0.8, 0.0) == pytest.approx(12.0)
    assert chain.left_of_breaker(15.0, 0.8, 13.0) == 0.0


@given(watts, volts, ohms, st.floats(0.5, 1.0), st.sampled_from((1.0, 3.0)))
def test_the_current_for_a_power_gives_that_power(power, voltage, way, factor, phases) -> None:
    current = chain.current_of_power(power, voltage, way, factor, phases)
    given_ = phases * (voltage - current * way) * current * factor
    most = phases * factor * voltage**2 / (4 * way) if way else float("inf")
    if power < 0.999 * most:
        assert given_ == pytest.approx(power, rel=1e-6)
        # The smaller of the two currents, at which more than half of the voltage is left.
        assert current * way <= voltage / 2 * (1 + 1e-3)
    elif power > most:
        assert current * way >= voltage / 2 * (1 - 1e-9)


@given(st.floats(250.0, 310.0), st.floats(265.0, 280.0), st.floats(0.0, 20.0))
def test_the_cold_takes_a_share_between_nothing_and_all(cells, begins, span) -> None:
    share = chain.cold_share(cells, begins, begins + span)
    assert 0.0 <= share <= 1.0
    if cells <= begins:
        assert share == 0.0
    if cells >= begins + span and span > 1e-3:
        assert share == pytest.approx(1.0)
    assert share <= chain.cold_share(cells + 1.0, begins, begins + span)


def test_the_weakest_and_the_rest() -> None:
    assert chain.least((16.0, 4.3, 10.0)) == 4.3
    assert chain.power_gained(900.0, 2100.0) == 1200.0
    assert chain.pack_power(2000.0, 0.9, 80.0) == pytest.approx(1720.0)
    assert chain.charger_power(1720.0, 0.9, 80.0) == pytest.approx(2000.0)
    assert chain.pack_power(50.0, 0.9, 80.0) == 0.0
    assert chain.usual_end(50 * 3600.0, 20 * 3600.0) == pytest.approx(2.5)
    # 2 kW and 200 Wh/km: 10 km for each hour.
    assert chain.distance_rate(2000.0, 720.0) * 3.6 == pytest.approx(10.0)
    assert chain.cost(18 * 3.6e6, 3.6e6, 0.3) == pytest.approx(5.4)
    assert chain.power_of_current(40.0, 0.5, 300.0) == pytest.approx(6000.0)
    assert chain.share_of_rating(0.03, 0.5) == pytest.approx(0.015)


def test_a_reel_at_the_current_it_leaves_is_as_warm_as_its_insulation_bears() -> None:
    assert chain.reel_temperature(298.15, 333.15, 6.0, 6.0) == pytest.approx(333.15)
    # Twice the current, four times the rise.
    assert chain.reel_temperature(298.15, 333.15, 12.0, 6.0) == pytest.approx(298.15 + 140.0)


@pytest.mark.parametrize(
    ("formula", "numbers"),
    [
        (chain.current_of_power, (100.0, 0.0, 1.0, 1.0, 1.0)),
        (chain.reel_temperature, (298.0, 333.0, 6.0, 0.0)),
        (chain.cold_share, (280.0, 290.0, 280.0)),
        (chain.charger_power, (100.0, 0.0, 0.0)),
        (chain.distance_rate, (100.0, 0.0)),
        (chain.usual_end, (100.0, 0.0)),
    ],
)
def test_what_cannot_be_is_refused(formula, numbers) -> None:
    with pytest.raises(FormulaError):
        formula(*numbers)
