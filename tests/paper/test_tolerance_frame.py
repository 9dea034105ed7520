"""Tolerance frames and datums, against what ISO 1101 and ISO 5459 draw."""

from __future__ import annotations

import itertools
import re

import pytest

from wattwright.paper.tolerance_frame import FRAME, Sign, datum, frame

SIGNS: tuple[Sign, ...] = ("position", "coaxiality", "parallelism", "flatness")


@pytest.mark.parametrize("sign", SIGNS)
def test_a_frame_has_its_sign_in_the_first_field_and_words_in_the_others(sign: Sign) -> None:
    shapes = frame(10.0, 20.0, sign, ("Ø0.015", "A", "B"))
    assert [shape.words for shape in shapes if shape.words] == ["Ø0.015", "A", "B"]
    fields = [shape.box for shape in shapes if not shape.words and shape.box.height > FRAME]
    assert len(fields) == 4
    for left, right in itertools.pairwise(fields):
        assert left.right == pytest.approx(right.left, abs=0.3)
    words = [shape.box for shape in shapes if shape.words]
    for field, word in zip(fields[1:], words, strict=True):
        assert field.holds(word)
    drawn = [s.box for s in shapes if not s.words and s.box.height < FRAME]
    assert drawn
    assert all(fields[0].holds(box) for box in drawn)


def test_signs_differ_and_none_of_them_is_a_letter() -> None:
    signs = {sign: frame(0.0, 0.0, sign, ()) for sign in SIGNS}
    assert len({tuple(shape.markup for shape in each) for each in signs.values()}) == len(SIGNS)
    kinds = {
        sign: sorted(re.match(r"<(\w+)", shape.markup)[1] for shape in each[:-1])
        for sign, each in signs.items()
    }
    # A circle with a cross; two circles, one in the other; two slanted lines; a parallelogram.
    assert kinds == {
        "position": ["circle", "path", "path"],
        "coaxiality": ["circle", "circle"],
        "parallelism": ["path", "path"],
        "flatness": ["path"],
    }


@pytest.mark.parametrize("away", [(0.0, 10.0), (-9.0, 0.0), (6.0, -6.0)])
def test_the_triangle_of_a_datum_stands_on_it_and_its_letter_is_at_the_other_end(
    away: tuple[float, float],
) -> None:
    triangle, leader, box, letter = datum((0.0, 0.0), away, "B")
    assert letter.words == "B"
    assert 'fill="currentColor"' in triangle.markup
    assert triangle.box.grown(1e-6).holds(triangle.box)
    assert triangle.box.meets(leader.box)
    assert leader.box.meets(box.box)
    assert box.box.holds(letter.box)
    # Its base lies across the way to the letter, through the foot.
    places = re.findall(r"(-?[\d.]+) (-?[\d.]+)", triangle.markup)
    points = [(float(x), float(y)) for x, y in places][:3]
    base = [x * away[0] + y * away[1] for x, y in points[:2]]
    assert base == pytest.approx([0.0, 0.0], abs=0.02)
    assert points[2][0] * away[0] + points[2][1] * away[1] > 0.0
