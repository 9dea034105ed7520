"""Reading a build: everything that is wrong with a file, found in one pass and located."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders import SMALL, build_text, line_of, opened, problems_of, write_build
from wattwright.build.edits import ANY, Edit
from wattwright.build.migrations import migrated
from wattwright.build.model import FORMAT, UNSAID
from wattwright.build.presence import said
from wattwright.build.reader import Opened, open_build, parse_build
from wattwright.build.text import Source, read_text
from wattwright.errors import BuildError, Problem
from wattwright.values import Origin, State

HEAD = 'format = 1\n[build]\nname = "B"\n'


def one(text: str) -> Problem:
    problems = problems_of(text)
    assert len(problems) == 1, [str(each) for each in problems]
    return problems[0]


def of_change(path: str, text: str) -> Problem:
    """The one problem of the small build with one value changed or added, at its line."""
    written = build_text({path: text})
    problem = one(written)
    assert problem.file == "build.toml"
    assert problem.line == line_of(written, path)
    assert problem.column == 1
    return problem


def read(text: str) -> Opened:
    return parse_build((HEAD + text).encode())


def test_the_small_build_is_read() -> None:
    build = opened().build
    assert build.format == FORMAT == 1
    assert build.build.name == "Small build"
    assert build.donor.wheelbase.number == 2.5
    assert set(build.part) == {"motor", "module", "charger", "heater"}
    assert build.part["charger"].at.y.number == pytest.approx(-0.4)
    assert build.part["module"].count.number == 4.0
    assert build.place["bed"].role == "load"
    assert build.rules.mass_change.value.number == pytest.approx(0.2)
    assert build.rules.mass_change.answered_by == "engineer"
    given_mass = build.part["motor"].mass.given
    assert given_mass is not None
    assert given_mass.line == line_of(build_text(), "part.motor.mass")
    assert given_mass.path == "part.motor.mass"


def test_a_build_with_a_name_only_is_enough() -> None:
    build = read("").build
    assert build.donor.wheelbase.state is State.NOT_GIVEN
    assert build.part == {}
    assert not said(build.donor)
    assert build.rules.occupant_mass.value.number == 75.0


def test_open_build_takes_folder_or_file_and_says_what_it_cannot_open(tmp_path: Path) -> None:
    folder = write_build(tmp_path / "b")
    assert open_build(folder).folder == folder
    assert open_build(folder / "build.toml").build.build.name == "Small build"
    with pytest.raises(BuildError, match="cannot be opened: No such file") as caught:
        open_build(tmp_path / "nowhere")
    (problem,) = caught.value.problems
    assert problem.file.endswith("build.toml")
    assert "wattwright new" in problem.do


def test_everything_wrong_is_found_in_one_pass_in_order() -> None:
    text = """\
format = 1
[donor]
wheelbas = "2.5 m"
wheelbase = "2.5 kg"
gross_limit = "20 kg"
front = "heavy"

[donor.weighed]
fl = ["310 kg"]
fr = true
aboard.nobody = "75 kg"

[place.one]
at.x = "1 m"

[part.motor]
mass = "none"
state = "bought"
price = "cheap"

