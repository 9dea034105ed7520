"""Edits by place: only the lines meant change, and the values are those meant."""

from __future__ import annotations

import copy
import random
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.build import edits as edits_module
from wattwright.build.edits import ANY, Edit, follow, quote, rename, splice
from wattwright.build.text import Source, read_text
from wattwright.errors import BuildError, EditError

Path = tuple[str, ...]

SAMPLE = """\
# the bench book of one conversion · 12 m² of floor, 🔧
# second line of the introduction

format = 1
title = "the red estate"   # name on the binder

# weights before anything was taken out
weighed.front = "512 kg, measured"
weighed.rear = "431 kg, measured"   # with the jack
started = 2024-03-09

# --- the vehicle -------------------------------------------------

[vehicle]
wheelbase = "2.41 m"
track = { front = "1.33 m", rear = "1.31 m" }   # both at the hub
tyre = {width = 165, aspect = 80, "rim size" = "13 in"}
empty = {}
doors = 5
drag.area = "0.78 m²"
drag.source = '''
a coast-down
on a level road # not a comment
'''
removed = [
  "engine",        # 112 kg, on the bathroom scale
  "tank",
  # exhaust still to weigh
  "radiator",
]   # end of the list

# the axles stand apart
[vehicle.axle]
# final drive as stamped

ratio = 4.11
name = "C:\\\\drive # x"

[vehicle.axle.rear]
ratio = 1.0
# trailing remark about the rear axle

# --- parts -------------------------------------------------------

[part.motor]
mass = "41 kg"
peak = "60 kW"
continuous = "28 kW"
curve = [
  { speed = 0, torque = 160.0 },
  { speed = 3000, torque = 155.5 },   # knee
  { speed = 8000, torque = 48.0 },
]

# the charger came without a label
[part.charger]   # under the rear seat
mass = "6.2 kg, measured"
input = { voltage = "230 V", current = "16 A", plug = { kind = "type 2", locked = true } }
limits.hot = 55
limits.cold = -20
efficiency = 0.93

[part.charger.cooling]
kind = "air"
fan = true

[part.contactor]

# the pack: sixteen modules, two strings
[part.pack]
modules = 16
strings = 2
cells.maker-code = "x²"
cells.inner.resistance = "0.9 mΩ"
checked = 2024-05-01T10:30:00

# --- circuits ----------------------------------------------------

  [circuit.traction]
  from = "part.pack"   # behind the seat
  to = "part.motor"

  # sized with the table
  length = "2.2 m"
  size = "50 mm²"
[circuit.charge]
from = "part.charger"
to = "part.pack"
length = "0.8 m"

[circuit."12 V feed"]
from = "part.dcdc"
"to (end)" = "part.fuses"
note = "says \\"done\\" on the box"

# --- log ---------------------------------------------------------
[log.first]
day = 2024-03-09
text = \"\"\"
Lifted the engine out.

[not.a.header]
\"\"\"

# last words of the file
"""

ENDINGS = {
    "lf": SAMPLE,
    "crlf": SAMPLE.replace("\n", "\r\n"),
    "bom": "\ufeff" + SAMPLE,
    "no end": SAMPLE.removesuffix("\n\n# last words of the file\n"),
}


def read(text: str) -> Source:
    return read_text(text.encode())


def edit(text: str, *edits: Edit) -> str:
    return splice(read(text), edits)


def add(text: str, path: str, new: str = "9") -> str:
    return edit(text, Edit(tuple(path.split(".")), new))


def delete(text: str, path: str) -> str:
    return edit(text, Edit(tuple(path.split(".")), None, ANY))


# --------------------------------------------------------------------------------- random edits


def lines_of(source: Source, path: Path) -> range:
    """The lines of a leaf, told from its place and not from the code under test."""
    place = source.places[path]
    return range(place.line - 1, source.text.count("\n", 0, max(place.end - 1, 0)) + 1)


