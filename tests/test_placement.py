"""Side, plan and rear views against the numbers of the build.

Places are read back from the picture by the wheels: their centres on the paper, and the wheelbase
and track that the build gives, make the scale. Nothing of the program's own layout is used.
"""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders import SMALL, WEIGH_IN, opened
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, open_build
from wattwright.cli import main
from wattwright.drawings import drawing
from wattwright.drawings.placed import scene
from wattwright.paper.svg import Drawing, render

VIEWS = ("side", "plan", "rear")
AXES = {"side": "xz", "plan": "xy", "rear": "yz"}
TYRES = {"tyre.front.size": '"165/80R13"', "tyre.rear.size": '"165/80R13"'}


def sized(part: str, length: float, width: float, height: float) -> dict[str, str]:
    measures = {"length": length, "width": width, "height": height}
    return {f"part.{part}.size.{name}": f'"{by} m ± 0, measured"' for name, by in measures.items()}


def placed(name: str, x: float, y: float, z: float, section: str = "part") -> dict[str, str]:
    places = {"x": x, "y": y, "z": z}
    return {f"{section}.{name}.at.{axis}": f'"{at} m ± 0, measured"' for axis, at in places.items()}


# Nothing stands in the middle, so that a picture the wrong way round shows it.
BUILT = {
    **SMALL,
    **TYRES,
    **sized("motor", 0.5, 0.3, 0.4),
    **placed("motor", 0.2, 0.1, 0.5),
    "part.box.mass": '"30 kg"',
    **sized("box", 0.6, 0.8, 0.25),
    **placed("box", 1.9, -0.2, 0.7),
}


def build_of(changes: Mapping[str, str | None] | None = None) -> tuple[Opened, Assessment]:
    build = opened(changes, BUILT)
    return build, assess(build)


def drawn(name: str, changes: Mapping[str, str | None] | None = None) -> Drawing:
    return drawing(name, *build_of(changes), "metric")


def words(picture: Drawing) -> list[str]:
    return [shape.words for shape in picture.shapes if shape.words]


def prose(picture: Drawing) -> str:
    return " ".join(words(picture))


@dataclass(frozen=True)
class Mark:
    """An outline in the picture: middle and measures on the paper, in mm."""

    x: float
    y: float
    wide: float
    high: float
    tag: str


def box_of(element: ET.Element) -> Mark:
    kind = element.tag.rpartition("}")[2]
    if kind == "circle":
        x, y, r = (float(element.get(name)) for name in ("cx", "cy", "r"))
        return Mark(x, y, 2 * r, 2 * r, kind)
    across, down = zip(
        *(map(float, at.split()) for at in element.get("d").strip("MZ").split("L")), strict=True
    )
    wide, high = max(across) - min(across), max(down) - min(down)
    return Mark((max(across) + min(across)) / 2, (max(down) + min(down)) / 2, wide, high, kind)


def outlines(picture: Drawing, section: str = "part") -> list[tuple[str, Mark]]:
    """Name and shape of everything drawn for a record: closed outlines, no lines, no words."""
    found = []
    for group in ET.fromstring(render(picture)):
        name = group.get(f"data-{section}")
        if name is None:
            continue
        kind = group[0].tag.rpartition("}")[2]
        if kind == "circle" or (kind == "path" and group[0].get("d").endswith("Z")):
            found.append((name, box_of(group[0])))
    return found


def wheels(picture: Drawing, view: str) -> list[Mark]:
    """Marks of the wheels: of all that stands for no record, those as large as a wheel."""
    marks = [
        box_of(each)
        for each in ET.fromstring(render(picture))
        if each.tag.rpartition("}")[2] in ("circle", "path") and each.get("stroke") != "none"
    ]
    if view == "side":
        return [mark for mark in marks if mark.tag == "circle" and mark.wide > 10]
    shaped = [mark for mark in marks if mark.wide > 2 and mark.high > 2 and mark.tag == "path"]
    return [mark for mark in shaped if mark.wide < 60 and mark.high < 60]


def ruled(view: str, changes: Mapping[str, str | None] | None = None):
    """The picture and a function from the vehicle's metres to its paper, by wheels alone."""
    picture = drawn(view, changes)
    found = wheels(picture, view)
    if view == "side":
        front, rear = sorted(found, key=lambda mark: mark.x)
        scale, left = (rear.x - front.x) / 2.5, front.x
        ground = front.y + front.wide / 2
        return picture, scale, lambda x, z: (left + x * scale, ground - z * scale)
    if view == "plan":
        right, left = sorted((m for m in found if m.x < 60), key=lambda mark: mark.y)
        scale, middle, front = (left.y - right.y) / 1.4, (left.y + right.y) / 2, left.x
        return picture, scale, lambda x, y: (front + x * scale, middle - y * scale)
    outer = sorted(found, key=lambda mark: mark.x)
    scale, middle = (outer[-1].x - outer[0].x) / 1.4, (outer[-1].x + outer[0].x) / 2
    ground = outer[0].y + outer[0].high / 2
    return picture, scale, lambda y, z: (middle + y * scale, ground - z * scale)


