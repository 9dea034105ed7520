"""Routes as GPX files: tracks of satellite receivers, good and bad."""

from __future__ import annotations

import pytest
from hypothesis import example, settings
from hypothesis import given as draws
from hypothesis import strategies as st
from routes import PATH, clock, gpx, gpx_route, note, only, point, problems, texts, use_of

from wattwright.errors import BuildError
from wattwright.sampled import Route

LEVEL = gpx(*(point(50.0 * n, 20, 5.0 * n) for n in range(9)))


def bad(*points: str):
    return only(gpx(*points), "way.gpx")


def test_a_track_with_times() -> None:
    route = gpx_route(LEVEL)
    assert route.places == pytest.approx([50.0 * n for n in range(9)], abs=1e-3)
    assert route.times == pytest.approx([5.0 * n for n in range(9)])
    assert route.speeds == ()
    assert not route.needs_speed
    assert route.altitudes == pytest.approx([20.0] * 17)
    assert route.along[-1] == pytest.approx(route.places[-1])
    assert texts(route) == ["altitude smoothed over 150 m"]


def test_a_track_without_times_needs_a_speed() -> None:
    plain = gpx(*(point(50.0 * n) for n in range(9)))
    assert gpx_route(plain, speed='"50 km/h"').needs_speed
    (problem,) = problems(plain, "way.gpx")
    assert problem.path == "use.run.speed"
    assert "is needed" in problem.what


def test_a_slope_is_longer_than_it_looks_on_the_map() -> None:
    route = gpx_route(gpx(*(point(30.0 * n, 6.0 * n, 3.0 * n) for n in range(41))))
    assert route.places[-1] == pytest.approx(1200 * (1 + 0.2**2) ** 0.5, rel=1e-6)
    assert route.altitudes[-1] - route.altitudes[0] == pytest.approx(240)


@pytest.mark.parametrize(
    "text",
    [
        LEVEL.replace(' xmlns="http://www.topografix.com/GPX/1/1"', ""),
        LEVEL.replace("GPX/1/1", "GPX/1/0"),
        '<?xml version="1.0" encoding="ISO-8859-1"?><!-- é -->\n' + LEVEL,
        LEVEL.replace("<gpx ", '<g:gpx xmlns:g="urn:x" ').replace("</gpx>", "</g:gpx>"),
        LEVEL.replace("</trkseg>", "</trkseg><trkseg>", 1).replace("<trkseg></trk>", "</trk>"),
        LEVEL.replace("</ele>", " \n</ele>").replace("<ele>", "<ele>\n+"),
        LEVEL.replace("Z</time>", "+00:00</time>"),
        LEVEL.replace("Z</time>", "</time>"),
        LEVEL.replace("</trkpt>", "<extensions><ele>999</ele><time>x</time></extensions></trkpt>"),
    ],
)
def test_ways_to_write_the_same_track(text: str) -> None:
    encoded = text.encode("latin-1" if "8859" in text else "utf-8")
    found, plain = gpx_route(encoded), gpx_route(LEVEL)
    assert (found.places, found.times, found.altitudes) == (
        plain.places,
        plain.times,
        plain.altitudes,
    )


def test_what_is_no_track_is_noted_as_unused() -> None:
    extra = '<wpt lat="1" lon="2"/><rte><rtept lat="3" lon="4"/><rtept lat="5" lon="6"/></rte><trk>'
    route = gpx_route(LEVEL.replace("<trk>", extra, 1))
    assert note(route, "marks not used") == ("way.gpx", "1 points")
    assert note(route, "points of a plan not used") == ("way.gpx", "2 points")


def test_standing_is_one_place_with_its_middle_altitude() -> None:
    """A fix that is far off while the vehicle stands must not lift the place where it stands."""
    stands = [point(100.3, 900 if n == 3 else 20, 20.0 + n) for n in range(30)]
    moving = [point(10.0 * n, 20, 2.0 * n) for n in range(10)]
    after = [point(100.0 + 10 * n, 20, 50.0 + 2 * n) for n in range(1, 10)]
    route = gpx_route(gpx(*moving, *stands, *after))
    assert note(route, "points at one place") == ("way.gpx", "29 points")
    assert route.altitudes == pytest.approx([20.0] * len(route.altitudes))
    pairs = zip(route.times, route.times[1:], route.places, route.places[1:], strict=False)
    assert [there - here for here, there, a, b in pairs if a == b] == [29.0]


