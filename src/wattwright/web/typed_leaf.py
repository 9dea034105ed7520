"""A leaf in the parts that a form asks for, and whole again as a builder types it."""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.values import Origin, State

ORIGINS = tuple(origin.value for origin in Origin if origin is not Origin.RULE)
_ALONE = (State.UNKNOWN.value, State.NONE.value)


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed: the quantity with its ±, the word of its origin, and what stands behind."""

    quantity: str = ""
    origin: str = ""
    detail: str = ""

    @property
    def whole(self) -> str:
        """The leaf as it stands in the file."""
        quantity = self.quantity.strip()
        if not quantity or quantity.casefold() in _ALONE:
            return quantity.casefold() if quantity.casefold() in _ALONE else quantity
        detail = self.detail.strip().strip(",").strip()
        # Without a word for the origin a detail would be read as one.
        origin = self.origin.strip() or ("assumed" if detail else "")
        return ", ".join(piece for piece in (quantity, origin, detail) if piece)


def taken_apart(text: str) -> Typed:
    """Take a leaf apart; what does not begin with the word of an origin stays in one piece."""
    quantity, comma, rest = text.partition(", ")
    word, _, detail = rest.partition(",")
    if not comma or word.strip().casefold() not in ORIGINS:
        return Typed(text)
    return Typed(quantity, word.strip().casefold(), detail.strip())
