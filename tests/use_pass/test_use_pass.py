"""Going through a use: what is handed on, what it rests on, and what stays the same."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from builders import (
    CHARGED,
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
from wattwright.descriptions.duty import PARTS, WINDOWS, Duties, Duty
from wattwright.findings import Verdict
from wattwright.use_pass import lots
from wattwright.use_pass.duty import duty_of
from wattwright.use_pass.hardest import duty_behind, energies, hardest
from wattwright.uses.inputs import Parameters, Trace
from wattwright.uses.profile import Stretch, of_cycle, of_speed, of_stretches
from wattwright.uses.runs import run
from wattwright.uses.traces import repeated, trace_of

DAY: dict[str, str | None] = {
    "use.day.stretch.10_out.length": '"3 km, measured"',
    "use.day.stretch.10_out.speed": '"60 km/h"',
    "use.day.stretch.10_out.stop": '"20 s"',
    "use.day.stretch.20_hill.length": '"2 km, measured"',
    "use.day.stretch.20_hill.speed": '"40 km/h"',
    "use.day.stretch.20_hill.grade": '"4 %, measured"',
    "use.day.outside_temperature": '"15 °C ± 0"',
    "road.air_temperature": '"15 °C ± 0"',
    "use.day.heater_power": '"300 W"',
    "use.day.acceleration": '"1 m/s²"',
    "use.day.braking": '"1 m/s²"',
}


def used(changes: dict[str, str | None] | None = None) -> Assessment:
    return electric({**DRIVEN, **CHARGED, **DAY, **(changes or {})})


@pytest.fixture(scope="module")
def day() -> Assessment:
    return used()


def duty(assessment: Assessment, name: str = "day") -> Duty:
    return assessment.descriptions[Duties].uses[name]


# ------------------------------------------------------------------------------------ what it says


def test_the_parts_make_up_what_left_the_cells(day: Assessment) -> None:
    said = duty(day)
    assert said.driven is not None
    balance = said.driven.run.balance
    parts = sum(value.number or 0.0 for value in said.energy.split.values())
    assert parts * said.driven.run.distance == pytest.approx(balance.chemistry, rel=1e-9)
    told = energies(balance)
    assert told["left over"].number == 0.0
    assert sum(told[part.replace("_", " ")].number or 0.0 for part in PARTS) == pytest.approx(
        balance.chemistry, rel=1e-9
    )
    # At the wall more than at the pack, at the pack more than at the wheels.
    wheel, pack, wall = (number(day, f"drive.use_{word}@day") for word in ("wheel", "pack", "wall"))
    assert wall == pytest.approx(pack / 0.8)
    assert pack > wheel > 0


def test_windows_are_those_of_the_run(day: Assessment) -> None:
    said = duty(day)
    assert said.driven is not None
    current, steps = said.driven.run.current, said.driven.trace.steps
    whole = math.sqrt((current**2 * steps).sum() / steps.sum())
    assert number(day, "drive.use_pack_whole_use@day") == pytest.approx(whole)
    by_window = [said.pack_current.by_window[seconds].number or 0.0 for seconds in WINDOWS]
    assert by_window == sorted(by_window, reverse=True)
    assert number(day, "drive.use_peak@day") == pytest.approx(current.max())


def test_phase_currents_follow_the_torque(day: Assessment) -> None:
    said = duty(day)
    assert said.driven is not None
    # With equal inductances torque is in proportion to current: 71.28 N·m at 240 A.
    torque, steps = np.abs(said.driven.run.torque), said.driven.trace.steps
    below = torque.max() / 71.28 * 240.0
    whole = math.sqrt(((torque / 71.28 * 240.0) ** 2 * steps).sum() / steps.sum())
    assert number(day, "drive.use_phase_whole_use@day/motor") == pytest.approx(whole, rel=0.02)
    assert number(day, "drive.use_phase_1_s@day/motor") == pytest.approx(below, rel=0.02)


def test_torques_go_through_the_gears(day: Assessment) -> None:
    said = duty(day)
    assert said.driven is not None
    motor, wheel = (number(day, f"drive.use_torque@day/{link}") for link in ("motor", "wheel"))
    assert motor == pytest.approx(said.driven.run.torque.max())
    gear = duty(day).demand.shafts["wheel"]
    assert wheel == pytest.approx(motor * (gear.ratio.number or 0) * (gear.efficiency.number or 0))
    braking = number(day, "drive.use_braking_torque@day/wheel")
    least = said.driven.run.torque.min()
    # Backwards the losses of the gears brake too.
    assert braking == pytest.approx(
        least * (gear.ratio.number or 0) / (gear.efficiency.number or 1)
    )
    # It speeds up twice and slows down twice.
    assert number(day, "drive.use_reversals@day/motor") == 3
    shares = sum(share for _, share in said.links["motor"].by_torque)
    assert 0.5 < shares < 1.0


def test_the_hardest_second_is_that_of_the_run(day: Assessment) -> None:
    said = duty(day)
    second = hardest(said)
    assert second is not None
    assert said.driven is not None
    assert second.current.number == pytest.approx(said.driven.run.current.max(), rel=1e-9)
    assert second.time in said.driven.trace.times


def test_a_result_finds_its_use(day: Assessment) -> None:
    duties = day.descriptions[Duties]
    assert duty_behind(duties, "drive.use_reach@day") is duty(day)
    assert duty_behind(duties, "drive.use_warmest_motor@day") is duty(day)
    assert duty_behind(duties, "drive.steady_range@50 km/h") is duties.steady["50 km/h"]
    assert duty_behind(duties, "drive.use_current@contactor") is None
    assert duty_behind(duties, "drive.top_speed") is None


# ------------------------------------------------------------------------------- which way it moves


@pytest.mark.parametrize(
    ("changes", "least", "most"),
    [
        # 25 K colder: denser air, a colder pack that holds less and may not be charged.
        ({"use.day.outside_temperature": '"-10 °C ± 0"'}, 0.70, 0.95),
        ({"use.day.headwind": '"30 km/h"'}, 0.65, 0.95),
        ({"use.day.heater_power": '"2 kW"'}, 0.60, 0.95),
        ({"pack.capacity": '"75 Ah, datasheet"'}, 0.74, 0.76),
        ({"use.day.case": '"full"'}, 0.70, 0.99),
        # The upper part of the charge comes at a higher voltage: a little more than three quarters.
        ({"pack.low_charge": '"40 %"'}, 0.75, 0.77),
        ({"drive.auxiliary": '"1.5 kW, datasheet"'}, 0.75, 0.98),
    ],
)
def test_what_costs_range(
    day: Assessment, changes: dict[str, str | None], least: float, most: float
) -> None:
    share = number(used(changes), "drive.use_reach@day") / number(day, "drive.use_reach@day")
    assert least < share < most


def test_a_season_changes_what_it_names_and_nothing_else(day: Assessment) -> None:
    cold = {"season.frost.outside_temperature": '"-10 °C ± 0"'}
    # The old pack stays a little behind on the hill, for a second or two.
    cold["targets.speed_missing"] = '"5 km/h"'
    both = used(
        {**cold, "season.old.outside_temperature": '"15 °C ± 0"', "season.old.aged": "true"}
    )
    alone = used({"use.day.outside_temperature": '"-10 °C ± 0"'})
    # Without a heater power of its own a season heats by the cabin: (18 + 10) K times 80 W/K.
    frost = duty(both, "day/frost")
    assert frost.demand.inputs["heater"].number == pytest.approx(2240.0)
    assert frost.demand.inputs["capacity"].number == duty(alone).demand.inputs["capacity"].number
    assert number(both, "drive.use_reach@day") == number(day, "drive.use_reach@day")
    old = duty(both, "day/old").demand.inputs
    now = duty(day).demand.inputs
    assert old["capacity"].number == pytest.approx(0.75 * (now["capacity"].number or 0))
    assert old["resistance"].number == pytest.approx(1.5 * (now["resistance"].number or 0))
    assert finding(both, "drive.use_charge@day/old").verdict is Verdict.SOUND


def test_nobody_heats_where_the_use_has_no_heater() -> None:
    said = used(
        {"use.day.heater_power": '"0 W"', "season.frost.outside_temperature": '"-10 °C ± 0"'}
    )
    assert duty(said, "day/frost").demand.inputs["heater"].number == 0.0


def test_one_thing_otherwise_is_that_thing_done(day: Assessment) -> None:
    ifs = {
        "heater": {"use.day.heater_power": '"1300 W"'},
        "headwind": {"use.day.headwind": '"20 km/h"'},
        "colder": {"use.day.outside_temperature": '"5 °C ± 0"'},
    }
    for word, changes in ifs.items():
        told = number(day, f"drive.use_if_{word}@day")
        # One way repeated to the very end, the other by what it takes for its distance.
        assert told == pytest.approx(number(used(changes), "drive.use_reach@day"), rel=0.01), word
    aged = number(day, "drive.use_if_aged@day") / number(day, "drive.use_reach@day")
    assert 0.70 < aged < 0.751


# -------------------------------------------------------------------------- what cannot be driven


def test_a_use_that_asks_too_much_is_an_answer() -> None:
    said = used({"use.day.stretch.20_hill.grade": '"25 %, measured"'})
    followed = finding(said, "drive.use_followed@day")
    assert followed.verdict is Verdict.FAILING
    assert number(said, "drive.use_behind@day") > 5 / 3.6
    # On the hill, which begins after three kilometres.
    assert number(said, "drive.use_behind_at@day") >= 2990.0
    assert number(said, "drive.use_held_back@day/torque") > 10.0


def test_a_pack_that_ends_before_the_use_does_not_pass() -> None:
    said = used({"use.day.repeat": '"100"'})
    assert finding(said, "drive.use_charge@day").verdict is Verdict.FAILING
    assert finding(said, "drive.use_followed@day").verdict is Verdict.FAILING
    # All of what was still wanted is missing.
    assert number(said, "drive.use_behind@day") == pytest.approx(60 / 3.6, rel=0.01)


def test_what_is_missing_is_asked_for_by_every_result() -> None:
    said = used({"pack.capacity": None, "use.day.range": '"50 km"'})
    for address in ("drive.use_range@day", "drive.use_charge@day", "drive.use_followed@day"):
        stated = finding(said, address)
        assert stated.verdict is Verdict.UNKNOWN
        assert {lack.path for lack in stated.lacks} == {"pack.capacity"}
    assert not figure(said, "drive.use_reach@day").value.known


def test_the_hill_is_unknown_while_the_full_load_is() -> None:
    said = used({"targets.hill_length": '"1 km"', "place.bed.full": '"unknown"'})
    for body in ("motor", "inverter", "pack"):
        stated = finding(said, f"drive.hill_heat@{body}")
        assert stated.verdict is Verdict.UNKNOWN
        assert {lack.path for lack in stated.lacks} == {"place.bed.full"}


def test_what_contradicts_itself_is_said_and_does_not_crash(day: Assessment) -> None:
    demand = duty(day).demand
    # A lowest voltage above the highest.
    inputs = {**demand.inputs, "lowest_voltage": demand.inputs["mass"]}
    told = duty_of(dataclasses.replace(demand, inputs=inputs))
    assert not told.range.known
    assert "cannot be driven" in told.range.lacks[0].why


def test_a_way_that_only_falls_has_no_range() -> None:
    said = used(
        {
            "use.day.stretch.10_out.grade": '"-12 %, measured"',
            "use.day.stretch.20_hill.grade": '"-12 %, measured"',
            "use.day.start_charge": '"50 %"',
        }
    )
    value = figure(said, "drive.use_reach@day").value
    assert not value.known
    assert "does not lower the charge" in value.lacks[0].why


# ------------------------------------------------------------------------------------- the numbers


def test_long_steps_change_nothing_that_counts(day: Assessment) -> None:
    """Steady stretches in steps of ten seconds, against one second throughout, and half of that."""
    said = duty(day)
    assert said.driven is not None
    profile = said.demand.profile
    numbers = {name: value.number or 0.0 for name, value in said.demand.inputs.items()}
    parameters = Parameters(**numbers)
    assert said.demand.maps is not None
    maps = said.demand.maps()
    assert not isinstance(profile, tuple)
    for parts in (1, 2):
        times = np.arange(0, len(profile.grades) + 1 / parts / 2, 1 / parts)
        speeds = np.interp(times, np.arange(len(profile.speeds)), profile.speeds)
        fine = Trace(np.full(len(times) - 1, 1 / parts), speeds, np.repeat(profile.grades, parts))
        other = run(fine, parameters, maps)
        assert other.balance.chemistry == pytest.approx(said.driven.run.balance.chemistry, rel=1e-3)
        assert other.motor.max() == pytest.approx(said.driven.run.motor.max(), abs=0.3)


def test_pieces_keep_time_distance_and_climb() -> None:
    stretches = [Stretch(2000.0, 20.0, 0.03, 30.0), Stretch(900.0, 9.0, -0.05, 1200.0)]
    for profile in (of_stretches("a", stretches, 1.0, 1.0), of_cycle("nedc")):
        trace = repeated(trace_of(profile), 2)
        assert len(trace.steps) < 2 * len(profile.grades)
        assert trace.times[-1] == pytest.approx(2 * profile.duration)
        means = (trace.speeds[1:] + trace.speeds[:-1]) / 2
        assert (means * trace.steps).sum() == pytest.approx(2 * profile.distance)
        rise = (means * trace.steps * trace.sines).sum()
        assert rise == pytest.approx(2 * profile.rise, abs=1e-6)
        assert trace.steps.max() <= 60.0


def test_a_long_stop_is_switched_off_and_a_short_one_is_not() -> None:
    stretches = [Stretch(500.0, 10.0, 0.0, 599.0), Stretch(500.0, 10.0, 0.0, 600.0)]
    trace = trace_of(of_stretches("a", stretches, 1.0, 1.0))
    off = trace.steps[trace.on == 0].sum()
    assert off == pytest.approx(600.0, abs=2.0)


@pytest.mark.parametrize("length", [500.0, 503.0, 506.0, 509.0])
def test_ten_minutes_are_ten_minutes_wherever_the_seconds_fall(length: float) -> None:
    for stop, off in ((599.0, 0.0), (600.0, 600.0)):
        stretches = [Stretch(length, 10.0, 0.0, stop), Stretch(500.0, 10.0)]
        trace = trace_of(of_stretches("a", stretches, 0.7, 0.7))
        assert trace.steps[trace.on == 0].sum() == pytest.approx(off, abs=2.0)


def test_a_steady_speed_is_a_few_steps() -> None:
    trace = trace_of(of_speed("a", 20.0, 0.0, 1200))
    assert len(trace.steps) == 10 + 119


def test_the_same_runs_are_not_driven_twice(day: Assessment, monkeypatch) -> None:
    demand = dataclasses.replace(duty(day).demand, variants=tuple)
    first = duty_of(demand)
    monkeypatch.setattr(lots, "run_rows", lambda *_: pytest.fail("driven again"))
    again = duty_of(demand)
    assert (first.range.number, first.range.band) == (again.range.number, again.range.band)


# ------------------------------------------------------------ what is not driven to its end


def verdicts(assessment: Assessment, *checks: str) -> dict[str, set[Verdict]]:
    found: dict[str, set[Verdict]] = {check: set() for check in checks}
    for each in assessment.findings:
        name = each.check.id.removeprefix("drive.")
        if name in found:
            found[name].add(each.verdict)
    return found


@pytest.mark.parametrize(
    "changes",
    [
        # The heater alone is more than the pack may feed: nothing moves.
        {"use.day.heater_power": '"15 kW"', "pack.discharge_current": '"30 A"'},
        # It stands at the foot of a hill for the rest of the time.
        {
            "use.day.stretch.10_out.length": '"50 m, measured"',
            "use.day.stretch.10_out.speed": '"20 km/h"',
            "use.day.stretch.20_hill.grade": '"25 %, measured"',
        },
    ],
)
def test_what_is_not_driven_to_its_end_does_not_pass(changes: dict[str, str | None]) -> None:
    said = used({**changes, "use.day.range": '"50 km"'})
    assert finding(said, "drive.use_followed@day").verdict is Verdict.FAILING
    assert finding(said, "drive.use_range@day").verdict is Verdict.FAILING
    found = verdicts(said, "use_charge", "use_heat", "use_cells", "use_current")
    assert all(each and each <= {Verdict.UNKNOWN, Verdict.FAILING} for each in found.values()), (
        found
    )
    stated = finding(said, "drive.use_heat@day/motor")
    assert any("the use" in doubt for doubt in stated.doubts)


def test_a_start_at_the_reserve_is_a_range_of_nothing() -> None:
    said = used({"use.day.start_charge": '"20 %"', "pack.low_charge": '"20 %"'})
    assert number(said, "drive.use_reach@day") == 0.0
    assert not [each for each in said.figures if each.declared.id.startswith("drive.use_if")]


def test_something_otherwise_that_cannot_be_driven_is_left_out() -> None:
    said = used(
        {
            "use.day.outside_temperature": '"-40 °C ± 0"',
            "pack.capacity_cold": '"40 %, datasheet"',
        }
    )
    assert number(said, "drive.use_reach@day") > 0
    ifs = {each.declared.id for each in said.figures if each.declared.id.startswith("drive.use_if")}
    assert "drive.use_if_colder" not in ifs
    assert "drive.use_if_faster" in ifs


def test_an_age_alone_is_driven_in_the_weather_of_the_use(day: Assessment) -> None:
    said = used({"season.old.aged": "true"})
    now, then = duty(day).demand.inputs, duty(said, "day/old").demand.inputs
    assert then["ambient"].number == now["ambient"].number
    assert then["capacity"].number == pytest.approx(0.75 * (now["capacity"].number or 0.0))


# ------------------------------------------------------------------------------- hills and currents

HILL: dict[str, str | None] = {
    "targets.hill_grade": '"6 %"',
    "targets.hill_speed": '"50 km/h"',
    "targets.hill_length": '"5 km, measured"',
    "targets.hill_outside": '"25 °C ± 0"',
}
SECOND: dict[str, str | None] = {
    path.replace("part.motor.", "part.other."): text
    for path, text in {**SMALL, **ELECTRIC, **DRIVEN, **CHARGED}.items()
    if path.startswith("part.motor.")
} | {"part.motor.fed_by": '"inverter"', "part.other.fed_by": '"inverter"'}


def test_the_hill_counts_among_the_hardest_of_all_uses() -> None:
    said = used({**HILL, "pack.continuous_current": '"30 A, datasheet"'})
    cells = finding(said, "drive.use_cells")
    assert cells.verdict is Verdict.FAILING
    flat = used({"pack.continuous_current": '"30 A, datasheet"'})
    assert (cells.value.number or 0) > (finding(flat, "drive.use_cells").value.number or 0)
    # And where there is no use, the hill alone is judged.
    alone = {path: None for path in DAY if path.startswith("use.")}
    only = used({**alone, **HILL, "pack.continuous_current": '"30 A, datasheet"'})
    assert finding(only, "drive.use_cells").verdict is Verdict.FAILING


def test_a_motor_that_cools_well_does_not_hide_one_that_does_not() -> None:
    hidden = {"part.other.thermal_resistance": '"5 K/kW, datasheet"'}
    hidden |= {"part.other.heat_capacity": '"100 kJ/K, datasheet"'}
    worse, alike = used({**HILL, **SECOND, **hidden}), used({**HILL, **SECOND})
    for address in ("drive.hill_heat@motor", "drive.use_heat@day/motor"):
        assert (finding(worse, address).value.number or 0) == pytest.approx(
            finding(alike, address).value.number or 0
        )


@pytest.mark.parametrize("warm", ["motor", "other"])
def test_the_warmest_motor_begins_the_hill_whichever_is_named_first(warm: str) -> None:
    said = used({**HILL, **SECOND, f"part.{warm}.warm": '"110 °C, datasheet"'})
    assert (finding(said, "drive.hill_heat@motor").value.number or 0) >= 383.15 - 1e-9


def test_an_inverter_that_feeds_nothing_takes_no_heat() -> None:
    idle = {
        path.replace("part.inverter.", "part.idle."): text
        for path, text in {**SMALL, **ELECTRIC, **DRIVEN, **CHARGED}.items()
        if path.startswith("part.inverter.")
    }
    both = used({**HILL, **idle, "part.motor.fed_by": '"inverter"'})
    # It still has to be carried up: that makes a few thousandths of a kelvin.
    assert (finding(both, "drive.hill_heat@inverter").value.number or 0) == pytest.approx(
        finding(used(HILL), "drive.hill_heat@inverter").value.number or 0, abs=0.02
    )


def test_a_pack_too_warm_on_the_level_holds_no_hill() -> None:
    hot = {"pack.highest_temperature": '"43 °C, datasheet"', "targets.hill_outside": '"38 °C ± 0"'}
    said = used({**HILL, **hot})
    for word in ("30 km/h", "50 km/h", "80 km/h"):
        assert number(said, f"drive.hill_held@{word}") == 0.0
        assert number(said, f"drive.hill_time@{word}") == 0.0
        assert number(said, f"drive.hill_ended_by@{word}/pack") == 0.0


def test_what_the_pack_holds_plays_no_part_in_a_hill() -> None:
    cells = {"pack.heat_capacity": '"20 kJ/K, datasheet"', "targets.hill_grade": '"7 %"'}
    cells |= {"pack.highest_temperature": '"48 °C, datasheet"'}
    known = used({**HILL, **cells, "pack.capacity": '"12 Ah ± 0, measured"'})
    vague = used({**HILL, **cells, "pack.capacity": '"12 Ah ± 8, measured"'})
    for word in ("hill_held@30 km/h", "hill_time@80 km/h"):
        one, other = (figure(each, f"drive.{word}").value for each in (known, vague))
        assert (one.number, one.band) == (other.number, other.band)


def test_braking_is_felt_more_at_the_wheel_than_the_gears_multiply() -> None:
    said = used({"use.udds.cycle": '"udds"'})
    # 40 N·m through 8 to 1 (first gear 2, axle 4) backwards at 90 % and 95 %: 374.3 N·m.
    gear = duty(said, "udds").demand.shafts["wheel"]
    ratio, efficiency = gear.ratio.number or 0.0, gear.efficiency.number or 0.0
    braking = number(said, "drive.use_braking_torque@udds/wheel")
    assert braking == pytest.approx(-40.0 * ratio / efficiency)
    by_torque = duty(said, "udds").links["wheel"].by_torque
    assert min(by_torque)[0] < -40.0 * ratio
    assert max(by_torque)[0] < 71.28 * ratio * efficiency


def test_weakening_the_field_takes_current_without_torque() -> None:
    downhill = {
        "part.motor.flux": '"140 mWb, datasheet"',
        "drive.regen.torque": '"0 N·m"',
        "use.day.gear": '"first"',
        "use.day.stretch.10_out.speed": '"95 km/h"',
        "use.day.stretch.10_out.length": '"20 km, measured"',
        "use.day.stretch.10_out.grade": '"-4 %, measured"',
        "use.day.stretch.20_hill.grade": '"0 %"',
    }
    said = used(downhill)
    run_ = duty(said).driven
    assert run_ is not None
    step = int(run_.run.motor_speed.argmax())
    speed, voltage = run_.run.motor_speed[step] * 3, run_.run.voltage[step] / math.sqrt(3)
    # The magnets of the builders stay at 20 °C; the inductance along them is 0.3 mH.
    needed = (speed * 0.14 - voltage) / (speed * 0.3e-3)
    assert needed > 20
    assert number(said, "drive.use_phase_10_min@day/motor") > 0.8 * needed


def test_a_use_that_never_ends_is_refused_and_not_begun() -> None:
    said = used(
        {
            "use.day.stretch.10_out.length": '"100 km, measured"',
            "use.day.stretch.10_out.speed": '"3 km/h"',
            "use.day.repeat": '"1000"',
        }
    )
    value = figure(said, "drive.use_reach@day").value
    assert not value.known
    assert "repeat it less often" in value.lacks[0].why
    assert finding(said, "drive.use_charge@day").verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("field", "address", "path"),
    [
        ("part.motor.derating_span", "drive.use_heat@day/motor", "part.motor.derating_span"),
        ("pack.derating_span", "drive.use_heat@day/pack", "pack.derating_span"),
        ("targets.speed_missing", "drive.use_followed@day", "targets.speed_missing"),
    ],
)
def test_a_limit_by_common_practice_is_provisional(field: str, address: str, path: str) -> None:
    stated = finding(used({field: None}), address)
    assert stated.provisional
    assert path in {origin.path for origin, _ in stated.rests_on}


def test_a_map_that_begins_at_standstill_makes_no_heat_of_nothing() -> None:
    """Efficiency at standstill or without torque is nothing over nothing, whatever is printed."""
    head = "speed (rpm); torque (N·m); efficiency (%)\n"
    inner = "2000; 35; 85\n2000; 90; 88\n8000; 35; 90\n8000; 90; 92\n"
    edges = "".join(f"0; {torque}; 1\n" for torque in (0, 35, 90))
    edges += "2000; 0; 1\n8000; 0; 1\n"
    changes = {"part.motor.efficiency_grid": '"map.csv ± 2 %, datasheet"', **DAY}
    base = {**SMALL, **ELECTRIC, **DRIVEN, **CHARGED}
    found = []
    for text in (inner, edges + inner):
        files = {"map.csv": (head + text).encode()}
        built = build_text(changes, base).encode()
        said = assess(parse_build(built, "build.toml", files.__getitem__))
        found.append(number(said, "drive.use_part_drive_loss@day"))
    assert found[0] == pytest.approx(found[1], rel=1e-9)