FAULTS = [
    # what is wrong, the line, the points
    ("holds no points", 1, []),
    ("holds one point of a track only", 2, [point(0)]),
    ("does not move", 2, [point(0, 20, 0), point(0.5, 20, 9)]),
    ("holds no altitudes", 2, [point(0, None), point(9, None)]),
    ("has no altitude (ele)", 3, [point(0), point(9, None)]),
    ("(ele) is no number", 3, [point(0), point(9, "NaN")]),
    ("(ele) is no number", 3, [point(0), point(9, "1,5")]),
    ("(ele) is no number", 3, [point(0), point(9, "inf")]),
    ("no road has this altitude", 2, [point(0, -9999), point(9, -499)]),
    ("the point has no time", 3, [point(0, 2, 0), point(9, 2), point(18, 2, 2)]),
    ("time cannot be read", 3, [point(0, 2, 0), point(9, 2, 1).replace("T09", " noon")]),
    (
        "the time is before that of line 3",
        4,
        [point(9.0 * n, 2, t) for n, t in enumerate((0, 5, 4))],
    ),
    ("faster than 60 m/s", 3, [point(0, 2, 0), point(190, 2, 3), point(200, 2, 4)]),
    ("faster than 60 m/s", 3, [point(0, 2, 0), point(9, 2, 0), point(12, 2, 4)]),
    (
        "the gap after line 2, 0 m on the way",
        3,
        [point(0, 2, 0), point(501, 2, 50), point(510, 2, 51)],
    ),
    ("the gap after line 3, 9 m on the way", 4, [point(0, 2, 0), point(9, 2, 1), point(99, 2, 62)]),
    ("nowhere on earth", 2, [point(0).replace("-40", "-90").replace("-41", "-91"), point(9)]),
    ("nowhere on earth", 3, [point(0), point(9).replace("-120.0", "NaN")]),
    ("nowhere on earth", 3, [point(0), point(9).replace('lon="-120.0"', "")]),
]


@pytest.mark.parametrize(("what", "line", "points"), FAULTS)
def test_what_cannot_be_driven_is_refused_in_its_line(what, line, points) -> None:
    fields = {} if any("<time>" in each for each in points) else {"speed": '"50 km/h"'}
    problem = only(gpx(*points), "way.gpx", **fields)
    assert what in problem.what
    assert problem.line == line


def test_a_gap_says_its_size() -> None:
    points = [point(0, 2, 0), point(9, 2, 1), point(600, 2, 41), point(610, 2, 42)]
    problem = bad(*points)
    assert problem.got == "591 m in 40 s"
    assert "500 m and 60 s" in problem.do


def test_a_short_gap_is_bridged_and_a_long_stop_is_a_stop() -> None:
    points = [
        point(0, 2, 0),
        point(9, 2, 1),
        point(409, 2, 41),
        point(420, 2, 641),
        point(430, 2, 642),
    ]
    route = gpx_route(gpx(*points))
    assert note(route, "a gap bridged") == ("way.gpx line 4", "400 m in 40 s")
    assert note(route, "no points while it hardly moved") == ("way.gpx line 5", "600 s, 11 m")


XML = [
    ("declares a document type", 1, '<!DOCTYPE gpx [<!ENTITY a "9">]>' + LEVEL),
    ("declares a document type", 2, '<?xml version="1.0"?>\n<!DOCTYPE gpx SYSTEM "x.dtd">' + LEVEL),
    ("is no GPX file", 1, "<html/>"),
    ("is no XML", 1, ""),
    ("is no XML", 1, "distance (m), speed (m/s)"),
    ("is no XML", 2, "<gpx>\n&a;</gpx>"),
    ("is no XML", 3, "\n".join(LEVEL.splitlines()[:3])),
    ("is no XML", 11, LEVEL.replace("</trkseg>", "</trk>")),
    ("is no XML", 2, LEVEL.replace("<ele>", "<ele>\ud800", 1).encode("utf-8", "surrogatepass")),
]


@pytest.mark.parametrize(("what", "line", "text"), XML)
def test_what_is_no_gpx_is_refused_in_its_line(what, line, text) -> None:
    problem = only(text, "way.gpx")
    assert what in problem.what
    assert problem.line == line


def test_entities_are_never_expanded() -> None:
    lots = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(9))
    bomb = f'<!DOCTYPE gpx [<!ENTITY e0 "9">{lots}]>{LEVEL.replace("20<", "&e9;<")}'
    assert "document type" in only(bomb, "way.gpx").what


def test_the_name_tells_the_form() -> None:
    with pytest.raises(BuildError, match=r"neither a \.csv nor a \.gpx file"):
        use_of(LEVEL, "way.kml")
    assert use_of(LEVEL, "WAY.GPX").route.known
    assert not use_of(LEVEL, "way.gpx", says='"x"').route.needs_speed


@settings(max_examples=120, deadline=None)
@draws(st.binary(max_size=200) | st.text(max_size=200).map(str.encode), st.booleans())
@example(b"\xff\xfe<\x00", True)
@example(LEVEL.encode()[:-1], True)
def test_any_bytes_are_a_route_or_located_problems(raw: bytes, is_gpx: bool) -> None:
    name = "way.gpx" if is_gpx else "way.csv"
    try:
        found = use_of(raw, name).route
    except BuildError as error:
        places = [(problem.path, problem.line) for problem in error.problems]
    else:
        places = []
        assert isinstance(found, Route)
    assert all(path.startswith("use.run") and line for path, line in places)


def test_clocks_of_these_tests_run() -> None:
    assert clock(3725.5) == "2026-05-10T10:02:05.500Z"
    assert PATH == "use.run.route"
