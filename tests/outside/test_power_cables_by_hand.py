"""Power cables of a build against the adiabatic rule of IEC 60949 and k of IEC 60364-4-43.

For some seconds no heat gets away: I²·t = 226²·S²·ln((234.5 + θ_f)/(234.5 + θ_i)), S in mm², for
copper of 17.241 Ω·mm²/km. A flexible conductor of 35 mm² may have 0.554 Ω/km (IEC 60228, table 3),
which is 1.1247 times as much, and warms that much sooner. k of 143 A·√s/mm² is from the table of
IEC 60364-4-43 for cross-linked polyethylene, 90 °C to 250 °C; all of these are from memory of the
standards. The numbers typed here were worked out on paper.
"""

from __future__ import annotations

import pytest

from builders import finding, number
from cabled import cabled

ICE = 273.15
COLD = {"part.traction.carries": '"0.1 A, datasheet"'}


def test_a_short_peak_warms_as_the_adiabatic_rule_says() -> None:
    # 264.5 · exp((1000/(226·35))² · 5 s · 1.1247) - 234.5 = 54.9 °C from 30 °C
    kept = {"part.traction.kept_by": '"inverter"', "part.traction.peak_time": '"5 s, datasheet"'}
    found = cabled({**COLD, **kept, "part.traction.peak": '"1000 A, datasheet"'})
    reached = number(found, "high_voltage.peak@traction") - ICE
    assert reached == pytest.approx(54.9, abs=0.6)
    assert reached < 55.0  # a little heat does get away


def test_cable_and_fuse_by_their_joule_integrals() -> None:
    # Cable, 30 °C to 140 °C: 226² · 35² · ln(374.5/264.5) / 1.1247 = 19.35 MA²s; fuse 16 MA²s.
    # For as long as the fuse takes the cable stands √(19.35/16) = 1.0997 of its current.
    said = finding(cabled(COLD), "high_voltage.fuse_curve@traction")
    share = (said.value.number or 0.0) / (said.limit.number or 1.0)
    assert share == pytest.approx(1.0997, rel=0.015)


def test_a_fuse_that_lets_more_through_than_the_cable_keeps_is_too_slow() -> None:
    # 22 MA²s and 19.35 MA²s
    slow = cabled(COLD, "current (A), time (s)\n2000, 5.5\n4000, 1.375\n")
    said = finding(slow, "high_voltage.fuse_curve@traction")
    share = (said.value.number or 0.0) / (said.limit.number or 1.0)
    assert share == pytest.approx(0.9379, rel=0.015)
    assert said.verdict.value == "failing"


def test_the_short_circuit_withstand_is_that_of_the_table() -> None:
    said = finding(cabled(), "high_voltage.short_circuit@traction")
    assert said.value.number == pytest.approx(16e6)
    # (143 · 35)²
    assert said.limit.number == pytest.approx(25.05e6, rel=0.01)
    pvc = cabled({"part.traction.wire.insulation": '"pvc"'})
    # (115 · 35)²
    limit = finding(pvc, "high_voltage.short_circuit@traction").limit.number
    assert limit == pytest.approx(16.20e6, rel=0.01)


def test_the_rating_is_below_the_published_one_and_not_far() -> None:
    """35 mm², XLPE, 30 °C, one-core cables touching in free air, two loaded: 200 A.

    IEC 60364-5-52, table B.52.12, method F, from memory. Ours is in still air, with the larger
    resistance of flexible conductors: on the safe side by some 13 %.
    """
    touching = {"part.traction.wire.grouped": '"2, measured"'}
    limit = finding(cabled(touching), "high_voltage.current@traction").limit.number
    assert limit is not None
    assert 0.82 * 200.0 < limit < 200.0
