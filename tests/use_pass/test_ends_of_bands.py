"""What a band says holds where the input really is at its end: range, hills, torques."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builders import CHARGED, DAY, DRIVEN, electric, figure, finding, number
from wattwright.assessment import Assessment
from wattwright.descriptions.duty import Demand, Duties
from wattwright.findings import Verdict
from wattwright.use_pass.around import Around
from wattwright.use_pass.lots import driven_once
from wattwright.use_pass.reaching import Reaching
from wattwright.use_pass.warming import warmed
from wattwright.uses.profile import Profile
from wattwright.uses.results import BODIES
from wattwright.uses.traces import repeated
from wattwright.values import Value

Texts = dict[str, str | None]
ROUND: Texts = {**DAY, "use.day.range": '"30 km"'}
HILL: Texts = {
    "targets.hill_grade": '"6 %"',
    "targets.hill_speed": '"50 km/h"',
    "targets.hill_length": '"5 km, measured"',
    "targets.hill_outside": '"25 °C ± 0"',
}
WEAKLY_COOLED: Texts = {"cooling.radiator": '"5 W/K, datasheet"'}


def used(*changes: Texts) -> Assessment:
    texts: Texts = {**DRIVEN, **CHARGED, **ROUND}
    for each in changes:
        texts.update(each)
    return electric(texts)


def demand_of(assessment: Assessment) -> Demand:
    return assessment.descriptions[Duties].uses["day"].demand


def effect(value: Value, path: str) -> float:
    return {origin.path: shift for origin, shift in value.effects.items()}.get(path, 0.0)


# --------------------------------------------------------------------------------------- range


@pytest.mark.parametrize("changes", [{}, WEAKLY_COOLED], ids=("to the reserve", "held back"))
def test_a_recording_that_ends_a_little_faster_leads_as_far(changes: Texts) -> None:
    demand = demand_of(used(changes))
    assert isinstance(demand.profile, Profile)
    open_ended = replace(demand.profile, speeds=(*demand.profile.speeds[:-1], 0.3))
    closed, opened = (
        Reaching(Around.of(each)).far() for each in (demand, replace(demand, profile=open_ended))
    )
    assert closed.number is not None
    assert opened.number == pytest.approx(closed.number, rel=0.01)
    assert bool(opened.held_back) is bool(closed.held_back) is bool(changes)


def test_the_band_of_a_range_reaches_to_where_an_end_of_an_input_is_held_back() -> None:
    def cooled(text: str) -> Value:
        weak = used({"cooling.radiator": f'"{text}, measured"'})
        return figure(weak, "drive.use_reach@day").value

    middle, low = cooled("30 W/K ± 24"), cooled("6 W/K ± 0")
    assert not middle.doubts
    assert any("held back from" in doubt for doubt in low.doubts)
    assert low.number is not None
    assert middle.number is not None
    short = middle.number - low.number
    assert short > 0.2 * middle.number
    assert abs(effect(middle, "cooling.radiator")) > 0.5 * short
    assert middle.band > 0.5 * short
    # And what is wanted between the two is not promised.
    wanted = f'"{(middle.number - 0.2 * short) / 1e3:.0f} km"'
    said = used({"cooling.radiator": '"30 W/K ± 24, measured"', "use.day.range": wanted})
    assert finding(said, "drive.use_range@day").verdict is not Verdict.SOUND


# --------------------------------------------------------------------------------------- hills


def test_a_headwind_on_the_road_blows_on_the_hill_too() -> None:
    calm, windy = used(HILL), used(HILL, {"road.headwind": '"40 km/h ± 0, measured"'})
    for said, than in ((windy, calm),):
        one, other = (each.descriptions[Duties].hill for each in (said, than))
        assert one is not None
        assert other is not None
        assert (one.current.number or 0.0) > 1.05 * (other.current.number or 0.0)
    held = "drive.hill_held@50 km/h"
    assert number(windy, held) < 0.95 * number(calm, held)


@pytest.mark.parametrize(
    ("path", "text", "moved"),
    [
        ("targets.hill_grade", '"6 % ± 1, assumed"', '"7 % ± 0, measured"'),
        ("targets.hill_speed", '"50 km/h ± 5, assumed"', '"55 km/h ± 0, measured"'),
    ],
)
def test_the_hill_wanted_is_an_input_of_its_current(path: str, text: str, moved: str) -> None:
    middle, end = used(HILL, {path: text}), used(HILL, {path: moved})
    hill, higher = (each.descriptions[Duties].hill for each in (middle, end))
    assert hill is not None
    assert higher is not None
    shift = (higher.current.number or 0.0) - (hill.current.number or 0.0)
    assert effect(hill.current, path) == pytest.approx(shift, rel=0.1)
    carried = finding(middle, "drive.use_current@inverter")
    assert path in {origin.path for origin, _ in carried.rests_on}
    assert carried.provisional


def test_the_length_of_the_hill_is_an_input_of_how_warm_it_gets() -> None:
    short = used(HILL, {"targets.hill_length": '"2 km ± 0.2, measured"'})
    long = used(HILL, {"targets.hill_length": '"2.2 km ± 0, measured"'})
    address = "drive.hill_heat@motor"
    said = finding(short, address).value
    shift = (finding(long, address).value.number or 0.0) - (said.number or 0.0)
    assert shift > 0.2
    assert effect(said, "targets.hill_length") == pytest.approx(shift, rel=0.2)


def test_currents_are_not_promised_while_a_hill_of_unknown_length_is_wanted() -> None:
    lengthless: Texts = {**HILL, "targets.hill_length": None}
    without, given = used(lengthless), used(HILL)
    for address in ("drive.use_current@inverter", "drive.use_cells"):
        assert finding(given, address).verdict is Verdict.SOUND
        stated = finding(without, address)
        assert stated.verdict is Verdict.UNKNOWN
        assert any("targets.hill_length" in doubt for doubt in stated.value.doubts)
    nothing_wanted = used(dict.fromkeys(HILL))
    assert finding(nothing_wanted, "drive.use_current@inverter").verdict is Verdict.SOUND


def test_an_hour_is_not_promised_where_an_end_of_an_input_holds_for_less() -> None:
    def held(text: str) -> Value:
        said = used(HILL, {"cooling.radiator": f'"{text}, measured"'})
        return figure(said, "drive.hill_time@50 km/h").value

    hour, less = held("200 W/K ± 190"), held("10 W/K ± 0")
    assert hour.number == 3600.0
    assert (less.number or 0.0) < 3000.0
    shift = hour.number - (less.number or 0.0)
    assert effect(hour, "cooling.radiator") == pytest.approx(shift, rel=0.1)


# ------------------------------------------------------------------------------------- torques


def test_the_torque_of_braking_moves_as_braking_does() -> None:
    def braked(text: str) -> Value:
        said = used({"drive.regen.torque": f'"{text}"'})
        return figure(said, "drive.use_braking_torque@day/motor").value

    middle, end = braked("10 N·m ± 2, measured"), braked("12 N·m ± 0, measured")
    assert (middle.number or 0.0) == pytest.approx(-10.0, rel=0.01)
    shift = (end.number or 0.0) - (middle.number or 0.0)
    assert effect(middle, "drive.regen.torque") == pytest.approx(shift, rel=0.05)
    assert middle.band == pytest.approx(2.0, rel=0.2)


# ------------------------------------------------------------------------------------- warming


def test_the_first_look_at_how_warm_it_gets_agrees_with_the_loop() -> None:
    steady = used().descriptions[Duties].steady["50 km/h"].demand
    around = Around.of(steady)
    rounds = 6
    long = driven_once(repeated(around.trace, rounds), around.parameters, around.maps)
    assert long.ended == "end of trace"
    looked_at = warmed(around.lot, rounds * float(around.trace.times[-1]))[0]
    for body, temperature in zip(BODIES, looked_at, strict=True):
        after = float(getattr(long, body)[-1])
        begun = float(getattr(long, body)[0])
        assert temperature - begun == pytest.approx(after - begun, rel=0.1, abs=0.3), body
    assert long.motor[-1] - long.motor[0] > 3.0
