"""Edits to a build file that touch only the lines they mean.

An edit replaces, adds or deletes one value by its place in the text; all other characters stay.
Comment lines above a deleted value stay, because they often introduce the value that follows.
After every set of edits the new text is read back and compared with what was meant, so a mistake
in the placing is an error and never a changed file.
"""

from __future__ import annotations

import copy
import datetime
import enum
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from wattwright.build.text import BOM, Item, Path, Source, Span, dotted, read_text
from wattwright.errors import BuildError, EditError


class Unchecked(enum.Enum):
    """The type of ``ANY``."""

    ANY = "any"


ANY: Final = Unchecked.ANY
"""As ``Edit.was``: whatever the old value is."""

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f"}


@dataclass(frozen=True, slots=True)
class Edit:
    """One change: ``new`` as TOML text, None to delete; ``was`` None means not there yet."""

    path: Path
    new: str | None
    was: str | Unchecked | None = None


def quote(value: object) -> str:
    """Return the value as TOML text on one line."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() if -(2**63) <= value < 2**63:
            return str(value)
        case float() if math.isfinite(value):
            return repr(value)
        case str():
            return _quote_text(value)
        case datetime.date() | datetime.time():
            return value.isoformat()
        case list() | tuple():
            return f"[{', '.join(quote(entry) for entry in value)}]"
        case dict() if value:
            pairs = (f"{_quote_key(key)} = {quote(entry)}" for key, entry in value.items())
            return f"{{ {', '.join(pairs)} }}"
        case dict():
            return "{}"
    raise EditError(f"this value cannot be written in a build file: {value!r}")


def splice(source: Source, edits: Sequence[Edit]) -> str:
    """Return the text with all edits made in order, or raise EditError and change nothing."""
    paths = [edit.path for edit in edits]
    for path in paths:
        if paths.count(path) > 1:
            raise EditError(f"{dotted(path)}: two edits of the same value in one set")
    meant = copy.deepcopy(source.data)
    state = source
    for edit in edits:
        _check_was(state, edit)
        path, new = edit.path, edit.new
        text = _delete(state, path) if new is None else _write(state, path, new)
        _apply(meant, state, edit)
        state = _read_back(text, meant)
    return state.text


def rename(source: Source, path: Path, new_key: str) -> str:
    """Return the text with the last key of ``path`` renamed wherever it is written."""
    target = (*path[:-1], new_key)
    if path not in source.places:
        raise EditError(f"{dotted(path)}: there is nothing of this name to rename")
    if target == path:
        return source.text
    if target in source.places:
        raise EditError(f"{dotted(target)}: this name is taken already; choose another one")
    text, at = source.text, len(path) - 1
    for item in reversed(source.items):
        if item.path[: len(path)] == path and len(item.base) <= at:
            start, end = item.keys[at - len(item.base)]
            text = text[:start] + _quote_key(new_key) + text[end:]
    meant = copy.deepcopy(source.data)
    record = _record(meant, path[:-1])
    record[new_key] = record.pop(path[-1])
    return _read_back(text, meant).text


def follow(source: Source, users: Sequence[Path], old: str, new: str) -> str:
    """Return the text with a new name where others use the old one: in values and in keys.

    ``users`` are the paths of what no longer finds it. A name counts where it stands whole: alone,
    or between hyphens, dots and commas, as in the name of a pair or in a list.
    """
    whole = re.compile(rf"(?<![0-9A-Za-z_]){re.escape(old)}(?![0-9A-Za-z_])")
    text = source.text
    for path in dict.fromkeys(users):
        if path not in source.places:
            continue
        value = _look_up(source.data, path)
        if isinstance(value, str) and whole.search(value):
            text = splice(source, [Edit(path, quote(whole.sub(new, value)), ANY)])
        elif whole.search(path[-1]):
            text = rename(source, path, whole.sub(new, path[-1]))
        source = read_text(text.encode("utf-8"))
    return text


def _quote_text(text: str) -> str:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise EditError(f"this text holds half a character: {text!r}") from None
    quoted = (
        _ESCAPES.get(char) or (char if " " <= char != "\x7f" else f"\\u{ord(char):04X}")
        for char in text
    )
    return f'"{"".join(quoted)}"'


def _quote_key(key: str) -> str:
    return key if _BARE_KEY.fullmatch(key) else _quote_text(key)


def _quote_path(path: Path) -> str:
    return ".".join(_quote_key(key) for key in path)


# ------------------------------------------------------------------------------- values and data


def _value(text: str, path: Path) -> Any:
    """Read TOML text that must be one whole value and nothing else."""
    try:
        read = read_text(f"value = {text}".encode())
    except (BuildError, UnicodeEncodeError):
        read = None
    if read is None or list(read.data) != ["value"] or read.items[0].end != len(read.text):
        raise EditError(f"{dotted(path)}: not one value as TOML writes it: {text}")
    return read.data["value"]


def _look_up(data: Any, path: Path) -> Any:
    for key in path:
        data = data[key]
    return data


def _same(one: object, two: object) -> bool:
    """Compare with types, since 1, 1.0 and true are equal in Python and differ in the file."""
    if type(one) is not type(two):
        return False
    if isinstance(one, dict) and isinstance(two, dict):
        return one.keys() == two.keys() and all(_same(one[key], two[key]) for key in one)
    if isinstance(one, list) and isinstance(two, list):
        return len(one) == len(two) and all(map(_same, one, two))
    return one == two


def _check_was(source: Source, edit: Edit) -> None:
    name = dotted(edit.path)
    if not edit.path:
        raise EditError("an edit needs the name of a value")
    if edit.path not in source.places:
        if edit.new is None:
            raise EditError(f"{name}: there is nothing of this name to delete")
        if edit.was is not None and edit.was is not ANY:
            raise EditError(f"{name}: was expected to be {edit.was} and is not in the file")
        return
    if edit.was is ANY:
        return
    found = _look_up(source.data, edit.path)
    place = source.places[edit.path]
    written = quote(found) if isinstance(found, dict) else source.text[place.start : place.end]
    if edit.was is None:
        raise EditError(f"{name}: was expected to be missing and is {written}")
    if edit.was != written and not _same(_value(edit.was, edit.path), found):
        raise EditError(f"{name}: was expected to be {edit.was} and is {written}")


def _record(data: dict[str, Any], path: Path) -> dict[str, Any]:
    for key in path:
        data = data.setdefault(key, {})
    return data


def _apply(meant: dict[str, Any], source: Source, edit: Edit) -> None:
    if edit.new is not None:
        _record(meant, edit.path[:-1])[edit.path[-1]] = _value(edit.new, edit.path)
        return
    # A record known only through the names below it goes when the last of them goes.
    written = {item.path for item in source.items}
    del _record(meant, edit.path[:-1])[edit.path[-1]]
    for depth in range(len(edit.path) - 1, 0, -1):
        record = edit.path[:depth]
        if record in written or _look_up(meant, record):
            break
        del _record(meant, record[:-1])[record[-1]]


def _read_back(text: str, meant: dict[str, Any]) -> Source:
    try:
        source = read_text(text.encode("utf-8"))
    except BuildError as error:
        raise EditError(f"the edit would leave a file that cannot be read: {error}") from error
    if not _same(source.data, meant):
        raise EditError("the edit would change another value than the one meant; nothing is done")
    return source


# -------------------------------------------------------------------------------------- the text


def _line_start(text: str, offset: int) -> int:
    """Return the start of the line at ``offset``, after a byte order mark if there is one."""
    start = text.rfind("\n", 0, offset) + 1
    return start + 1 if text.startswith(BOM, start) else start


def _line_end(text: str, offset: int) -> int:
    """Return the offset after the newline that ends the line at ``offset``."""
    newline = text.find("\n", offset)
    return len(text) if newline < 0 else newline + 1


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _indent(text: str, offset: int) -> str:
    return text[_line_start(text, offset) : offset]


def _insert_lines(text: str, at: int, lines: Sequence[str]) -> str:
    """Insert whole lines at the start of a line, or at an end of file without a newline."""
    newline = _newline(text)
    before = newline if at > _line_start(text, at) else ""
    return text[:at] + before + "".join(line + newline for line in lines) + text[at:]


def _section_end(source: Source, index: int) -> int:
    """Return the end of the last line that belongs to the header at ``index``."""
    own = [item for item in source.items if item.parent == index]
    return _line_end(source.text, (own[-1] if own else source.items[index]).end)


# ---------------------------------------------------------------------------- replacing and adding


def _write(source: Source, path: Path, new: str) -> str:
    new = re.sub(r"\r?\n", _newline(source.text), new)
    if path not in source.places:
        return _add(source, path, new)
    for item in source.items:
        if item.path == path and item.kind == "pair":
            return source.text[: item.value[0]] + new + source.text[item.value[1] :]
    raise EditError(f"{dotted(path)}: this is a record of its own; edit the values in it")


def _add(source: Source, path: Path, new: str) -> str:
    depth = len(path) - 1
    while depth and path[:depth] not in source.places:
        depth -= 1
    record = path[:depth]
    if depth and source.places[record].shape == "leaf":
        raise EditError(f"{dotted(path)}: {dotted(record)} is a value, not a record")
    for index, item in enumerate(source.items):
        if item.path == record and item.inline:
            return _add_inline(source, index, path, new)
    headers = {item.path: at for at, item in enumerate(source.items) if item.kind == "header"}
    if depth == len(path) - 1 and (record in headers or not record):
        return _add_line(source, headers.get(record), path, new)
    siblings = [
        item
        for item in source.items
        if item.kind == "pair" and len(item.base) < depth and item.path[:depth] == record
    ]
    if depth and record not in headers and siblings:
        return _add_beside(source, siblings[-1], path, new)
    return _add_section(source, path, new)


def _pair(base: Path, path: Path, new: str) -> str:
    return f"{_quote_path(path[len(base) :])} = {new}"


def _add_inline(source: Source, index: int, path: Path, new: str) -> str:
    text, record = source.text, source.items[index]
    own = [item for item in source.items if item.parent == index]
    pair = _pair(record.path, path, new)
    if own:
        return text[: own[-1].end] + f", {pair}" + text[own[-1].end :]
    return text[: record.value[0]] + f"{{ {pair} }}" + text[record.value[1] :]


def _add_beside(source: Source, sibling: Item, path: Path, new: str) -> str:
    text, pair = source.text, _pair(sibling.base, path, new)
    if sibling.parent is not None and source.items[sibling.parent].kind == "pair":
        return text[: sibling.end] + f", {pair}" + text[sibling.end :]
    line = _indent(text, sibling.start) + pair
    return _insert_lines(text, _line_end(text, sibling.end), [line])


def _add_line(source: Source, header: int | None, path: Path, new: str) -> str:
    text = source.text
    own = [item for item in source.items if item.parent == header]
    if header is None:
        own = [item for item in own if item.kind == "pair"]
    if own:
        return _add_beside(source, own[-1], path, new)
    if header is not None:
        line = _indent(text, source.items[header].start) + _pair(path[:-1], path, new)
        return _insert_lines(text, _section_end(source, header), [line])
    if source.items:
        return _insert_lines(text, _introduction(source), [_pair((), path, new), ""])
    return _insert_lines(text, len(text), [_pair((), path, new)])


def _introduction(source: Source) -> int:
    """Return the start of the comment lines right above the first header."""
    text, at = source.text, _line_start(source.text, source.items[0].start)
    while at and text[_line_start(text, at - 1) : at].lstrip().startswith("#"):
        at = _line_start(text, at - 1)
    return at


def _add_section(source: Source, path: Path, new: str) -> str:
    text, record = source.text, path[:-1]
    lines = [f"[{_quote_path(record)}]", _pair(record, path, new)]
    headers = [at for at, item in enumerate(source.items) if item.kind == "header"]
    for depth in range(len(record), 0, -1):
        kin = [at for at in headers if source.items[at].path[:depth] == record[:depth]]
        if kin:
            indent = _indent(text, source.items[kin[-1]].start)
            lines = [indent + line for line in lines]
            return _insert_lines(text, _section_end(source, kin[-1]), ["", *lines])
    blank = [""] if text.removeprefix(BOM).strip() and not text.endswith(("\n\n", "\n\r\n")) else []
    return _insert_lines(text, len(text), [*blank, *lines])


# --------------------------------------------------------------------------------------- deleting


def _delete(source: Source, path: Path) -> str:
    text = source.text
    for start, end in reversed(list(_doomed(source, path))):
        text = text[:start] + text[end:]
    return text


def _doomed(source: Source, path: Path) -> Iterator[Span]:
    """Yield the spans that go with ``path``, in order; a record may be written in many places."""
    gone: set[int] = set()
    run: Span | None = None
    for index, item in enumerate(source.items):
        if item.parent in gone:
            gone.add(index)
            continue
        doomed = item.path[: len(path)] == path
        if run and (not doomed or item.kind == "pair"):
            yield _with_gap(source.text, run)
            run = None
        if not doomed:
            continue
        gone.add(index)
        if item.kind == "header":
            start = run[0] if run else _line_start(source.text, item.start)
            run = (start, _section_end(source, index))
        elif item.parent is not None and source.items[item.parent].kind == "pair":
            yield _inline_span(source, item.parent, index, path)
        else:
            yield _line_start(source.text, item.start), _line_end(source.text, item.end)
    if run:
        yield _with_gap(source.text, run)


def _with_gap(text: str, run: Span) -> Span:
    """Take one side of the blank lines around deleted records, so that no double gap stays."""
    start, end = run
    first = _line_start(text, 0)
    if start == first or not text[_line_start(text, start - 1) : start].strip():
        while end < len(text) and not text[end : _line_end(text, end)].strip():
            end = _line_end(text, end)
    while end == len(text) and start > first:
        line = _line_start(text, start - 1)
        if text[line:start].strip():
            break
        start = line
    return start, end


def _inline_span(source: Source, parent: int, index: int, path: Path) -> Span:
    """Return the span of a pair in braces, with the comma that parts it from what stays."""
    item = source.items[index]
    own = [at for at, other in enumerate(source.items) if other.parent == parent]
    kept = [at for at in own if source.items[at].path[: len(path)] != path]
    place = own.index(index)
    if not kept:
        opening, closing = source.items[parent].value
        return (opening + 1, closing - 1) if place == 0 else (closing - 1, closing - 1)
    if kept[0] < index:
        return source.items[own[place - 1]].end, item.end
    return item.start, source.items[own[place + 1]].start
