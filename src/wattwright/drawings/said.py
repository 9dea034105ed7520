"""Numbers that an assessment states, for drawing them."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.findings import Figure, Finding


def number(by_address: Mapping[str, Finding | Figure], address: str) -> float | None:
    """Number said under an address, in SI; none where nothing is said or known."""
    said = by_address.get(address)
    return said.value.number if said is not None else None
