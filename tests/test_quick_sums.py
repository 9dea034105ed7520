"""Quick sums: that each works as it asks, and that nothing a person types gets past an answer."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import math
from collections.abc import Callable, Sequence
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from test_layers import modules_after
from wattwright import kinds
from wattwright.errors import UsageError, acts
from wattwright.formula import FORMULAS, Asked, Formula, Source, declaration, formula
from wattwright.kinds import Length, Mass
from wattwright.quick_sums import Answer, Blank, Sum, find, left_out, search, sums
from wattwright.quick_sums.catalogue import sum_of, why_left_out
from wattwright.unit_table import Unit, family
from wattwright.units import read, unit_of
from wattwright.units_written import Taste

BOOK = Source("A book", "", "memory")
ALL = sums()


@formula("y", BOOK, valid={"mass": (1.0, 10.0), "lengths": (0.0, 2.0)})
def toy(mass: Mass, lengths: Sequence[Length]) -> Mass:
    """Mass of a toy.

    With ``mass`` in kg and ``all_lengths`` in m.
    """
    return mass * sum(lengths)


@formula("y", BOOK)
def takes_a_curve(mass: Mass, curve: Callable[[float], float]) -> Mass:
    """Mass at a place."""
    return curve(mass)


TOY = sum_of(declaration(toy))


def numbers_of(texts: dict[str, str], of: Sum) -> list[Any]:
    """Plain numbers behind the example texts, read one by one."""
    return [
        [read(piece, blank.kind).number for piece in texts[blank.name].split(";")]
        if blank.many
        else read(texts[blank.name], blank.kind).number
        for blank in of.arguments
    ]


def unit_in(blank: Blank, taste: Taste) -> Unit:
    known = family(blank.kind.name)
    unit = known.find(unit_of(blank.kind, taste)) or known.bare
    assert unit is not None
    return unit


def typed(blank: Blank, number: Any, taste: Taste, band: Any = None) -> str:
    """SI numbers as a text in the unit that people of a taste use, to the last digit."""
    unit = unit_in(blank, taste)
    pairs = (
        zip(number, band or [None] * len(number), strict=True) if blank.many else [(number, band)]
    )
    return "; ".join(
        f"{unit.from_si(each)!r} {unit.symbol}"
        + (f" ± {unit.span_from_si(width)!r}" if width is not None else "")
        for each, width in pairs
    )


def scaled(number: Any, factor: float) -> Any:
    return [each * factor for each in number] if isinstance(number, list) else number * factor


def test_every_formula_is_a_sum_or_left_out_with_a_reason() -> None:
    physics = {
        each.name
        for each in FORMULAS.values()
        if each.fn.__module__.startswith("wattwright.physics")
    }
    names = [each.name for each in (*ALL, *left_out())]
    assert set(names) == physics
    assert len(names) == len(physics)
    assert {each.name for each in left_out()} == {
        f"around_run.{name}"
        for name in ("bands_away", "result_around", "ratio_to", "times", "total")
    } | {f"adjustment.{name}" for name in ("adjusted", "misfit", "residual")} | {
        "mount_loads.component"
    }
    assert all("any kind" in each.why and each.says for each in left_out())
    assert why_left_out(declaration(toy)) == ""
    assert "neither a number nor a list" in why_left_out(declaration(takes_a_curve))


def test_sums_stand_by_module_and_in_the_order_of_declaration() -> None:
    modules = [each.name.partition(".")[0] for each in ALL]
    assert modules == sorted(modules)
    air = [each.name.partition(".")[2] for each in ALL if each.name.startswith("air.")]
    assert air == [
        "geopotential_height",
        "isa_temperature",
        "isa_pressure",
        "isa_density",
        "air_density",
    ]


def test_nothing_is_imported_before_it_is_asked_for() -> None:
    code = "import wattwright.quick_sums as q"
    assert not [name for name in modules_after(code) if name.startswith("wattwright.physics")]
    seen = modules_after(f"{code}; q.sums()")
    assert "wattwright.physics.air" in seen
    assert not seen & {"numpy", "scipy", "pydantic"}


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_labels_are_words_and_no_two_of_a_sum_are_the_same(each: Sum) -> None:
    labels = [blank.label for blank in each.arguments]
    assert len(set(labels)) == len(labels)
    for blank in each.arguments:
        assert len(blank.label) > 3
        assert "_" not in blank.label.replace(", L_", "").replace(", R_", "")
        assert blank.label == blank.label.strip(" .")
    assert each.topic
    assert each.says
    assert "``" not in each.more


def test_nothing_is_asked_for_that_no_formula_takes() -> None:
    by_module: dict[str, list[Formula]] = {}
    for each in ALL:
        by_module.setdefault(each.formula.fn.__module__, []).append(each.formula)
    for module, formulas in by_module.items():
        asked = importlib.import_module(module).ASKED
        used = {
            key
            for each in formulas
            for argument in each.arguments
            for key in (f"{each.fn.__name__}.{argument.name}", argument.name)
        }
        assert set(asked) <= used, module
        for key, words in asked.items():
            assert [
                each
                for each in formulas
                for argument in each.arguments
                if key.rpartition(".")[2] == argument.name and each.asked(argument) == Asked(*words)
            ], key


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_every_sum_works_with_its_own_examples(each: Sum) -> None:
    found = each.work(each.examples)
    assert not found.errors
    assert not found.problem
    assert found.value is not None
    numbers = numbers_of(each.examples, each)
    assert found.value.number == each.formula.fn(*numbers)
    assert math.isfinite(found.value.number)
    working = found.working
    assert working is not None
    assert working.numbers
    *typed_rows, last = working.rows
    assert [row.label for row in typed_rows] == [blank.label for blank in each.arguments]
    assert (last.symbol, last.label, last.value) == (each.symbol, each.says, found.result)
    assert (working.formula, working.source, working.method) == (
        each.text,
        each.source,
        each.method,
    )
    assert not found.doubts
    assert not found.effects
    assert "±" not in found.result


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_the_unit_of_entry_changes_nothing(each: Sum, data: st.DataObject) -> None:
    factors = [
        1.0 if blank.kind is kinds.COUNT else data.draw(st.floats(0.97, 1.03))
        for blank in each.arguments
    ]
    numbers = [scaled(*pair) for pair in zip(numbers_of(each.examples, each), factors, strict=True)]
    answers = [
        each.work(
            {
                blank.name: typed(blank, number, taste)
                for blank, number in zip(each.arguments, numbers, strict=True)
            },
            taste,
        )
        for taste in ("metric", "inch")
    ]
    metric, inch = answers
    assert not metric.errors
    assert not inch.errors
    assert (metric.value is None) == (inch.value is None)
    if metric.value and inch.value:
        assert inch.value.number == pytest.approx(metric.value.number, rel=1e-9, abs=1e-12)


def test_tastes_differ_in_what_is_shown() -> None:
    air_force = find("road_load.air_force")
    assert air_force.work(air_force.examples).result == "163.8 N"
    assert air_force.work(air_force.examples, "inch").result == "36.82 lbf"
    assert air_force.work(air_force.examples, "mixed").result == "163.8 N (36.82 lbf)"


def steepest(each: Sum, numbers: list[Any], place: int, index: int | None, step: float) -> float:
    """Steeper of the two one-sided differences of the plain function."""

    def at(shift: float) -> float:
        moved = [list(number) if isinstance(number, list) else number for number in numbers]
        if index is None:
            moved[place] += shift
        else:
            moved[place][index] += shift
        return each.formula.fn(*moved)

    here = at(0.0)
    return max(abs(at(step) - here), abs(here - at(-step))) / step


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_the_band_is_what_each_band_typed_brings_by_itself(each: Sum) -> None:
    numbers = numbers_of(each.examples, each)

    def width(number: float, blank: Blank) -> float:
        return 0.0 if blank.kind is kinds.COUNT else 1e-5 * abs(number) or 1e-6

    bands: list[Any] = [
        [width(n, blank) for n in number] if blank.many else width(number, blank)
        for number, blank in zip(numbers, each.arguments, strict=True)
    ]
    parts = [
        steepest(each, numbers, place, index, band * 0.2) * band
        for place, row in enumerate(bands)
        for index, band in (enumerate(row) if isinstance(row, list) else [(None, row)])
        if band
    ]
    found = each.work(
        {
            blank.name: typed(blank, number, "metric", band)
            for blank, number, band in zip(each.arguments, numbers, bands, strict=True)
        }
    )
    assert not found.errors
    assert found.value is not None
    assert found.value.band == pytest.approx(math.hypot(*parts), rel=1e-3, abs=1e-15)
    amounts = [abs(effect.amount) for effect in found.effects]
    assert amounts == sorted(amounts, reverse=True)
    assert math.hypot(*amounts) == pytest.approx(found.value.band, rel=1e-12)
    assert ("±" in found.result) == (found.value.band > 0)


def test_a_band_is_shown_with_what_moves_the_result() -> None:
    found = find("shaft.solid_yield_torque").work(
        {"yield_stress": "346 MPa ± 2 %", "diameter": "1 1/8 in ± 0.01"}
    )
    assert found.result == "1585 N·m ± 53"
    first, second = found.effects
    assert (first.name, first.label, first.typed) == (
        "diameter",
        "smallest diameter",
        "1 1/8 in ± 0.01",
    )
    assert first.shift.startswith("+")
    assert second.shift == "+31.7 N·m"
    assert found.working is not None
    assert found.working.rows[0].value == "346.0 MPa ± 6.9"


def test_a_shift_of_a_temperature_is_a_difference() -> None:
    found = find("heat_flow.derating_begins").work({"limit": "140 °C ± 2", "span": "15 K ± 5"})
    assert [(effect.name, effect.shift) for effect in found.effects] == [
        ("span", "-5 K"),
        ("limit", "+2 K"),
    ]


def test_members_of_a_list_move_the_result_one_by_one() -> None:
    found = find("axle_loads.total").work({"masses": "420 kg ± 2; 310 kg; 95 kg ± 1"})
    assert found.result == "825.0 kg ± 2.2"
    assert [(effect.label, effect.shift) for effect in found.effects] == [
        ("masses, 1 of 3", "+2 kg"),
        ("masses, 3 of 3", "+1 kg"),
    ]


def test_outside_the_range_vouched_for_there_is_a_result_and_a_doubt() -> None:
    density = find("air.air_density")
    texts = {"pressure": "14.7 psi", "temperature": "-60 °C"}
    for taste, span in (("metric", "-50 °C to 60 °C"), ("inch", "-58 °F to 140 °F")):
        blank = density.arguments[1]
        assert blank.range(taste) == span
        found = density.work(texts, taste)
        assert found.result
        assert found.doubts == (
            f"temperature of the air is outside {span}, the range that the source vouches for",
        )
    assert density.arguments[0].range() == ""
    assert TOY.work({"mass": "5 kg", "lengths": "1 m; 3 m"}).doubts == (
        "lengths is outside 0 mm to 2000 mm, the range that the source vouches for",
    )


def test_a_band_that_leaves_the_formula_is_a_doubt() -> None:
    found = find("road_load.equivalent_mass").work(
        {"mass": "1240 kg", "inertia": "5 kg·m²", "rolling_radius": "275 mm ± 300"}
    )
    assert found.result
    assert found.doubts
    assert found.doubts[0].endswith("the band is too wide to follow")


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "nothing was typed; write for example 1240 kg"),
        ("  \t ", "nothing was typed; write for example 1240 kg"),
        ("many", '"many": there is no number where one should be'),
        ("nan", '"nan": there is no number'),
        ("inf", '"inf": there is no number'),
        ("1e999 kg", '"1e999 kg": too large'),
        ("12", "the unit is missing"),
        ("12 V", "V is a voltage"),
        ("12 kg ± -1", "zero or more"),
        ("9" * 500, "longer than 200 characters"),
        ("1\x1b[2J kg", '"1?[2J kg"'),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_blank(text: str, wrong: str) -> None:
    found = find("road_load.grade_force").work({"mass": text, "grade": "12 %"})
    assert list(found.errors) == ["mass"]
    assert wrong in found.errors["mass"]
    assert found.result == found.problem == ""
    assert found.working is None


def test_everything_wrong_is_said_in_one_pass() -> None:
    found = find("road_load.air_force").work(
        {"density": "thin", "speed": "60 km/h", "area": "1.9", "wind\x07": "1 m/s"}
    )
    assert set(found.errors) == {"density", "drag_coefficient", "area", "headwind", "wind?"}
    assert "density, drag_coefficient, area, speed, headwind" in found.errors["wind?"]


@pytest.mark.parametrize(
    ("name", "texts", "problem"),
    [
        ("axle_loads.rear_share", {"front": "0 kg", "rear": "0 kg"}, "divides by zero"),
        ("cg_height.height_band", {"angle": "0°"}, "divides by zero"),
        ("pack_voltage.resistance_when_cold", {"cold_factor": "-2"}, "root of less than zero"),
        ("air.isa_density", {"height": "-2e9 km"}, ""),
        ("motor_losses.losses", {"speed": "1e200 rpm"}, "too large"),
        ("axle_loads.both_axles", {"front": "1.7e308 kg", "rear": "1.7e308 kg"}, "not a finite"),
        ("road_load.equivalent_mass", {"rolling_radius": "0 mm"}, "radius must be above zero"),
        ("tyre.load_capacity", {"load_index": "999"}, "no load index 999 in the table"),
        ("motor_curve.torque_on_curve", {"speed": "9500 rpm"}, "curve ends below this speed"),
    ],
)
def test_what_has_no_result_says_why(name: str, texts: dict[str, str], problem: str) -> None:
    wanted = find(name)
    found = wanted.work(wanted.examples | texts)
    assert not found.errors
    if problem:
        assert problem in found.problem
        assert found.result == ""
        assert found.value is None
        assert found.working is not None
        assert len(found.working.rows) == len(wanted.arguments)


def test_a_result_beyond_the_numbers_of_its_unit_is_shown_in_si() -> None:
    found = find("gearing.motor_speed").work(
        {"speed": "1e306 m/s", "ratio": "100", "rolling_radius": "1 m"}
    )
    assert found.result == "1e+308 rad/s"
    assert found.working is not None


def test_a_band_beyond_all_numbers_is_a_doubt() -> None:
    found = find("axle_loads.left_wheel_load").work(
        {"axle": "640 kg", "side_moment": "1 kg·m ± 1", "track": "1e-200 m ± 1e-201"}
    )
    assert found.result
    assert "±" not in found.result
    assert found.doubts == ("how far the ± typed move the result cannot be worked out",)
    assert not found.effects


TOTAL = find("axle_loads.total")
PRODUCT = find("gearing.driveline_efficiency")


@pytest.mark.parametrize(
    ("of", "text", "numbers"),
    [
        (TOTAL, "420 kg; 310 kg; 95 kg", [420.0, 310.0, 95.0]),
        (TOTAL, "420 kg\n310 kg\r\n95 kg", [420.0, 310.0, 95.0]),
        (TOTAL, "420 kg 310 kg 95 kg", [420.0, 310.0, 95.0]),
        (TOTAL, "12, 14, 16 kg", [12.0, 14.0, 16.0]),
        (TOTAL, "12 14 16 kg", [12.0, 14.0, 16.0]),
        (TOTAL, "12; 14; 16 kg", [12.0, 14.0, 16.0]),
        (TOTAL, "12 ± 1 14 ± 1 16 ± 1 kg", [12.0, 14.0, 16.0]),
        (TOTAL, "12 ±1; 14; 16 kg ± 1", [12.0, 14.0, 16.0]),
        (TOTAL, "1 040 kg;", [1040.0]),
        (TOTAL, "1,040 kg; 5 kg", [1040.0, 5.0]),
        (TOTAL, "12 lb 4 oz; 1 lb", [5.5565065325, 0.45359237]),
        (TOTAL, "-5 kg −6 kg", [-5.0, -6.0]),
        (TOTAL, "5 kg", [5.0]),
        (PRODUCT, "97 % 96 %", [0.97, 0.96]),
        (PRODUCT, "0.97 0.96", [0.97, 0.96]),
        (PRODUCT, "0.97, 0.96", [0.97, 0.96]),
    ],
)
def test_lists_are_read_as_they_are_typed(of: Sum, text: str, numbers: list[float]) -> None:
    (blank,) = of.arguments
    found = of.work({blank.name: text})
    assert not found.errors
    assert found.value is not None
    assert found.value.step is not None
    assert [value.number for value in found.value.step.flat] == pytest.approx(numbers, rel=1e-12)


@pytest.mark.parametrize(
    ("of", "text", "wrong"),
    [
        (TOTAL, "1 040 kg", "is one amount or 2"),
        (TOTAL, "8 lb 4 oz", "is one amount or 2"),
        (TOTAL, "120 200 340 kg", "is one amount or 3"),
        (TOTAL, "12 kg; 14; 16 lb", "the unit is missing"),
        (TOTAL, "12; 3 lb 4 oz", "the unit is missing"),
        (TOTAL, "12 kg 14 kg; 3 kg", "two numbers that do not add up"),
        (TOTAL, " ; ;", "nothing was typed"),
        (TOTAL, "12 kg; many", "there is no number"),
        (TOTAL, "1 kg;" * 500, "longer than 2000 characters"),
        (PRODUCT, "0.97; 96 %", "behind each amount, or behind none"),
        (PRODUCT, "97 96 %", "behind each amount, or behind none"),
    ],
)
def test_lists_that_can_be_read_two_ways_are_refused(of: Sum, text: str, wrong: str) -> None:
    (blank,) = of.arguments
    found = of.work({blank.name: text})
    assert wrong in found.errors[blank.name]


def test_signs_that_are_not_seen_are_read_over_and_never_shown() -> None:
    found = TOTAL.work({"masses": "1\u200b 040 kg"})
    assert found.errors["masses"].startswith("1? 040 kg is one amount or 2")
    found = TOTAL.work({"masses": "5\u200b kg ± 1"})
    assert found.effects[0].typed == "5? kg ± 1"


def test_lists_that_belong_together_are_of_one_length() -> None:
    loads = find("axle_loads.front_axle_load")
    found = loads.work(loads.examples | {"distances": "300 mm; 1900 mm"})
    assert found.errors == {
        "distances": "there are 2 here and 3 under masses; write one for each of those"
    }


def test_what_reading_decided_is_noted() -> None:
    found = TOTAL.work({"masses": "1,040 kg; 5 kg"})
    assert found.notes == ("1,040 read as one thousand and forty",)


def test_a_sum_says_what_its_formula_declares() -> None:
    assert TOY.name == "test_quick_sums.toy"
    assert TOY.topic == (inspect.getdoc(inspect.getmodule(toy)) or "").partition("\n")[0][:-1]
    assert TOY.says == "Mass of a toy"
    assert TOY.more == "With mass in kg and all lengths in m."
    assert (TOY.symbol, TOY.kind, TOY.method) == ("y", kinds.MASS, "")
    assert TOY.text == "mass · (sum of lengths)"
    assert TOY.source == "A book (from memory, not checked)"
    assert TOY.examples == {"mass": "1,040 kg", "lengths": "2540 mm"}
    blank = TOY.arguments[1]
    assert dataclasses.astuple(blank) == (
        "lengths",
        "lengths",
        "lengths",
        dataclasses.astuple(kinds.LENGTH),
        True,
        "2540 mm",
        (0.0, 2.0),
    )
    assert (blank.unit(), blank.unit("inch"), blank.range()) == ("mm", "in", "0 mm to 2000 mm")


def test_find_names_what_is_near_or_why_a_formula_is_no_sum() -> None:
    assert find("road_load.air_force").says == "Force of the air at a speed in a wind"
    with pytest.raises(
        UsageError, match=r"no quick sum 'air_forse'; near it: road_load\.air_force"
    ):
        find("air_forse")
    with pytest.raises(UsageError, match=r"near it: shaft\.shear_yield"):
        find("shaft.shearyield")
    with pytest.raises(UsageError, match=r"around_run\.times is no quick sum: it takes quantities"):
        find("around_run.times")
    with pytest.raises(UsageError, match=r"there is no quick sum 'qqqq'$"):
        find("qqqq")


def test_search_finds_every_word_in_name_result_topic_or_source() -> None:
    assert [each.name for each in search("yield torque TUBE")] == ["shaft.hollow_yield_torque"]
    assert {each.name for each in search("iso 10392")} == {"cg_height.cg_height"}
    assert "shaft.torque_margin" in [each.name for each in search("twisting")]
    assert search("zeppelin") == []
    assert search("") == list(ALL)
    names = [each.name for each in search("coast-down")]
    first = [each.name for each in search("air_force")]
    assert first[0] == "road_load.air_force"
    said = ["coast-down" in find(name).says.casefold() for name in names]
    assert True in said
    assert False in said
    assert said == sorted(said, reverse=True)


FIGURES = st.sampled_from(
    "0 -0 1 -1 0.5 -7.5 3 100 1e-300 -1e-300 5e-324 1e-160 1e150 -1e150 1e300 1e308 -1e308 1e999 "
    "nan inf -inf 1/0 1/3 1,000 1.000,5 ½ −5 ٣ .5 1e".split()
)
UNITS = st.sampled_from(
    [
        "",
        "%",
        "kg",
        "lb",
        "mm",
        "in",
        "°",
        "rpm",
        "km/h",
        "N",
        "N·m",
        "kW",
        "V",
        "A",
        "mH",
        "°C",
        "K",
    ]
)


def in_its_unit(blank: Blank) -> st.SearchStrategy[str]:
    unit = st.just(blank.unit()) | st.just(blank.unit("inch")) | UNITS
    number = FIGURES | st.floats().map(repr)
    band = st.just("") | number.map(" ± {}".format)
    amount = st.builds("{} {}{}".format, number, unit, band)
    near = st.just(blank.example)
    if blank.many:
        separator = st.sampled_from(["; ", " ", "\n", ", ", ";;"])
        several = st.builds(
            lambda between, rows: between.join(rows), separator, st.lists(amount, max_size=4)
        )
        return near | several | amount | st.text()
    return near | amount | st.text()


def holds(found: Answer) -> None:
    """Exactly one of errors, a problem and a result, and nothing that acts on a terminal."""
    assert bool(found.errors) + bool(found.problem) + bool(found.result) == 1
    assert bool(found.result) == (found.value is not None)
    said = [*found.errors, *found.errors.values(), found.problem, found.result, *found.doubts]
    assert not any(acts(sign) for text in said for sign in text)
    if found.value is not None:
        assert math.isfinite(found.value.number or 0.0)


@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_whatever_is_typed_there_is_an_answer(data: st.DataObject) -> None:
    each = data.draw(st.sampled_from(ALL))
    texts = {blank.name: data.draw(in_its_unit(blank)) for blank in each.arguments}
    holds(each.work(texts, data.draw(st.sampled_from(["metric", "inch", "mixed"]))))


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.text(), st.text()), st.sampled_from(ALL))
@example({"mass": "\x00" * 10_000, "\ud800": "\ud800"}, ALL[0])
def test_names_of_blanks_may_be_anything_too(texts: dict[str, str], each: Sum) -> None:
    holds(each.work(texts))
