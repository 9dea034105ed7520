"""Weighings on jacks and scales from the European pilots' examinations.

Source: EASA question bank, subject 031 (mass and balance), two weighings of aeroplanes with a
nose wheel. Inputs and answers were read in copies of the bank. Each result is held to half a unit
of its last printed digit. Nose wheel as front axle, the two main wheels as the rear axle.
"""

from __future__ import annotations

from wattwright import kinds
from wattwright.physics.axle_loads import axle_load, both_axles, cg_distance
from wattwright.units import read


def length(text: str) -> float:
    return read(text, kinds.LENGTH).number


def test_three_jacks() -> None:
    """6488 kg at 161 in and twice 17783 kg at 775 in: 42054 kg, 680.3 in."""
    mains = axle_load(17783, 17783)
    assert both_axles(6488, mains) == 42054
    place = length("161 in") + cg_distance(6488, mains, length("775 in") - length("161 in"))
    assert abs(place - length("680.3 in")) <= length("0.05 in")


def test_three_scales() -> None:
    """285 kg on the nose wheel, 1465 and 1395 kg on the mains 7 ft 8 in behind: 83.7 in."""
    mains = axle_load(1465, 1395)
    assert both_axles(285, mains) == 3145
    base = length("7 ft 8 in")
    behind_nose = cg_distance(285, mains, base)
    assert abs(behind_nose - length("83.7 in")) <= length("0.05 in")
    assert abs(base - behind_nose - length("8.3 in")) <= length("0.05 in")
