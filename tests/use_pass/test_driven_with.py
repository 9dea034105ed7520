"""What a use and a hill are driven with, where it ends, and what explains it."""

from __future__ import annotations

import math

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
    problems_of,
)
from wattwright.assessment import Assessment
from wattwright.descriptions.duty import Duties, Duty
from wattwright.findings import Verdict
from wattwright.use_pass.hardest import hardest
from wattwright.working import numbers_text, steps_of

HILL: dict[str, str | None] = {
    "targets.hill_grade": '"6 %"',
    "targets.hill_speed": '"50 km/h"',
    "targets.hill_length": '"5 km, measured"',
    "targets.hill_outside": '"25 °C ± 0"',
}


def used(changes: dict[str, str | None] | None = None) -> Assessment:
    return electric({**DRIVEN, **CHARGED, **DAY, **(changes or {})})


def duty(assessment: Assessment, name: str = "day") -> Duty:
    return assessment.descriptions[Duties].uses[name]


def paths(assessment: Assessment, address: str) -> dict[str, float]:
    value = figure(assessment, address).value
    return {origin.path: shift for origin, shift in value.effects.items()}


# --------------------------------------------------------------------------------------- hills


def test_the_hill_wanted_is_climbed_with_the_pack_at_its_low_charge() -> None:
    hill = used({**HILL, "pack.low_charge": '"20 %"'}).descriptions[Duties].hill
    assert hill is not None
    assert hill.driven is not None
    charge = hill.driven.run.charge
    assert charge[0] == pytest.approx(0.2)
    assert charge[-1] == pytest.approx(0.2, abs=1e-3)
    high = used({**HILL, "pack.low_charge": '"50 %"'}).descriptions[Duties].hill
    assert high is not None
    # The same power at a lower voltage.
    assert (hill.current.number or 0.0) > 1.02 * (high.current.number or 0.0)


def test_a_hill_on_which_the_wheels_slip_is_not_held() -> None:
    wet = used({**HILL, "drive.start.friction": '"0.1, datasheet"'})
    slips = number(wet, "drive.hill_grip@driver")
    for word in ("30 km/h", "50 km/h"):
        assert number(wet, f"drive.hill_held@{word}") == pytest.approx(slips)
        assert number(wet, f"drive.hill_time@{word}") == 0.0
        assert number(wet, f"drive.hill_ended_by@{word}/grip") == 0.0
    nobody = used({**HILL, "drive.start.friction": '"unknown"'})
    assert figure(nobody, "drive.hill_held@30 km/h").value.doubts
    assert not figure(used(HILL), "drive.hill_held@30 km/h").value.doubts


def test_a_pack_that_cannot_feed_what_is_always_on_holds_no_hill() -> None:
    said = used(
        {**HILL, "drive.auxiliary": '"6 kW, datasheet"', "pack.discharge_current": '"12 A"'}
    )
    for word in ("30 km/h", "50 km/h"):
        found = [f for f in said.figures if f.address == f"drive.hill_time@{word}"]
        assert all(f.value.number == 0.0 for f in found)
        assert [f for f in said.figures if f.address == f"drive.hill_ended_by@{word}/force"]


# ------------------------------------------------------------------------- heater, range, the end


def test_a_season_that_names_an_age_alone_heats_as_the_use_does() -> None:
    said = used({"season.old.aged": "true", "season.wind.headwind": '"20 km/h"'})
    for season in ("old", "wind"):
        assert duty(said, f"day/{season}").demand.inputs["heater"].number == 300.0


def test_the_band_of_the_charge_that_is_to_be_left_moves_the_range() -> None:
    said = used({"pack.low_charge": '"20 % ± 4, assumed"', "use.day.range": '"30 km"'})
    less = number(used({"pack.low_charge": '"24 % ± 0, measured"'}), "drive.use_reach@day")
    far = number(said, "drive.use_reach@day")
    shift = paths(said, "drive.use_reach@day")["pack.low_charge"]
    assert shift == pytest.approx(less - far, rel=0.03)
    assert "pack.low_charge" in {
        origin.path for origin, _ in finding(said, "drive.use_range@day").rests_on
    }


