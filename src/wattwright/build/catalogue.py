"""All declared fields in one list, for the reference page, ``fields`` and help."""

from __future__ import annotations

import difflib
import types
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal, Union, get_args, get_origin

from wattwright.build.fields import Quantity, Record
from wattwright.build.model import Build
from wattwright.build.shape import Slot, slots

NAMED = "NAME"


@dataclass(frozen=True, slots=True)
class Entry:
    """One field: its path (``NAME`` stands for a name of your own) and its declaration.

    ``kinds`` says which kinds of part have it, where not all have.
    """

    path: str
    slot: Slot
    kinds: tuple[str, ...] = ()
    # What may stand here where other records follow from the word.
    words: tuple[str, ...] = ()

    @property
    def section(self) -> str:
        """First word of the path."""
        return self.path.partition(".")[0]

    @property
    def allowed(self) -> tuple[str, ...]:
        """Range of a quantity, or the words of a choice."""
        declared = self.slot.declared
        if isinstance(declared, Quantity):
            return declared.allowed or ()
        return self.words or tuple(choices(self.slot.annotation))


def choices(annotation: object) -> Iterator[str]:
    """List the words that a field of this type may hold, where they are a choice."""
    if annotation is bool:
        yield from ("true", "false")
    elif get_origin(annotation) is Literal:
        yield from (str(choice) for choice in get_args(annotation))
    elif get_origin(annotation) in (Union, types.UnionType):
        for inner in get_args(annotation):
            yield from choices(inner)


@cache
def entries(model: type[Record] = Build, prefix: str = "") -> tuple[Entry, ...]:
    """List every field of the build, sections opened; a page asks for many of them one by one."""
    return tuple(entry for slot in slots(model) for entry in _of_slot(slot, f"{prefix}{slot.name}"))


def _of_slot(slot: Slot, path: str) -> Iterator[Entry]:
    if slot.shape == "quantities":
        yield Entry(f"{path}.{NAMED}", slot)
    elif slot.shape == "rule" and slot.record is not None:
        yield Entry(f"{path}.value", slot)
        yield from entries(slot.record, f"{path}.")
    elif slot.shape == "records" and slot.record is not None:
        for entry in entries(slot.record, f"{path}.{NAMED}."):
            tells = slot.variants and entry.slot.name == "kind"
            yield replace(entry, words=tuple(filter(None, slot.variants))) if tells else entry
        yield from _of_variants(slot, f"{path}.{NAMED}.")
    elif slot.shape == "record" and slot.record is not None:
        yield from entries(slot.record, f"{path}.")
    else:
        yield Entry(path, slot)


def _of_variants(slot: Slot, prefix: str) -> Iterator[Entry]:
    """Fields that only some kinds of a record have, each once, with the kinds that have it."""
    common = {each.name for each in slots(slot.variants[""])} if slot.variants else set()
    found: dict[str, tuple[Slot, list[str]]] = {}
    for kind, model in slot.variants.items():
        for each in slots(model):
            if each.name not in common:
                found.setdefault(each.name, (each, []))[1].append(kind)
    for name, (each, kinds) in found.items():
        for entry in _of_slot(each, f"{prefix}{name}"):
            yield replace(entry, kinds=tuple(kinds))


def find(path: str) -> Entry | None:
    """Find the declaration behind a path with real names in it."""
    pieces = path.split(".")
    for entry in entries():
        pattern = entry.path.split(".")
        if len(pattern) == len(pieces) and all(
            want in (piece, NAMED) for want, piece in zip(pattern, pieces, strict=True)
        ):
            return entry
    return None


def nearest(path: str) -> str:
    """Find the field most like a mistyped path, with the names that were typed in it."""
    pieces = path.split(".")
    candidates = []
    for entry in entries():
        pattern = entry.path.split(".")
        if len(pattern) == len(pieces):
            candidates.append(
                ".".join(
                    piece if want == NAMED else want
                    for want, piece in zip(pattern, pieces, strict=True)
                )
            )
    near = difflib.get_close_matches(path, candidates, n=1)
    return near[0] if near else ""