[rules]
gross_mass = "1600 kg"
"""
    problems = problems_of(text)
    assert [(each.line, each.path) for each in problems] == [
        (None, "build.name"),
        (3, "donor.wheelbas"),
        (4, "donor.wheelbase"),
        (5, "donor.gross_limit"),
        (6, "donor.front"),
        (9, "donor.weighed.fl"),
        (10, "donor.weighed.fr"),
        (13, "place.one.role"),
        (17, "part.motor.mass"),
        (18, "part.motor.state"),
        (19, "part.motor.price"),
        (22, "rules.gross_mass"),
    ]
    assert str(problems[2]).startswith("build.toml:4:1: donor.wheelbase: ")
    with pytest.raises(BuildError) as caught:
        parse_build(text.encode(), "other.toml")
    assert str(caught.value).count("other.toml:") == len(problems)


@pytest.mark.parametrize(
    ("path", "near"),
    [
        ("donor.wheelbas", "wheelbase"),
        ("part.motor.mas", "mass"),
        ("part.motor.stat", "state"),
        ("donor.weighed.rer", "rear"),
        ("rules.gros_mass", "gross_mass"),
        ("part.motor.orign", "origin"),
        ("donner", "donor"),
    ],
)
def test_an_unknown_key_names_the_nearest_known_one(path: str, near: str) -> None:
    problem = of_change(path, '"1 m"')
    assert problem.what == "is not a key this section knows"
    assert problem.do == f"did you mean {near}?"


def test_an_unknown_key_near_none_lists_those_known() -> None:
    assert of_change("tyre.zzz", '"1 m"').do == "known here: front, rear"


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("donor.wheelbase", '"2.5 kg"', "a length"),
        ("donor.wheelbase", "2.5", "the unit is missing"),
        ("donor.wheelbase", '"25 m"', "allowed is 1.2 m to 5.5 m"),
        ("donor.wheelbase", '"none"', 'cannot be "none"'),
        ("donor.wheelbase", '"2.5 m, tape"', "'tape' is no origin"),
        ("donor.wheelbase", '"2.5 m, measured, 2026-02-30"', "is no date"),
        ("donor.wheelbase", "[2.5]", "is a quantity"),
        ("donor.wheelbase", "true", "is a quantity"),
        ("donor.wheelbase", "2026-03-14", "is a quantity"),
        ("donor.wheelbase", '{ x = "1 m" }', "is a quantity"),
        ("tyre.front.speed_symbol", '"180 km/h, measured"', "is no speed symbol"),
        ("tyre.front.speed_symbol", '"?, measured"', "is no speed symbol"),
        ("place.driver.role", '"pilot"', "should be 'driver', 'seat', 'load' or 'tank'"),
        ("build.name", "5", "should be a valid string"),
        ("part.motor.price", '"cheap"', "should be a valid number"),
        ("part.motor.state", "5", "should be"),
        ("donor.weighed.lift.suspension_locked", '"maybe"', "should be a valid boolean"),
        ("donor.front", '"800 kg"', "is a section, not a single value"),
        ("part.motor.size", '"800 mm"', "is a section, not a single value"),
        ("rules.gross_mass", '"1600 kg"', "a rule is a section"),
        ("rules.gross_mass", "1600", "a rule is a section"),
        ("rules.gross_mass", "true", "is a section"),
        ("rules.gross_mass", '["1600 kg"]', "is a section"),
        ("rules.gross_mass.value", '"1600 m"', "a length"),
        ("rules.gross_mass.value", "[1]", "is a quantity"),
        ("rules.gross_mass.date", '"soon"', "is no date"),
        ("rules.gross_mass.date", '"2026-02-30"', "is no date"),
        ("rules.drilling", '"no"', "is a section"),
        ("part.motor.origin", '"tape"', "is no origin"),
    ],
)
def test_what_is_wrong_with_one_value(path: str, text: str, words: str) -> None:
    changes: dict[str, str | None] = {path: text}
    if path in ("donor.front", "tyre.front"):
        changes |= {each: None for each in SMALL if each.startswith(f"{path}.")}
    written = build_text(changes)
    problem = one(written)
    assert words in problem.what, str(problem)
    assert problem.path == path
    assert (problem.line, problem.column) == (line_of(written, path), 1)


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        ("part = 5\n", "part", "holds named entries"),
        ("part.motor = 5\n", "part.motor", "is a section"),
        ("weigh_in.aboard = 5\n", "weigh_in.aboard", "holds named entries"),
        ("donor = 5\n", "donor", "is a section"),
        ('part."two words".mass = "5 kg"\n', "part.two words", "is no name"),
        ('part."".mass = "5 kg"\n', "part.", "is no name"),
        ('part."-x".mass = "5 kg"\n', "part.-x", "is no name"),
        (f'part.{"x" * 65}.mass = "5 kg"\n', f"part.{'x' * 65}", "is no name"),
        ('case.x.aboard."" = "5 kg"\n', "case.x.aboard.", "is no name"),
    ],
)
def test_wrong_shapes_and_names(text: str, path: str, words: str) -> None:
    problem = one(f'format = 1\nbuild.name = "B"\n{text}')
    assert words in problem.what
    assert (problem.path, problem.line, problem.column) == (path, 3, 1)
    assert problem.do


def test_names_up_to_64_letters_are_allowed() -> None:
    assert set(read(f"[part.{'x' * 64}]\n[part.Motor_2-b]\n").build.part) == {"x" * 64, "Motor_2-b"}


def test_what_is_missing_says_where_to_write_it() -> None:
    problem = one(build_text({"place.driver.role": None}))
    assert (problem.path, problem.what) == ("place.driver.role", "is missing")
    assert problem.do == "write role in [place.driver]"
    assert one("format = 1\n").path == "build.name"


@pytest.mark.parametrize("base", ["donor.weighed.aboard", "weigh_in.aboard", "case.market.aboard"])
def test_a_reference_to_no_place_names_the_nearest(base: str) -> None:
    problem = of_change(f"{base}.bnch", '"10 kg"')
    assert problem.what == "there is no such place"
    assert problem.do == "did you mean bench?"
    assert of_change(f"{base}.zz", '"10 kg"').do == "write [place.zz]"


def test_the_conversion_carries_no_fuel() -> None:
    for base in ("weigh_in.aboard", "case.market.aboard"):
        problem = of_change(f"{base}.tank", '"10 kg"')
        assert "a tank holds the donor's fuel" in problem.what
    assert opened({"donor.weighed.aboard.tank": '"10 kg"'}).build.donor.weighed.aboard["tank"].known


def test_there_is_one_driver() -> None:
    problem = of_change("place.bench.role", '"driver"')
    assert problem.what == "driver is the driver already"


@pytest.mark.parametrize("name", ["kerb", "driver", "full"])
def test_the_names_of_the_standard_cases_are_taken(name: str) -> None:
    problem = one(build_text({f"case.{name}.aboard.driver": '"80 kg"'}))
    assert (problem.path, problem.what) == (f"case.{name}", "is worked out by itself")
    assert problem.do == "choose another name"


def origin_of(text: str, *path: str) -> tuple[Origin, str, str]:
    thing: object = read(text).build
    for piece in path:
        thing = thing[piece] if isinstance(thing, dict) else getattr(thing, piece)
    given_by = thing.given  # type: ignore[attr-defined]
    return given_by.origin, given_by.detail, given_by.date


def test_the_origin_of_a_record_speaks_for_its_own_quantities() -> None:
    text = """
