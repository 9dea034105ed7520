"""Routes as CSV files: what may stand in them, what is refused and where."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given as draws
from hypothesis import settings
from hypothesis import strategies as st
from routes import csv_route, note, only, problems, texts

from wattwright.build.sampled_csv import SHOWN
from wattwright.sampled import Route

PLAN = "distance (km); speed (km/h); altitude (m)\n0; 36; 100\n0,05; 72; 101\n0,1; 36; 104\n"


def same(one: Route, other: Route) -> None:
    for name in ("places", "times", "speeds", "along", "altitudes"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-9)


def test_a_plan_by_distance_and_speed() -> None:
    route = csv_route(PLAN)
    assert route.places == pytest.approx((0.0, 50.0, 100.0))
    assert route.speeds == pytest.approx((10.0, 20.0, 10.0))
    assert route.times == ()
    assert not route.needs_speed
    assert route.along == pytest.approx((0.0, 25.0, 50.0, 75.0, 100.0))
    assert (route.altitudes[0], route.altitudes[-1]) == (100.0, 104.0)
    assert texts(route) == ["altitude smoothed over 150 m"]
    given = route.share.given
    assert given is not None
    assert (given.text, given.detail) == ("way.csv, measured, receiver", "receiver")
    assert given.band == 0.02


def test_times_and_speeds_give_places() -> None:
    route = csv_route("speed (km/h), time (s)\n0, 5\n36, 10\n36, 12\n0, 14\n")
    assert route.times == (0.0, 5.0, 7.0, 9.0)
    assert route.places == pytest.approx((0.0, 25.0, 45.0, 55.0))
    assert route.altitudes == (0.0, 0.0)
    assert note(route, "no altitude and no grade") == ("way.csv", "55 m")


def test_times_and_distances_are_a_recording_too() -> None:
    route = csv_route("time (min), distance (m), grade (%)\n0, 100, 5\n0.1, 150, 0\n0.2, 190, 0\n")
    assert route.times == pytest.approx((0.0, 6.0, 12.0))
    assert route.places == pytest.approx((0.0, 50.0, 90.0))
    assert route.speeds == ()
    assert not route.needs_speed


def test_a_grade_holds_from_its_row_to_the_next_and_is_not_smoothed() -> None:
    route = csv_route("distance (m), speed (m/s), grade (%)\n0,9,10\n50,9,-10\n80,9,99\n")
    rise = 0.1 / hypot(1, 0.1)
    assert route.altitudes == pytest.approx((0.0, 50 * rise, 20 * rise))
    # The grade of the last row leads nowhere.
    assert route.notes == ()


UNITS = {
    "distance": {"m": 1.0, "km": 1000.0, "mi": 1609.344, "ft": 0.3048},
    "speed": {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704},
    "altitude": {"m": 1.0, "ft": 0.3048},
}


@settings(max_examples=60, deadline=None)
@draws(
    st.permutations(list(UNITS)),
    st.fixed_dictionaries({name: st.sampled_from(sorted(units)) for name, units in UNITS.items()}),
    st.sampled_from([", ", ";", "\t"]),
)
def test_any_order_of_columns_and_any_units(order, units, delimiter) -> None:
    rows = [(0.0, 10.0, 100.0), (60.0, 20.0, 101.0), (110.0, 15.0, 99.0), (180.0, 5.0, 98.0)]
    plain = "distance (m), speed (m/s), altitude (m)\n"
    plain += "".join(f"{x}, {v}, {z}\n" for x, v, z in rows)
    lines = [delimiter.join(f"{name} ({units[name]})" for name in order)]
    for row in rows:
        cells = dict(zip(UNITS, row, strict=True))
        lines.append(delimiter.join(repr(cells[name] / UNITS[name][units[name]]) for name in order))
    same(csv_route("\n".join(lines)), csv_route(plain))


HEADS = [
    ("distance (m), altitude (m)", "says not enough of how it is driven"),
    ("speed (m/s), grade (%)", "says not enough of how it is driven"),
    ("time (s), distance (m), speed (m/s)", "says in two ways how fast"),
    ("time (s), speed (m/s), altitude (m), grade (%)", "says in two ways how the road rises"),
    ("time (s), speed (m/s), height (m)", "is no column of this file"),
    ("time, speed (m/s)", "the unit is missing"),
    ("time (s), speed (rpm)", "expected a speed"),
]


@pytest.mark.parametrize(("head", "what"), HEADS)
def test_a_head_that_will_not_do_is_refused_in_its_line(head: str, what: str) -> None:
    width = head.count(",") + 1
    rows = "".join(", ".join(str(n + c) for c in range(width)) + "\n" for n in range(3))
    problem = only(f"# way\n{head}\n{rows}")
    assert what in problem.what
    assert problem.line == 2


ROWS = [
    # what is wrong, the line, the file
    ("needs two points", 1, "distance (m), speed (m/s)\n0, 5\n"),
    ("needs two points", 1, "distance (m), speed (m/s)\n"),
    ("time is out of range", 2, "time (s), speed (m/s)\n-1, 5\n9, 5\n"),
    ("time does not grow from line 3", 4, "time (s), speed (m/s)\n0, 5\n9, 5\n9, 5\n"),
    ("distance does not grow", 4, "distance (m), speed (m/s)\n0, 5\n90, 5\n80, 5\n"),
    ("speed is no plain number", 3, "distance (m), speed (m/s)\n0, 5\n90, NaN\n"),
    ("speed is no plain number", 3, "distance (m), speed (m/s)\n0, 5\n90, inf\n"),
    ("altitude is empty", 3, "distance (m), speed (m/s), altitude (m)\n0, 5, 7\n90, 5,\n"),
    ("speed is out of range", 3, "distance (m), speed (m/s)\n0, 5\n90, 61\n"),
    ("is reached from line 2 faster", 3, "time (s), distance (m)\n0, 0\n1, 61\n2, 70\n"),
    (
        "no road has this altitude",
        2,
        "distance (m), speed (m/s), altitude (m)\n0,5,6e4\n9,5,7\n",
    ),
    ("does not move", 2, "time (s), speed (m/s)\n0, 0\n9, 0\n"),
    ("does not move", 2, "time (s), distance (m)\n0, 70\n9, 70\n"),
    # It would be over within a second, and stand at both ends of it.
    ("too short a way", 2, "distance (m); speed (km/h)\n0; 30\n0.5; 30\n1; 30\n"),
    ("the speed is nought from line 2", 3, "distance (m), speed (m/s)\n0, 0\n90, 0\n95, 3\n"),
    ("at the same distance as line 3", 4, "distance (m), speed (m/s)\n0, 5\n9, 5\n9, 8\n20, 8\n"),
    ("the gap after line 2, 0 m on", 3, "distance (m), speed (m/s)\n0, 5\n501, 5\n"),
    ("the gap after line 3, 10 m on", 4, "time (s), speed (m/s)\n0, 5\n2, 5\n63, 5\n"),
]


@pytest.mark.parametrize(("what", "line", "text"), ROWS)
def test_what_cannot_be_driven_is_refused_in_its_line(what: str, line: int, text: str) -> None:
    problem = only(text)
    assert what in problem.what
    assert problem.line == line


def test_many_faults_are_counted() -> None:
    rows = "".join(f"{n}, {9e6}\n" for n in range(40))
    found = problems("time (s), distance (m)\n" + "".join(f"{n}, {n * 99}\n" for n in range(40)))
    assert len(found) == SHOWN + 1
    assert found[-1].what == "and 19 more of this file"
    assert len(problems("time (s), distance (m)\n" + rows)) == SHOWN + 1


def test_rows_that_say_the_same_again_are_merged_and_noted() -> None:
    route = csv_route("distance (m), speed (m/s)\n0, 5\n0, 5\n9, 5\n9.0, 5\n9, 5\n20, 6\n")
    assert route.places == (0.0, 9.0, 20.0)
    assert note(route, "points at one place") == ("way.csv", "3 points")


def test_a_row_that_stands_is_no_gap_however_long() -> None:
    head = "time (s), speed (m/s), altitude (m)\n"
    route = csv_route(f"{head}0, 0, 7\n2, 10, 7\n10, 0, 8\n900, 0, 10\n905, 10, 9\n")
    assert note(route, "no points while it hardly moved") == ("way.csv line 5", "890 s, 0 m")
    assert note(route, "altitudes at one place") == ("way.csv", "1 points")
    assert route.times[-1] == 905.0


def test_a_gap_is_bridged_and_noted() -> None:
    route = csv_route("distance (m), speed (m/s)\n0, 5\n50, 5\n550, 5\n600, 5\n")
    assert note(route, "a gap bridged") == ("way.csv line 4", "500 m")
    route = csv_route("time (s), speed (m/s)\n0, 8\n60, 8\n")
    assert note(route, "a gap bridged") == ("way.csv line 3", "480 m in 60 s")


def test_notes_of_one_kind_are_counted_after_a_while() -> None:
    rows = "".join(f"{n * 200}, 5\n" for n in range(40))
    route = csv_route(f"distance (m), speed (m/s)\n{rows}")
    assert len(route.notes) == SHOWN + 2
    assert str(route.notes[-1]) == "a gap bridged by a straight line, further on, 19 more"


def test_a_steep_grade_is_cut_and_noted() -> None:
    route = csv_route("distance (m), speed (m/s), grade (%)\n0,9,40\n50,9,-26\n80,9,0\n")
    cut = 0.25 / hypot(1, 0.25)
    assert route.altitudes == pytest.approx((0.0, 50 * cut, 20 * cut))
    assert [str(each) for each in route.notes] == [
        "grade taken as 25 %, way.csv line 2, 40 %",
        "grade taken as 25 %, way.csv line 3, -26 %",
    ]
