"""What each mount carries, by case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class MountLoad:
    """What the unit puts on one mount in one case: back, right, up, and its size.

    ``crash``: it has to hold once, and may bend.
    """

    x: Value
    y: Value
    z: Value
    size: Value
    crash: bool


@dataclass(frozen=True, slots=True, eq=False)
class Loaded:
    """Loads by mount and then by case; ``rated`` and ``holds`` are what each mount bears."""

    loads: Mapping[str, Mapping[str, MountLoad]]
    rated: Mapping[str, Value]
    holds: Mapping[str, Value]

    def worst(self, name: str, *, crash: bool) -> tuple[str, MountLoad] | None:
        """The case in which a mount carries most; one that is not known speaks first."""
        cases = [(says, each) for says, each in self.loads[name].items() if each.crash is crash]
        if not cases:
            return None
        unknown = [case for case in cases if not case[1].size.known]
        return unknown[0] if unknown else max(cases, key=lambda case: case[1].size.number or 0.0)