# -------------------------------------------------------------------------------- places and sides


@pytest.mark.parametrize("view", VIEWS)
def test_places_and_measures_on_paper_are_those_of_the_build(view: str) -> None:
    picture, scale, at = ruled(view)
    marks = dict(outlines(picture))
    for name, place, size in (
        ("motor", {"x": 0.2, "y": 0.1, "z": 0.5}, {"x": 0.5, "y": 0.3, "z": 0.4}),
        ("box", {"x": 1.9, "y": -0.2, "z": 0.7}, {"x": 0.6, "y": 0.8, "z": 0.25}),
    ):
        across, up = AXES[view]
        assert (marks[name].x, marks[name].y) == pytest.approx(
            at(place[across], place[up]), abs=0.1
        )
        assert marks[name].wide == pytest.approx(size[across] * scale, abs=0.1)
        assert marks[name].high == pytest.approx(size[up] * scale, abs=0.1)


def test_side_and_plan_lie_one_over_the_other() -> None:
    side, plan = ruled("side"), ruled("plan")
    assert side[1] == pytest.approx(plan[1], abs=0.01)
    for x in (0.0, 2.5):
        assert side[2](x, 0.0)[0] == pytest.approx(plan[2](x, 0.0)[0], abs=0.1)


@pytest.mark.parametrize(
    ("view", "towards"),
    # Where the onlooker stands: at the left, above, behind.
    [("side", (0, -1, 0)), ("plan", (0, 0, 1)), ("rear", (1, 0, 0))],
)
def test_no_view_is_a_mirror_image(view: str, towards: tuple[int, int, int]) -> None:
    """In a right-handed frame, to the right times upwards is towards the onlooker."""
    _, _, at = ruled(view)
    turned = {axis: [0.0, 0.0] for axis in "xyz"}
    nought = at(0.0, 0.0)
    for place, axis in enumerate(AXES[view]):
        end = at(*(1.0 if place == each else 0.0 for each in range(2)))
        turned[axis] = [end[0] - nought[0], nought[1] - end[1]]
    right, up = ([turned[axis][row] for axis in "xyz"] for row in range(2))
    cross = (
        right[1] * up[2] - right[2] * up[1],
        right[2] * up[0] - right[0] * up[2],
        right[0] * up[1] - right[1] * up[0],
    )
    size = sum(each * each for each in cross) ** 0.5
    assert [each / size for each in cross] == pytest.approx(towards, abs=1e-3)


def test_the_words_for_left_and_right_stand_on_the_side_of_the_parts() -> None:
    """The motor lies to the right of the middle; by hand, no rule of the program."""
    for view, place in (("plan", 1), ("rear", 0)):
        picture, _, _ = ruled(view)
        marks = dict(outlines(picture))
        said = {shape.words: shape.box.middle for shape in picture.shapes if "side" in shape.words}
        motor, box = (((m.x, m.y)[place]) for m in (marks["motor"], marks["box"]))
        towards = said["right side"][place] - said["left side"][place]
        assert (motor - box) * towards > 0


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("case", ["kerb", "full"])
def test_centres_of_gravity_stand_where_the_figures_say(view: str, case: str) -> None:
    _, assessment = build_of()
    picture, _, at = ruled(view)
    figures = [assessment.by_address[f"vehicle.cg_{axis}@{case}"].value for axis in AXES[view]]
    x, y = at(*(figure.number for figure in figures))
    discs = [
        box_of(each)
        for each in ET.fromstring(render(picture))
        if each.tag.rpartition("}")[2] == "circle" and 3.0 < 2 * float(each.get("r")) < 5.0
    ]
    radius = {"kerb": 1.6, "full": 2.3}[case]
    # One in the picture, one more in the legend below it.
    (there, legend) = [m for m in discs if m.wide == pytest.approx(2 * radius)]
    assert (there.x, there.y) == pytest.approx((x, y), abs=0.1)
    assert legend.y > there.y