[part.motor]
origin = "measured, hanging scale, 2026-03-14"
mass = "60 kg"
at = { x = "1 m" }
[part.charger]
origin = "datasheet, brochure"
mass = "6 kg, measured, bathroom scale"
[donor.weighed]
origin = "measured, wheel scales"
fl = "300 kg"
"""
    scale = (Origin.MEASURED, "hanging scale", "2026-03-14")
    assert origin_of(text, "part", "motor", "mass") == scale
    assert origin_of(text, "part", "charger", "mass") == (Origin.MEASURED, "bathroom scale", "")
    assert origin_of(text, "donor", "weighed", "fl") == (Origin.MEASURED, "wheel scales", "")
    # A part's mass and its place are measured with different tools.
    assert origin_of(text, "part", "motor", "at", "x") == (Origin.ASSUMED, "", "")
    own = text.replace('at = { x = "1 m" }', 'at = { origin = "measured, tape", x = "1 m" }')
    assert origin_of(own, "part", "motor", "at", "x") == (Origin.MEASURED, "tape", "")


@pytest.mark.parametrize(
    ("section", "path"),
    [("donor.weighed", ("donor", "weighed")), ("weigh_in", ("weigh_in",))],
)
def test_named_quantities_take_an_origin_of_their_own(section: str, path: tuple[str, ...]) -> None:
    text = f"""
[place.bed]
role = "load"
[{section}]
aboard = {{ origin = "measured, shop scale", bed = "100 kg" }}
"""
    found = origin_of(text, *path, "aboard", "bed")
    assert found == (Origin.MEASURED, "shop scale", "")


def test_the_origin_of_a_record_speaks_for_what_is_decided_too() -> None:
    """Only where nobody names an origin is a decided quantity the builder's own word."""
    text = """
[place.bed]
role = "load"
[case.market]
aboard = { origin = "measured, shop scale", bed = "100 kg" }
[tyre.front]
origin = "measured, gauge"
pressure = "2.4 bar"
"""
    assert set(read(text).build.case["market"].aboard) == {"bed"}
    assert origin_of(text, "tyre", "front", "pressure") == (Origin.MEASURED, "gauge", "")
    market = origin_of(text, "case", "market", "aboard", "bed")
    assert market == (Origin.MEASURED, "shop scale", "")


def test_nothing_aboard_is_not_the_same_as_nothing_said() -> None:
    nobody = read("[donor.weighed]\naboard = {}\n").build.donor.weighed.aboard
    assert nobody == {}
    silent = read('[donor.weighed]\nfl = "300 kg"\n').build.donor.weighed.aboard
    assert list(silent) == [UNSAID]
    (lack,) = silent[UNSAID].lacks
    assert (lack.path, lack.why) == ("donor.weighed.aboard", "not given")
    assert not said(silent)


def test_said_means_typed_by_the_builder() -> None:
    build = read('[donor.rear]\ntrack = "unknown"\n[tyre.front]\nsize = "165"\n').build
    assert said(build.donor)
    assert said(build.donor.rear.track)
    assert not said(build.donor.front)
    assert not said(build.tyre.front.rated_pressure), "a default is nobody's word"
    assert not said(build.weigh_in)
    assert said(read('[donor]\ngross_limit = "none"\n').build.donor.gross_limit)


