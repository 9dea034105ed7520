"""What is not driven as wanted never passes, and what a way was told with is rested on."""

from __future__ import annotations

import pytest

from builders import (
    CHARGED,
    DAY,
    DRIVEN,
    ELECTRIC,
    SMALL,
    build_text,
    electric,
    figure,
    finding,
    number,
)
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import parse_build
from wattwright.descriptions.duty import Duties
from wattwright.findings import Verdict
from wattwright.values import Value

# Gentle, so that it keeps up, and exact.
ROUND: dict[str, str | None] = {**DAY, "use.day.range": '"30 km"'}
UP_AND_DOWN: dict[str, str | None] = {
    "use.day.stretch.10_out.grade": '"3 %, datasheet"',
    "use.day.stretch.20_back.length": '"5 km, datasheet"',
    "use.day.stretch.20_back.speed": '"60 km/h"',
    "use.day.stretch.20_back.grade": '"-3 %, datasheet"',
}
WEAKLY_COOLED: dict[str, str | None] = {"cooling.radiator": '"5 W/K, datasheet"'}


def used(changes: dict[str, str | None] | None = None) -> Assessment:
    return electric({**DRIVEN, **CHARGED, **ROUND, **(changes or {})})


def effects(value: Value) -> dict[str, float]:
    return {origin.path: shift for origin, shift in value.effects.items()}


# ---------------------------------------------------------------- rounds that are not driven


@pytest.mark.parametrize("way", [{}, UP_AND_DOWN])
def test_worse_cooling_makes_no_more_range(way: dict[str, str | None]) -> None:
    cool, weak = used(way), used({**way, **WEAKLY_COOLED})
    assert finding(cool, "drive.use_range@day").verdict is Verdict.SOUND
    # The first round is driven as wanted, a later one is not.
    assert finding(weak, "drive.use_followed@day").verdict is Verdict.SOUND
    stated = finding(weak, "drive.use_range@day")
    assert stated.verdict is Verdict.UNKNOWN
    assert any("held back from" in doubt and "temperature" in doubt for doubt in stated.doubts)
    once = number(weak, "drive.use_distance@day")
    far = number(weak, "drive.use_reach@day")
    assert once < far < number(cool, "drive.use_reach@day")


def test_a_range_that_ends_before_the_one_wanted_fails() -> None:
    weak = used({**UP_AND_DOWN, **WEAKLY_COOLED, "use.day.range": '"100 km"'})
    assert finding(weak, "drive.use_range@day").verdict is Verdict.FAILING


def test_a_steady_speed_leads_as_far_as_it_is_held() -> None:
    cool, weak = used(), used(WEAKLY_COOLED)
    said = figure(weak, "drive.steady_range@80 km/h").value
    assert any("held back from" in doubt for doubt in said.doubts)
    assert 26e3 < (said.number or 0.0) < number(cool, "drive.steady_range@80 km/h")
    # One that is held to the end is as it was.
    assert not figure(weak, "drive.steady_range@30 km/h").value.doubts
    # And what is drawn has no such point.
    drawn = weak.descriptions[Duties].steady["80 km/h"].demand
    from wattwright.use_pass import reaching

    assert reaching.reach(drawn) is None


def test_a_speed_out_of_reach_has_no_range() -> None:
    said = used({"pack.discharge_current": '"25 A"'})
    assert number(said, "drive.top_speed") < 80 / 3.6
    found = [each for each in said.figures if each.address == "drive.steady_range@80 km/h"]
    assert all(each.value.doubts and (each.value.number or 0.0) < 5e3 for each in found)


# ------------------------------------------------------------- height, distance and speed missing