def test_a_band_of_the_height_is_drawn_as_wide_as_it_is() -> None:
    changes = {"donor.weighed.cg_height": '"0.6 m ± 0.15, measured"'}
    _, assessment = build_of(changes)
    band = assessment.by_address["vehicle.cg_z@kerb"].value.band
    picture, scale, _ = ruled("side", changes)
    bars = [
        box_of(each)
        for each in ET.fromstring(render(picture))
        if each.tag.rpartition("}")[2] == "path" and each.get("stroke") != "none"
    ]
    x, y = ruled("side", changes)[2](
        *(assessment.by_address[f"vehicle.cg_{axis}@kerb"].value.number for axis in "xz")
    )
    near = [bar for bar in bars if abs(bar.x - x) < 0.1 and abs(bar.y - y) < 0.1 and bar.wide < 0.1]
    assert [bar.high for bar in near] == [pytest.approx(2 * band * scale, abs=0.1)]
    assert near[0].high > 5.0


@pytest.mark.parametrize("taste", ["metric", "inch", "mixed"])
def test_a_centre_to_the_left_is_said_to_be_left_without_a_sign(taste) -> None:
    changes = {"part.box.at.y": '"-1 m ± 0, measured"'}
    build = build_of(changes)
    assert build[1].by_address["vehicle.cg_y@kerb"].value.number < 0
    said = words(drawing("plan", *build, taste))
    places = [each for each in said if "left of" in each or (" in" in each and "±" in each)]
    assert places
    assert not [each for each in places if "-" in each]


def test_an_unknown_height_is_a_plumb_line_and_says_what_it_needs() -> None:
    text = prose(drawn("side", {"place.bed.at.z": '"unknown"'}))
    assert "height not known (needs place.bed.at.z)" in text
    assert "Not placed: bed; needs at.z." in text
    assert "bed" in words(drawn("plan", {"place.bed.at.z": '"unknown"'}))


# ---------------------------------------------------------------------------- nothing goes missing


@pytest.mark.parametrize("view", VIEWS)
def test_every_part_that_is_not_removed_is_drawn_once_and_named_in_the_key(view: str) -> None:
    picture = drawn(view)
    assert sorted(name for name, _ in outlines(picture)) == ["box", "charger", "module", "motor"]
    assert sorted(name for name, _ in outlines(picture, "place")) == ["bed", "bench", "driver"]
    said = words(picture)
    for name in ("box", "charger", "module", "motor", "bed", "bench", "driver"):
        assert said.count(name) == 1
    assert "heater" not in prose(picture)
    assert "engine" not in prose(picture)


@pytest.mark.parametrize("example", ["orchard-pickup", "island-runabout"])
@pytest.mark.parametrize("view", VIEWS)
def test_the_examples_are_drawn_whole_and_no_two_words_overlap(example: str, view: str) -> None:
    build = open_build(Path(__file__).parents[1] / "examples" / example)
    picture = drawing(view, build, assess(build), "metric")
    kept = [name for name, part in build.build.part.items() if part.state != "removed"]
    assert sorted(name for name, _ in outlines(picture)) == sorted(kept)
    texts = [shape for shape in picture.shapes if shape.words]
    for one, two in itertools.combinations(texts, 2):
        assert not one.box.grown(-0.3).meets(two.box.grown(-0.3)), (one.words, two.words)
    assert "Too crowded" not in prose(picture)
    assert "…" not in prose(picture)


@pytest.mark.parametrize("taste", ["metric", "inch", "mixed"])
@pytest.mark.parametrize("view", VIEWS)
def test_the_same_build_gives_the_same_bytes(view: str, taste) -> None:
    one, two = (render(drawing(view, *build_of(), taste)) for _ in range(2))
    assert one == two


def test_numbers_of_parts_are_the_same_in_every_view_and_ledger() -> None:
    views = [*VIEWS, "side@fitted", "plan@fitted"]
    numbers = []
    for view in views:
        said = words(drawn(view))
        numbers.append({name: said[said.index(name) - 1] for name in ("motor", "module")})
    assert numbers == [{"motor": "1", "module": "3"}] * len(views)


@pytest.mark.parametrize(
    ("view", "axis", "seen"), [("side", "y", True), ("side", "x", False), ("rear", "y", False)]
)
def test_a_part_without_a_place_is_listed_with_what_it_needs(
    view: str, axis: str, seen: bool
) -> None:
    picture = drawn(view, {f"part.charger.at.{axis}": None})
    assert ("charger" in dict(outlines(picture))) == seen
    assert (f"Not placed: charger; needs at.{axis}." in prose(picture)) != seen


def test_what_lacks_the_same_is_listed_together() -> None:
    nowhere = {f"part.{name}.at.{axis}": None for name in ("box", "motor") for axis in "xz"}
    assert "Not placed: box, motor; needs at.x, at.z." in prose(drawn("side", nowhere))
    assert "Not placed: box, motor; needs at.x." in prose(drawn("plan", nowhere))


