"""Hole patterns in the area of mounts: what is stated, what is asked for, what is doubted."""

from __future__ import annotations

import itertools
import math
import random

import pytest

from patterns import HOLE, READ, TRUE, assessed, pattern, true_distance
from wattwright.assessment import Assessment
from wattwright.descriptions.mounts import MountsDescription
from wattwright.descriptions.patterns import PatternFound
from wattwright.findings import Finding, Verdict
from wattwright.values import Origin

MM = 1e-3
EXACT = {key: true_distance(key) for key in READ}


def found(assessment: Assessment, name: str = "plate") -> PatternFound:
    return assessment.descriptions[MountsDescription].patterns[name]


def finding(assessment: Assessment, address: str) -> Finding:
    said = assessment.by_address[address]
    assert isinstance(said, Finding)
    return said


def number(assessment: Assessment, address: str) -> float:
    value = assessment.by_address[address].value.number
    assert value is not None
    return value


def test_places_are_those_of_the_outside_adjustment() -> None:
    """Numbers of ``tests/outside/test_hole_pattern_adjustment.py``, by a general solver."""
    assessment = assessed(pattern())
    assert number(assessment, "mounts.pattern_x@plate/5") == pytest.approx(75.8224 * MM, abs=6e-8)
    assert number(assessment, "mounts.pattern_y@plate/5") == pytest.approx(247.9879 * MM, abs=6e-8)
    assert number(assessment, "mounts.pattern_y@plate/2") == 0.0
    # Worst half axis 0.0822 mm of one deviation, at hole 2: 2.4477 of those hold 95 %.
    place = number(assessment, "mounts.pattern_place@plate/2")
    assert place == pytest.approx(2.4477 * 0.0822 * MM, rel=2e-3)


def test_every_reading_moves_every_place_that_it_says_something_of() -> None:
    """Effects of a place are the shifts of a pattern measured again, one reading moved."""
    at = "mounts.pattern_x@plate/4"
    value = assessed(pattern(readings=EXACT)).by_address[at].value
    assert value.number is not None
    for key in ("1-4", "2-5"):
        moved = assessed(pattern(readings={**EXACT, key: EXACT[key] + 0.01}))
        shift = number(moved, at) - value.number
        path = f"pattern.plate.centres.{key}"
        effect = next(x for origin, x in value.effects.items() if origin.path == path)
        assert effect / 0.294e-3 == pytest.approx(shift / 0.01e-3, abs=2e-3)


def test_a_pattern_that_agrees_is_sound_and_a_blunder_is_named() -> None:
    good = assessed(pattern())
    readings = [f for f in good.findings if f.check.id == "mounts.pattern_reading"]
    # Of fifteen that agree the one nearest to its limit speaks for all; each has its figure.
    assert [each.verdict for each in readings] == [Verdict.SOUND]
    shares = {r.name: abs(r.residual.number / r.explained.number) for r in found(good).readings}
    assert len(shares) == 15
    assert readings[0].about == f"plate/{max(shares, key=shares.__getitem__)}"
    assert sum(f.declared.id == "mounts.pattern_standardised" for f in good.figures) == 15
    assert found(good).suspects == ()
    bad = assessed(pattern(readings={**READ, "2-5": READ["2-5"] + 5.0}))
    failing = [
        f.address
        for f in bad.findings
        if f.check.id == "mounts.pattern_reading" and f.verdict is not Verdict.SOUND
    ]
    assert failing == ["mounts.pattern_reading@plate/centres.2-5"]
    assert found(bad).suspects == ("centres.2-5",)
    # What it says too much is what was put in, less its own error.
    apart = number(bad, failing[0])
    assert apart == pytest.approx(5.0 * MM, abs=0.2 * MM)


def test_nothing_that_rests_on_a_pattern_with_a_suspect_is_sound() -> None:
    hole = {**HOLE, "drill": '"14 mm"'}
    text = pattern(
        readings={**READ, "2-5": READ["2-5"] + 5.0},
        hole=hole,
        plain={"drilled_within": '"0.1 mm ± 0.01, measured"'},
    )
    assessment = assessed(text)
    said = finding(assessment, "mounts.pattern_hole@plate/3")
    assert said.verdict is Verdict.UNKNOWN
    assert "centres.2-5" in said.doubts[0]
    aside = assessed(text.replace("drilled_within", 'set_aside = "centres.2-5"\ndrilled_within'))
    assert finding(aside, "mounts.pattern_hole@plate/3").verdict is Verdict.SOUND
    assert "mounts.pattern_reading@plate/centres.2-5" not in aside.by_address


