"""Bodies that cannot be meant are refused: each with its line, what is wrong and what to do."""

from __future__ import annotations

import pytest

from wattwright.build.reader import parse_build
from wattwright.errors import BuildError

MIDDLE = '{ x = "1 m", y = "0 m", z = "500 mm" }'
PLACED = f'at = {MIDDLE}\nsize = {{ length = "1 m", width = "1 m", height = "1 m" }}\n'
HOSE = '[body.h]\nshape = "hose"\ndiameter = "20 mm"\n'
VIA = '[body.h.via.{}]\nat = {{ x = "{} mm", y = "0 mm", z = "500 mm" }}\n'
TWO = HOSE + VIA.format("1_a", 0) + VIA.format("2_b", 100)
BOX = f"[body.b]\n{PLACED}"


@pytest.mark.parametrize(
    ("text", "path", "what", "do"),
    [
        (
            '[body.b]\npart = "motr"\n[part.motor]\n',
            "body.b.part",
            "no such part",
            "did you mean motor?",
        ),
        (
            '[body.b]\npart = "m"\n[part.m]\ncount = "2"\n',
            "body.b.part",
            "stands for several",
            "a body for each",
        ),
        (
            f'{BOX}part = "m"\n[part.m]\nat.x = "1 m"\n',
            "body.b.at",
            "typed in [part.m] already",
            "keep one",
        ),
        ("[body.b]\n", "body.b", "box without size", "size ="),
        (
            '[body.b]\nshape = "cylinder"\nlength = "1 m"\n',
            "body.b",
            "without diameter",
            "diameter =",
        ),
        ('[body.b]\nshape = "cylinder"\ndiameter = "0 mm"\n', "body.b.diameter", "", "0.5 mm"),
        (
            f'{BOX}diameter = "1 m"\n',
            "body.b.diameter",
            "means nothing for a box",
            "a box has size",
        ),
        (
            f'{TWO}[body.h.at]\nx = "1 m"\n',
            "body.h.at",
            "means nothing for a hose",
            "diameter and via",
        ),
        (HOSE, "body.h", "a hose through no points", "[body.h.via.1_clip]"),
        (HOSE + VIA.format("1_a", 0), "body.h", "a hose through 1 point", "at least one more"),
        (TWO + VIA.format("end", 300), "body.h.via.end", "in which order", "1_clip, 2_tunnel"),
        (TWO + VIA.format("2_c", 300), "body.h.via.2_c", "same number as 2_b", "number of its own"),
        (
            TWO + VIA.format("3_c", 100),
            "body.h.via.3_c",
            "where the point before it is",
            "leave one",
        ),
        (
            f'{TWO}[body.h.via.3_c]\npoint = "nowhere"\n',
            "body.h.via.3_c.point",
            "no such point of the survey",
            "",
        ),
        (
            f'{TWO}[body.h.via.3_c]\npoint = "p"\n[survey.point.p]\non = "unit"\n',
            "body.h.via.3_c.point",
            "unit's own axes",
            "write its place",
        ),
        (
            f'{TWO}[body.h.via.3_c]\npoint = "p"\nat.x = "1 m"\n[survey.point.p]\n',
            "body.h.via.3_c.at",
            "says again",
            "keep one",
        ),
        (
            f'{BOX}pivot.x = "1 m"\n',
            "body.b.pivot",
            "the way its line runs",
            "across for a trailing arm",
        ),
        (
            f'{BOX}pivot_axis = "across"\n',
            "body.b.pivot_axis",
            "only what one wheel moves",
            "wheel_rl",
        ),
        (
            f'{BOX}moves_with = "wheel_rl"\npivot_axis = "along"\npivot = {MIDDLE}\n',
            "body.b.pivot",
            "at its own middle",
            "bush",
        ),
        (f'{BOX}joined = "b"\n', "body.b.joined", "names the body itself", "leave"),
        (f'{BOX}joined = "h, x"\n{TWO}', "body.b.joined", "no such body", "known: b, h"),
        (f'{BOX}moves_with = "wheel"\n', "body.b.moves_with", "should be", ""),
    ],
)
def test_what_cannot_be_meant_is_refused_with_its_place(
    text: str, path: str, what: str, do: str
) -> None:
    with pytest.raises(BuildError) as caught:
        parse_build(f'format = 1\n[build]\nname = "x"\n{text}'.encode())
    found = [each for each in caught.value.problems if each.path == path]
    assert found, caught.value
    assert any(what in each.what and do in f"{each.do} {each.what}" for each in found), found
    assert all(each.line for each in found)