def test_a_build_with_nothing_placed_says_what_to_measure() -> None:
    base = {"format": "1", "build.name": '"Bare"', "donor.wheelbase": '"2.5 m, measured"'}
    for view in ("side", "plan"):
        build = opened(None, base)
        text = prose(drawing(view, build, assess(build), "metric"))
        assert "No part has a place yet. Tape the middle of each: x behind" in text
        assert "needs tyre.front.size" in text or "needs donor.front.track and tyre" in text
    build = opened(None, {**base, "donor.rear.track": '"1.3 m, measured"'})
    text = prose(drawing("rear", build, assess(build), "metric"))
    assert "No front wheels: needs donor.front.track and tyre.front.size." in text
    assert "Size of the rear wheels not known: needs tyre.rear.size." in text


def test_a_part_of_several_or_without_measures_is_drawn_as_what_it_is() -> None:
    several = {**sized("module", 0.3, 0.2, 0.1)}
    marks = dict(outlines(drawn("side", several)))
    assert marks["module"].tag == "path"
    assert "one of several, drawn in the middle of all" in words(drawn("side", several))
    assert "one of several, drawn in the middle of all" not in words(drawn("side"))
    assert dict(outlines(drawn("side")))["module"].tag == "circle"
    none = drawn("side", {"part.module.count": '"0"'})
    assert "module" not in dict(outlines(none))
    assert "Left out, count is 0: module." in prose(none)


def test_the_tank_of_the_donor_is_drawn_until_something_has_come_out() -> None:
    assert "Left out, the donor's: tank." in prose(drawn("plan"))
    whole = {key: None for key in SMALL if key.startswith("donor.removed")}
    picture = drawn("plan", whole)
    assert "tank" in dict(outlines(picture, "place"))
    assert "Left out" not in prose(picture)


LENGTHS = st.floats(0.001, 3.0).map(lambda length: round(length, 3))


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(-2, 8), st.floats(-1.6, 1.6), st.floats(0, 4), LENGTHS, LENGTHS),
        max_size=12,
    ),
    st.floats(1.2, 5.5),
    st.sampled_from(["metric", "inch", "mixed"]),
    st.booleans(),
)
def test_whatever_a_build_may_say_stays_on_the_paper(parts, wheelbase, taste, tyres) -> None:
    changes: dict[str, str | None] = {"donor.wheelbase": f'"{wheelbase:.3f} m ± 0, measured"'}
    if not tyres:
        changes |= dict.fromkeys(TYRES)
    for count, (x, y, z, length, width) in enumerate(parts):
        changes |= placed(f"thing_{count}", round(x, 3), round(y, 3), round(z, 3))
        changes |= sized(f"thing_{count}", length, width, length)
    build = build_of(changes)
    for view in VIEWS:
        picture = drawing(view, *build, taste)
        ET.fromstring(render(picture))
        assert len(outlines(picture)) == len(parts) + 4


# ------------------------------------------------------------------------------ loads and wheels


def test_loads_are_those_of_the_assessment_and_on_their_own_side() -> None:
    _, assessment = build_of()

    def kg(name: str, case: str) -> str:
        return f"{assessment.by_address[f'vehicle.{name}@{case}'].value.number:.1f} kg {case}"

    side = {shape.words: shape.box.middle for shape in drawn("side").shapes if shape.words}
    assert side[kg("front", "kerb")][0] < side[kg("rear", "kerb")][0]
    plan = {shape.words: shape.box.middle for shape in drawn("plan").shapes if shape.words}
    for case in ("kerb", "full"):
        fl, fr, rl, rr = (plan[kg(wheel, case)] for wheel in ("fl", "fr", "rl", "rr"))
        assert fr[1] < fl[1]
        assert rr[1] < rl[1]
        assert fl[0] == fr[0] < rl[0] == rr[0]
    rear = {shape.words: shape.box.middle for shape in drawn("rear").shapes if shape.words}
    assert rear[kg("rl", "kerb")][0] < rear[kg("rr", "kerb")][0]


def test_wheels_are_as_large_as_their_tyres_and_a_track_apart() -> None:
    """165/80R13 by hand: 330 + 2 · 132 = 594 mm; 3.05 · 594 / 2π = 288 mm; 165 mm wide."""
    picture, scale, _ = ruled("side")
    assert [wheel.wide / scale for wheel in wheels(picture, "side")] == pytest.approx(
        [2 * 0.2883] * 2, abs=0.004
    )
    picture, scale, _ = ruled("plan")
    marks = sorted(wheels(picture, "plan"), key=lambda mark: (mark.x, mark.y))
    assert [mark.high / scale for mark in marks] == pytest.approx([0.165] * 4, abs=0.004)
    assert (marks[3].y - marks[2].y) / scale == pytest.approx(1.25, abs=0.004)
    assert (marks[2].x - marks[0].x) / scale == pytest.approx(2.5, abs=0.004)


