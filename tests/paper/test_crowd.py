"""Tags in a crowded picture, and their key."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.paper import MARGIN, NARROW, Box
from wattwright.paper.crowd import tagged
from wattwright.paper.tags import Tagged, key

ROOM = Box(MARGIN, 10.0, NARROW - MARGIN, 90.0)


def thing(tag, box, words="", look="outline"):
    return Tagged(tag, words or f"thing {tag}", Box(*box), "part", f"thing_{tag}", look)


def mark(tag, x, y, **more):
    return thing(tag, (x, y, x, y), **more)


def written(picture):
    return [shape for shape in picture.shapes if shape.words]


def leaders(picture, name):
    """Ends of the lines that lead to a thing: paths of two points that carry its name."""
    found = []
    for shape in picture.shapes:
        root = ET.fromstring(shape.markup)
        if root.get("data-part") == name and root[0].tag == "path" and "Z" not in root[0].get("d"):
            ends = root[0].get("d").strip("M").split("L")
            found.append([tuple(map(float, end.split())) for end in ends])
    return found


def test_a_name_stands_inside_where_it_fits_else_the_tag_does_else_it_stands_close_by():
    (inside,) = written(tagged([thing("1", (40, 40, 80, 60), "Pack")], ROOM))
    assert inside.words == "1 Pack"
    assert Box(40, 40, 80, 60).holds(inside.box)
    (small,) = written(tagged([thing("1", (57, 40, 63, 47), "Pack")], ROOM))
    assert small.words == "1"
    assert Box(57, 40, 63, 47).holds(small.box)
    tiny = tagged([thing("1", (59, 40, 61, 42), "Pack")], ROOM)
    (close,) = written(tiny)
    assert not Box(59, 40, 61, 42).meets(close.box)
    assert len(leaders(tiny, "thing_1")) == 1


def test_a_small_thing_on_a_large_one_is_not_hidden_by_its_name():
    picture = tagged([thing("1", (40, 40, 80, 60), "Pack"), mark("2", 60, 50)], ROOM)
    one, two = sorted(written(picture), key=lambda shape: shape.words)
    assert not one.box.meets(Box(59.3, 49.3, 60.7, 50.7))
    assert not one.box.meets(two.box)


def test_marks_that_touch_share_a_tag_and_one_line():
    picture = tagged([mark("1", 60, 50), mark("2", 60.4, 50), mark("3", 64, 50)], ROOM)
    one, two, three = sorted(written(picture), key=lambda shape: shape.words)
    assert two.box.top > one.box.top
    assert two.box.middle[0] == pytest.approx(one.box.middle[0])
    assert abs(three.box.middle[0] - one.box.middle[0]) > 1.0
    names = [ET.fromstring(shape.markup).get("data-part") for shape in (one, two, three)]
    assert names == ["thing_1", "thing_2", "thing_3"]
    assert len(leaders(picture, "thing_1")) == 1
    assert leaders(picture, "thing_2") == []


PLACES = st.lists(
    st.tuples(st.integers(10, 110), st.integers(15, 85), st.sampled_from([0, 0, 6, 25])),
    max_size=25,
)


@settings(max_examples=40)
@given(PLACES)
def test_no_tags_overlap_every_thing_is_drawn_and_what_found_no_room_is_said(places):
    things = [
        thing(str(count), (x - side / 2, y - side / 2, x + side / 2, y + side / 2))
        for count, (x, y, side) in enumerate(places, 1)
    ]
    taken = Box(50.0, 40.0, 70.0, 50.0)
    picture = tagged(things, ROOM, [taken])
    texts = written(picture)
    for one, two in itertools.combinations(texts, 2):
        assert not one.box.grown(-0.3).meets(two.box.grown(-0.3)), (one.words, two.words)
    assert not [each for each in texts if each.box.grown(-0.3).meets(taken)]
    for each in texts:
        assert not [m for m in things if not m.is_box and each.box.meets(m.space)], each.words
    said = {each.words.split()[0] for each in texts if each.words.split()[0].isdigit()}
    assert said.isdisjoint(each.tag for each in picture.untagged)
    assert said | {each.tag for each in picture.untagged} == {each.tag for each in things}
    outlines = [ET.fromstring(s.markup)[0] for s in picture.shapes if s.markup.startswith("<g")]
    closed = [o for o in outlines if o.tag == "circle" or "Z" in o.get("d", "")]
    # One outline each; a tag has a ground of paper behind it, which belongs to no thing.
    assert len(closed) == len(things)


def test_no_line_passes_through_the_mark_of_another():
    row = [mark(str(count), 20 + 4 * count, 50) for count in range(1, 16)]
    picture = tagged(row, ROOM)
    assert picture.untagged == ()
    for each in row:
        for ends in leaders(picture, each.name):
            assert not [o.tag for o in row if o is not each and o.space.cut(*ends)]


def test_a_picture_too_full_says_which_tags_are_left_over():
    heap = [mark(str(count), 50 + 3 * (count % 5), 50 + 3 * (count // 5)) for count in range(25)]
    picture = tagged(heap, Box(45.0, 45.0, 70.0, 70.0))
    assert picture.untagged
    assert len(written(picture)) == 25 - len(picture.untagged)
    assert picture == tagged(heap, Box(45.0, 45.0, 70.0, 70.0))


def test_a_key_has_two_columns_unless_a_name_needs_the_width():
    short = [mark(str(count), 0, 0, words=f"part {count}") for count in range(1, 6)]
    shapes = key(short, 50.0)
    lefts = sorted({round(s.box.left, 3) for s in shapes if s.words.startswith("part")})
    assert len(lefts) == 2
    assert [s.words for s in shapes if s.words.isdigit()] == ["1", "2", "3", "4", "5"]
    long = [*short, mark("6", 0, 0, words="a part with so many words that half is not enough")]
    shapes = key(long, 50.0)
    assert len({round(s.box.left, 3) for s in shapes if s.words.startswith("part")}) == 1
    assert "…" not in "".join(s.words for s in shapes)
    assert key([], 50.0) == ()
