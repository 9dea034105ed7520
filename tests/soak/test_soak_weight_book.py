"""The properties of the weight book on many more vehicles, edits and draws.

The properties themselves are in test_weight_book_properties.py; here only the numbers grow.
"""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

import test_weight_book_properties as book
from wattwright.assessment import assess
from wattwright.build.reader import parse_build

pytestmark = pytest.mark.soak

VEHICLES = 300
EDITS = 500
SEEDS = 25

PROPERTIES: dict[str, tuple[SearchStrategy[object], ...]] = {
    "test_loads_follow_from_point_masses_and_balance": (book.vehicles(),),
    "test_changes_and_payload_follow_from_the_two_kerbs": (book.vehicles(),),
    "test_a_part_given_up_changes_nothing": (book.vehicles(), book.parts(states=("removed",))),
    "test_a_part_added_counts_once_in_every_case_of_the_conversion": (
        book.vehicles(),
        book.parts(),
    ),
    "test_left_and_right_are_treated_alike": (book.vehicles(),),
    "test_the_unit_of_entry_changes_nothing": (book.vehicles(),),
    "test_one_missing_thing_is_found": (book.vehicles(), book.amounts("5", "90"), book.points()),
}


@pytest.mark.parametrize("name", PROPERTIES)
def test_many_vehicles(name: str) -> None:
    held = getattr(book, name).hypothesis.inner_test
    settings(book.drawn, max_examples=VEHICLES)(given(*PROPERTIES[name])(held))()


def test_many_orders() -> None:
    """What is said is the same; a tie may change the order in which it is listed."""

    @settings(book.drawn, max_examples=VEHICLES)
    @given(book.vehicles(), st.integers(0, 10**6))
    def holds(data: book.Data, seed: int) -> None:
        shuffled = book.write(data, shuffle=random.Random(seed))
        assert book.alike(book.by_address(book.write(data)), book.by_address(shuffled))

    holds()


@book.each_example
def test_many_edits(example: book.Path) -> None:
    text = example.read_text(encoding="utf-8")
    for seed in range(EDITS // len(book.EXAMPLES) + 1):
        book.edit_and_undo(text, 1000 + seed)


def test_coverage_over_many_seeds() -> None:
    """Over many draws the share of truths inside a linear band is 95 % to half a per cent."""
    said = assess(parse_build(book.banded_text(book.BANDED).encode())).by_address
    covered: dict[str, list[float]] = {}
    for seed in range(SEEDS):
        for address, true in book.plain(book.truths(book.BANDED, 100 + seed)).items():
            share = book.coverage(said[address].value, true)
            covered.setdefault(address, []).append(share)
    for address, shares in covered.items():
        mean = sum(shares) / SEEDS
        most = 0.97 if address.startswith(book.BENT) else 0.955
        assert 0.945 <= mean <= most, address
