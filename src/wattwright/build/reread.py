"""Reading a build again after a change: what is typed alike is one and the same value."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Any, TypeAlias, TypeVar

# Everything that a value is read from, and the value.
Leaves: TypeAlias = Mapping[Hashable, Any]
Read = TypeVar("Read")


class Reread:
    """Gives values of the reading before where everything they are read from is the same.

    ``used`` are the values of this reading, for the next one; what is no longer in the build is
    not among them.
    """

    def __init__(self, before: Leaves) -> None:
        self._before = before
        self.used: dict[Hashable, Any] = {}

    def __call__(self, key: Hashable, read: Callable[[], Read]) -> Read:
        """Give the value that was read from ``key`` before, or read it; errors are not kept."""
        found: Read = self._before[key] if key in self._before else read()
        self.used[key] = found
        return found
