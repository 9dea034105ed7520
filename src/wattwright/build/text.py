"""Reading a build file: its values, and where each of them stands in the text.

The values come from tomllib alone. The places come from the tree-sitter grammar for TOML, and the
two readings are compared, so that an edit by place can never hit another value than the one meant.

A byte order mark is accepted and stays in the text as its first character, so that a saved file
keeps it; columns do not count it. Every offset counts characters of ``Source.text``.
"""

from __future__ import annotations

import hashlib
import math
import re
import tomllib
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, NoReturn, TypeAlias

import tree_sitter
import tree_sitter_toml

from wattwright.errors import BuildError, Problem

Path: TypeAlias = tuple[str, ...]
Span: TypeAlias = tuple[int, int]
Shape: TypeAlias = Literal["leaf", "record"]

LARGEST = 2 * 1024 * 1024
DEEPEST = 16
BOM = "\ufeff"

_LANGUAGE = tree_sitter.Language(tree_sitter_toml.language())

# Strings and comments are swallowed whole so that nothing inside them counts. An unclosed string
# swallows the rest of its line or file, which leaves the better message to tomllib.
_TOKEN = re.compile(
    r'"""(?:\\[\s\S]|[^\\])*?"""(?:"{0,2})|"""[\s\S]*'
    r"|'''[\s\S]*?'''(?:'{0,2})|'''[\s\S]*"
    r'|"(?:\\.|[^"\\\n])*"|"[^\n]*'
    r"|'[^'\n]*'|'[^\n]*"
    r"|\#[^\n]*"
    r"|(?P<open>[\[{])|(?P<close>[\]}])|(?P<dot>\.)|(?P<part>[=,\n])"
    r"|(?<![0-9_])(?P<digits>[0-9][0-9_]{4299,}+)(?!\s*[=.])"
)

# Of a character that takes several bytes, every one but the first.
_INNER_BYTE = re.compile(rb"[\x80-\xbf]")
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")

_QUOTES = 'Put text and quantities in double quotes, for example mass = "12 kg".'
_ONCE = "Keep one of the two and delete the other."

