"""The fields of a build as a form shows them, from the declarations and what is written.

A ``Group`` is one record: its own fields, the records inside it, and the named records inside it,
which have pages of their own. Nothing here knows HTML.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from typing import Literal

from wattwright.assessment import shown
from wattwright.build.catalogue import NAMED, Entry, choices, entries
from wattwright.build.fields import Quantity, Record, Sampled, Section, Track
from wattwright.build.model import Build
from wattwright.build.shape import Slot, slots
from wattwright.build.text import Path, dotted
from wattwright.errors import UsageError
from wattwright.units import Taste
from wattwright.values import Origin, Value
from wattwright.web.typed_leaf import Typed, taken_apart

Box = Literal["quantity", "file", "choice", "words", "long", "number"]

ORIGIN = "origin"
# Words of this length or with line breaks are written in a larger box.
_LONG = 60
_LONG_NAMES = frozenset({"note", "text", "description"})


@dataclass(frozen=True, slots=True)
class Leaf:
    """One field: where it stands, what was declared, what is written, what it comes to.

    ``written`` is the text in the file, none where nothing stands there.
    """

    path: Path
    label: str
    box: Box
    written: str | None
    typed: Typed
    slot: Slot | None
    choices: tuple[str, ...] = ()
    shown: str = ""
    state: str = ""

    @property
    def name(self) -> str:
        """The path as it is written in the file and in addresses."""
        return ".".join(self.path)

    @property
    def id(self) -> str:
        """A word for the page to find it by."""
        return "f-" + "-".join(self.path)

    @property
    def quantity(self) -> Quantity | None:
        """The declaration, where it is a quantity."""
        declared = self.slot.declared if self.slot else None
        return declared if isinstance(declared, Quantity) else None

    @property
    def how(self) -> str:
        """How to find it out: tool, place and condition."""
        declared = self.slot.declared if self.slot else None
        return declared.how if isinstance(declared, Quantity | Sampled | Track) else ""

    @property
    def minutes(self) -> float | None:
        """What finding it out takes."""
        declared = self.slot.declared if self.slot else None
        return declared.minutes if isinstance(declared, Quantity | Sampled | Track) else None

    @property
    def help(self) -> str:
        """What it means."""
        return self.slot.declared.help if self.slot else ""

    @property
    def may_be_none(self) -> bool:
        """True where nothing of the kind may exist."""
        declared = self.slot.declared if self.slot else None
        return isinstance(declared, Quantity | Sampled) and declared.may_be_none

    @property
    def may_be_unknown(self) -> bool:
        """True where it can stand on the list of things to find out."""
        return self.box in ("quantity", "file")


@dataclass(frozen=True, slots=True)
class Named:
    """Records of one kind, by name; or named quantities, when ``quantities`` is set."""

    path: Path
    slot: Slot
    names: tuple[str, ...]

    @property
    def name(self) -> str:
        """The path as it is written in the file."""
        return ".".join(self.path)

    @property
    def label(self) -> str:
        """What they are."""
        return self.slot.declared.label

    @property
    def quantities(self) -> bool:
        """True where each is one quantity."""
        return self.slot.shape == "quantities"


@dataclass(frozen=True, slots=True)
class Group:
    """One record."""

    path: Path
    label: str
    help: str
    leaves: tuple[Leaf, ...]
    groups: tuple[Group, ...]
    named: tuple[Named, ...]

    @property
    def name(self) -> str:
        """The path as it is written in the file."""
        return ".".join(self.path)

    def every_leaf(self) -> Iterator[Leaf]:
        """Walk its own fields and those of the records inside it."""
        yield from self.leaves
        for group in self.groups:
            yield from group.every_leaf()


@dataclass(frozen=True, slots=True)
class Written:
    """What a build file says, and what was made of it where it could be read."""

    data: Mapping[str, object]
    texts: Mapping[Path, str]
    build: Build | None
    taste: Taste = "metric"

    def raw(self, path: Path) -> object:
        """Return what stands at a path."""
        data: object = self.data
        for key in path:
            if not isinstance(data, Mapping):
                return None
            data = data.get(key)
        return data

    def as_kind(self, path: Path, kind: str) -> Written:
        """Return the same with a record taken for one of another kind."""
        data: dict[str, object] = dict(self.data)
        inner = data
        for key in path:
            below = inner.get(key)
            fresh: dict[str, object] = dict(below) if isinstance(below, Mapping) else {}
            inner[key] = fresh
            inner = fresh
        inner["kind"] = kind
        return Written(data, self.texts, self.build, self.taste)

    def names(self, path: Path) -> tuple[str, ...]:
        """Names of the records at a path, in the order of the file."""
        raw = self.raw(path)
        return tuple(key for key in raw if key != ORIGIN) if isinstance(raw, Mapping) else ()

    def value(self, path: Path) -> Value | None:
        """Return what a field comes to, with its default where it is left out."""
        found: object = self.build
        for key in path:
            found = found.get(key) if isinstance(found, Mapping) else getattr(found, key, None)
            if found is None:
                return None
        share = getattr(found, "share", found)
        return share if isinstance(share, Value) else None


def group_at(written: Written, path: Path) -> Group:
    """Describe the record at a path. Raises UsageError where a build has none."""
    model, declared = _model_at(written, path)
    return _group(written, path, model, declared.label, declared.help)


def leaf_at(written: Written, path: Path) -> Leaf:
    """Describe one field. Raises UsageError where a build has none."""
    entry = entry_at(written, path)
    if entry is not None:
        return _leaf(written, path, entry.slot)
    if path[-1] == ORIGIN and len(path) > 1:
        found = next(
            (leaf for leaf in group_at(written, path[:-1]).leaves if leaf.path == path), None
        )
        if found is not None:
            return found
    raise UsageError(f"there is no field {'.'.join(path)}")


def entry_at(written: Written, path: Path) -> Entry | None:
    """Find the declaration of a field, among those of the kind of part that stands there."""
    kind = written.raw((*path[:2], "kind")) if path[0] == "part" else None
    found = None
    for pattern, entry in _patterns().get(len(path), ()):
        fits = all(want in (piece, NAMED) for want, piece in zip(pattern, path, strict=True))
        if fits and (not entry.kinds or kind in entry.kinds):
            return entry
        if fits:
            found = entry
    return found


@cache
def _patterns() -> Mapping[int, Sequence[tuple[Path, Entry]]]:
    """Every declared field with the pieces of its path, by how many they are."""
    found: dict[int, list[tuple[Path, Entry]]] = {}
    for entry in entries():
        pattern = tuple(entry.path.split("."))
        found.setdefault(len(pattern), []).append((pattern, entry))
    return found


def _model_at(written: Written, path: Path) -> tuple[type[Record], Section]:
    model: type[Record] = Build
    declared = Section("the build")
    here: Path = ()
    pieces = list(path)
    while pieces:
        key = pieces.pop(0)
        here = (*here, key)
        slot = next((each for each in slots(model) if each.name == key), None)
        if slot is None or slot.record is None:
            raise UsageError(f"there is no section {'.'.join(path)}")
        model = slot.record
        label, help_text = slot.declared.label, slot.declared.help
        if slot.shape == "records":
            if not pieces:
                raise UsageError(f"{'.'.join(path)} holds named records; name one")
            name = pieces.pop(0)
            here = (*here, name)
            label = name.replace("_", " ")
            model = _variant(slot, written.raw(here)) or model
        declared = Section(label, help_text)
    return model, declared


def _variant(slot: Slot, raw: object) -> type[Record] | None:
    kind = raw.get("kind", "") if isinstance(raw, Mapping) else ""
    return slot.variants.get(str(kind)) if slot.variants else None


def _group(written: Written, path: Path, model: type[Record], label: str, help_text: str) -> Group:
    leaves: list[Leaf] = []
    groups: list[Group] = []
    named: list[Named] = []
    for slot in slots(model):
        here = (*path, slot.name)
        if slot.shape in ("record", "rule") and slot.record is not None:
            groups.append(_inner(written, here, slot, slot.record))
        elif slot.shape in ("records", "quantities"):
            named.append(Named(here, slot, written.names(here)))
            if slot.shape == "quantities":
                groups.append(_quantities(written, here, slot))
        elif here != ("format",):
            leaves.append(_leaf(written, here, slot))
    if sum(leaf.box == "quantity" for leaf in leaves) > 1:
        leaves.append(_origin(written, (*path, ORIGIN)))
    return Group(path, label, help_text, tuple(leaves), tuple(groups), tuple(named))


def _inner(written: Written, path: Path, slot: Slot, model: type[Record]) -> Group:
    inner = _group(written, path, model, slot.declared.label, slot.declared.help)
    if slot.shape != "rule":
        return inner
    limit = _leaf(written, (*path, "value"), slot)
    return Group(path, inner.label, inner.help, (limit, *inner.leaves), inner.groups, inner.named)


def _quantities(written: Written, path: Path, slot: Slot) -> Group:
    leaves = tuple(_leaf(written, (*path, name), slot, name) for name in written.names(path))
    return Group(path, slot.declared.label, slot.declared.help, leaves, (), ())


def _origin(written: Written, path: Path) -> Leaf:
    raw = written.raw(path)
    text = written.texts.get(path)
    label = "origin of all above that name none"
    return Leaf(path, label, "words", text, Typed(str(raw or "")), None)


def _leaf(written: Written, path: Path, slot: Slot, name: str = "") -> Leaf:
    raw = written.raw(path)
    text = written.texts.get(path)
    whole = _as_written(raw, text)
    box = _box(slot, path[-1], whole)
    value = written.value(path if slot.shape != "rule" else (*path[:-1], "value"))
    return Leaf(
        path,
        name.replace("_", " ") or slot.declared.label,
        box,
        text,
        taken_apart(whole) if box in ("quantity", "file") else Typed(whole),
        slot,
        _choices_of(slot),
        "" if value is None else shown(value, written.taste),
        _state(value),
    )


def _as_written(raw: object, text: str | None) -> str:
    """Return a leaf as it was typed: a text without its quotes, a number as it stands."""
    if raw is None:
        return ""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    return raw if isinstance(raw, str) else text if text is not None else str(raw)


def _state(value: Value | None) -> str:
    """Say how well a value is known, in the word of its origin."""
    if value is None:
        return ""
    if value.number is None:
        return "none" if value.absent else (value.lacks[0].why if value.lacks else "unknown")
    given = value.given
    if given is None:
        return ""
    if given.origin is Origin.RULE:
        return "answered" if given.confirmed else "decided" if given.line else "not answered"
    return str(given.origin.value)


def _box(slot: Slot, name: str, typed: str) -> Box:
    if slot.shape in ("quantity", "quantities", "rule") and isinstance(slot.declared, Quantity):
        return "quantity"
    if slot.shape in ("curve", "route"):
        return "file"
    if _choices_of(slot):
        return "choice"
    if slot.annotation in (float | None, int, float):
        return "number"
    long = name in _LONG_NAMES or len(typed) > _LONG or "\n" in typed
    return "long" if long else "words"


def _choices_of(slot: Slot) -> tuple[str, ...]:
    if slot.shape != "plain":
        return ()
    if slot.name == "kind":
        # The kinds of part stand in the catalogue, which knows the records they choose.
        words = next((e.words for e in entries() if e.path == "part.NAME.kind"), ())
        if words:
            return words
    return tuple(choices(slot.annotation))


def named_at(written: Written, path: Path) -> Named:
    """Describe the named records at a path. Raises UsageError where a build has none."""
    holder = group_at(written, path[:-1]) if len(path) > 1 else None
    candidates = holder.named if holder is not None else _top(written)
    found = next((each for each in candidates if each.path == path), None)
    if found is None:
        raise UsageError(f"{'.'.join(path)} holds no named records")
    return found


def place_of(written: Written, path: Path) -> str | None:
    """Return the page on which something that is no field is written."""
    if entry_at(written, (*path, "value")) is not None:
        return f"field/{dotted((*path, 'value'))}"
    for page_name, describe in (("table", named_at), ("in", group_at)):
        with suppress(UsageError):
            describe(written, path)
            return f"{page_name}/{dotted(path)}"
    return None


def address_of(written: Written, path: Path) -> str | None:
    """Return the page on which whatever stands at a path is written, if there is one."""
    with suppress(UsageError):
        return f"field/{leaf_at(written, path).name}"
    return place_of(written, path)


def _top(written: Written) -> tuple[Named, ...]:
    return tuple(
        Named((slot.name,), slot, written.names((slot.name,)))
        for slot in slots(Build)
        if slot.shape in ("records", "quantities")
    )
