"""What areas hand each other: typed descriptions, one module per area."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

Description = TypeVar("Description")


class Descriptions:
    """The descriptions made so far, by type."""

    def __init__(self, made: Iterable[object] = ()) -> None:
        self._made = {type(description): description for description in made}

    def __getitem__(self, kind: type[Description]) -> Description:
        found = self._made[kind]
        if not isinstance(found, kind):
            raise TypeError(f"{kind.__name__} holds another description")
        return found

    def get(self, kind: type[Description]) -> Description | None:
        """Give a description; None where it has not been made, as for a page that needs none."""
        if kind not in self:
            return None
        return self[kind]

    def only(self, kinds: Iterable[type]) -> Descriptions:
        """Narrow to the descriptions an area has said it reads."""
        return Descriptions(self._made[kind] for kind in kinds if kind in self._made)

    def __contains__(self, kind: type) -> bool:
        return kind in self._made

    def holds(self, description: object) -> bool:
        """True where this very description is among them."""
        return self._made.get(type(description)) is description

    def same_as(self, other: Descriptions) -> bool:
        """True where both hold the very same descriptions."""
        same = (self.holds(description) for description in other._made.values())
        return len(self._made) == len(other._made) and all(same)

    def with_one(self, description: object) -> Descriptions:
        """Add a description."""
        return Descriptions([*self._made.values(), description])
