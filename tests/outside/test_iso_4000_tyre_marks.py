"""Load indices in pounds and speed symbols in miles per hour.

Source: the load index and speed symbol lists of ISO 4000-1 as American tables print them, in
pounds and miles per hour, rounded to whole numbers. Indices 50 to 58 and 70 to 124 and symbols
from Q on were read in printed copies of such lists (two misprints there, 115 and 121, go by a
third copy); indices 59 to 69 and symbols J to P are from memory.

The shipped tables hold kilograms and km/h, copied from agreeing copies of the list in UN
Regulation No. 54, so another unit is another print. Some lists cut a half pound, others round it:
one pound is allowed, where neighbouring indices lie 11 lb or more apart. One mile per hour is
allowed likewise (160 km/h is printed 99 and 100).
"""

from __future__ import annotations

import pytest

from wattwright import kinds
from wattwright.physics.tyre import LOAD_OF_INDEX, load_capacity
from wattwright.tables import load
from wattwright.units import read

# From index 50 on.
POUNDS = """
419 430 441 454 467 481 494 507 520 536 551 567 584 600 617 639 661 677 694 716
739 761 783 805 827 853 882 908 937 963 992 1019 1047 1074 1102 1135 1168 1201 1235 1279
1323 1356 1389 1433 1477 1521 1565 1609 1653 1709 1764 1819 1874 1929 1984 2039 2094 2149 2205 2271
2337 2403 2469 2535 2601 2679 2756 2833 2910 2998 3086 3197 3307 3417 3527
"""
PRINTED = dict(enumerate((int(pounds) for pounds in POUNDS.split()), start=50))
MILES_PER_HOUR = {
    "J": 62,
    "K": 68,
    "L": 75,
    "M": 81,
    "N": 87,
    "P": 93,
    "Q": 99,
    "R": 106,
    "S": 112,
    "T": 118,
    "U": 124,
    "H": 130,
    "V": 149,
    "W": 168,
    "Y": 186,
}


def test_every_shipped_index_is_checked() -> None:
    assert set(PRINTED) == set(LOAD_OF_INDEX)


@pytest.mark.parametrize(("index", "pounds"), PRINTED.items())
def test_load_indices(index: int, pounds: int) -> None:
    one = read("1 lb", kinds.MASS).number
    assert abs(load_capacity(index) - read(f"{pounds} lb", kinds.MASS).number) <= one


def test_every_shipped_symbol_is_checked() -> None:
    assert set(MILES_PER_HOUR) == set(load("tyre_speed_symbol").rows)


@pytest.mark.parametrize(("symbol", "miles_per_hour"), MILES_PER_HOUR.items())
def test_speed_symbols(symbol: str, miles_per_hour: int) -> None:
    meaning = load("tyre_speed_symbol").row(symbol).cells["meaning"]
    speed = read(meaning, kinds.SPEED).number
    one = read("1 mph", kinds.SPEED).number
    assert abs(speed - read(f"{miles_per_hour} mph", kinds.SPEED).number) <= one