def test_wheels_without_a_size_are_lent_the_other_ones_and_say_so() -> None:
    picture = drawn("side", {"tyre.rear.size": None})
    assert "Dotted: rear wheels, drawn like the others; needs tyre.rear.size." in prose(picture)
    assert len(wheels(picture, "side")) == 2
    bare = drawn("side", {"tyre.rear.size": None, "tyre.front.size": None})
    assert "Size of the rear wheels not known: needs tyre.rear.size." in prose(bare)
    assert wheels(bare, "side") == []


def test_dimensions_say_wheelbase_tracks_and_what_is_drawn() -> None:
    side, plan, rear = (words(drawn(view)) for view in VIEWS)
    assert "wheelbase 2500 mm" in side
    assert {"wheelbase 2500 mm", "track 1400 mm", "track 1250 mm"} <= set(plan)
    assert "rear track 1250 mm" in rear
    # From the front of the front tyre, 288 mm ahead of its axle, to the back of the rear one.
    assert "all drawn 3077 mm" in side
    assert "all drawn 3077 mm" in plan
    # The front tyres stand furthest out: 1400 + 165.
    assert "all drawn 1565 mm" in rear


# --------------------------------------------------------------------------------------- ledgers


def test_what_is_fitted_leaves_out_what_is_not_and_says_so() -> None:
    picture = drawn("plan@fitted")
    assert sorted(name for name, _ in outlines(picture)) == ["module", "motor"]
    assert "Left out, not fitted yet: box, charger." in prose(picture)
    assert "as fitted today" in prose(picture)
    assert "as planned" in prose(drawn("plan"))
    assert render(drawn("plan@planned")) == render(drawn("plan"))


def test_the_fitted_ledger_weighs_what_is_fitted() -> None:
    """Moments by hand: 1000 kg less 20 kg of fuel and the engine, plus motor and modules."""
    build, assessment = build_of()
    loads = scene(build, assessment, "fitted").loads["kerb"].loads
    assert loads.mass.number == pytest.approx(1000 - 20 - 150 + 60 + 4 * 25)
    # About the front axle: rear 400, fuel 20 at 2 m, engine 150 at 0.25 m, motor, modules.
    rear = (400 * 2.5 - 20 * 2.0 - 150 * 0.25 + 60 * 0.2 + 100 * 2.0) / 2.5
    assert loads.rear.number == pytest.approx(rear)
    planned = scene(build, assessment, "planned").loads["kerb"].loads
    assert planned.mass.number == pytest.approx(loads.mass.number + 10 + 30)


def test_scales_are_believed_over_the_ledger_in_what_is_fitted() -> None:
    build, assessment = build_of({**WEIGH_IN, "weigh_in.fl": '"320 kg ± 1, measured"'})
    loads = scene(build, assessment, "fitted").loads["kerb"].loads
    assert loads.mass.number == pytest.approx(320 + 260 + 220 + 240)


# ----------------------------------------------------------------------------------------- names

HOSTILE = "</g><script>alert(1)</script>&\"' x"


@pytest.mark.parametrize("view", VIEWS)
def test_hostile_names_stay_text_and_one_attribute(view: str) -> None:
    """The reader refuses such names; a drawing does not rely on it."""
    build, assessment = build_of()
    parts = {**build.build.part, HOSTILE: build.build.part["box"]}
    forged = Opened(
        **{
            **{name: getattr(build, name) for name in build.__dataclass_fields__},
            "build": build.build.model_copy(update={"part": parts}),
        }
    )
    markup = render(drawing(view, forged, assessment, "metric"))
    root = ET.fromstring(markup)
    assert "<script" not in markup
    assert HOSTILE in [group.get("data-part") for group in root]
    assert HOSTILE in {each.text for each in root.iter()} or "alert(1)" in "".join(root.itertext())


@pytest.mark.parametrize("view", [*VIEWS, "rear@fitted"])
def test_the_command_draws_it(view: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder = Path(__file__).parents[1] / "examples" / "bare-start"
    assert main(["draw", str(folder), view]) == 0
    printed = capsys.readouterr().out
    ET.fromstring(printed)
    assert "No part has a place yet." in printed
    assert 'data-place="driver"' in printed
