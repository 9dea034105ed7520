"""Loads of passenger tyres against pressure, rows attributed to the ETRTO Standards Manual.

Source: ETRTO Standards Manual, passenger car tyres with metric designation, inflation pressure
tables: load index 91 Extra Load and load index 88 standard. The exponent 0.80 and its footnote
were read in a copy; these rows only in agreeing secondary copies that attribute them to ETRTO.
Loads are printed to the nearest 5 kg, so the model must be within 2.5 kg.

An Extra Load tyre is rated at 2.9 bar; the row below 1.74 bar (0.6 of that) is left out because
the program gives no load there.
"""

from __future__ import annotations

import pytest

from wattwright.physics.tyre import load_at_pressure, load_capacity

HALF_A_STEP = 2.5
EXTRA_LOAD_91 = [
    (180, 420),
    (190, 440),
    (200, 455),
    (210, 475),
    (220, 495),
    (230, 510),
    (240, 530),
    (250, 545),
]
STANDARD_88 = [(220, 505), (230, 525)]


@pytest.mark.parametrize(("kilopascal", "printed"), EXTRA_LOAD_91)
def test_extra_load(kilopascal: int, printed: int) -> None:
    load = load_at_pressure(load_capacity(91), 1e3 * kilopascal, 290e3)
    assert abs(load - printed) <= HALF_A_STEP


@pytest.mark.parametrize(("kilopascal", "printed"), STANDARD_88)
def test_standard_load(kilopascal: int, printed: int) -> None:
    load = load_at_pressure(load_capacity(88), 1e3 * kilopascal, 250e3)
    assert abs(load - printed) <= HALF_A_STEP


@pytest.mark.parametrize(("kilopascal", "printed"), EXTRA_LOAD_91)
def test_an_extra_load_tyre_taken_for_a_standard_one_misses_the_row(
    kilopascal: int, printed: int
) -> None:
    """The rated pressure matters: 2.5 bar in its place promises tens of kilograms too much."""
    load = load_at_pressure(load_capacity(91), 1e3 * kilopascal, 250e3)
    assert load - printed > 40