def test_what_still_assembles_is_bolt_and_twice_both_errors() -> None:
    """H = F + T1 + T2 with zones of twice the radii: 10 mm + 2 × (r + 0.4 mm)."""
    plain = {"drilled_within": '"0.4 mm ± 0.01, measured"'}
    assessment = assessed(pattern(plain=plain, hole={**HOLE, "drill": '"11.5 mm"'}))
    place = number(assessment, "mounts.pattern_place@plate/1")
    needed = number(assessment, "mounts.pattern_needed@plate/1")
    assert needed == pytest.approx(10.0 * MM + 2 * (place + 0.4 * MM))
    said = finding(assessment, "mounts.pattern_hole@plate/1")
    assert said.value.number == pytest.approx(11.5 * MM)
    assert said.limit.number == pytest.approx(needed)
    # ISO 273, M10: fine 10.5, medium 11, coarse 12 mm; more than 11.1 mm is needed.
    assert number(assessment, "mounts.pattern_clearance@plate/1") == pytest.approx(12.0 * MM)


def test_without_a_drill_or_a_bolt_the_hole_is_unknown_and_asked_for() -> None:
    assessment = assessed(pattern())
    said = finding(assessment, "mounts.pattern_hole@plate/3")
    assert said.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in said.lacks] == ["pattern.plate.hole.3.drill"]
    bare = assessed(pattern(hole={"drill": '"11 mm"'}))
    said = finding(bare, "mounts.pattern_hole@plate/3")
    assert [lack.path for lack in said.lacks] == ["pattern.plate.hole.3.bolt"]
    nothing = assessed(pattern(hole={**HOLE, "drill": '"none"'}))
    assert "mounts.pattern_hole@plate/3" not in {f.address for f in nothing.findings if f.applies}


def test_too_few_distances_are_asked_for_by_name() -> None:
    """Four sides of a square move; a diagonal holds them, the other tells it from its mirror."""
    sides = {"a-b": 100.0, "b-c": 80.0, "c-d": 100.0, "a-d": 80.0}
    assessment = assessed(pattern(readings=sides))
    value = assessment.by_address["mounts.pattern_x@plate/c"].value
    paths = {lack.path for lack in value.lacks}
    assert paths <= {"pattern.plate.centres.a-c", "pattern.plate.centres.b-d"}
    assert paths
    reading = finding(assessment, "mounts.pattern_reading@plate/centres.a-b")
    assert reading.verdict is Verdict.UNKNOWN


def test_holes_in_a_row_are_told_that_a_mark_is_needed() -> None:
    row = {"1-2": 100.0, "2-3": 120.0, "1-3": 220.0}
    value = assessed(pattern(readings=row)).by_address["mounts.pattern_y@plate/3"].value
    assert [lack.why for lack in value.lacks] == [
        "all holes stand in a row, and distances along it say nothing across it"
    ]


def test_a_reading_that_nothing_controls_is_unknown() -> None:
    three = {"1-2": 100.0, "2-3": 80.0, "1-3": 90.0}
    said = finding(assessed(pattern(readings=three)), "mounts.pattern_reading@plate/centres.1-2")
    assert said.verdict is Verdict.UNKNOWN
    assert said.lacks[0].why == "nothing controls the reading"


def test_edges_say_the_same_as_centres() -> None:
    """Holes of 11 mm: 11 mm less between the edges, 11 mm more over them."""
    tables = {
        "inside": {key: f'"{mm - 11.0:.5f} mm ± 0.1"' for key, mm in EXACT.items() if key > "2"},
        "outside": {key: f'"{mm + 11.0:.5f} mm ± 0.1"' for key, mm in EXACT.items() if key < "2"},
    }
    edges, centres = (
        assessed(pattern(readings={}, tables=tables)),
        assessed(pattern(readings=EXACT)),
    )
    for hole in TRUE:
        for axis in "xy":
            address = f"mounts.pattern_{axis}@plate/{hole}"
            assert number(edges, address) == pytest.approx(number(centres, address), abs=1e-8)
    # The diameters move the places too.
    effects = edges.by_address["mounts.pattern_x@plate/4"].value.effects
    assert any(origin.path == "pattern.plate.hole.4.diameter" for origin in effects)