def test_a_vehicle_held_back_does_not_come_down_from_where_it_has_not_been() -> None:
    hill: dict[str, str | None] = {
        "use.day.stretch.10_out.length": '"40 km, datasheet"',
        "use.day.stretch.10_out.speed": '"30 km/h"',
        "use.day.stretch.20_up.length": '"1 km, datasheet"',
        "use.day.stretch.20_up.speed": '"60 km/h"',
        "use.day.stretch.20_up.grade": '"12 %, datasheet"',
        "use.day.stretch.30_down.length": '"1 km, datasheet"',
        "use.day.stretch.30_down.speed": '"30 km/h"',
        "use.day.stretch.30_down.grade": '"-12 %, datasheet"',
        "targets.speed_missing": '"30 km/h"',
        "pack.discharge_current": '"50 A"',
    }
    said = used(hill)
    duty = said.descriptions[Duties].uses["day"]
    assert duty.driven is not None
    run = duty.driven.run
    # Hardly any distance is missing, nor more speed than may be; but the loop ends too low.
    assert run.shortfall.distance < 0.01 * run.distance
    assert run.balance.climb < -0.01 * run.balance.chemistry
    stated = finding(said, "drive.use_charge@day")
    assert stated.verdict is Verdict.UNKNOWN
    assert any("not as high" in doubt for doubt in stated.doubts)


@pytest.mark.parametrize("missing", ['"2 km/h"', '"30 km/h"'])
def test_a_few_hundredths_of_the_way_are_missed(missing: str) -> None:
    said = used(
        {
            "use.day.stretch.10_out.length": '"20 km, datasheet"',
            "use.day.stretch.10_out.speed": '"80 km/h"',
            "pack.discharge_current": '"25 A"',
            "targets.speed_missing": missing,
        }
    )
    run = said.descriptions[Duties].uses["day"].driven
    assert run is not None
    assert 0.01 < run.run.shortfall.distance / 20e3 < 0.05
    for check in ("use_charge@day", "use_range@day", "use_heat@day/motor"):
        stated = finding(said, f"drive.{check}")
        assert stated.verdict is Verdict.UNKNOWN, check
        assert any("held back" in doubt for doubt in stated.doubts)


def test_one_thing_otherwise_that_is_not_driven_as_wanted_is_doubted() -> None:
    said = used(
        {"pack.discharge_current": '"26 A"', "use.day.acceleration": '"0.2 m/s², datasheet"'}
    )
    assert not figure(said, "drive.use_reach@day").value.doubts
    assert figure(said, "drive.use_if_headwind@day").value.doubts
    assert not figure(said, "drive.use_if_colder@day").value.doubts


# ------------------------------------------------------------------- what the way was told with

HILL: dict[str, str | None] = {
    "use.day.stretch.20_hill.length": '"4 km ± 1, assumed"',
    "use.day.stretch.20_hill.speed": '"40 km/h ± 4, assumed"',
    "use.day.stretch.20_hill.grade": '"4 % ± 1, assumed"',
    "use.day.stretch.20_hill.stop": '"300 s ± 100, assumed"',
    "use.day.acceleration": '"0.4 m/s² ± 0.1, assumed"',
}


@pytest.mark.parametrize(
    ("field", "number_", "text"),
    [
        ("stretch.20_hill.length", 4.0, '"{} km, datasheet"'),
        ("stretch.20_hill.speed", 40.0, '"{} km/h, datasheet"'),
        ("stretch.20_hill.grade", 4.0, '"{} %, datasheet"'),
        ("stretch.20_hill.stop", 300.0, '"{} s, datasheet"'),
        ("acceleration", 0.4, '"{} m/s², datasheet"'),
    ],
)
def test_what_the_way_was_told_with_moves_what_is_driven(
    field: str, number_: float, text: str
) -> None:
    """The effect of each input, against the build with that input at either end of its band."""
    path, band = f"use.day.{field}", {4.0: 1.0, 40.0: 4.0, 300.0: 100.0, 0.4: 0.1}[number_]
    said = used(HILL)
    for address in ("drive.use_pack@day", "drive.use_part_auxiliary@day"):
        value = figure(said, address).value
        moves = [
            sign
            * (
                number(used({**HILL, path: text.format(number_ + sign * band)}), address)
                - (value.number or 0.0)
            )
            for sign in (1.0, -1.0)
        ]
        most = max(moves, key=abs)
        # Whole seconds fall otherwise.
        near = 0.03 * abs(most) + 5e-4 * abs(value.number or 0.0)
        assert effects(value).get(path, 0.0) == pytest.approx(most, abs=near), address