def is_inline(source: Source, path: Path) -> bool:
    """Tell whether the leaf shares its line with other leaves of a table in braces."""
    return any(
        source.text[place.start] == "{"
        for other, place in source.places.items()
        if place.shape == "record" and other == path[: len(other)]
    )


def split(text: str) -> list[str]:
    return text.removesuffix("\n").split("\n")


def is_subsequence(few: list[str], many: list[str]) -> bool:
    rest = iter(many)
    return all(line in rest for line in few)


def look_up(data: Any, path: Path) -> Any:
    for key in path:
        data = data[key]
    return data


def written(source: Source, path: Path) -> str:
    place = source.places[path]
    return source.text[place.start : place.end]


def pick(source: Source, dice: random.Random, shape: str) -> Path:
    return dice.choice([path for path, place in source.places.items() if place.shape == shape])


def some_value(dice: random.Random) -> str:
    return dice.choice(
        ["7", '"8.5 kg ± 2 %"', "true", "[1, 2, 3]", "2.5e3", "[\n  1,\n  2,\n]", "'''\na\nb'''"]
    )


def check_replace(source: Source, dice: random.Random) -> str:
    path, new = pick(source, dice, "leaf"), some_value(dice)
    after = splice(source, [Edit(path, new, written(source, path))])
    touched, old, now = lines_of(source, path), split(source.text), split(after)
    tail = len(old) - touched.stop
    assert old[: touched.start] == now[: touched.start]
    assert old[touched.stop :] == now[len(now) - tail :]
    place = source.places[path]
    assert after.startswith(source.text[: place.start])
    assert after.endswith(source.text[place.end :])
    back = splice(read(after), [Edit(path, written(source, path), new)])
    assert back == source.text
    return after


def check_delete(source: Source, dice: random.Random) -> str:
    path = pick(source, dice, "leaf")
    after = splice(source, [Edit(path, None, written(source, path))])
    touched, old, now = lines_of(source, path), split(source.text), split(after)
    if is_inline(source, path):
        kept = [*old[: touched.start], now[touched.start], *old[touched.stop :]]
    else:
        kept = old[: touched.start] + old[touched.stop :]
    assert now == kept
    back = splice(read(after), [Edit(path, written(source, path))])
    assert read(back).data == source.data
    return after


def check_add(source: Source, dice: random.Random) -> str:
    record = dice.choice([pick(source, dice, "record"), ()])
    name = f"new {dice.random()}".replace(" ", dice.choice(" -"))
    path, new = (*record, name, *dice.choice([(), ("e",), ("e", "w")])), some_value(dice)
    after = splice(source, [Edit(path, new)])
    old, now = split(source.text), split(after)
    if is_inline(source, path):
        changed = [line for line in old if line not in now]
        assert len(changed) == 1
        assert is_subsequence([line for line in old if line != changed[0]], now)
    else:
        assert is_subsequence(old, now)
    back = splice(read(after), [Edit(path[: len(record) + 1], None, ANY)])
    assert read(back).data == source.data
    return after


def check_delete_record(source: Source, dice: random.Random) -> str:
    path = pick(source, dice, "record")
    after = splice(source, [Edit(path, None, ANY)])
    old, now = split(source.text), split(after)
    if not is_inline(source, path):
        assert is_subsequence(now, old)
    below = [leaf for leaf, place in source.places.items() if leaf[: len(path)] == path]
    leaves = [leaf for leaf in below if source.places[leaf].shape == "leaf"]
    empty = [each for each in below if look_up(source.data, each) == {}]
    # An empty record comes back as {}, which is the same value written in another way.
    back = splice(read(after), [Edit(leaf, written(source, leaf)) for leaf in leaves])
    back = splice(read(back), [Edit(each, "{}") for each in empty])
    assert read(back).data == source.data
    return after


CHECKS = [check_replace, check_replace, check_delete, check_delete, check_add, check_add]