def test_axes_are_chosen_mirrored_and_turned() -> None:
    plain = {"zero": '"5"', "along": '"4"', "above": '"1"'}
    straight = found(assessed(pattern(readings=EXACT, plain=plain)))
    assert (straight.zero, straight.along) == ("5", "4")
    assert straight.holes["4"].y.number == 0.0
    assert (straight.holes["1"].y.number or 0.0) > 0.0
    back = found(assessed(pattern(readings=EXACT, plain={**plain, "seen_from": '"back"'})))
    for name, hole in back.holes.items():
        assert hole.x.number == straight.holes[name].x.number
        assert hole.y.number == pytest.approx(-(straight.holes[name].y.number or 0.0))
    turned = found(assessed(pattern(readings=EXACT, plain={**plain, "turned": '"90°"'})))
    for name, hole in turned.holes.items():
        assert hole.x.number == pytest.approx(-(straight.holes[name].y.number or 0.0), abs=1e-9)
        assert hole.y.number == pytest.approx(straight.holes[name].x.number or 0.0, abs=1e-9)


def test_a_soft_reading_makes_what_rests_on_it_provisional() -> None:
    text = pattern(hole={**HOLE, "drill": '"14 mm"'}).replace(
        'origin = "measured, calipers, 2026-05-01"', 'origin = "assumed"'
    )
    (said,) = [f for f in assessed(text).findings if f.check.id == "mounts.pattern_reading"]
    assert said.provisional


# ------------------------------------------------------------------------------ old against new


def moved(offsets: dict[str, tuple[float, float]], side: float = 1.0) -> dict[str, float]:
    """Distances in mm of the true pattern, some holes moved, the whole mirrored or not."""
    places = {
        name: (x + offsets.get(name, (0.0, 0.0))[0], side * (y + offsets.get(name, (0.0, 0.0))[1]))
        for name, (x, y) in TRUE.items()
    }
    return {key: math.dist(places[key[0]], places[key[2]]) for key in READ}


def test_a_hole_that_went_astray_is_off_by_what_no_fit_takes_up() -> None:
    """One of six holes moved by 1.2 mm: the fit takes up a part, the slot takes the rest."""
    new = moved({"4": (1.2, 0.0)})
    assessment = assessed(
        pattern("old", EXACT, band="0.01"),
        pattern("new", new, {"like": '"old"'}, band="0.01"),
    )
    laid = found(assessment, "new").fit
    assert laid is not None
    assert laid.by_name
    assert not laid.mirrored
    offsets = {name: each.offset.number or 0.0 for name, each in laid.holes.items()}
    assert max(offsets, key=lambda name: offsets[name]) == "4"
    # Orthogonal Procrustes by hand: the move less its mean, less the turn it makes.
    mx, my = (sum(p[axis] for p in TRUE.values()) / 6 for axis in (0, 1))
    arms = {name: (x - mx, y - my) for name, (x, y) in TRUE.items()}
    square = sum(x * x + y * y for x, y in arms.values())
    turn = -arms["4"][1] * 1.2 / square
    left = math.hypot(1.2 - 0.2 + arms["4"][1] * turn, -arms["4"][0] * turn)
    assert offsets["4"] == pytest.approx(left * MM, rel=1e-3)
    said = finding(assessment, "mounts.pattern_slot@new/4")
    # Holes of 11 mm, a bolt of 10 mm: 1 mm is allowed.
    assert said.limit.number == pytest.approx(1.0 * MM)
    slot = number(assessment, "mounts.pattern_slot_length@new/4")
    assert slot == pytest.approx(11.0 * MM + max(0.0, left - 1.0) * MM, abs=1e-7)
    # A part that is drilled already is judged by its offsets.
    assert "mounts.pattern_hole@new/4" not in assessment.by_address


def test_a_slot_is_as_long_as_the_offset_wants_and_points_to_the_bolt() -> None:
    hole = {"diameter": '"10.4 mm ± 0.01, measured"', "bolt": '"10 mm ± 0.01, measured"'}
    new = moved({"4": (1.2, 0.0)})
    assessment = assessed(
        pattern("old", EXACT, hole=hole, band="0.01"),
        pattern("new", new, {"like": '"old"'}, hole=hole, band="0.01"),
    )
    offset = number(assessment, "mounts.pattern_slot@new/4")
    assert finding(assessment, "mounts.pattern_slot@new/4").verdict is Verdict.FAILING
    slot = number(assessment, "mounts.pattern_slot_length@new/4")
    assert slot == pytest.approx(10.4 * MM + offset - 0.4 * MM)
    x, y = (number(assessment, f"mounts.pattern_offset_{axis}@new/4") for axis in "xy")
    towards = number(assessment, "mounts.pattern_slot_direction@new/4")
    # The hole is off by (x, y): the bolt lies the other way.
    assert (math.cos(towards), math.sin(towards)) == pytest.approx((-x / offset, -y / offset))


