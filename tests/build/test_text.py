"""Reading the text of a build file: places, and every kind of trouble located."""

from __future__ import annotations

import hashlib
import random
import time
import tomllib
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.build.text import Source, read_text
from wattwright.errors import BuildError, Problem

SAMPLE = """\
# a car · 12 m² 🚗
name = "Ω"  # 🔋

[part.charger]
mass = "6.2 kg, measured"
size = { length = "30 cm", "wide one".most = 2 }
rows = [
  { at = 1, v = 2 },  # one
]
note = '''
two
lines'''
plug.kind = "²"

  [part]
  count = 3
"""


def problems(raw: bytes | str) -> tuple[Problem, ...]:
    with pytest.raises(BuildError) as caught:
        read_text(raw.encode() if isinstance(raw, str) else raw)
    return caught.value.problems


def value(source: Source, *path: str) -> str:
    place = source.places[path]
    return source.text[place.start : place.end]


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_places_give_the_value_as_written(newline: str, mark: str) -> None:
    text = mark + SAMPLE.replace("\n", newline)
    source = read_text(text.encode())
    assert source.text == text
    assert source.digest == hashlib.sha256(text.encode()).hexdigest()
    assert source.data == tomllib.loads(SAMPLE)
    assert value(source, "name") == '"Ω"'
    assert value(source, "part", "charger", "size", "length") == '"30 cm"'
    assert value(source, "part", "charger", "size", "wide one", "most") == "2"
    assert value(source, "part", "charger", "size").startswith("{ length")
    assert value(source, "part", "charger", "rows").endswith("# one" + newline + "]")
    assert value(source, "part", "charger", "note") == newline.join(["'''", "two", "lines'''"])
    assert value(source, "part", "charger", "plug", "kind") == '"²"'
    assert value(source, "part", "charger") == "[part.charger]"
    assert value(source, "part") == "[part]"
    assert ("part", "charger", "rows", "at") not in source.places
    name, part = source.places[("name",)], source.places[("part",)]
    assert (name.line, name.column, name.shape) == (2, 1, "leaf")
    assert (part.line, part.column, part.shape) == (15, 3, "record")
    assert source.places[("part", "charger", "size", "length")].column == 10


def test_a_byte_order_mark_does_not_count_as_a_column() -> None:
    assert read_text(b"\xef\xbb\xbfa = 1").places[("a",)].column == 1


@pytest.mark.parametrize(
    ("raw", "line", "column", "words"),
    [
        (b'a = 1\nb = "\xc3\xa9\xff"', 2, 7, "0xFF"),
        (b"a = 1\nb = \0", 2, 5, "zero character"),
        (b"a = 1\nb = " + b"[" * 17 + b"]" * 17, 2, 21, "nested too deep"),
        (b"a = " + b"[" * 900_000, 1, 21, "nested too deep"),
        (b"a." * 20 + b"a = 1", 1, 32, "too many parts"),
        (b"[a.a.a.a.a.a.a.a.a]\nb.b.b.b.b.b.b.b = 1", 2, 1, "too deep"),
        (b"a = 1\nb = 9223372036854775808", 2, 5, "does not fit"),
        (b"a = 1\nb = -0x8000000000000001", 2, 7, "after the end of the value"),
        (b"a = 0xFFFF_FFFF_FFFF_FFFF_F", 1, 5, "does not fit"),
        (b"a = [1, 9" + b"0" * 5000 + b"]", 1, 9, "does not fit"),
        (b"a = [1, { b = inf }]", 1, 15, "does not fit"),
        (b"a = -nan", 1, 5, "does not fit"),
        (b"a = 1e999", 1, 5, "does not fit"),
        (b"a = 12 kg", 1, 8, 'mass = "12 kg"'),
        (b"a = kg\n", 1, 5, "no readable value"),
        (b'a = "kg\nb = 2', 1, 8, "not closed on its line"),
        (b"a = 1\n# x\na = 2\n", 3, 6, "second time"),
        (b"[a]\n[a]\n", 2, 3, "second time"),
        (b"a = [1\n\n\n", 1, 7, "not closed"),
        (b"x = 1\n[[a.b]]\nc = 1", 2, 1, "double brackets"),
        (b"a = 1\rb = 2", 1, 6, "after the end of the value"),
    ],
)
def test_trouble_is_located(raw: bytes, line: int, column: int, words: str) -> None:
    first = problems(raw)[0]
    assert (first.line, first.column) == (line, column)
    assert words in str(first)