@pytest.mark.parametrize("ending", ENDINGS)
def test_random_edits_touch_only_their_own_lines(ending: str) -> None:
    dice = random.Random(20240309)
    source = read(ENDINGS[ending])
    for turn in range(500 if ending in ("lf", "crlf") else 150):
        if turn % 20 == 0:
            source = read(ENDINGS[ending])
        after = dice.choice([*CHECKS, check_delete_record])(source, dice)
        assert ("\n" in after.replace("\r\n", "")) is (ending != "crlf")
        source = read(after)


# ------------------------------------------------------------------------------------- properties

KEYS = st.text(max_size=6) | st.sampled_from(["a", "b", "c-1", "x y", '"', "²", "a.b"])
VALUES = st.recursive(
    st.booleans()
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text()
    | st.dates()
    | st.datetimes()
    | st.times(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=6,
)
DATA = st.dictionaries(KEYS, st.dictionaries(KEYS, VALUES, max_size=4) | VALUES, max_size=4)


@given(VALUES)
@settings(max_examples=300, deadline=None)
def test_a_quoted_value_reads_back(value: object) -> None:
    text = quote(value)
    assert "\n" not in text
    back = tomllib.loads(f"v = {text}")["v"]
    assert back == value
    assert repr(back) == repr(value).replace(", fold=1", "")


@pytest.mark.parametrize("value", [2**63, float("inf"), float("nan"), None, "\ud800", b"x", [None]])
def test_what_cannot_be_written_is_refused(value: object) -> None:
    with pytest.raises(EditError):
        quote(value)


def leaves(data: dict[str, Any], base: Path = ()) -> list[tuple[Path, Any]]:
    found: list[tuple[Path, Any]] = []
    for key, value in data.items():
        if isinstance(value, dict) and value and len(base) < 3:
            found += leaves(value, (*base, key))
        else:
            found.append(((*base, key), value))
    return found


@given(DATA, DATA, st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_the_text_reads_as_the_values_meant(
    before: dict[str, Any], extra: dict[str, Any], dice: random.Random
) -> None:
    text = splice(read("# top\n"), [Edit(path, quote(value)) for path, value in leaves(before)])
    assert tomllib.loads(text) == before
    assert text.startswith("# top\n")
    source, meant, edits = read(text), copy.deepcopy(before), []
    for key, value in extra.items():
        if key in meant and source.places[key,].shape == "record":
            continue
        edits.append(Edit((key,), quote(value), ANY))
        meant[key] = value
    after = splice(source, edits)
    assert tomllib.loads(after) == meant
    gone = dice.sample(sorted(meant), len(meant) // 2)
    for key in gone:
        del meant[key]
    last = splice(read(after), [Edit((key,), None, ANY) for key in gone])
    assert tomllib.loads(last) == meant
    assert "# top" in last


@given(st.text(alphabet="ab1.=[]{}\"',# \r\n\t", max_size=40), st.sampled_from(["a", "b", "q"]))
@settings(max_examples=400, deadline=None)
def test_odd_files_are_edited_as_meant_or_refused(text: str, key: str) -> None:
    try:
        source = read(text)
    except BuildError:
        return
    for path in [*source.places, (key,), ("a", key), ("a", "b", key)]:
        for new in ["1", None]:
            try:
                after = splice(source, [Edit(path, new, ANY)])
            except EditError:
                assert path not in source.places or source.places[path].shape == "record"
                continue
            data = tomllib.loads(after)
            if new:
                assert look_up(data, path) == 1
            else:
                assert path not in read(after).places


# ------------------------------------------------------------------------------------ adding


@pytest.mark.parametrize(
    ("text", "path", "expected"),
    [
        ("", "a", "a = 9\n"),
        ("# only\n", "a", "# only\na = 9\n"),
        ("x = 1\n# c\n\n[r]\n", "a", "x = 1\na = 9\n# c\n\n[r]\n"),
        ("# c\n[r]\n", "a", "a = 9\n\n# c\n[r]\n"),
        ("# top\n\n# c\n[r]\n", "a", "# top\n\na = 9\n\n# c\n[r]\n"),
        ("\ufeff[r]\n", "a", "\ufeffa = 9\n\n[r]\n"),
        ("[r]", "r.a", "[r]\na = 9\n"),
        ("[r]\nx = 1 # c\n\n# s\n[s]\n", "r.a", "[r]\nx = 1 # c\na = 9\n\n# s\n[s]\n"),
        ("[r] # c\n\n# s\n[s]\n", "r.a", "[r] # c\na = 9\n\n# s\n[s]\n"),
        ("[r]\n\tx = [\n1]\n[s]\n", "r.a", "[r]\n\tx = [\n1]\n\ta = 9\n[s]\n"),
        ("r = {}\n", "r.a", "r = { a = 9 }\n"),
        ("r = { x = 1 } # c\n", "r.a", "r = { x = 1, a = 9 } # c\n"),
        ("r = {x = 1}\n", "r.a.b", "r = {x = 1, a.b = 9}\n"),
        ("r = {x.y = 1, z = 2}\n", "r.x.a", "r = {x.y = 1, x.a = 9, z = 2}\n"),
        ("r.x = 1\ns = 2\n", "r.a", "r.x = 1\nr.a = 9\ns = 2\n"),
        ("r.x = 1\ns = 2\n", "r.a.b", "r.x = 1\nr.a.b = 9\ns = 2\n"),
        ("[q]\n r.x = 1\ns = 2\n", "q.r.a", "[q]\n r.x = 1\n r.a = 9\ns = 2\n"),
        ("[p.x]\nk = 1\n\n[z]\n", "p.a.b", "[p.x]\nk = 1\n\n[p.a]\nb = 9\n\n[z]\n"),
        ("[p.x]\nk = 1\n\n[z]\n", "p.a", "[p.x]\nk = 1\n\n[p]\na = 9\n\n[z]\n"),
        ("[p]\nk = 1\n\n[z]\n", "p.a.b", "[p]\nk = 1\n\n[p.a]\nb = 9\n\n[z]\n"),
        ("[z]\nk = 1", "p.a", "[z]\nk = 1\n\n[p]\na = 9\n"),
        ("k = 1\n\n", "p.a", "k = 1\n\n[p]\na = 9\n"),
        ("", "p.a", "[p]\na = 9\n"),
        ("[z]\r\nk = 1\r\n", "z.p.a", "[z]\r\nk = 1\r\n\r\n[z.p]\r\na = 9\r\n"),
    ],
)
def test_where_a_new_value_goes(text: str, path: str, expected: str) -> None:
    assert add(text, path) == expected


def test_keys_that_need_quotes_get_them() -> None:
    assert edit("[r]\n", Edit(("r", "a b"), "1")) == '[r]\n"a b" = 1\n'
    assert edit("", Edit(("r.s", "é"), "1")) == '["r.s"]\n"é" = 1\n'


# ------------------------------------------------------------------------------------ deleting


@pytest.mark.parametrize(
    ("text", "path", "expected"),
    [
        ("# a\na = 1 # c\n# b\nb = 2\n", "a", "# a\n# b\nb = 2\n"),
        ("\ufeffa = 1\nb = 2", "a", "\ufeffb = 2"),
        ("a = 1\nb = [\n2, # c\n] # d\n# e\n", "b", "a = 1\n# e\n"),
        ("r = { a = 1, b = 2 }\n", "r.a", "r = { b = 2 }\n"),
        ("r = { a = 1, b = 2 }\n", "r.b", "r = { a = 1 }\n"),
        ("r = { a = 1, b = 2, c = 3 }\n", "r.b", "r = { a = 1, c = 3 }\n"),
        ("r = { a = 1 }\n", "r.a", "r = {}\n"),
        ("r = { s.a = 1, t = 3, s.b = 2 } # c\n", "r.s", "r = { t = 3 } # c\n"),
        ("r = { s.a = 1, s.b = 2 }\n", "r.s", "r = {}\n"),
        ("r = { s.a = 1, s.b = 2, t = 3 }\n", "r.s", "r = { t = 3 }\n"),
        ("r.a = 1\nr.b = 2\n", "r.a", "r.b = 2\n"),
        ("r.a = 1\nx = 1\nr.b = 2\n", "r", "x = 1\n"),
        ("[r]\na = 1\n\n# s\n[s]\n", "r", "# s\n[s]\n"),
        ("x = 1\n\n[r]\na = 1\n# end\n\n# s\n[s]\n", "r", "x = 1\n\n# end\n\n# s\n[s]\n"),
        ("x = 1\n\n[r]\na = 1\n\n\n", "r", "x = 1\n"),
        ("[r]\na = 1\n# u\n[r.u]\nb = 1\n\n[s]\n[r.v]\nc = 1\n", "r", "[s]\n"),
        ("[r.a]\nb = 1\n", "r.a", ""),
        ("[f]\na.c = 1\nx = 1\n[f.a.t]\ns = 1\n[g]\n", "f.a", "[f]\nx = 1\n[g]\n"),
        ("[f]\r\na = 1\r\n\r\n[g]\r\n", "f", "[g]\r\n"),
    ],
)
def test_what_a_deletion_takes(text: str, path: str, expected: str) -> None:
    assert delete(text, path) == expected


def test_the_comment_above_the_next_element_stays() -> None:
    for path in ("part.motor", "part.charger", "vehicle", "circuit.traction", "format", "title"):
        after = delete(SAMPLE, path)
        for comment in ("# the charger came", "# the pack: sixteen", "# --- parts", "# weights"):
            assert comment in after


# ------------------------------------------------------------------------- was, sets and refusals


def test_was_is_checked_and_both_values_are_named() -> None:
    with pytest.raises(EditError, match=r"a: was expected to be 2 and is 1"):
        edit("a = 1\n", Edit(("a",), "3", "2"))
    with pytest.raises(EditError, match=r"a: was expected to be missing and is 1"):
        edit("a = 1\n", Edit(("a",), "3"))
    with pytest.raises(EditError, match=r"b: was expected to be 2 and is not"):
        edit("a = 1\n", Edit(("b",), "3", "2"))
    with pytest.raises(EditError, match=r"was expected to be 1 and is 1\.0"):
        edit("a = 1.0\n", Edit(("a",), "3", "1"))
    with pytest.raises(EditError, match=r"r: was expected to be .* and is \{ a = 1 \}"):
        edit("[r]\na = 1\n", Edit(("r",), None, "{ a = 2 }"))


def test_was_may_be_written_in_another_way() -> None:
    assert edit("a = 'x'\n", Edit(("a",), "3", '"x"')) == "a = 3\n"
    assert edit("a = [\n1,\n]\n", Edit(("a",), "3", "[1]")) == "a = 3\n"
    assert edit("[r]\na = 1\n", Edit(("r",), None, "{ a = 1 }")) == ""


@pytest.mark.parametrize(
    ("text", "path", "new"),
    [
        ("a = 1\n", (), "1"),
        ("a = 1\n", ("b",), None),
        ("a = 1\n", ("a", "b"), "1"),
        ("a = 1\n", ("a", "b", "c"), "1"),
        ("[a]\n", ("a",), "1"),
        ("a.b = 1\n", ("a",), "1"),
        ("a = 1\n", ("a",), "kg"),
        ("a = 1\n", ("a",), ""),
        ("a = 1\n", ("a",), "1\nb = 2"),
        ("a = 1\n", ("a",), "1 # c"),
        ("a = 1\n", ("a",), "\ud800"),
        ("a = { b = 1 }\n", ("a", "b"), "1, c = 2"),
        ("a = 1\n", ("a",), "99999999999999999999"),
        ("", tuple("abcdefghijklmnopq"), "1"),
    ],
)
def test_refusals(text: str, path: Path, new: str | None) -> None:
    with pytest.raises(EditError):
        edit(text, Edit(path, new, ANY))


def test_edits_of_a_set_are_made_in_order_and_all_or_none() -> None:
    text = "[a]\nx = 1\n\n[b]\ny = 2\n"
    edits = [
        Edit(("a",), None, ANY),
        Edit(("b", "y"), "3", "2"),
        Edit(("c", "k"), '"é"'),
        Edit(("c", "l"), "4"),
    ]
    assert edit(text, *edits) == '[b]\ny = 3\n\n[c]\nk = "é"\nl = 4\n'
    with pytest.raises(EditError, match="is not in the file"):
        edit(text, *edits, Edit(("d",), "1", "2"))
    with pytest.raises(EditError, match="two edits"):
        edit(text, Edit(("a", "x"), "3", ANY), Edit(("a", "x"), "4", ANY))


def test_an_edit_that_lands_elsewhere_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    for wrong, words in (("a = 2\nb = 3\n", "another value"), ("a = \n", "cannot be read")):
        monkeypatch.setattr(edits_module, "_write", lambda *_, wrong=wrong: wrong)
        with pytest.raises(EditError, match=words):
            edit("a = 1\nb = 2\n", Edit(("a",), "2", "1"))


def test_no_edits_leave_the_text() -> None:
    assert edit(SAMPLE) == SAMPLE


# ------------------------------------------------------------------------------------- renaming


def test_a_rename_reaches_every_header_and_dotted_key() -> None:
    text = (
        "[part]\nold.a = 1 # old\nolder = 2\n"
        '[part."old".sub]\nold = 3\n[x]\nold = 4\n[ part . old . z ]\nk = { old = 1 }\n'
    )
    after = rename(read(text), ("part", "old"), "new one")
    assert after == (
        '[part]\n"new one".a = 1 # old\nolder = 2\n'
        '[part."new one".sub]\nold = 3\n[x]\nold = 4\n[ part . "new one" . z ]\nk = { old = 1 }\n'
    )
    assert rename(read(after), ("part", "new one"), "old") == text.replace('"old"', "old")


def test_a_leaf_and_a_key_in_braces_can_be_renamed() -> None:
    assert rename(read("a = { b.c = 1 } # b\n"), ("a", "b"), "d") == "a = { d.c = 1 } # b\n"
    assert rename(read("a = { b.c = 1 }\n"), ("a", "b", "c"), "d") == "a = { b.d = 1 }\n"
    assert rename(read("a = 1\n"), ("a",), "a") == "a = 1\n"


def test_a_rename_refuses_a_name_that_is_taken_or_missing() -> None:
    with pytest.raises(EditError, match="taken"):
        rename(read("a = 1\nb = 2\n"), ("a",), "b")
    with pytest.raises(EditError, match="nothing of this name"):
        rename(read("a = 1\n"), ("b",), "c")


@pytest.mark.parametrize("ending", ENDINGS)
def test_every_rename_and_its_reverse_give_the_same_file(ending: str) -> None:
    source = read(ENDINGS[ending])
    for path in source.places:
        after = rename(source, path, "renamed")
        assert after.count("renamed") >= 1
        back = rename(read(after), (*path[:-1], "renamed"), path[-1])
        assert back == source.text


def test_who_names_a_renamed_record_gets_its_new_name() -> None:
    text = (
        'cords = "reel, long_reel"\n'
        'box = "reel" # of the barn\n'
        "[distance]\n"
        'reel-door = "3 m"\n'
        'reels-door = "4 m"\n'
    )
    source = read_text(text.encode())
    paths = [("cords",), ("box",), ("distance", "reel-door"), ("distance", "reels-door"), ("none",)]
    assert follow(source, paths, "reel", "drum") == (
        'cords = "drum, long_reel"\n'
        'box = "drum" # of the barn\n'
        "[distance]\n"
        'drum-door = "3 m"\n'
        'reels-door = "4 m"\n'
    )
    # What is not asked about stays, even where it is spelled alike.
    assert follow(source, [], "reel", "drum") == text