# tomllib's messages speak of the parser's state; these speak of the file.
_PLAIN = (
    ("Invalid statement", "this line is not a key, a header or a comment", "Write key = value."),
    ("Expected newline or end", "something stands after the end of the value", _QUOTES),
    ("Invalid value", "there is no readable value here", _QUOTES),
    ("Expected '=' after a key", "a key has no = and value after it", "Write key = value."),
    ("Illegal character '\\n'", "a text is not closed on its line", "End it with a quote."),
    ("Unterminated string", "a text is never closed", "End it with the quote it began with."),
    ('Expected "', "a text is never closed", "End it with the quotes it began with."),
    ("Unclosed array", "a list is not closed, or a comma is missing", "Close the list with ]."),
    ("Unclosed inline", "braces are not closed, or a comma is missing", "Close them with }."),
    ("Expected ']'", "a header is not closed", "Write the header as [part.name]."),
    ("Invalid initial character", "a key is missing here or needs quotes", "Write key = value."),
    ("Unescaped '\\'", "a backslash in a text", "Use single quotes, or write \\\\ for one."),
    ("Cannot overwrite a value", "this key is given a second time", _ONCE),
    ("Duplicate inline", "this key is given a second time", _ONCE),
    ("Cannot declare", "this header stands a second time", _ONCE),
    ("Cannot", "this key adds to something that is complete already", _ONCE),
    ("Invalid date", "this date or time does not exist", "Write a date as 2025-01-31."),
    ("Illegal character", "a character that may not stand here", "Delete the character."),
    ("Found invalid character", "a character that may not stand here", "Delete the character."),
)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a leaf or a record stands: the key or header, and the span of the value.

    A record known only through dotted keys or through the headers below it has the span of the
    key or header that mentions it first.
    """

    line: int
    column: int
    start: int
    end: int
    shape: Shape


@dataclass(frozen=True, slots=True)
class Item:
    """One header or one ``key = value`` as written; ``parent`` is the item it is written in."""

    kind: Literal["header", "pair"]
    path: Path
    base: Path
    keys: tuple[Span, ...]
    start: int
    end: int
    value: Span
    inline: bool
    parent: int | None


@dataclass(frozen=True, slots=True)
class Source:
    """A build file as read: text, values, places, and the items in the order they are written."""

    text: str
    data: dict[str, Any]
    places: Mapping[Path, Place]
    digest: str
    items: tuple[Item, ...]


def read_text(raw: bytes, file: str = "build.toml") -> Source:
    """Read the bytes of a build file, or raise BuildError with located problems."""
    text = _decode(raw, file)
    body = text.removeprefix(BOM)
    _check_shape(body, file)
    data = _read_values(body, file)
    layout = _Layout(body, file, len(text) - len(body))
    if layout.problems:
        raise BuildError(*layout.problems)
    _compare(data, layout, file)
    digest = hashlib.sha256(raw).hexdigest()
    return Source(text, data, layout.places, digest, tuple(layout.items))


def dotted(path: Path) -> str:
    """Return the path as a message shows it."""
    return ".".join(path)


def _decode(raw: bytes, file: str) -> str:
    if len(raw) > LARGEST:
        raise BuildError(
            Problem(
                "the file is too large",
                file=file,
                got=f"{len(raw)} bytes",
                allowed=f"at most {LARGEST} bytes",
                do="Move long measurements into files of their own beside it.",
            )
        )
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line_start = raw.rfind(b"\n", 0, error.start) + 1
        before = raw[line_start : error.start].decode("utf-8").removeprefix(BOM)
        raise BuildError(
            Problem(
                "this byte is not UTF-8 text",
                file=file,
                line=raw.count(b"\n", 0, error.start) + 1,
                column=len(before) + 1,
                got=f"byte 0x{raw[error.start]:02X}",
                allowed="text in UTF-8",
                do="Save the file again with the encoding UTF-8.",
            )
        ) from None
    if "\0" in text:
        body = text.removeprefix(BOM)
        _fail(body, body.index("\0"), file, "a zero character", do="Delete the character.")
    return text


def _fail(
    body: str, offset: int, file: str, what: str, *, got: str = "", allowed: str = "", do: str = ""
) -> NoReturn:
    start = body.rfind("\n", 0, offset) + 1
    line = body.count("\n", 0, offset) + 1
    column = offset - start + 1
    raise BuildError(
        Problem(what, file=file, line=line, column=column, got=got, allowed=allowed, do=do)
    )


def _check_shape(body: str, file: str) -> None:
    """Refuse what would make tomllib recurse without end or take minutes."""
    depth = dots = 0
    for token in _TOKEN.finditer(body):
        if token.lastgroup == "dot":
            dots += 1
        elif token.lastgroup is not None:
            dots = 0
        if token.lastgroup == "open":
            depth += 1
        elif token.lastgroup == "close":
            depth -= 1
        if depth > DEEPEST:
            what, allowed = "brackets are nested too deep", f"at most {DEEPEST} inside each other"
            _fail(body, token.start(), file, what, allowed=allowed, do="Write it flatter.")
        if dots >= DEEPEST:
            what, allowed = "a key has too many parts", f"at most {DEEPEST} parts"
            _fail(body, token.start(), file, what, allowed=allowed, do="Shorten the key.")
        if token.lastgroup == "digits":
            _fail(body, token.start(), file, **_number_too_long(token.group()))


def _number_too_long(digits: str) -> dict[str, str]:
    return {
        "what": "this number does not fit",
        "got": _short(digits),
        "allowed": "whole numbers from -2^63 to 2^63 - 1, and finite decimal numbers",
        "do": "Write a smaller number.",
    }


def _read_values(body: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(body)
    except tomllib.TOMLDecodeError as error:
        message = str(error)
    except (RecursionError, ValueError) as error:
        raise BuildError(
            Problem(
                "the values cannot be read",
                file=file,
                got=_short(str(error)),
                do="Look for a very long number or very deep brackets.",
            )
        ) from None
    place = _TOML_PLACE.search(message)
    if place and place[1]:
        lines = body.split("\n", int(place[1]))
        offset = sum(len(line) + 1 for line in lines[: int(place[1]) - 1]) + int(place[2]) - 1
    else:
        offset = len(body.rstrip())
    what, do = _plain(_TOML_PLACE.sub("", message))
    line = body[body.rfind("\n", 0, offset) + 1 :].split("\n", 1)[0].strip()
    _fail(body, offset, file, what, got=_short(line), do=do)


def _plain(message: str) -> tuple[str, str]:
    for beginning, what, do in _PLAIN:
        if message.startswith(beginning):
            return what, do
    return f"not readable as TOML: {message}", ""


def _short(text: str) -> str:
    return text if len(text) <= 80 else f"{text[:77]}..."


class _Layout:
    """Items and places from the syntax tree of a text that tomllib has accepted."""

    def __init__(self, body: str, file: str, shift: int) -> None:
        self.raw = body.encode()
        self.file = file
        self.shift = shift
        self.items: list[Item] = []
        self.places: dict[Path, Place] = {}
        self.problems: list[Problem] = []
        self._inner = [] if self.raw.isascii() else _inner_bytes(self.raw)
        root = tree_sitter.Parser(_LANGUAGE).parse(self.raw).root_node
        if root.has_error:
            self._problem(_first_error(root), "the place of this text cannot be told for sure")
            return
        for node in root.children:
            if node.type == "pair":
                self._pair(node, None)
            elif node.type == "table":
                self._table(node)
            elif node.type == "table_array_element":
                self._array_header(node)

    def _char(self, byte: int) -> int:
        return byte - bisect_left(self._inner, byte)

    def _span(self, node: tree_sitter.Node) -> Span:
        start, end = self._char(node.start_byte), self._char(node.end_byte)
        return start + self.shift, end + self.shift

    def _point(self, node: tree_sitter.Node) -> tuple[int, int]:
        row, column = node.start_point
        line_start = self._char(node.start_byte - column)
        return row + 1, self._char(node.start_byte) - line_start + 1

    def _text(self, node: tree_sitter.Node) -> str:
        return self.raw[node.start_byte : node.end_byte].decode()

    def _problem(self, node: tree_sitter.Node, what: str, path: Path = (), **more: str) -> None:
        line, column = self._point(node)
        self.problems.append(
            Problem(what, dotted(path), self.file, line=line, column=column, **more)
        )

    def _array_header(self, node: tree_sitter.Node) -> None:
        self._problem(
            node,
            "a header in double brackets is not used here",
            self._key(node.children[1])[0],
            got=_short(self._text(node).split("\n", 1)[0].strip()),
            allowed="[part.name] headers, and lists of { } rows",
            do="Give each record a name of its own: [part.name].",
        )

    def _key(self, node: tree_sitter.Node) -> tuple[Path, tuple[Span, ...]]:
        if node.type == "dotted_key":
            pieces = [self._key(child) for child in node.children if child.is_named]
            path = tuple(name for names, _ in pieces for name in names)
            return path, tuple(span for _, spans in pieces for span in spans)
        name = self._text(node)
        if node.type == "quoted_key":
            name = next(iter(tomllib.loads(f"{name} = 0")))
        return (name,), (self._span(node),)

    def _table(self, node: tree_sitter.Node) -> None:
        children = node.children
        path, keys = self._key(children[1])
        closing = next(child for child in children if child.type == "]")
        span = (self._span(node)[0], self._span(closing)[1])
        index = self._add(node, Item("header", path, (), keys, *span, span, False, None))
        for child in children:
            if child.type == "pair":
                self._pair(child, index)

    def _pair(self, node: tree_sitter.Node, parent: int | None) -> None:
        base = () if parent is None else self.items[parent].path
        children = node.children
        names, keys = self._key(children[0])
        value = next(child for child in children[2:] if child.type != "comment")
        span, start = self._span(value), self._span(node)[0]
        path, inline = base + names, value.type == "inline_table"
        item = Item("pair", path, base, keys, start, span[1], span, inline, parent)
        index = self._add(node, item)
        if inline:
            for child in value.children:
                if child.type == "pair":
                    self._pair(child, index)
        else:
            self._check_numbers(value, path)

    def _add(self, node: tree_sitter.Node, item: Item) -> int:
        line, column = self._point(node)
        if len(item.path) > DEEPEST:
            allowed = f"at most {DEEPEST} parts from the outermost record"
            self._problem(node, "a key stands too deep", allowed=allowed, do="Write it flatter.")
        for depth in range(len(item.base) + 1, len(item.path)):
            key = item.keys[depth - len(item.base) - 1]
            self.places.setdefault(item.path[:depth], Place(line, column, *key, "record"))
        shape: Shape = "record" if item.inline or item.kind == "header" else "leaf"
        self.places[item.path] = Place(line, column, *item.value, shape)
        self.items.append(item)
        return len(self.items) - 1

    def _check_numbers(self, node: tree_sitter.Node, path: Path) -> None:
        if node.type == "integer":
            digits = self._text(node).replace("_", "")
            if not -(2**63) <= int(digits, 0) < 2**63:
                self._problem(node, path=path, **_number_too_long(digits))
        elif node.type == "float":
            digits = self._text(node).replace("_", "")
            if not math.isfinite(float(digits)):
                self._problem(node, path=path, **_number_too_long(digits))
        else:
            for child in node.children:
                self._check_numbers(child, path)


def _inner_bytes(raw: bytes) -> list[int]:
    """Return the offsets of bytes that continue a character, to turn bytes into characters."""
    return [found.start() for found in _INNER_BYTE.finditer(raw)]


def _first_error(node: tree_sitter.Node) -> tree_sitter.Node:
    while node.type != "ERROR" and not node.is_missing:
        inner = next((child for child in node.children if child.has_error), None)
        if inner is None:
            break
        node = inner
    return node


def _compare(data: dict[str, Any], layout: _Layout, file: str) -> None:
    seen = {path: place.shape for path, place in layout.places.items()}
    read = _shapes(data, ())
    for path in sorted(seen.keys() | read.keys()):
        if seen.get(path) != read.get(path):
            place = layout.places.get(path)
            raise BuildError(
                Problem(
                    "the place of this value cannot be told for sure",
                    dotted(path),
                    file,
                    line=place.line if place else None,
                    column=place.column if place else None,
                    do="Write it in a plainer form: one key = value on each line.",
                )
            )


def _shapes(data: dict[str, Any], base: Path) -> dict[Path, Shape]:
    shapes: dict[Path, Shape] = {}
    for key, value in data.items():
        path = (*base, key)
        shapes[path] = "record" if isinstance(value, dict) else "leaf"
        if isinstance(value, dict):
            shapes.update(_shapes(value, path))
    return shapes
