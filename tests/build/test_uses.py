"""What the vehicle is put through, as a build says it: references, order, nothing in vain."""

from __future__ import annotations

import pytest
from hypothesis import given as draws
from hypothesis import settings
from hypothesis import strategies as st
from routes import gpx, point

from builders import SMALL, build_text, line_of, problems_of
from wattwright.build.edits import Edit, splice
from wattwright.build.presence import said
from wattwright.build.reader import Opened, open_build, parse_build
from wattwright.build.sampled_files import LARGEST, LARGEST_ROUTE
from wattwright.build.uses import turn
from wattwright.errors import BuildError, Problem
from wattwright.values import Origin

GEARS = {
    "drive.gear.third.ratio": '"1.4"',
    "drive.gear.reverse.ratio": '"3.8"',
    "drive.gear.reverse.backwards": "true",
}
ONE = {"stretch.10_lane.length": '"500 m"', "stretch.10_lane.speed": '"36 km/h"'}
TIMED = gpx(*(point(50.0 * n, 20, 5.0 * n) for n in range(9)))
UNTIMED = gpx(*(point(50.0 * n) for n in range(9)))
FILES = {"timed.gpx": TIMED.encode(), "plain.gpx": UNTIMED.encode()}


def text(fields: dict[str, str]) -> str:
    return build_text({**GEARS, **{f"use.run.{key}": leaf for key, leaf in fields.items()}}, SMALL)


def opened(fields: dict[str, str]) -> Opened:
    return parse_build(text(fields).encode(), read_file=FILES.__getitem__)


def only(fields: dict[str, str]) -> Problem:
    with pytest.raises(BuildError) as caught:
        opened(fields)
    (problem,) = caught.value.problems
    return problem


def test_what_is_left_out_has_its_default() -> None:
    use = opened({"cycle": '"nedc"'}).build.use["run"]
    assert (use.cycle, use.gear, use.case, use.stretches) == ("nedc", "", "driver", ())
    numbers = {
        "acceleration": 1.0,
        "braking": 1.0,
        "repeat": 1.0,
        "outside_temperature": 288.15,
        "start_charge": 1.0,
        "headwind": 0.0,
    }
    for name, number in numbers.items():
        value = getattr(use, name)
        assert value.number == pytest.approx(number)
        assert not said(value)
    # A default that rests on common practice is flagged, a decision is not.
    assert use.acceleration.given is not None
    assert use.acceleration.given.origin is Origin.TYPICAL
    assert use.headwind.given is None
    assert not use.speed.known
    # What the heater takes follows from the cabin then.
    assert not use.heater_power.known
    assert not use.route.known


def test_a_build_may_have_no_use_at_all() -> None:
    assert parse_build(build_text({}, SMALL).encode()).build.use == {}


def test_what_is_typed_arrives_with_its_origin() -> None:
    leaf = '"5.8 % ± 0.3, measured, contour lines, 2026-05-16"'
    use = opened({**ONE, "stretch.10_lane.grade": leaf, "says": '"home"'}).build.use["run"]
    ((name, stretch),) = use.stretches
    assert (name, use.says) == ("10_lane", "home")
    assert stretch.grade.number == pytest.approx(0.058)
    assert stretch.grade.given is not None
    assert (stretch.grade.given.band, stretch.grade.given.date) == (0.003, "2026-05-16")
    assert stretch.length.given is not None
    assert stretch.length.given.origin is Origin.RULE
    assert stretch.stop.number == 0.0


@settings(max_examples=60, deadline=None)
@draws(st.permutations([1, 2, 9, 10, 30, 101]))
def test_stretches_are_driven_in_the_order_of_their_numbers(numbers) -> None:
    fields = {}
    for number in numbers:
        fields[f"stretch.{number}_x.length"] = '"500 m"'
        fields[f"stretch.{number}_x.speed"] = '"36 km/h"'
    use = opened(fields).build.use["run"]
    assert [name for name, _ in use.stretches] == [f"{n}_x" for n in sorted(numbers)]


def test_the_number_is_what_the_name_begins_with() -> None:
    assert [turn(name) for name in ("10", "010-b", "7_up", "up_7")] == [10, 10, 7, None]