def test_labels_say_whose_value_it_is() -> None:
    build = read(
        '[part.dc_link]\nmass = "1 kg"\n[place.bed]\nrole = "load"\n'
        '[case.market.aboard]\nbed = "2 kg"\n'
    ).build
    mass = build.part["dc_link"].mass.given
    assert mass is not None
    assert mass.label == "dc link: mass of one"
    bed = build.case["market"].aboard["bed"].given
    assert bed is not None
    assert bed.label.endswith("bed: mass aboard at this place")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[build]\nname = "B"\n', "does not say its format"),
        ("format = 0\n", "format 0 never existed"),
        ("format = -3\n", "format -3 never existed"),
        ("format = 2\n", "written for format 2; this program knows up to 1"),
        ("format = true\n", "the format is no number"),
        ('format = "1"\n', "the format is no number"),
        ("format = 1.0\n", "the format is no number"),
    ],
)
def test_formats_that_cannot_be_read(text: str, words: str) -> None:
    problem = one(text)
    assert words in problem.what
    assert (problem.path, problem.line) == ("format", 1)
    assert problem.do


def renamed(source: Source) -> list[Edit]:
    """Format 1 to 2: ``title`` became ``name``."""
    return [Edit(("title",), None, ANY), Edit(("name",), f'"{source.data["title"]}"')]


def doubled(source: Source) -> list[Edit]:
    """Format 2 to 3: a number is doubled."""
    return [Edit(("count",), str(2 * source.data["count"]), ANY)]


def test_an_older_file_is_brought_up_to_date_step_by_step() -> None:
    old = "# my book\nformat = 1\ntitle = 'red'  # painted\ncount = 4 # four\n"
    source = read_text(old.encode())
    new = migrated(source, "build.toml", 3, {1: renamed, 2: doubled})
    assert new.data == {"format": 3, "name": "red", "count": 8}
    assert "# my book\n" in new.text
    assert "count = 8 # four" in new.text
    assert source.text == old
    assert migrated(new, "build.toml", 3, {}) is new


def test_a_gap_in_the_migrations_is_told() -> None:
    source = read_text(b"format = 1\ncount = 4\n")
    with pytest.raises(BuildError, match="format 1 never existed"):
        migrated(source, "build.toml", 3, {2: doubled})


def located(error: BuildError) -> bool:
    """Every problem names the file, and a line wherever there is anything to point at."""
    return all(
        each.file == "build.toml" and (each.line is not None or each.what == "is missing")
        for each in error.problems
    )


def survives(raw: bytes) -> None:
    try:
        read_or_not: Opened | BuildError = parse_build(raw)
    except BuildError as error:
        read_or_not = error
    if isinstance(read_or_not, BuildError):
        assert read_or_not.problems
        assert located(read_or_not), str(read_or_not)
    else:
        assert read_or_not.build.build.name is not None


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_with_a_place(raw: bytes) -> None:
    survives(raw)
    survives(HEAD.encode() + raw)


VALUES = [
    *(
        "5",
        "-5",
        "0.5",
        "true",
        "[]",
        "[1]",
        "{}",
        '{ x = "1 m" }',
        "2026-03-14",
        '""',
        '"unknown"',
    ),
    *('"none"', '"5 kg"', '"5 m"', '"5 kg, measured"', '"1e308 kg"', '"-0 kg"', '"5 kg ± 1e300"'),
    *(
        '"±"',
        '"😀"',
        '"5 kg, "',
        '", measured"',
        "'''\n'''",
        "9223372036854775807",
        "1e300",
        "07:32:00",
    ),
]
KEYS = [*SMALL, *(f"{path}.more" for path in list(SMALL)[:20]), "part", "case.x", "place", "origin"]


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS), st.sampled_from(VALUES), min_size=1, max_size=4))
def test_a_valid_file_with_other_values_is_read_or_refused_with_a_place(
    changes: dict[str, str],
) -> None:
    survives(build_text(changes).encode())


@settings(max_examples=150, deadline=None)
@given(st.randoms(use_true_random=False), st.integers(1, 6))
def test_a_valid_file_with_damage_is_read_or_refused_with_a_place(
    chance: random.Random, hits: int
) -> None:
    raw = bytearray(build_text().encode())
    for _ in range(hits):
        place = chance.randrange(len(raw))
        action = chance.randrange(4)
        if action == 0:
            raw[place] = chance.randrange(256)
        elif action == 1:
            del raw[place : place + chance.randrange(1, 30)]
        elif action == 2:
            raw[place:place] = chance.choice([b"\n", b'"', b"[", b"=", b".", b"{", b"\xff", b"#"])
        else:
            start = chance.randrange(len(raw))
            raw[place:place] = raw[start : start + chance.randrange(1, 60)]
    survives(bytes(raw))
