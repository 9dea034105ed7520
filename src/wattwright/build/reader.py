"""From a build folder to a ``Build``: every problem of the file is found in one pass."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from wattwright.build.agreement import check_agreement
from wattwright.build.devices import PART_TAGS
from wattwright.build.fields import Quantity, Record
from wattwright.build.migrations import migrated
from wattwright.build.model import FORMAT, UNSAID, Build
from wattwright.build.reread import Leaves, Reread
from wattwright.build.rules import LimitRule
from wattwright.build.sampled_files import Beside, Files, beside, bytes_of
from wattwright.build.shape import Slot, slots
from wattwright.build.text import LARGEST, Source, read_text
from wattwright.build.typed import (
    Credit,
    Field,
    checked_date,
    labelled,
    not_given,
    read_credit,
    read_leaf,
    rule_value,
)
from wattwright.errors import BuildError, Problem, UnitsError, acts
from wattwright.values import Value

FILE = "build.toml"
_BESIDE = "who answered and when stand beside it, in answered_by and date"
# Written so that a browser reads it alike.
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_\-]{0,63}")


@dataclass(frozen=True, slots=True)
class Opened:
    """A build together with the text it was read from.

    ``digest`` covers the text and the files that it names. ``leaves`` are the values by what was
    typed for them, for reading the build again after a change.
    """

    build: Build
    source: Source
    digest: str
    folder: Path | None = None
    leaves: Leaves = field(default_factory=dict, repr=False)


def open_build(folder: Path) -> Opened:
    """Read the build in a folder (or the build file itself). Raises BuildError."""
    path = folder if folder.is_file() else folder / FILE
    try:
        raw = bytes_of(path, LARGEST)
    except OSError as error:
        raise BuildError(
            Problem(
                f"cannot be opened: {error.strerror or error}",
                file=str(path),
                do="name a folder that holds a build.toml, or make one: wattwright new FOLDER",
            )
        ) from None
    return replace(parse_build(raw, path.name, beside(path.parent)), folder=path.parent)


def parse_build(
    raw: bytes,
    file: str = FILE,
    read_file: Beside | None = None,
    like: Opened | None = None,
) -> Opened:
    """Read a build from the bytes of its file. Raises BuildError with every problem found.

    ``read_file`` gives the bytes of a file beside it, by name. ``like`` is the build as it was
    read before: what is typed alike in both is one and the same value, which is how ``assess``
    knows what did not change.
    """
    return build_of(read_text(raw, file), file, read_file, like)


def build_of(
    text: Source,
    file: str = FILE,
    read_file: Beside | None = None,
    like: Opened | None = None,
) -> Opened:
    """Read a build from a text that is split into its values already; else as ``parse_build``."""
    source = migrated(text, file, FORMAT)
    reading = _Reading(source, file, read_file, like.leaves if like else {})
    _refuse_control(source.data, (), reading)
    prepared = reading.record(Build, source.data, ())
    build = _validated(prepared, reading)
    if build is not None:
        check_agreement(build, reading)
    if build is None or reading.problems:
        raise BuildError(*_in_order(reading.problems, file))
    leaves = reading.leaves.used
    return Opened(build, source, reading.files.digest(source.digest), leaves=leaves)


def _in_order(problems: list[Problem], file: str) -> list[Problem]:
    def place(p: Problem) -> tuple[object, ...]:
        return p.file != file, p.file, p.line or 0, p.column or 0, p.path, p.what

    return sorted(set(problems), key=place)


def _validated(prepared: Mapping[str, Any], reading: _Reading) -> Build | None:
    try:
        return Build.model_validate(prepared)
    except ValidationError as error:
        for fault in error.errors(include_url=False):
            path = tuple(str(piece) for piece in fault["loc"] if piece not in PART_TAGS)
            missing = fault["type"] == "missing"
            reading.problem(
                path,
                "is missing" if missing else _plain_words(fault["msg"]),
                got="" if missing else repr(fault["input"]),
                do=f"write {path[-1]} in [{'.'.join(path[:-1])}]" if missing and path[:-1] else "",
            )
        return None


def _plain_words(message: str) -> str:
    return message.replace("Input should be", "should be")


class _Reading:
    """One pass over the raw data of a file, guided by the declarations."""

    def __init__(self, source: Source, file: str, read_file: Beside | None, before: Leaves) -> None:
        self.source = source
        self.file = file
        self.problems: list[Problem] = []
        self.leaves = Reread(before)
        self.files = Files(read_file, self.problems, self.leaves)

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        place = next(
            (
                self.source.places[path[:length]]
                for length in range(len(path), 0, -1)
                if path[:length] in self.source.places
            ),
            None,
        )
        self.problems.append(
            Problem(
                what,
                ".".join(path),
                self.file,
                place.line if place else None,
                place.column if place else None,
                got[:120],
                do=do,
            )
        )

    def line(self, path: tuple[str, ...]) -> int | None:
        place = self.source.places.get(path)
        return place.line if place else None

    def record(
        self,
        model: type[Record],
        raw: object,
        path: tuple[str, ...],
        variants: Mapping[str, type[Record]] | None = None,
    ) -> dict[str, Any]:
        """Prepare one record for validation, reading its quantities on the way."""
        if not isinstance(raw, dict):
            self.problem(path, "is a section, not a single value", repr(raw), f"write [{path[-1]}]")
            raw = {}
        credit = self.credit(raw, path, None)
        known = {slot.name: slot for slot in slots(model)}
        self.refuse_unknown(raw, known, path, variants or {})
        prepared: dict[str, Any] = {}
        for slot in known.values():
            prepared.update(self.slot(slot, raw, path, credit))
        return prepared

    def credit(
        self, raw: Mapping[str, Any], path: tuple[str, ...], inherited: Credit | None
    ) -> Credit | None:
        if "origin" not in raw:
            return inherited
        try:
            return read_credit(str(raw["origin"]))
        except UnitsError as error:
            self.problem((*path, "origin"), str(error))
            return inherited

    def refuse_unknown(
        self,
        raw: Mapping[str, Any],
        known: Mapping[str, Slot],
        path: tuple[str, ...],
        variants: Mapping[str, type[Record]],
    ) -> None:
        for key in raw:
            if key in known or key == "origin":
                continue
            kinds = [kind for kind, model in variants.items() if key in model.model_fields]
            if kinds:
                hint = f"write kind = {' or '.join(kinds)} for such a part"
                self.problem((*path, key), "belongs to another kind of part", do=hint)
                continue
            near = difflib.get_close_matches(key, [*known, "origin"], n=1, cutoff=0.5)
            hint = f"did you mean {near[0]}?" if near else f"known here: {', '.join(known)}"
            self.problem((*path, key), "is not a key this section knows", do=hint)

    def slot(
        self, slot: Slot, raw: Mapping[str, Any], path: tuple[str, ...], credit: Credit | None
    ) -> dict[str, Any]:
        here = (*path, slot.name)
        inner = raw.get(slot.name)
        match slot.shape:
            case "quantity":
                return {slot.name: self.quantity(inner, here, slot.quantity, credit)}
            case "rule":
                return {slot.name: self.rule(inner, here, slot.quantity)}
            case "curve":
                field = self.field(here, slot.sampled.share)
                refuse = partial(self.problem, here)
                return {slot.name: self.files.leaf(inner, field, slot.sampled, credit, refuse)}
            case "route":
                field = self.field(here, slot.track.share)
                refuse = partial(self.problem, here)
                return {slot.name: self.files.route(inner, field, credit, refuse)}
            case "record" if slot.record is not None:
                empty: object = {} if inner is None else inner
                return {slot.name: self.record(slot.record, empty, here)}
            case "quantities" | "records":
                return {slot.name: self.named(slot, inner, here, credit)}
            case _:
                return {slot.name: inner} if slot.name in raw else {}

    def named(
        self, slot: Slot, raw: object, path: tuple[str, ...], credit: Credit | None
    ) -> dict[str, Any]:
        if raw is None and slot.shape == "quantities":
            # Nobody said what is there: that is a lack, where an empty {} says "nothing".
            return {UNSAID: self.quantity(None, path, slot.quantity, credit)}
        if raw is None:
            return {}
        if not isinstance(raw, dict):
            self.problem(path, "holds named entries", repr(raw), f"write [{'.'.join(path)}.NAME]")
            return {}
        if slot.shape == "quantities":
            credit = self.credit(raw, path, credit)
        named: dict[str, Any] = {}
        # By name, so that the order of tables in the file changes nothing.
        for name, inner in sorted(raw.items()):
            here = (*path, name)
            if name == "origin" and slot.shape == "quantities":
                continue
            if not NAME.fullmatch(name):
                self.problem(
                    here, "is no name", repr(name), "use letters, digits, - and _, up to 64"
                )
            elif slot.record is not None:
                model = self.variant(slot, slot.record, inner, here)
                named[name] = self.record(model, inner, here, slot.variants)
            else:
                named[name] = self.quantity(inner, here, slot.quantity, credit, name)
        return named

    def variant(
        self, slot: Slot, usual: type[Record], raw: object, path: tuple[str, ...]
    ) -> type[Record]:
        """Choose the record that a part's ``kind`` names."""
        kind = raw.get("kind", "") if isinstance(raw, dict) else ""
        if not slot.variants or kind == "":
            return usual
        if isinstance(kind, str) and kind in slot.variants:
            return slot.variants[kind]
        near = difflib.get_close_matches(str(kind), [k for k in slot.variants if k], n=1)
        known = ", ".join(k for k in slot.variants if k)
        hint = f"did you mean {near[0]}?" if near else f"known: {known}"
        self.problem((*path, "kind"), "is no kind of part", repr(kind), hint)
        return usual

    def quantity(
        self,
        raw: object,
        path: tuple[str, ...],
        declared: Quantity,
        credit: Credit | None,
        name: str = "",
    ) -> Value:
        field = self.field(path, declared, name)
        if raw is None:
            return self.leaves((field, None), lambda: not_given(field))
        if isinstance(raw, bool) or not isinstance(raw, str | int | float):
            self.problem(path, "is a quantity", repr(raw), f'write "{declared.kind.example}"')
            return not_given(field)
        try:
            return self.leaves((field, repr(raw), credit), lambda: read_leaf(raw, field, credit))
        except UnitsError as error:
            self.problem(path, str(error))
            return not_given(field)

    def field(self, path: tuple[str, ...], declared: Quantity, name: str = "") -> Field:
        label = labelled((*path[:-1], name) if name else path[:-1], declared)
        return Field(".".join(path), label, self.line(path), declared)

    def rule(self, raw: object, path: tuple[str, ...], declared: Quantity) -> dict[str, Any]:
        if raw is not None and not isinstance(raw, dict):
            self.problem(
                path,
                "a rule is a section: value, text, date, answered_by",
                repr(raw),
                f"write [{'.'.join(path)}] and in it value, date and answered_by",
            )
        inner = raw if isinstance(raw, dict) else {}
        prepared = self.record(
            LimitRule, {key: leaf for key, leaf in inner.items() if key != "value"}, path
        )
        here = (*path, "value")
        value = inner.get("value")
        if isinstance(value, str) and ", " in value:
            self.problem(here, "takes the quantity alone", repr(value), _BESIDE)
        if "origin" in inner:
            self.problem((*path, "origin"), "has no meaning in a rule", do=_BESIDE)
        limit = self.quantity(value, here if value is not None else path, declared, None)
        line = self.line(here) or self.line(path)
        field = Field(".".join(path), declared.label, line, declared)
        date = self.date(inner, path)
        if "date" in prepared:
            prepared["date"] = date
        answered_by = str(inner.get("answered_by", ""))
        ruled = self.leaves(
            (field, limit, answered_by, date), lambda: rule_value(limit, field, answered_by, date)
        )
        return {**prepared, "value": ruled}

    def date(self, raw: Mapping[str, Any], path: tuple[str, ...]) -> str:
        text = str(raw.get("date", ""))
        try:
            return checked_date(text) if text else ""
        except UnitsError as error:
            self.problem((*path, "date"), str(error))
            return ""


def _refuse_control(data: object, path: tuple[str, ...], reading: _Reading) -> None:
    """Refuse characters that would act on a terminal or hide text."""
    if isinstance(data, dict):
        for key, inner in data.items():
            _refuse_control(inner, (*path, key), reading)
    elif isinstance(data, str) and any(acts(sign) for sign in data):
        reading.problem(path, "holds a control character", repr(data), "write it again without")
