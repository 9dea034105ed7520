"""From what a person types for a field to the TOML that stands in the file."""

from __future__ import annotations

from wattwright.build.edits import quote
from wattwright.build.fields import Quantity
from wattwright.build.shape import Slot


def as_toml(slot: Slot | None, text: str) -> str:
    """Write a typed text as the value of a field; without a declaration it is a text."""
    if slot is None or isinstance(slot.declared, Quantity):
        return quote(text)
    if slot.annotation in (bool | None, bool) and text in ("true", "false"):
        return text
    if slot.annotation in (float | None, int | None, float, int) and _is_number(text):
        return text
    return quote(text)


def _is_number(text: str) -> bool:
    """Say whether TOML reads the text as a number; anything else is kept as a text and refused."""
    digits = text.removeprefix("-").replace(".", "", 1)
    return digits.isdecimal() and digits.isascii() and text[-1] != "." and not _padded(text)


def _padded(text: str) -> bool:
    whole = text.removeprefix("-").partition(".")[0]
    return not whole or (len(whole) > 1 and whole[0] == "0")
