"""The set with most surplus: a general graph library's minimum cut, and trying every set.

Source: networkx, ``minimum_cut`` (preflow-push), as an independent program.
"""

from __future__ import annotations

import itertools

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.worthwhile import most_surplus

Case = tuple[list[int], list[int], list[list[int]]]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    costs = draw(st.lists(st.integers(0, 40), min_size=1, max_size=7))
    wanted = st.lists(st.sampled_from(range(len(costs))), min_size=1, unique=True)
    needs = draw(st.lists(wanted, min_size=1, max_size=7))
    gains = [draw(st.integers(0, 60)) for _ in needs]
    return gains, costs, needs


def by_cut(case: Case) -> frozenset[int]:
    gains, costs, needs = case
    graph = networkx.DiGraph()
    for gain, amount in enumerate(gains):
        graph.add_edge("source", ("gain", gain), capacity=amount)
        for cost in needs[gain]:
            graph.add_edge(("gain", gain), ("cost", cost))
    for cost, amount in enumerate(costs):
        graph.add_edge(("cost", cost), "sink", capacity=amount)
    _, (kept, _) = networkx.minimum_cut(graph, "source", "sink")
    return frozenset(
        cost for gain, wanted in enumerate(needs) if ("gain", gain) in kept for cost in wanted
    )


def surplus(case: Case, paid: frozenset[int]) -> int:
    gains, costs, needs = case
    got = sum(gain for gain, wanted in zip(gains, needs, strict=True) if set(wanted) <= paid)
    return got - sum(costs[cost] for cost in paid)


@settings(max_examples=400, deadline=None)
@given(cases())
def test_it_is_the_minimum_cut_of_a_general_library(case: Case) -> None:
    assert most_surplus(*case) == by_cut(case)


@settings(max_examples=150, deadline=None)
@given(cases())
def test_no_set_has_more_surplus(case: Case) -> None:
    costs = range(len(case[1]))
    every = itertools.chain.from_iterable(
        itertools.combinations(costs, size) for size in range(len(costs) + 1)
    )
    assert surplus(case, most_surplus(*case)) == max(surplus(case, frozenset(c)) for c in every)


def test_what_pays_for_itself_just_so_is_in_it() -> None:
    assert most_surplus([3], [3], [[0]]) == {0}
    assert most_surplus([2], [3], [[0]]) == frozenset()


def test_gains_that_share_a_need_pay_for_it_together() -> None:
    assert most_surplus([2, 2], [3], [[0], [0]]) == {0}
    # The first pays for both of its needs only when the second relieves it of the shared one.
    assert most_surplus([4, 3], [3, 4], [[0, 1], [0]]) == {0, 1}