WRONG = [
    # path of the problem, what it says, what is typed
    ("gear", "no such forward gear", {**ONE, "gear": '"thrid"'}),
    ("gear", "no such forward gear", {**ONE, "gear": '"reverse"'}),
    ("case", "no such loading case", {**ONE, "case": '"markt"'}),
    ("route", "in a second way", {"cycle": '"udds"', "route": '"timed.gpx, measured"'}),
    ("stretch", "in a second way", {"cycle": '"udds"', **ONE}),
    ("stretch", "in a second way", {"route": '"timed.gpx"', **ONE}),
    ("stretch", "in a second way", {"route": '"unknown"', **ONE}),
    ("", "says nothing of what is driven", {"says": '"x"'}),
    ("speed", "is needed", {"route": '"plain.gpx"'}),
    ("speed", "plays no part", {"route": '"timed.gpx"', "speed": '"30 km/h"'}),
    ("speed", "plays no part", {"cycle": '"udds"', "speed": '"30 km/h"'}),
    ("speed", "plays no part", {**ONE, "speed": '"30 km/h"'}),
    ("braking", "plays no part", {"cycle": '"udds"', "braking": '"2 m/s²"'}),
    ("acceleration", "plays no part", {"route": '"timed.gpx"', "acceleration": '"2 m/s²"'}),
    (
        "stretch.lane",
        "does not say when its turn is",
        {"stretch.lane.length": '"500 m"', "stretch.lane.speed": '"36 km/h"'},
    ),
    (
        "stretch.10_lane",
        "has the same number as 010",
        {**ONE, "stretch.010.length": '"500 m"', "stretch.010.speed": '"36 km/h"'},
    ),
    (
        "stretch.10_lane.length",
        "is too short",
        {"stretch.10_lane.length": '"39 m"', "stretch.10_lane.speed": '"36 km/h"'},
    ),
    ("cycle", "should be", {"cycle": '"wltc"'}),
    ("stretch.10_lane.speed", "cannot be", {**ONE, "stretch.10_lane.speed": '"1 km/h"'}),
    ("stretch.10_lane.grade", "cannot be", {**ONE, "stretch.10_lane.grade": '"26 %"'}),
    ("repeat", "whole number", {**ONE, "repeat": '"1.5"'}),
    ("route", "cannot be", {"route": '"none"'}),
    ("route", "not in the build folder", {"route": '"other.gpx"'}),
    ("route", "names a file", {"route": "3"}),
    ("route", "leads out", {"route": '"../timed.gpx"'}),
    ("tyres", "is not a key", {**ONE, "tyres": '"soft"'}),
]


@pytest.mark.parametrize(("key", "what", "fields"), WRONG)
def test_what_does_not_agree_is_refused_in_its_line(key, what, fields) -> None:
    problem = only(fields)
    path = f"use.run.{key}".rstrip(".")
    assert problem.path == path
    assert what in problem.what
    assert problem.file == "build.toml"
    typed = text(fields)
    assert problem.line is not None
    if f"\n{path} =" in typed:
        assert problem.line == line_of(typed, path)


def test_a_name_that_is_nearly_right_is_guessed() -> None:
    assert only({**ONE, "gear": '"thrid"'}).do == "did you mean third?"
    assert only({**ONE, "case": '"markt"'}).do == "did you mean market?"
    assert opened({**ONE, "gear": '"third"', "case": '"market"'}).build.use["run"].gear == "third"


def test_a_route_may_be_unknown_for_now() -> None:
    use = opened({"route": '"unknown"'}).build.use["run"]
    assert not use.route.known
    assert said(use.route)
    (lack,) = use.route.share.lacks
    assert "receiver" in lack.how


def test_a_plain_route_takes_speed_and_accelerations() -> None:
    fields = {"route": '"plain.gpx"', "speed": '"36 km/h"', "braking": '"2 m/s²"'}
    use = opened(fields).build.use["run"]
    assert use.speed.number == pytest.approx(10.0)
    assert use.route.needs_speed


def test_a_route_may_be_larger_than_a_curve_and_has_a_limit_of_its_own() -> None:
    def read(size: int) -> Opened:
        raw = TIMED.encode() + b" " * (size - len(TIMED.encode()))
        fields = text({"route": '"timed.gpx"'}).encode()
        return parse_build(fields, read_file={"timed.gpx": raw}.__getitem__)

    assert read(LARGEST + 1).build.use["run"].route.known
    assert read(LARGEST_ROUTE).build.use["run"].route.known
    with pytest.raises(BuildError, match="larger than 4194304 bytes"):
        read(LARGEST_ROUTE + 1)


def test_the_digest_covers_the_route() -> None:
    raw = text({"route": '"timed.gpx"'}).encode()
    one = parse_build(raw, read_file=FILES.__getitem__)
    other = parse_build(raw, read_file={"timed.gpx": TIMED.encode() + b"\n"}.__getitem__)
    assert one.digest != other.digest


def test_a_route_is_read_from_the_folder_and_an_edit_keeps_the_rest(tmp_path) -> None:
    (tmp_path / "timed.gpx").write_text(TIMED, encoding="utf-8")
    file = tmp_path / "build.toml"
    file.write_text(text({"route": '"timed.gpx, measured" # the lane'}), encoding="utf-8")
    before = open_build(tmp_path)
    assert before.build.use["run"].route.places[-1] == pytest.approx(400.0, rel=1e-6)
    file.write_text(splice(before.source, [Edit(("use", "run", "repeat"), '"2"')]))
    after = open_build(tmp_path)
    assert after.build.use["run"].repeat.number == 2.0
    assert after.build.use["run"].route.places == before.build.use["run"].route.places
    old, new = before.source.text.splitlines(), after.source.text.splitlines()
    assert [line for line in old if line not in new] == []


@pytest.mark.parametrize(
    ("cold", "full", "says"),
    [
        ("18 °C", "10 °C", "is above the limit it must stay below"),
        ("10 °C", "10 °C", "nothing lies between"),
    ],
)
def test_temperatures_of_charging_keep_their_order(cold: str, full: str, says: str) -> None:
    text = (
        f'[pack]\ncharge_cold_from = "{cold}, datasheet"\ncharge_cold_full = "{full}, datasheet"\n'
    )
    (problem,) = problems_of('format = 1\nbuild.name = "B"\n' + text)
    assert says in str(problem)
