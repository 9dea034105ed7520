"""Every step behind some values, each once and numbered, gathered under the formulas used.

A step never stands before one that it builds on. Within that, all steps along one formula stand
together as far as they can, so that nearly every formula is printed once, with all its uses.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator, Mapping, Sequence
from heapq import heapify, heappop, heappush
from itertools import groupby
from typing import Any

from wattwright.assessment import shown
from wattwright.formula import Formula
from wattwright.pages.formula_math import formula_math, symbol_math
from wattwright.units import Taste
from wattwright.values import Value
from wattwright.words import lack_words
from wattwright.working import WorkedStep, numbers_text, rows_of, steps_of, where_from

# So many things that are missing are named at a step; the list of what is not known has all.
_NAMED = 3


class Workings:
    """The steps behind some values, as a page prints them."""

    def __init__(self, roots: Sequence[Value], taste: Taste) -> None:
        found = steps_of(*roots)
        first = _first_alike(found)
        steps = gathered([each for each in found if first[id(each.step)] == id(each.step)], first)
        numbers = {id(each.step): count for count, each in enumerate(steps, 1)}
        self._taste = taste
        self._numbers = {key: numbers[alike] for key, alike in first.items()}
        self.groups = [
            {**_formula(alike[0].formula), "steps": [self._step(each) for each in alike]}
            for alike in _runs(steps)
        ]

    def number(self, value: Value) -> int:
        """Return the number of the step that worked a value out; nought where none did."""
        return self._numbers.get(id(value.step), 0) if value.step is not None else 0

    def _step(self, worked: WorkedStep) -> dict[str, Any]:
        where = where_from(worked)
        members = "; ".join(", ".join(row) for row in rows_of(worked, self._taste))
        notes = (
            f"where {where}" if where else "",
            f"members: {members}" if members else "",
            _needs(worked.value),
        )
        return {
            "number": self._numbers[id(worked.step)],
            "numbers": f"= {numbers_text(worked, self._taste, self._numbers)}",
            "result": f"= {shown(worked.value, self._taste)}",
            "notes": "; ".join(each for each in notes if each),
        }


def _needs(value: Value) -> str:
    """Name the first things that a result waits for."""
    words = [lack_words(lack) for lack in value.lacks]
    more = f" and {len(words) - _NAMED} more" if len(words) > _NAMED else ""
    return f"needs {', '.join(words[:_NAMED])}{more}" if words else ""


def _runs(steps: Sequence[WorkedStep]) -> Iterator[list[WorkedStep]]:
    for _, run in groupby(steps, key=lambda each: id(each.formula)):
        yield list(run)


def _formula(formula: Formula) -> dict[str, Any]:
    return {
        "says": formula.says,
        "math": f"{symbol_math(formula.symbol)} = {formula_math(formula)}",
        "method": formula.method,
        "source": str(formula.source),
    }


def _first_alike(steps: Sequence[WorkedStep]) -> dict[int, int]:
    """Find for each step the first one that does the very same with the very same values."""
    first: dict[int, int] = {}
    known: dict[Hashable, int] = {}

    def leaf(value: Value) -> Hashable:
        if value.step is not None:
            return "step", first[id(value.step)]
        if value.given is not None:
            return "given", id(value.given), value.number, value.settled
        return value.kind.name, value.number, value.label, value.lacks, value.absent, value.noted

    for each in steps:
        rows = (a if isinstance(a, tuple) else (a,) for a in each.step.arguments)
        doing = (each.step.fn, tuple(tuple(map(leaf, row)) for row in rows), each.value.settled)
        first[id(each.step)] = known.setdefault(doing, id(each.step))
    return first


def gathered(steps: Sequence[WorkedStep], first: Mapping[int, int]) -> list[WorkedStep]:
    """Order steps so that those along one formula stand together, none before what it builds on.

    Of the formulas that could come next, the one goes first of which least would be left over for
    later; of equals, the one that was wanted first. ``first`` leads from each step to the one that
    stands for all alike.
    """
    place = {id(each.step): count for count, each in enumerate(steps)}
    builds_on = [
        {place[first[id(value.step)]] for value in each.step.flat if value.step is not None}
        for each in steps
    ]
    used_by: list[list[int]] = [[] for _ in steps]
    for count, needs in enumerate(builds_on):
        for each in needs:
            used_by[each].append(count)
    waiting_for = [len(needs) for needs in builds_on]
    formulas = [id(each.formula) for each in steps]
    left = Counter(formulas)
    ready: dict[int, list[int]] = {}
    for count, waits in enumerate(waiting_for):
        if not waits:
            ready.setdefault(formulas[count], []).append(count)
    order: list[WorkedStep] = []
    while ready:
        chosen = min(ready, key=lambda each: (left[each] - len(ready[each]), min(ready[each])))
        queue = ready.pop(chosen)
        heapify(queue)
        while queue:
            count = heappop(queue)
            order.append(steps[count])
            left[chosen] -= 1
            for user in used_by[count]:
                waiting_for[user] -= 1
                if waiting_for[user]:
                    continue
                if formulas[user] == chosen:
                    heappush(queue, user)
                else:
                    ready.setdefault(formulas[user], []).append(user)
    return order
