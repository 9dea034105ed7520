"""Tyre load against pressure, and load indices, from a printed textbook table.

Source: Automotive Engineering: Powertrain, Chassis System and Vehicle Body (Butterworth-Heinemann,
2009), chapter 10.1 "Tyres and wheels", p. 290: load capacity of one wheel in kg against pressure
in bar, load indices 69 to 87. All 209 entries were read in a copy of the page.

The entries are printed to the nearest 5 kg, so a right model is within 2.5 kg of each. In the
last column, 2.5 bar, the load is that of the index itself, printed to 1 kg; it was read on its
own and not from the regulation that the shipped index table was copied from.
"""

from __future__ import annotations

import pytest

from wattwright import kinds
from wattwright.physics.tyre import load_at_pressure, load_capacity
from wattwright.units import read

PRESSURES = [read(f"{tenths / 10} bar", kinds.GAUGE_PRESSURE).number for tenths in range(15, 26)]
RATED = PRESSURES[-1]
HALF_A_STEP = 2.5

# Load index, then kg at 1.5, 1.6 … 2.5 bar.
PRINTED = """
69 215 225 240 250 260 270 285 295 305 315 325
70 225 235 245 260 270 280 290 300 315 325 335
71 230 240 255 265 275 290 300 310 325 335 345
72 235 250 260 275 285 295 310 320 330 345 355
73 245 255 270 280 295 305 315 330 340 355 365
74 250 260 275 290 300 315 325 340 350 365 375
75 255 270 285 300 310 325 335 350 360 375 387
76 265 280 295 310 320 335 350 360 375 385 400
77 275 290 305 315 330 345 360 370 385 400 412
78 280 295 310 325 340 355 370 385 400 410 425
79 290 305 320 335 350 365 380 395 410 425 437
80 300 315 330 345 360 375 390 405 420 435 450
81 305 325 340 355 370 385 400 415 430 445 462
82 315 330 350 365 380 395 415 430 445 460 475
83 325 340 360 375 390 405 425 440 455 470 487
84 330 350 365 385 400 420 435 450 470 485 500
85 340 360 380 395 415 430 450 465 480 500 515
86 350 370 390 410 425 445 460 480 495 515 530
87 360 380 400 420 440 455 475 490 510 525 545
"""
ROWS = {
    int(row.split()[0]): [float(kg) for kg in row.split()[1:]] for row in PRINTED.split("\n") if row
}


def test_the_whole_table_was_typed() -> None:
    assert sum(len(row) for row in ROWS.values()) == 209
    assert list(ROWS) == list(range(69, 88))


@pytest.mark.parametrize("index", ROWS)
def test_load_of_the_index(index: int) -> None:
    assert load_capacity(index) == ROWS[index][-1]


@pytest.mark.parametrize("index", ROWS)
def test_load_at_every_pressure(index: int) -> None:
    capacity = ROWS[index][-1]
    for pressure, printed in zip(PRESSURES, ROWS[index], strict=True):
        assert abs(load_at_pressure(capacity, pressure, RATED) - printed) <= HALF_A_STEP


@pytest.mark.parametrize("index", ROWS)
def test_the_table_tells_this_exponent_from_its_neighbours(index: int) -> None:
    """The other exponents in use, 0.65 for starred indices and 0.585 and 0.5 elsewhere, miss."""
    for exponent in (0.5, 0.585, 0.65, 1.0):
        worst = max(
            abs(ROWS[index][-1] * (pressure / RATED) ** exponent - printed)
            for pressure, printed in zip(PRESSURES, ROWS[index], strict=True)
        )
        assert worst > 4 * HALF_A_STEP


def test_no_tyre_carries_more_than_its_index_above_the_rated_pressure() -> None:
    assert load_at_pressure(450.0, 1.2 * RATED, RATED) == 450.0
