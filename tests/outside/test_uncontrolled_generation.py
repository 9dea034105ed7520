"""Where a motor with magnets begins to charge the pack on its own, by hand and after a paper.

Sources: the line EMF by hand, from ê = √3 w ψ. Jahns and Caliskan, Uncontrolled generator
operation of interior PM synchronous machines following high-speed inverter shutdown, IEEE
Trans. Industry Applications 35 (1999), from memory: with the diode bridge as a resistance for
the fundamental wave, generation in a machine whose L_q is more than twice its L_d goes on below
the speed at which it begins; in any other machine it begins and ends at one speed; and at high
speed the current comes to that of a short circuit, ψ/L_d.
"""

from __future__ import annotations

import math

import pytest

from wattwright import kinds
from wattwright.physics import diode_generation, pmsm
from wattwright.units import read

FLUX, POLE_PAIRS = 0.066, 3.0


@pytest.mark.parametrize(
    ("cells", "volts_a_cell", "electrical", "rpm"),
    # 180/(1.7320508 · 0.066) = 1574.59; over 3 pole pairs 524.865 rad/s, 5012.1 rpm. Likewise 252.
    [(60.0, 3.0, 1574.59, 5012.1), (60.0, 4.2, 2204.43, 7016.9)],
)
def test_speed_by_hand(cells: float, volts_a_cell: float, electrical: float, rpm: float) -> None:
    speed = pmsm.speed_of_emf(cells * volts_a_cell, FLUX, POLE_PAIRS)
    assert POLE_PAIRS * speed == pytest.approx(electrical, abs=0.01)
    assert abs(speed - read(f"{rpm} rpm", kinds.ROTATIONAL_SPEED).number) <= 0.1 * math.pi / 30


def test_the_empty_pack_is_charged_first() -> None:
    """60 cells in series run from 180 V to 252 V: what counts is the speed of 180 V."""
    begins = pmsm.speed_of_emf(180.0, FLUX, POLE_PAIRS)
    between = 1.2 * begins
    assert pmsm.line_emf_peak(between, FLUX, POLE_PAIRS) == pytest.approx(216.0)
    emf = pmsm.phase_emf_peak(between, FLUX, POLE_PAIRS)
    empty = diode_generation.diode_voltage(180.0)
    assert (
        diode_generation.generated_current(emf, empty, between, POLE_PAIRS, 0.37e-3, 0.7e-3) > 30.0
    )
    assert pmsm.line_emf_peak(between, FLUX, POLE_PAIRS) < 252.0


@pytest.mark.parametrize(
    ("ratio", "share"),
    # Share of the speed of E = V at which generation ends, 2 √(r (1 - r)) with r = L_d/L_q:
    # 1 up to L_q = 2 L_d; 2 √(2/9) at three; 2 √(4/25) at five.
    [(0.8, 1.0), (1.0, 1.0), (2.0, 1.0), (3.0, 0.942809), (5.0, 0.8)],
)
def test_saliency_above_two_keeps_generation_going(ratio: float, share: float) -> None:
    voltage = diode_generation.diode_voltage(300.0)
    even = voltage / (POLE_PAIRS * FLUX)
    ends = diode_generation.speed_generation_ends(voltage, FLUX, POLE_PAIRS, 0.4e-3, ratio * 0.4e-3)
    assert ends == pytest.approx(share * even, rel=1e-6)


def test_current_without_saliency_by_hand() -> None:
    """E = 250 V against V = 150 V at right angles leaves 200 V on 0.8 Ω: 250 A."""
    assert diode_generation.generated_current(
        250.0, 150.0, 1000.0, 4.0, 0.2e-3, 0.2e-3
    ) == pytest.approx(250.0)
    direct = diode_generation.generated_dc_current(250.0)
    assert direct == pytest.approx(238.732, abs=0.001)
    dc_voltage = 150.0 * math.pi / 2
    braking = diode_generation.generated_torque(dc_voltage, direct, 1000.0)
    # 3/2 · 150 V · 250 A = 56.25 kW at 1000 rad/s
    assert braking == pytest.approx(56.25)
