"""The drive area on the small build made electric: numbers by hand in the comments.

96 cells of 3 to 4.2 V: 288 V empty, 403.2 V full, 425.8 V while regenerating. First gear 2, second
1, final drive 4, a wheel that rolls 2 m in a turn, 100 km/h at most. The motor has three pole
pairs and 66 mWb at 20 °C; magnets lose a tenth in 100 K, so at -20 °C they have 4 % more.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders import CHARGED, DRIVEN, ELECTRIC, SMALL, build_text, electric, figure, finding, number
from wattwright.areas import AREAS
from wattwright.assessment import Assessment, assess, compare
from wattwright.build.reader import parse_build
from wattwright.findings import Figure, Finding, Verdict
from wattwright.values import Origin

SOUND, MARGINAL = Verdict.SOUND, Verdict.MARGINAL
FAILING, UNKNOWN = Verdict.FAILING, Verdict.UNKNOWN
DRIVE = next(each for each in AREAS if each.name == "drive")

RPM = 2 * math.pi / 60
# 100 km/h over 2 m is 13.889 turns of the wheel in a second, 833.33 in a minute.
WHEEL_RPM = 100 / 3.6 / 2 * 60
FIRST, SECOND = 8 * WHEEL_RPM, 4 * WHEEL_RPM
WARM: dict[str, str | None] = {"drive.coldest_magnets": '"20 °C ± 0, datasheet"'}
SIXTY: dict[str, str | None] = {"pack.series": '"60"'}


@pytest.fixture(scope="module")
def small() -> Assessment:
    return electric()


def rpm(assessment: Assessment, address: str) -> float:
    return number(assessment, address) / RPM


def paths(stated: Finding) -> set[str]:
    return {origin.path for origin, _ in stated.rests_on}


def lacks(stated: Finding) -> set[str]:
    return {lack.path for lack in stated.lacks}


# ------------------------------------------------------------------------------ voltage windows


@pytest.mark.parametrize(
    ("name", "high", "regen", "low"),
    [
        # 200 to 450 V and 250 to 430 V: the whole window fits.
        ("inverter", (450, SOUND), (450, SOUND), (200, SOUND)),
        ("charger", (430, SOUND), (430, SOUND), (250, SOUND)),
        # 410 V bears the full pack, 403.2 V, and not what regeneration makes of it, 425.8 V.
        ("converter", (410, SOUND), (410, FAILING), (200, SOUND)),
    ],
)
def test_windows_of_each_device(
    small: Assessment,
    name: str,
    high: tuple[float, Verdict],
    regen: tuple[float, Verdict],
    low: tuple[float, Verdict],
) -> None:
    for address, value, (limit, verdict) in (
        ("window_high", 403.2, high),
        ("window_regen", 425.8, regen),
        ("window_low", 288.0, low),
    ):
        stated = finding(small, f"drive.{address}@{name}")
        assert stated.value.number == pytest.approx(value)
        assert stated.limit.number == limit
        assert stated.verdict is verdict


def test_margins_have_the_right_sign(small: Assessment) -> None:
    # 410 - 403.2, 410 - 425.8 and 288 - 200
    assert finding(small, "drive.window_high@converter").margin == pytest.approx(6.8)
    assert finding(small, "drive.window_regen@converter").margin == pytest.approx(-15.8)
    assert finding(small, "drive.window_low@converter").margin == pytest.approx(88.0)


def test_a_window_is_sound_to_its_edge_and_marginal_where_the_band_reaches_it() -> None:
    edge = {"part.charger.voltage_high": '"404 V, datasheet"'}
    assert finding(electric(edge), "drive.window_high@charger").verdict is SOUND
    # ± 0.01 V a cell is ± 0.96 V, and 0.8 V are left.
    banded = {**edge, "pack.charge_limit": '"4.2 V ± 0.01, measured"'}
    assert finding(electric(banded), "drive.window_high@charger").verdict is MARGINAL
    under = {"part.charger.voltage_high": '"403 V, datasheet"'}
    assert finding(electric(under), "drive.window_high@charger").verdict is FAILING


def test_a_device_that_needs_more_than_the_empty_pack_has_fails() -> None:
    sixty = electric(SIXTY)  # 180 V empty, 252 V full
    for name, verdict in (("inverter", FAILING), ("charger", FAILING), ("converter", FAILING)):
        low = finding(sixty, f"drive.window_low@{name}")
        assert low.value.number == pytest.approx(180.0)
        assert low.verdict is verdict
        assert finding(sixty, f"drive.window_high@{name}").verdict is SOUND


def test_a_device_that_works_at_any_voltage_has_no_lowest(small: Assessment) -> None:
    assert "drive.window_low@contactor" not in small.by_address
    assert finding(small, "drive.window_high@contactor").verdict is SOUND


@pytest.mark.parametrize("text", [None, '"unknown"'])
@pytest.mark.parametrize(
    ("field", "addresses"),
    [("voltage_high", ("window_high", "window_regen")), ("voltage_low", ("window_low",))],
)
def test_a_rating_nobody_knows_is_unknown_and_asked_for(
    text: str | None, field: str, addresses: tuple[str, ...]
) -> None:
    assessment = electric({f"part.charger.{field}": text})
    for address in ("window_high", "window_regen", "window_low"):
        stated = finding(assessment, f"drive.{address}@charger")
        if address in addresses:
            assert stated.verdict is UNKNOWN
            assert lacks(stated) == {f"part.charger.{field}"}
            assert stated.lacks[0].how
        else:
            assert stated.verdict is SOUND


def test_a_pack_not_counted_yet_leaves_every_window_unknown() -> None:
    assessment = electric({"pack.series": None})
    windows = [each for each in assessment.findings if "window" in each.check.id]
    # three for each of four devices, less the lowest voltage of the contactor
    assert len(windows) == 11
    assert all(each.verdict is UNKNOWN and "pack.series" in lacks(each) for each in windows)


def test_windows_and_magnets_leave_nothing_out_of_what_they_rest_on(small: Assessment) -> None:
    highest = {"pack.series", "pack.charge_limit"}
    resistances = {"parallel", "cell_resistance", "joints", "cold_factor", "age_factor"}
    rise = {"pack.regen_current_full", *(f"pack.{each}" for each in resistances)}
    lowest = {"pack.series", "pack.discharge_limit"}
    cold = {"part.motor.flux", "drive.flux_loss", "drive.coldest_magnets"}
    driven = {
        "targets.top_speed",
        "drive.gear.first.ratio",
        "drive.final_ratio",
        "drive.rolling_circumference",
    }
    for address, expected in {
        "window_high@charger": highest | {"part.charger.voltage_high"},
        "window_regen@charger": highest | rise | {"part.charger.voltage_high"},
        "window_low@charger": lowest | {"part.charger.voltage_low"},
        "emf_rating@motor": cold
        | {"part.motor.max_speed", "part.motor.pole_pairs", "part.inverter.voltage_high"},
        "generation@motor": cold | lowest | driven | {"part.motor.pole_pairs"},
    }.items():
        stated = finding(small, f"drive.{address}")
        assert paths(stated) == expected, address
        assert not stated.provisional


@pytest.mark.parametrize(
    ("path", "address"),
    [
        ("part.charger.voltage_high", "window_high@charger"),
        ("pack.charge_limit", "window_high@charger"),
        ("pack.joints", "window_regen@charger"),
        ("drive.flux_loss", "emf_rating@motor"),
        ("part.motor.flux", "generation@motor"),
    ],
)
def test_one_guess_however_small_makes_them_provisional(path: str, address: str) -> None:
    quantity = ELECTRIC[path].strip('"').partition(",")[0].partition(" ±")[0]
    amount, _, unit = quantity.partition(" ")
    guessed = electric(
        {path: f'"{quantity} ± {float(amount) * 1e-6:.9f}{unit and " "}{unit}, assumed"'}
    )
    assert finding(guessed, f"drive.{address}").provisional


# ------------------------------------------------------------------------------------ back-EMF


def test_emf_of_cold_magnets_at_the_highest_speed(small: Assessment) -> None:
    # √3 * 3 * 0.066 Wb * 837.758 rad/s (8000 rpm) = 287.306 V; cold 4 % more, 298.798 V
    warm = electric(WARM)
    assert number(warm, "drive.emf_rating@motor") == pytest.approx(287.306, abs=0.001)
    assert number(small, "drive.emf_rating@motor") == pytest.approx(298.798, abs=0.001)
    assert finding(small, "drive.emf_rating@motor").limit.number == 450.0
    assert finding(small, "drive.emf_rating@motor").verdict is SOUND


def test_cold_magnets_exceed_a_rating_that_warm_ones_keep() -> None:
    inverter = {"part.inverter.voltage_high": '"293 V, datasheet"'}
    assert finding(electric({**WARM, **inverter}), "drive.emf_rating@motor").verdict is SOUND
    assert finding(electric(inverter), "drive.emf_rating@motor").verdict is FAILING


def test_cold_and_loss_that_nobody_said_are_typical_and_make_it_provisional() -> None:
    usual = electric({"drive.coldest_magnets": None, "drive.flux_loss": None})
    stated = finding(usual, "drive.emf_rating@motor")
    # 11 % in 100 K over 40 K: 287.306 V * 1.044
    assert stated.value.number == pytest.approx(299.947, abs=0.001)
    assert stated.provisional
    origins = {origin.path: origin.origin for origin, _ in stated.rests_on}
    assert origins["drive.coldest_magnets"] is Origin.TYPICAL
    assert origins["drive.flux_loss"] is Origin.TYPICAL


@pytest.mark.parametrize("path", ["pole_pairs", "flux", "max_speed"])
def test_a_motor_half_known_asks_for_the_rest(path: str) -> None:
    stated = finding(electric({f"part.motor.{path}": None}), "drive.emf_rating@motor")
    assert (stated.verdict, lacks(stated)) == (UNKNOWN, {f"part.motor.{path}"})


# --------------------------------------------------------------------- uncontrolled generation


def test_generation_begins_where_the_line_peak_meets_the_empty_pack() -> None:
    """The lowest voltage counts: at the highest it would seem safe 40 per cent faster."""
    begins = finding(electric({**SIXTY, **WARM}), "drive.generation@motor").limit.number
    assert begins is not None
    # 180 V / (√3 * 0.066 Wb) = 180 / 0.1143154 = 1574.6 rad/s electrical
    assert 3 * begins == pytest.approx(1574.59, abs=0.01)
    # over 3 pole pairs 524.86 rad/s, 5012 rpm; with 252 V it would be 7017 rpm
    assert begins / RPM == pytest.approx(5012.1, abs=0.1)


def test_cold_magnets_begin_sooner() -> None:
    cold = finding(electric(SIXTY), "drive.generation@motor").limit.number
    assert cold is not None
    assert cold / RPM == pytest.approx(5012.1 / 1.04, abs=0.1)


def test_below_it_the_motor_is_sound_and_no_generation_is_shown(small: Assessment) -> None:
    # 288 V: 8019.3 rpm warm, 7710.9 rpm cold; first gear turns it 6666.7 rpm at 100 km/h
    stated = finding(small, "drive.generation@motor")
    assert rpm(small, "drive.generation@motor") == pytest.approx(6666.667, abs=0.001)
    assert stated.limit.number == pytest.approx(7710.9 * RPM, rel=1e-5)
    assert stated.verdict is SOUND
    assert not any("generated" in address for address in small.by_address)


def test_above_it_is_a_warning_with_current_and_braking_torque() -> None:
    # Current and voltage are in phase in a diode bridge, so with L_d = L_q the EMF is the
    # hypotenuse over the bridge's voltage and the reactance's.
    #   phase EMF    3 * 698.132 rad/s * 0.066 Wb         = 138.230 V
    #   six-step     2 * 180 V / π                        = 114.592 V
    #   reactance    3 * 698.132 rad/s * 0.3 mH           = 0.628319 Ω
    #   phase peak   √(138.230² - 114.592²) / 0.628319    = 123.04 A
    #   direct       3 / π * 123.04 A                     = 117.49 A
    #   torque       180 V * 117.49 A / 698.132 rad/s     = 30.29 N·m
    assessment = electric({**SIXTY, **WARM})
    stated = finding(assessment, "drive.generation@motor")
    assert stated.verdict is MARGINAL
    assert stated.margin is not None
    assert stated.margin < 0
    assert stated.check.caution
    assert number(assessment, "drive.generated_current@motor") == pytest.approx(117.49, abs=0.02)
    assert number(assessment, "drive.generated_torque@motor") == pytest.approx(30.29, abs=0.01)


def test_just_above_it_there_is_not_yet_a_steady_current() -> None:
    # Diodes of a round machine keep going from 2/π * √3 = 1.10 of the speed at which it begins.
    # 76 cells: 228 V, begins at 6348.6 rpm warm, 6666.7 rpm is 1.05 of it.
    assessment = electric({"pack.series": '"76"', **WARM})
    assert finding(assessment, "drive.generation@motor").verdict is MARGINAL
    assert not figure(assessment, "drive.generated_current@motor").value.known
    # 70 cells: 210 V, begins at 5847.4 rpm, 1.14 of it
    assert figure(
        electric({"pack.series": '"70"', **WARM}), "drive.generated_current@motor"
    ).value.known


@pytest.mark.parametrize("path", ["ld", "lq"])
def test_inductances_count_for_the_current_alone(path: str) -> None:
    assessment = electric({**SIXTY, f"part.motor.{path}": None})
    assert finding(assessment, "drive.generation@motor").verdict is MARGINAL
    for address in ("generated_current", "generated_torque"):
        value = figure(assessment, f"drive.{address}@motor").value
        assert [lack.path for lack in value.lacks] == [f"part.motor.{path}"]


def test_without_gears_the_highest_speed_of_the_motor_counts() -> None:
    gears = {path: None for path in ELECTRIC if path.startswith("drive.gear")}
    assessment = electric(gears)
    assert rpm(assessment, "drive.generation@motor") == pytest.approx(8000.0)
    assert finding(assessment, "drive.generation@motor").verdict is MARGINAL
    overspeed = finding(assessment, "drive.overspeed@motor")
    assert overspeed.verdict is UNKNOWN
    assert [lack.path for lack in overspeed.lacks] == ["drive.gear"]


def test_gears_without_a_motor_ask_for_the_motor() -> None:
    gone = {path: None for path in ELECTRIC if path.startswith("part.motor")}
    overspeed = finding(electric(gone), "drive.overspeed@first")
    assert overspeed.verdict is UNKNOWN
    assert "kind = motor" in overspeed.lacks[0].how


UNROLLED: dict[str, str | None] = {"drive.rolling_circumference": None}


def test_a_size_known_from_memory_states_no_speed() -> None:
    sizes = {"tyre.front.size": '"185R13"', "tyre.rear.size": '"185R13"'}
    stated = finding(electric({**UNROLLED, **sizes}), "drive.overspeed@first")
    assert stated.verdict is UNKNOWN
    assert [lack.path for lack in stated.lacks] == ["drive.rolling_circumference"]


def test_unlike_tyres_state_no_speed_until_the_driven_axle_is_named() -> None:
    sizes = {"tyre.front.size": '"185/65 R 15"', "tyre.rear.size": '"205/65 R 15"'}
    stated = finding(electric({**UNROLLED, **sizes, "drive.driven": None}), "drive.overspeed@first")
    assert stated.verdict is UNKNOWN
    assert [lack.path for lack in stated.lacks] == ["drive.rolling_circumference"]
    assert finding(electric({**UNROLLED, **sizes}), "drive.overspeed@first").verdict is not UNKNOWN


def test_fewer_cells_move_every_voltage_and_the_speed_alike(small: Assessment) -> None:
    sixty = electric(SIXTY)
    for address in ("pack.v_max", "pack.v_min"):
        assert number(sixty, address) == pytest.approx(number(small, address) * 60 / 96, rel=1e-14)
    before = finding(small, "drive.generation@motor").limit.number
    after = finding(sixty, "drive.generation@motor").limit.number
    assert before is not None
    assert after == pytest.approx(before * 60 / 96, rel=1e-14)
    listed = {each.address: each for each in compare(small, sixty)}
    expected = {"pack.v_max", "pack.v_min", "pack.v_regen", "pack.resistance"}
    assert expected | {"drive.generation@motor", "drive.generated_torque@motor"} <= set(listed)
    assert listed["pack.v_max"].before.startswith("403.2 V")
    assert listed["pack.v_max"].after.startswith("252 V")
    generation = listed["drive.generation@motor"]
    assert (generation.verdict_before, generation.verdict_after) == ("sound", "marginal")
    assert listed["drive.generated_torque@motor"].before == "not said"
    # What does not hang on the pack is not listed.
    assert not any("overspeed" in each or "emf" in each for each in listed)
    assert not any(each.startswith("vehicle.") for each in listed)


# ---------------------------------------------------------------------------- gears and wheels


def test_speed_of_the_motor_in_each_gear(small: Assessment) -> None:
    for gear, turns, road in (("first", FIRST, 120.0), ("second", SECOND, 240.0)):
        stated = finding(small, f"drive.overspeed@{gear}")
        assert rpm(small, f"drive.overspeed@{gear}") == pytest.approx(turns)
        assert stated.limit.number == pytest.approx(8000 * RPM)
        assert stated.verdict is SOUND
        # 8000 rpm over 8 or 4 is 1000 or 2000 turns of the wheel, 2 m each, in a minute
        assert number(small, f"drive.road_limit@{gear}") == pytest.approx(road / 3.6)


@pytest.mark.parametrize(
    ("most", "first"),
    # 6666.7 rpm ± 0.5 % from the wheel; marginal within 5 % of the limit
    [("7100 rpm", SOUND), ("6950 rpm", MARGINAL), ("6600 rpm", FAILING)],
)
def test_overspeed_gear_by_gear(most: str, first: Verdict) -> None:
    assessment = electric({"part.motor.max_speed": f'"{most}, datasheet"'})
    assert finding(assessment, "drive.overspeed@first").verdict is first
    assert finding(assessment, "drive.overspeed@second").verdict is SOUND


def test_without_a_top_speed_the_gears_ask_for_it() -> None:
    assessment = electric({"targets.top_speed": None})
    for address in ("overspeed@first", "overspeed@second", "generation@motor"):
        stated = finding(assessment, f"drive.{address}")
        assert (stated.verdict, lacks(stated)) == (UNKNOWN, {"targets.top_speed"})
    assert number(assessment, "drive.road_limit@first") == pytest.approx(120 / 3.6)


def test_a_measured_wheel_goes_before_its_size(small: Assessment) -> None:
    both = electric({"tyre.rear.size": '"185/65R15"'})
    for assessment in (small, both):
        value = figure(assessment, "drive.rolling_circumference").value
        assert (value.number, value.band) == (2.0, 0.01)
        assert not finding(assessment, "drive.overspeed@first").provisional


# Rim of 15 inches, 381 mm; wall 185 * 0.65 = 120 mm: 621 mm over all. A radial tyre rolls 3.05 of
# that, a cross-ply one 2.99.
@pytest.mark.parametrize(
    ("size", "rolls"), [("185/65R15", 3.05 * 0.621), ("185/65-15", 2.99 * 0.621)]
)
def test_a_wheel_not_measured_is_typical_by_its_size(size: str, rolls: float) -> None:
    assessment = electric({"drive.rolling_circumference": None, "tyre.rear.size": f'"{size}"'})
    value = figure(assessment, "drive.rolling_circumference").value
    assert value.number == pytest.approx(rolls)
    assert value.band == pytest.approx(0.02 * rolls)
    stated = finding(assessment, "drive.overspeed@first")
    assert rpm(assessment, "drive.overspeed@first") == pytest.approx(FIRST * 2 / rolls)
    assert stated.provisional
    by_path = {origin.path: origin for origin, _ in stated.rests_on}
    assert by_path["tyre.rear.size"].origin is Origin.TYPICAL
    assert "drive.rolling_circumference" in by_path["tyre.rear.size"].how
    generation = finding(assessment, "drive.generation@motor")
    assert generation.provisional
    assert "tyre.rear.size" in paths(generation)


@pytest.mark.parametrize(
    ("driven", "axle"), [("front", "front"), ("rear", "rear"), ("all", "rear")]
)
def test_the_size_of_the_driven_axle_counts(driven: str, axle: str) -> None:
    assessment = electric(
        {
            "drive.driven": f'"{driven}"',
            "drive.rolling_circumference": None,
            "tyre.front.size": '"185/65R15"',
            # 330 mm and twice 155 * 0.8 = 124 mm: 578 mm
            "tyre.rear.size": '"155/80R13"',
        }
    )
    expected = 3.05 * {"front": 0.621, "rear": 0.578}[axle]
    assert number(assessment, "drive.rolling_circumference") == pytest.approx(expected)


@pytest.mark.parametrize("size", [None, '""', '"7.50-16"', '"the old ones"'])
def test_a_size_nobody_can_read_asks_for_the_wheel(size: str | None) -> None:
    assessment = electric({"drive.rolling_circumference": None, "tyre.rear.size": size})
    for address in ("overspeed@first", "generation@motor"):
        stated = finding(assessment, f"drive.{address}")
        assert stated.verdict is UNKNOWN
        assert lacks(stated) == {"drive.rolling_circumference"}
        assert "roll" in stated.lacks[0].how
    assert finding(assessment, "drive.emf_rating@motor").verdict is SOUND


# ------------------------------------------------------------------------ several of one kind

ASSIST: dict[str, str | None] = {
    "part.assist.kind": '"motor"',
    "part.assist.mass": '"20 kg ± 0.1, measured"',
    "part.assist.pole_pairs": '"4"',
    "part.assist.flux": '"33 mWb ± 0.5, measured"',
    "part.assist.ld": '"0.1 mH ± 0.01, measured"',
    "part.assist.lq": '"0.2 mH ± 0.01, measured"',
    "part.assist.rs": '"10 mΩ ± 1, measured"',
    "part.assist.current_limit": '"100 A, datasheet"',
    "part.assist.max_speed": '"6000 rpm, datasheet"',
}
SPARE: dict[str, str | None] = {
    "part.spare.kind": '"inverter"',
    "part.spare.mass": '"12 kg ± 0.1, measured"',
    "part.spare.voltage_low": '"100 V, datasheet"',
    "part.spare.voltage_high": '"280 V, datasheet"',
}


def about(assessment: Assessment, check: str) -> set[str]:
    return {each.about for each in assessment.findings if each.check.id == f"drive.{check}"}


def test_two_motors_are_told_apart(small: Assessment) -> None:
    two = electric(ASSIST)
    assert about(small, "overspeed") == {"first", "second"}
    assert about(two, "overspeed") == {
        f"{motor}/{gear}" for motor in ("motor", "assist") for gear in ("first", "second")
    }
    assert about(two, "generation") == about(two, "emf_rating") == {"motor", "assist"}
    # 6666.7 rpm is past 6000 and under 8000.
    assert finding(two, "drive.overspeed@motor/first").limit.number == pytest.approx(8000 * RPM)
    assert finding(two, "drive.overspeed@assist/first").limit.number == pytest.approx(6000 * RPM)
    assert finding(two, "drive.overspeed@motor/first").verdict is SOUND
    assert finding(two, "drive.overspeed@assist/first").verdict is FAILING
    # √3 * 4 * 628.319 rad/s * 33 mWb * 1.04 = 149.40 V
    assert number(two, "drive.emf_rating@assist") == pytest.approx(149.40, abs=0.01)
    assert number(two, "drive.emf_rating@motor") == number(small, "drive.emf_rating@motor")
    # 6000 rpm over 8, 2 m each
    assert number(two, "drive.road_limit@assist/first") == pytest.approx(90 / 3.6)


def test_a_motor_is_held_against_the_inverter_that_feeds_it(small: Assessment) -> None:
    assert finding(small, "drive.emf_rating@motor").limit.number == 450.0
    # 298.80 V: past what the spare bears
    for inverter, limit, verdict in (("inverter", 450.0, SOUND), ("spare", 280.0, FAILING)):
        two = electric({**SPARE, "part.motor.fed_by": f'"{inverter}"'})
        assert about(two, "emf_rating") == {"motor"}
        stated = finding(two, "drive.emf_rating@motor")
        assert (stated.limit.number, stated.verdict) == (limit, verdict)
        # the one that stands by is on the pack all the same
        assert finding(two, "drive.window_high@spare").verdict is FAILING
    four = electric(
        {**ASSIST, **SPARE, "part.motor.fed_by": '"inverter"', "part.assist.fed_by": '"spare"'}
    )
    assert finding(four, "drive.emf_rating@motor").limit.number == 450.0
    assert finding(four, "drive.emf_rating@assist").limit.number == 280.0


def test_of_two_inverters_nobody_guesses_which_feeds_the_motor() -> None:
    for changes in (SPARE, {"part.inverter.state": '"removed"'}, {**SPARE, **ASSIST}):
        stated = finding(electric(changes), "drive.emf_rating@motor")
        assert stated.verdict is UNKNOWN
        (lack,) = stated.lacks
        assert "fed_by" in lack.path
        assert "inverter" in lack.how


def test_what_is_given_up_is_not_there(small: Assessment) -> None:
    gone = {f"part.{name}.state": '"removed"' for name in ("assist", "spare")}
    assessment = electric({**ASSIST, **SPARE, **gone})
    assert set(assessment.by_address) == set(small.by_address)
    drive = [change for change in compare(small, assessment) if change.address[:6] == "drive."]
    assert drive == []
    without = electric({"part.inverter.state": '"removed"'})
    assert "drive.window_high@inverter" not in without.by_address


# ------------------------------------------------------------------------- what the motor gives


def test_torque_at_low_speed_is_that_of_the_smaller_current(small: Assessment) -> None:
    # With L_d = L_q all current goes across: 3 / 2 * 3 * 0.066 Wb * 240 A = 71.28 N·m.
    assert number(small, "drive.peak_torque@motor") == pytest.approx(71.28)
    # an inverter of 200 A gives 59.4 N·m
    weaker = electric({"part.inverter.phase_current": '"200 A, datasheet"'})
    assert number(weaker, "drive.peak_torque@motor") == pytest.approx(59.4)


def voltage_needed(electrical: float, d: float, q: float) -> float:
    """Peak phase voltage of the motor of the small build: 20 mΩ, 0.3 mH, 66 mWb."""
    return math.hypot(
        0.02 * d - electrical * 0.3e-3 * q, 0.02 * q + electrical * (0.066 + 0.3e-3 * d)
    )


@pytest.mark.parametrize(("state", "volts"), [("full", 403.2), ("empty", 288.0)])
def test_the_voltage_runs_out_where_the_current_needs_all_of_it(
    small: Assessment, state: str, volts: float
) -> None:
    # (0.02 * 240 + 0.066 w)² + (0.3e-3 * 240 w)² = U²/3, electrical w:
    # 0.00954 w² + 0.6336 w + 23.04 - U²/3 = 0
    a, b, c = 0.00954, 0.6336, 23.04 - volts**2 / 3
    electrical = (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a)
    assert voltage_needed(electrical, 0, 240) == pytest.approx(volts / math.sqrt(3))
    assert number(small, f"drive.base_speed@motor/{state}") == pytest.approx(electrical / 3)


def test_torque_left_at_the_fastest_driving(small: Assessment) -> None:
    # Second gear, 3333 rpm, is below the 5312 rpm at which the empty pack runs out.
    assert number(small, "drive.torque_at_top@second") == pytest.approx(71.28)
    # In first the currents within 240 A and 288/√3 V are searched through, 0.1 A by 0.1 A.
    electrical = 3 * FIRST * RPM
    most = 0.0
    for step in range(2401):
        d = -step / 10
        q = math.sqrt(max(0.0, 240**2 - d * d))
        while q > most and voltage_needed(electrical, d, q) > 288 / math.sqrt(3):
            q -= 0.1
        most = max(most, q)
    assert 0 < most < 239
    left = number(small, "drive.torque_at_top@first")
    assert left == pytest.approx(1.5 * 3 * 0.066 * most, abs=0.05)


@pytest.mark.parametrize(
    ("path", "addresses"),
    [
        ("part.inverter.phase_current", {"peak_torque", "base_speed", "torque_at_top"}),
        ("part.motor.current_limit", {"peak_torque", "base_speed", "torque_at_top"}),
        ("part.motor.rs", {"base_speed", "torque_at_top"}),
    ],
)
def test_what_is_missing_for_the_torque_is_asked_for(path: str, addresses: set[str]) -> None:
    assessment = electric({path: None})
    for address in ("peak_torque@motor", "base_speed@motor/full", "torque_at_top@first"):
        value = figure(assessment, f"drive.{address}").value
        expected = {path} if address.partition("@")[0] in addresses else set()
        assert {lack.path for lack in value.lacks} == expected
    assert finding(assessment, "drive.generation@motor").verdict is SOUND


def test_a_motor_without_magnets_makes_no_voltage_of_its_own() -> None:
    bare = electric({"part.motor.flux": '"none"'})
    for check in ("emf_rating", "generation"):
        assert about(bare, check) == set()
    assert finding(bare, "drive.overspeed@first").verdict is SOUND
    assert finding(bare, "drive.window_high@inverter").verdict is SOUND


def test_only_given_up_devices_do_not_begin_the_drive() -> None:
    changes: dict[str, str | None] = {p: None for p in ELECTRIC if p.startswith("drive.")}
    changes |= {
        f"part.{name}.state": '"removed"'
        for name in ("motor", "inverter", "charger", "converter", "contactor")
    }
    (report,) = [each for each in electric(changes).reports if each.area is DRIVE]
    assert (report.findings, report.figures) == ((), ())
    assert report.tell_me_first[0].fields == DRIVE.tell_me_first


def test_everything_it_says_is_declared() -> None:
    use = {"use.printed.cycle": '"us06"', "use.printed.range": '"100 km"'}
    hill = {"targets.hill_length": '"3 km"', "targets.hill_grade": '"30 %"'}
    assessment = electric({**SIXTY, **DRIVEN, **CHARGED, **use, **hill})
    (report,) = [each for each in assessment.reports if each.area is DRIVE]
    assert {each.check for each in report.findings} == set(DRIVE.checks)
    assert {each.declared for each in report.figures} == set(DRIVE.figures)
    ids = [each.id for each in (*DRIVE.checks, *DRIVE.figures)]
    assert len(ids) == len(set(ids))
    assert all(each.startswith("drive.") for each in ids)
    warnings = {each.id for each in DRIVE.checks if each.warning}
    assert warnings == {
        *("drive.generation", "drive.fault_torque", "drive.backing"),
        "drive.reversing_torque",
    }
    # Voltages, currents and what may slide: nothing they rest on is left out.
    assert {each.id.removeprefix("drive.") for each in DRIVE.checks if each.strict} == {
        *("window_high", "window_regen", "window_low", "device_current"),
        *("emf_rating", "generation", "regen_grip", "use_current", "use_cells"),
    }


# ----------------------------------------------------------------------- what changes nothing


def own(assessment: Assessment) -> dict[str, Finding | Figure]:
    """All that pack and drive say."""
    reports = [each for each in assessment.reports if each.area.name in ("pack", "drive")]
    return {x.address: x for each in reports for x in (*each.findings, *each.figures)}


def said(assessment: Assessment) -> list[tuple[object, ...]]:
    """All that pack and drive say, down to the last digit, in order."""
    return [
        (
            address,
            each.value.number,
            each.value.band,
            (each.verdict, each.provisional, [g.path for g, _ in each.rests_on])
            if isinstance(each, Finding)
            else (),
        )
        for address, each in own(assessment).items()
    ]


BUSY = {**SMALL, **ELECTRIC, **DRIVEN, **ASSIST, **SPARE, **SIXTY}


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_the_order_of_parts_changes_nothing(chance: random.Random) -> None:
    straight = build_text(BUSY, {})
    lines = straight.splitlines(keepends=True)
    chance.shuffle(lines)
    one, other = (assess(parse_build(text.encode())) for text in (straight, "".join(lines)))
    assert said(one) == said(other)
    assert compare(one, other) == ()


def scaled(unit: str, per: float) -> Callable[[float], str]:
    return lambda number: f"{number * per:.15g} {unit}"


def fahrenheit(number: float) -> str:
    return f"{number * 1.8 + 32:.15g} °F"


# What each path holds in its first unit, and the ways to write it.
UNITS: dict[str, tuple[float, list[Callable[[float], str]]]] = {
    "pack.charge_limit": (4.2, [scaled("V", 1), scaled("mV", 1000)]),
    "pack.discharge_limit": (3.0, [scaled("V", 1), scaled("mV", 1000)]),
    "pack.cell_resistance": (2.0, [scaled("mΩ", 1), scaled("Ω", 1e-3)]),
    "pack.joints": (20.0, [scaled("mΩ", 1), scaled("Ω", 1e-3)]),
    "pack.regen_current_full": (50.0, [scaled("A", 1), scaled("mA", 1000)]),
    "drive.rolling_circumference": (
        2.0,
        [scaled("m", 1), scaled("mm", 1000), scaled("in", 1 / 0.0254), scaled("ft", 1 / 0.3048)],
    ),
    "drive.coldest_magnets": (-20.0, [scaled("°C", 1), fahrenheit]),
    "part.motor.flux": (66.0, [scaled("mWb", 1), scaled("Wb", 1e-3)]),
    "part.motor.ld": (0.3, [scaled("mH", 1), scaled("µH", 1000)]),
    "part.motor.lq": (0.3, [scaled("mH", 1), scaled("µH", 1000)]),
    "part.motor.max_speed": (8000.0, [scaled("rpm", 1), scaled("rad/s", RPM)]),
    "part.inverter.voltage_high": (450.0, [scaled("V", 1), scaled("kV", 1e-3)]),
    "targets.top_speed": (
        100.0,
        [scaled("km/h", 1), scaled("mph", 1 / 1.609344), scaled("m/s", 1 / 3.6)],
    ),
}


@settings(max_examples=25, deadline=None)
@given(st.fixed_dictionaries({path: st.sampled_from(row[1]) for path, row in UNITS.items()}))
def test_the_unit_something_is_typed_in_changes_nothing(
    chosen: dict[str, Callable[[float], str]],
) -> None:
    first = {path: row[1][0] for path, row in UNITS.items()}
    usual, typed = (
        electric(
            SIXTY
            | DRIVEN
            | {path: f'"{write(UNITS[path][0])}, datasheet"' for path, write in writers.items()}
        )
        for writers in (first, chosen)
    )
    assert set(own(usual)) == set(own(typed))
    for address, each in own(usual).items():
        other = own(typed)[address]
        assert each.value.number is not None, address
        assert other.value.number == pytest.approx(each.value.number, rel=1e-9)
        if isinstance(each, Finding):
            assert isinstance(other, Finding)
            assert other.verdict is each.verdict
            assert other.limit.number == pytest.approx(each.limit.number, rel=1e-9)
