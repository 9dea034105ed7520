"""What is worth its cost: of many gains that share what they need, the set with most surplus.

Each gain comes only when everything it needs is paid for, and each need is paid once however many
gains use it. The best set is a minimum cut between gains and costs (Picard, *Maximal closure of a
graph*, Management Science 22, 1976; recalled, not looked up); the flow that proves it is found by
shortest augmenting paths (Edmonds and Karp). A graph library does the same and is what the tests
hold this against; importing it took an eighth of the time of a whole command.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from itertools import pairwise


def most_surplus(
    gains: Sequence[int], costs: Sequence[int], needs: Sequence[Sequence[int]]
) -> frozenset[int]:
    """Choose the costs to pay, by number; of equally good choices the one with most in it.

    ``needs[i]`` lists the costs that gain ``i`` needs. Gains and costs are whole and not negative.
    """
    flow = _Flow(gains, costs, needs)
    while flow.push():
        pass
    paid_for = flow.without_a_way_out()
    return frozenset(cost for gain in paid_for for cost in needs[gain])


class _Flow:
    """What each gain pays towards each cost that it needs."""

    def __init__(
        self, gains: Sequence[int], costs: Sequence[int], needs: Sequence[Sequence[int]]
    ) -> None:
        self.needs = needs
        self.left = list(gains)
        self.unpaid = list(costs)
        self.users: list[dict[int, int]] = [{} for _ in costs]
        for gain, wanted in enumerate(needs):
            for cost in wanted:
                self.users[cost][gain] = 0
                self._pay(gain, cost, min(self.left[gain], self.unpaid[cost]))

    def _pay(self, gain: int, cost: int, amount: int) -> None:
        self.users[cost][gain] += amount
        self.left[gain] -= amount
        self.unpaid[cost] -= amount

    def push(self) -> bool:
        """Pay more along the shortest way from a gain with something left to an unpaid cost."""
        came_from: dict[int, tuple[int, int]] = {}
        ahead = deque(gain for gain, left in enumerate(self.left) if left)
        seen_gains, seen_costs = set(ahead), set[int]()
        while ahead:
            gain = ahead.popleft()
            for cost in self.needs[gain]:
                if cost in seen_costs:
                    continue
                seen_costs.add(cost)
                if self.unpaid[cost]:
                    self._along(gain, cost, came_from)
                    return True
                for other, paid in self.users[cost].items():
                    if paid and other not in seen_gains:
                        seen_gains.add(other)
                        came_from[other] = (gain, cost)
                        ahead.append(other)
        return False

    def _along(self, gain: int, cost: int, came_from: dict[int, tuple[int, int]]) -> None:
        """Let each gain on the way take over what the one after it pays, as far as all can."""
        way = [(gain, cost)]
        while gain in came_from:
            gain, cost = came_from[gain]
            way.append((gain, cost))
        most = min(self.left[gain], self.unpaid[way[0][1]])
        for (taken_from, _), (_, shared) in pairwise(way):
            most = min(most, self.users[shared][taken_from])
        for (taken_from, _), (_, shared) in pairwise(way):
            self._pay(taken_from, shared, -most)
        for payer, paid in reversed(way):
            self._pay(payer, paid, most)

    def without_a_way_out(self) -> set[int]:
        """Gains from which no cost can be reached that is not paid in full."""
        users_of = self.users
        ahead = deque(cost for cost, unpaid in enumerate(self.unpaid) if unpaid)
        seen = set(ahead)
        out: set[int] = set()
        while ahead:
            for gain in users_of[ahead.popleft()]:
                if gain in out:
                    continue
                out.add(gain)
                # Who pays towards a cost can be relieved there by any other that needs it.
                for cost in self.needs[gain]:
                    if users_of[cost][gain] and cost not in seen:
                        seen.add(cost)
                        ahead.append(cost)
        return set(range(len(self.needs))) - out