def test_where_the_pack_ends_on_the_way_is_where_the_speed_is_missing() -> None:
    said = used({"use.day.repeat": '"200"', "pack.capacity": '"100 Ah ± 10, typical"'})
    run = duty(said).driven
    assert run is not None
    assert run.run.ended != "end of trace"
    assert number(said, "drive.use_behind_at@day") == pytest.approx(run.run.distance)
    followed = finding(said, "drive.use_followed@day")
    assert followed.verdict is Verdict.FAILING
    assert followed.provisional
    assert followed.value.number == pytest.approx(60 / 3.6, rel=0.01)
    assert "pack.capacity" in {origin.path for origin, _ in followed.rests_on}


def test_what_the_wind_takes_is_air() -> None:
    calm, windy = used(), used({"use.day.headwind": '"30 km/h"'})
    for part in ("rolling",):
        one, other = (number(each, f"drive.use_part_{part}@day") for each in (calm, windy))
        assert one == pytest.approx(other)
    # At a steady 60 km/h against 30 km/h: 0.04 N/(km/h)² times 90² of it, less at the ends.
    steady = 0.04 * 90**2
    assert number(windy, "drive.use_part_air@day") == pytest.approx(steady, rel=0.12)
    run = duty(windy).driven
    assert run is not None
    balance = run.run.balance
    assert balance.closure == pytest.approx(0.0, abs=1e-9 * balance.chemistry)


# ------------------------------------------------------------------------------ cells in the cold


def test_cold_magnets_are_not_cold_cells() -> None:
    said = used({"drive.coldest_magnets": '"26 °C ± 0, datasheet"'})
    assert figure(said, "drive.use_reach@day").value.known
    cold = {"pack.cold_temperature": '"5 °C ± 0, datasheet"'}
    inputs = duty(used(cold)).demand.inputs
    assert inputs["cold_temperature"].number == pytest.approx(278.15)
    # 80 % at 5 °C and all at 25 °C, so 90 % at 15 °C.
    assert inputs["capacity"].number == pytest.approx(0.9 * 360_000.0)


def test_a_cold_point_that_may_be_warm_is_refused_where_it_stands() -> None:
    cold = {"pack.cold_temperature": '"14 °C ± 12, measured"'}
    problems = problems_of(build_text(cold, {**SMALL, **ELECTRIC, **DRIVEN, **CHARGED}))
    assert [problem.path for problem in problems] == ["pack.cold_temperature"]
    assert "25 °C" in problems[0].what


def test_bands_that_reach_across_each_other_are_said() -> None:
    said = used(
        {
            "pack.charge_cold_from": '"2 °C ± 4, measured"',
            "pack.charge_cold_full": '"6 °C ± 4, measured"',
        }
    )
    value = figure(said, "drive.use_reach@day").value
    assert not value.known
    assert "at one end of a band cold cells" in value.lacks[0].why


# -------------------------------------------------------------------------------- hardest second


def test_the_hardest_second_is_the_one_of_the_highest_current() -> None:
    said = used({"use.day.repeat": '"45"', "pack.cell_resistance": '"6 mΩ ± 0, measured"'})
    told = duty(said)
    second = hardest(told)
    assert second is not None
    assert told.driven is not None
    run = told.driven.run
    # The voltage falls on the way, so that the same power takes more current later.
    assert run.current.argmax() != run.dc_power.argmax()
    assert second.current.number == pytest.approx(number(said, "drive.use_peak@day"), rel=1e-9)


def test_the_working_of_cold_cells_is_followed_by_hand() -> None:
    second = hardest(duty(used()))
    assert second is not None
    steps = [
        each for each in steps_of(second.current) if "Resistance of a pack" in each.formula.says
    ]
    text = numbers_text(steps[0], "metric", {})
    assert "298" not in text
    assert math.isfinite(steps[0].value.number or math.nan)