def test_every_number_that_does_not_fit_is_named() -> None:
    found = problems("a = inf\n[b]\nc = [1, 99999999999999999999]\nd = 1\n")
    assert [(each.path, each.line) for each in found] == [("a", 1), ("b.c", 3)]


def test_a_long_number_at_the_place_of_a_key_is_refused() -> None:
    assert "very long number" in str(problems(b"a = " + b"9" * 5000 + b" = 1")[0])
    assert read_text(b"9" * 5000 + b" = 1").data == {"9" * 5000: 1}


def test_a_large_file_is_refused() -> None:
    assert "too large" in str(problems(b"#" * (2 * 1024 * 1024 + 1))[0])


def test_the_limits_themselves_are_allowed() -> None:
    text = f"a = {'[' * 16}{']' * 16}\nb = 9223372036854775807\nc = -9223372036854775808\n"
    read_text(text.encode())
    read_text(b"#" * (2 * 1024 * 1024))


def test_brackets_in_strings_and_comments_do_not_count() -> None:
    deep, quotes = "[{" * 20, '"' * 3
    lines = [
        f"# {deep}",
        f'a = "{deep} \\" {deep}"',
        f"b = '{deep} \\'",
        f"c = {quotes}\n{deep} \\{quotes} {deep}\n{quotes}",
        f"d = '''{deep}\n' '' {deep}'''''",
        f'"{deep}" = 1',
    ]
    assert len(read_text("\n".join(lines).encode()).data) == 5


@pytest.mark.parametrize(
    "text",
    [
        "a.b = 1\n" + "".join(f"a.c{n} = 1\n" for n in range(50_000)),
        "\n" * 2_000_000,
        "'" * 2_000_000,
        "\"\"\"'''" * 300_000,
        "1_" * 1_000_000,
        ("9" * 4000 + "\n") * 500,
        "[" * 10 + "," * 1_000_000,
        "a." * 1_000_000,
        "²" * 1_000_000,
    ],
    ids=range(9),
)
def test_long_files_are_read_or_refused_soon(text: str) -> None:
    begin = time.monotonic()
    with suppress(BuildError):
        read_text(text.encode())
    assert time.monotonic() - begin < 20


def read_or_refuse(raw: bytes) -> None:
    source: Source | None = None
    refused: tuple[Problem, ...] = ()
    try:
        source = read_text(raw)
    except BuildError as error:
        refused = error.problems
    if source is None:
        assert refused
        assert all(problem.line is None or problem.line >= 1 for problem in refused)
        return
    assert source.text.encode() == raw
    assert source.data == tomllib.loads(source.text.removeprefix("\ufeff"))
    for path, place in source.places.items():
        found = source.data
        for key in path:
            found = found[key]
        if place.shape == "leaf":
            written = source.text[place.start : place.end]
            assert tomllib.loads(f"v = {written}")["v"] == found
        else:
            assert isinstance(found, dict)


@given(st.binary(max_size=200))
@settings(max_examples=400, deadline=None)
def test_any_bytes_give_a_source_or_a_located_error(raw: bytes) -> None:
    read_or_refuse(raw)


@given(st.text(alphabet="ab1.=[]{}\"'\\,#_- \r\n\t\ufeff²😀+:einfx0TZ", max_size=80))
@settings(max_examples=1500, deadline=None)
def test_any_text_near_toml_gives_a_source_or_a_located_error(text: str) -> None:
    read_or_refuse(text.encode())


def mutated(seed: int) -> bytes:
    dice = random.Random(seed)
    raw = bytearray(SAMPLE.replace("\n", dice.choice(["\n", "\r\n"])).encode())
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(raw))
        piece = bytes(raw[at : at + dice.randint(0, 12)])
        choice = dice.choice([b"", b"[", b"}", b'"', b"'''", b"\\", b"=", b"\n", b"\xff", b"."])
        raw[at : at + dice.choice([0, len(piece)])] = dice.choice([choice, piece * 2])
    return bytes(raw)


def test_mutated_files_give_a_source_or_a_located_error() -> None:
    for seed in range(1500):
        read_or_refuse(mutated(seed))


@pytest.mark.soak
def test_many_mutated_files_give_a_source_or_a_located_error() -> None:
    for seed in range(10_000, 200_000):
        read_or_refuse(mutated(seed))