def test_a_mirror_image_is_recognised_and_nothing_passes_before_it_is_set_right() -> None:
    plain = {"zero": '"1"', "along": '"2"', "above": '"3"', "like": '"old"'}
    mirrored = assessed(
        pattern("old", EXACT), pattern("new", EXACT, {**plain, "seen_from": '"back"'})
    )
    laid = found(mirrored, "new").fit
    assert laid is not None
    assert laid.mirrored
    said = finding(mirrored, "mounts.pattern_slot@new/2")
    assert said.verdict is Verdict.UNKNOWN
    assert "mirror images" in said.doubts[0]
    right = assessed(pattern("old", EXACT), pattern("new", EXACT, plain))
    assert finding(right, "mounts.pattern_slot@new/2").verdict is Verdict.SOUND


def test_holes_of_other_names_are_matched_by_how_they_lie() -> None:
    names = dict(zip("123456", "fbdace", strict=True))
    other = {f"{names[key[0]]}-{names[key[2]]}": mm for key, mm in READ.items()}
    assessment = assessed(pattern("old", READ), pattern("new", other, {"like": '"old"'}))
    laid = found(assessment, "new").fit
    assert laid is not None
    assert not laid.by_name
    assert {own: each.other for own, each in laid.holes.items()} == {
        own: name for name, own in names.items()
    }
    assert max(each.offset.number or 0.0 for each in laid.holes.values()) < 1e-9


def test_the_effects_of_an_offset_are_those_of_measuring_again() -> None:
    new = moved({"4": (1.2, 0.5), "2": (-0.3, 0.2)})

    def offset(old_change: float, new_change: float) -> Assessment:
        return assessed(
            pattern("old", {**EXACT, "3-6": EXACT["3-6"] + old_change}),
            pattern("new", {**new, "1-4": new["1-4"] + new_change}, {"like": '"old"'}),
        )

    at = "mounts.pattern_offset_x@new/4"
    value = offset(0.0, 0.0).by_address[at].value
    for path, again in (
        ("pattern.old.centres.3-6", offset(0.02, 0.0)),
        ("pattern.new.centres.1-4", offset(0.0, 0.02)),
    ):
        effect = next(x for origin, x in value.effects.items() if origin.path == path)
        shift = number(again, at) - (value.number or 0.0)
        assert effect / 0.294e-3 == pytest.approx(shift / 0.02e-3, abs=5e-3)


def test_a_pattern_laid_on_one_without_places_is_unknown() -> None:
    assessment = assessed(
        pattern("old", {"1-2": 100.0, "2-3": 80.0}), pattern("new", READ, {"like": '"old"'})
    )
    said = finding(assessment, "mounts.pattern_slot@new/1")
    assert said.verdict is Verdict.UNKNOWN
    assert said.lacks[0].path == "pattern.old.centres.1-3"


def test_a_bolt_circle_is_stated_where_there_is_one() -> None:
    """Five points of a circle of radius 57.234284 mm, rms 0.0715 mm off, by a general solver."""
    points = ((68.40, 2.90), (26.71, 48.10), (-31.89, 29.81), (-31.91, -43.82), (40.59, -56.61))
    flange = {
        f"{i}-{j}": math.dist(points[i], points[j]) for i, j in itertools.combinations(range(5), 2)
    }
    assessment = assessed(pattern("flange", flange), pattern())
    diameter = assessment.by_address["mounts.pattern_circle@flange"].value
    assert diameter.number == pytest.approx(2 * 57.234284 * MM, abs=1e-7)
    assert 0.0 < diameter.band < 0.5 * MM
    off = number(assessment, "mounts.pattern_off_circle@flange")
    assert off == pytest.approx(0.1067 * MM, abs=1e-6)
    assert "mounts.pattern_circle@plate" not in assessment.by_address


def test_the_order_of_readings_changes_nothing() -> None:
    keys = list(READ)
    random.Random(4).shuffle(keys)
    one, other = assessed(pattern()), assessed(pattern(readings={key: READ[key] for key in keys}))
    assert [(f.address, f.value.number) for f in one.findings] == [
        (f.address, f.value.number) for f in other.findings
    ]


def test_a_usual_hole_from_memory_is_typical() -> None:
    hole = {"diameter": '"21 mm, measured"', "bolt": '"20 mm ± 0.05, measured"'}
    value = assessed(pattern(hole=hole)).by_address["mounts.pattern_clearance@plate/1"].value
    assert value.number == pytest.approx(22.0 * MM)
    assert value.given is not None
    assert value.given.origin is Origin.TYPICAL
