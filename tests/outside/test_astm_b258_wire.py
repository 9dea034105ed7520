"""American wire gauge against published tables.

Sources: ASTM B258, table 1 (nominal diameters, inches to four decimals, and areas in circular
mils); NEC (NFPA 70) chapter 9, table 8 (conductor properties, circular mils and solid diameters);
areas in mm² as printed beside AWG sizes in common conductor tables. Typed from memory; each
number is held to one unit of its last printed digit, as the tables truncate some values and round
others (10 AWG: 2.588 mm, area printed 5.26 or 5.261).
"""

from __future__ import annotations

import math

import pytest

from wattwright import kinds
from wattwright.units import read

MIL_CIRCLE = math.pi / 4 * (25.4e-6) ** 2

# size, diameter in inches, area in mm², area in circular mils
TABLE = [
    ("4/0", "0.4600", "107.2", 211600),
    ("3/0", "0.4096", "85.0", 167800),
    ("2/0", "0.3648", "67.4", 133100),
    ("1/0", "0.3249", "53.5", 105600),
    ("1", "0.2893", "42.4", 83690),
    ("2", "0.2576", "33.6", 66360),
    ("4", "0.2043", "21.2", 41740),
    ("6", "0.1620", "13.3", 26240),
    ("8", "0.1285", "8.37", 16510),
    ("10", "0.1019", "5.26", 10380),
    ("12", "0.0808", "3.31", 6530),
    ("14", "0.0641", "2.08", 4110),
    ("16", "0.0508", "1.31", 2580),
    ("18", "0.0403", "0.823", 1620),
    ("36", "0.0050", "0.0127", 25),
]


def last_digit(printed: str) -> float:
    return 10.0 ** -len(printed.partition(".")[2])


@pytest.mark.parametrize(("size", "inches", "square_mm", "circular_mils"), TABLE)
def test_published_sizes(size: str, inches: str, square_mm: str, circular_mils: int) -> None:
    area = read(f"{size} AWG", kinds.WIRE_SIZE).number
    diameter = math.sqrt(4 / math.pi * area) / 0.0254
    assert abs(diameter - float(inches)) <= last_digit(inches)
    assert abs(area * 1e6 - float(square_mm)) <= last_digit(square_mm)
    # The tables square a diameter rounded to 0.1 mil, then round to hundreds or tens.
    step = 100 if circular_mils > 100_000 else 10 if circular_mils > 1000 else 1
    within = 2 * (1000 * diameter) * 0.05 + step / 2
    assert abs(area / MIL_CIRCLE - circular_mils) <= within


def test_the_two_sizes_that_define_the_gauge() -> None:
    for size, inches in (("36", 0.005), ("4/0", 0.46)):
        area = read(f"AWG {size}", kinds.WIRE_SIZE).number
        assert area == pytest.approx(math.pi / 4 * (inches * 0.0254) ** 2, rel=1e-14)
