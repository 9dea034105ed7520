"""Uses driven on paper: distance, climb and duration by hand, what is missing, and repairs."""

from __future__ import annotations

import pytest

from builders import DRIVEN, ELECTRIC, SMALL, assessed, electric, figure, number, opened
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import parse_build

HILL: dict[str, str | None] = {
    "use.home.stretch.10_hill.length": '"1 km, measured"',
    "use.home.stretch.10_hill.speed": '"36 km/h"',
    "use.home.stretch.10_hill.grade": '"6 %, measured"',
    "use.home.stretch.10_hill.stop": '"20 s"',
    "use.home.stretch.20_lane.length": '"500 m, measured"',
    "use.home.stretch.20_lane.speed": '"18 km/h"',
    "use.home.acceleration": '"1 m/s²"',
    "use.home.braking": '"1 m/s²"',
}


def used(changes: dict[str, str | None]) -> Assessment:
    return electric({**DRIVEN, **HILL, **changes})


def test_stretches_by_hand() -> None:
    said = used({})
    assert number(said, "drive.use_distance@home") == pytest.approx(1500.0, rel=1e-3)
    # 6 % of rise over run: 1000 m times the sine of its angle is 59.89 m.
    assert number(said, "drive.use_climb@home") == pytest.approx(59.89, rel=1e-3)
    # 10 m/s with 10 s up and 10 s down: 110 s; 20 s of rest; 5 m/s with 5 s each: 105 s.
    assert number(said, "drive.use_duration@home") == pytest.approx(235.0, abs=3.0)
    assert number(said, "drive.use_steepest@home") == pytest.approx(0.06, rel=1e-6)
    assert number(said, "drive.use_fastest@home") == pytest.approx(10.0, rel=1e-2)


def test_a_cycle_is_driven_as_published() -> None:
    said = electric({**DRIVEN, "use.printed.cycle": '"wltc_1"'})
    # UN GTR No. 15, class 1: 1611 s (from memory) and 64.4 km/h at most.
    assert number(said, "drive.use_duration@printed") == 1611.0
    assert number(said, "drive.use_fastest@printed") == pytest.approx(64.4 / 3.6)
    assert number(said, "drive.use_climb@printed") == 0.0


def test_bands_of_stretches_move_the_way() -> None:
    bands: dict[str, str | None] = {
        "use.home.stretch.10_hill.length": '"1 km ± 0.1, measured"',
        "use.home.stretch.10_hill.grade": '"6 % ± 1, measured"',
        "use.home.stretch.20_lane.speed": '"18 km/h ± 1.8, assumed"',
        "use.home.stretch.20_lane.length": '"500 m ± 0, measured"',
    }
    # By the differences of builds with the inputs at the ends of their bands.
    ends = {
        "use.home.stretch.10_hill.length": ('"1.1 km ± 0, measured"', '"0.9 km ± 0, measured"'),
        "use.home.stretch.10_hill.grade": ('"7 % ± 0, measured"', '"5 % ± 0, measured"'),
        "use.home.stretch.20_lane.speed": ('"19.8 km/h"', '"16.2 km/h"'),
    }
    said = used(bands)
    for word in ("distance", "climb", "duration", "steepest", "fastest"):
        address = f"drive.use_{word}@home"
        value = figure(said, address).value
        found = {origin.path: shift for origin, shift in value.effects.items()}
        for path, (up, down) in ends.items():
            half = number(used({**bands, path: up}), address) - number(
                used({**bands, path: down}), address
            )
            # Whole seconds cut the corners of a drive.
            near = (1e-2 if word == "duration" else 1e-5) * abs(value.number or 0.0)
            assert found.get(path, 0.0) == pytest.approx(half / 2, rel=0.02, abs=near), path


@pytest.mark.parametrize("left_out", ["length", "speed"])
def test_what_a_stretch_lacks_is_asked_for(left_out: str) -> None:
    path = f"use.home.stretch.20_lane.{left_out}"
    value = figure(used({path: '"unknown"'}), "drive.use_distance@home").value
    assert not value.known
    assert {lack.path for lack in value.lacks} == {path}


def test_a_use_alone_begins_the_drive() -> None:
    bare = {"format": "1", "build.name": '"Bare"'}
    said = assessed(HILL, bare)
    assert number(said, "drive.use_distance@home") == pytest.approx(1500.0, rel=1e-3)


def test_repairs_of_a_recorded_way_travel_with_it() -> None:
    rows = [f"{second},{10 * second},{100 + second / 10}" for second in range(60)]
    rows[30] = "30,300,400"
    text = "time (s),distance (m),altitude (m)\n" + "\n".join(rows) + "\n"
    base = opened({**DRIVEN, "use.home.route": None}, {**SMALL, **ELECTRIC}).source.text
    raw = (base + 'use.home.route = "way.csv, measured"\n').encode()
    files = {"way.csv": text.encode()}
    said = assess(parse_build(raw, read_file=files.__getitem__))
    value = figure(said, "drive.use_climb@home").value
    assert any("altitude" in doubt for doubt in value.doubts)
    assert value.number == pytest.approx(5.9, abs=0.6)