def test_guesses_about_the_way_make_findings_provisional() -> None:
    exact: dict[str, str | None] = {
        **HILL,
        "use.day.stretch.20_hill.length": '"4 km"',
        "use.day.stretch.20_hill.speed": '"40 km/h"',
        "use.day.stretch.20_hill.grade": '"4 %"',
        "use.day.stretch.20_hill.stop": '"300 s"',
    }
    steep = {"use.day.stretch.20_hill.grade": '"10 % ± 6, assumed"'}
    said = finding(used({**exact, **steep}), "drive.use_followed@day")
    assert said.provisional
    assert said.value.band > 0
    assert said.verdict is not Verdict.SOUND
    # What is decided and typed without an origin is exact and firm.
    told = figure(used(exact), "drive.use_reach@day").value
    assert not [path for path in effects(told) if path.startswith("use.day.stretch.20_hill")]


def on_route(route: str, file: str, text: str) -> Assessment:
    changes = {**DRIVEN, **CHARGED, **ROUND, "use.day.route": None}
    changes |= {path: None for path in ROUND if ".stretch." in path}
    changes |= {"use.day.acceleration": None, "use.day.braking": None}
    base = build_text(changes, {**SMALL, **ELECTRIC})
    raw = f'{base}use.day.route = "{file}{route}"\n'.encode()
    return assess(parse_build(raw, read_file={file: text.encode()}.__getitem__))


LANE = "time (s),distance (m),altitude (m)\n" + "".join(
    f"{second},{10 * second},{100 + second / 10}\n" for second in range(600)
)


def test_the_share_of_a_route_moves_distance_and_all_that_follows() -> None:
    said = on_route(" ± 5 %, assumed", "way.csv", LANE)
    charge = finding(said, "drive.use_charge@day")
    assert charge.provisional
    # A twentieth more of the way takes a twentieth more of the charge.
    taken = 1.0 - (charge.value.number or 0.0)
    assert effects(charge.value)["use.day.route"] == pytest.approx(-0.05 * taken, rel=0.03)
    # The same way again and again leads as far as before.
    reach = figure(said, "drive.use_reach@day").value
    assert abs(effects(reach)["use.day.route"]) < 0.005 * (reach.number or 0.0)
    for word, share in (("distance", 0.05), ("climb", 0.05), ("duration", 0.05)):
        value = figure(said, f"drive.use_{word}@day").value
        assert effects(value)["use.day.route"] == pytest.approx(share * (value.number or 0.0))


TRACK = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="by hand" '
    'xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>\n{}</trkseg></trk></gpx>\n'
)


def track(seconds: list[int]) -> str:
    """A receiver that goes north at 11 m/s or so."""
    return TRACK.format(
        "".join(
            f'<trkpt lat="{-41 + 1e-4 * second:.4f}" lon="10.0"><ele>50</ele>'
            f"<time>2026-05-10T09:{second // 60:02}:{second % 60:02}Z</time></trkpt>\n"
            for second in seconds
        )
    )


def test_a_gap_in_a_recording_doubts_what_follows_from_its_length() -> None:
    whole = on_route(", measured", "way.gpx", track(list(range(900))))
    gap = on_route(", measured", "way.gpx", track([s for s in range(900) if not 400 < s < 420]))
    for check in ("use_followed", "use_charge", "use_range"):
        assert finding(whole, f"drive.{check}@day").verdict is Verdict.SOUND, check
        stated = finding(gap, f"drive.{check}@day")
        assert stated.verdict is Verdict.UNKNOWN, check
        assert any("gap bridged" in doubt for doubt in stated.doubts)
    assert any("gap" in doubt for doubt in figure(gap, "drive.use_reach@day").value.doubts)
