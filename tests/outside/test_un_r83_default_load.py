"""Load of a test bench by reference mass.

Source: UN Regulation No. 83, Annex 4a, table 3. Each row prints equivalent inertia, power and
force at 80 km/h, and the coefficients a (N) and b (N/(km/h)²). Rows from 1,080 kg were read in a
copy, the lighter ones are from memory. The coefficients must give the printed force and power:
b is printed to 0.0001, which is 0.32 N at 80 km/h, a to 0.1 N and the force to 1 N; the power is
printed to 0.1 kW, which is 2.3 N.
"""

from __future__ import annotations

import pytest

from wattwright.physics.road_load import (
    default_constant,
    default_row,
    default_square,
    road_load,
)

# reference mass up to kg, inertia kg, power kW, force N, a N, b N/(km/h)²
PRINTED = [
    (480, 455, 3.8, 171, 3.8, 0.0261),
    (540, 510, 4.1, 185, 4.2, 0.0282),
    (595, 570, 4.3, 194, 4.4, 0.0296),
    (650, 625, 4.5, 203, 4.6, 0.0309),
    (710, 680, 4.7, 212, 4.8, 0.0323),
    (765, 740, 4.9, 221, 5.0, 0.0337),
    (850, 800, 5.1, 230, 5.2, 0.0351),
    (965, 910, 5.6, 252, 5.7, 0.0385),
    (1080, 1020, 6.0, 270, 6.1, 0.0412),
    (1190, 1130, 6.3, 284, 6.4, 0.0433),
    (1305, 1250, 6.7, 302, 6.8, 0.0460),
    (1420, 1360, 7.0, 315, 7.1, 0.0481),
    (1530, 1470, 7.3, 329, 7.4, 0.0502),
    (1640, 1590, 7.5, 338, 7.6, 0.0515),
    (1760, 1700, 7.8, 351, 7.9, 0.0536),
    (1870, 1810, 8.1, 365, 8.2, 0.0557),
    (1980, 1930, 8.4, 378, 8.5, 0.0577),
    (2100, 2040, 8.6, 387, 8.7, 0.0591),
    (2210, 2150, 8.8, 396, 8.9, 0.0605),
    (2380, 2270, 9.0, 405, 9.1, 0.0619),
    (2610, 2270, 9.4, 423, 9.5, 0.0646),
]
EIGHTY = 80 / 3.6


@pytest.mark.parametrize(("mass", "inertia", "kilowatt", "newton", "a", "b"), PRINTED)
def test_row(
    mass: float, inertia: float, kilowatt: float, newton: float, a: float, b: float
) -> None:
    assert default_constant(mass) == a
    assert default_square(mass) == pytest.approx(b * 3.6**2, rel=1e-12)
    force = road_load(default_constant(mass), 0.0, default_square(mass), EIGHTY)
    assert abs(force - newton) <= 0.5 + 0.05 + 0.32
    assert abs(force * EIGHTY / 1000 - kilowatt) <= 0.05 + 0.001
    assert default_row(mass).number("inertia_kg") == inertia
    assert default_row(mass).limits is (mass > 1080)
