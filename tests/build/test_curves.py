"""Curves and grids kept in CSV files beside the build file: reading, refusals and their places."""

from __future__ import annotations

import math
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import pytest
from hypothesis import example, settings
from hypothesis import given as draws
from hypothesis import strategies as st

from builders import SMALL, build_text, line_of
from wattwright.assessment import assess
from wattwright.build.catalogue import find
from wattwright.build.fields import Column, Record, Sampled
from wattwright.build.motor import Motor
from wattwright.build.presence import said
from wattwright.build.reader import Opened, open_build, parse_build
from wattwright.build.sampled_csv import SHOWN
from wattwright.build.sampled_files import LARGEST
from wattwright.build.shape import slots
from wattwright.build.text import read_text
from wattwright.cli import main
from wattwright.errors import BuildError, Problem
from wattwright.kinds import FRACTION, KINDS, MASS, TORQUE
from wattwright.sampled import Curve, Grid
from wattwright.units import column_unit, examples, read
from wattwright.values import State, Value

RPM = math.pi / 30
CURVE = "speed (rpm), torque (N·m)\n0, 61.5\n1500, 61\n6000, 15\n"
GRID = (
    "speed (rpm), torque (N·m), efficiency (%)\n"
    "1000, 10, 80\n1000, 50, 88\n4000, 10, 86\n4000, 50, 94.5\n"
)
LEAF = "curve.csv, datasheet, maker's sheet"


def text_with(leaf: str, field: str = "curve") -> str:
    return build_text({"part.motor.kind": '"motor"', f"part.motor.{field}": f'"{leaf}"'}, SMALL)


def opened(
    csv: str | bytes, leaf: str = LEAF, field: str = "curve", file: str = "curve.csv"
) -> Opened:
    raw = csv.encode() if isinstance(csv, str) else csv
    return parse_build(text_with(leaf, field).encode(), read_file={file: raw}.__getitem__)


def motor_of(build: Opened) -> Motor:
    motor = build.build.part["motor"]
    assert isinstance(motor, Motor)
    return motor


def curve(csv: str | bytes, leaf: str = LEAF) -> Curve:
    return motor_of(opened(csv, leaf)).curve


def grid(csv: str | bytes) -> Grid:
    return motor_of(opened(csv, "curve.csv, typical", "efficiency_grid")).efficiency_grid


def problems(
    csv: str | bytes, leaf: str = LEAF, field: str = "curve", file: str = "curve.csv"
) -> tuple[Problem, ...]:
    with pytest.raises(BuildError) as caught:
        opened(csv, leaf, field, file)
    return caught.value.problems


def only(csv: str | bytes, leaf: str = LEAF, field: str = "curve") -> Problem:
    (problem,) = problems(csv, leaf, field)
    assert problem.path == f"part.motor.{field}"
    return problem


def given_band(value: Value) -> tuple[float, str]:
    assert value.given is not None
    return value.given.band, value.given.band_note


# --------------------------------------------------------------------------------------- good files


def test_a_curve_is_read_in_si_with_one_origin() -> None:
    found = curve(CURVE)
    assert found.x == pytest.approx((0.0, 1500 * RPM, 6000 * RPM))
    assert found.y == (61.5, 61.0, 15.0)
    assert found.known
    origin = found.share.given
    assert origin is not None
    assert (found.share.kind, found.share.number, origin.band) == (FRACTION, 0.0, 0.0)
    assert (origin.path, origin.text, origin.detail) == ("part.motor.curve", LEAF, "maker's sheet")
    assert origin.line == line_of(text_with(LEAF), "part.motor.curve")
    assert "ruler" in origin.how
    assert origin.label.startswith("motor: torque against speed")


@pytest.mark.parametrize(
    "csv",
    [
        CURVE.replace(", ", ";"),
        CURVE.replace(", ", "; "),
        CURVE.replace(", ", "\t"),
        CURVE.replace(", ", ";").replace("61.5", "61,5"),
        CURVE.replace(", ", "\t").replace("61.5", "61,5"),
        "\ufeff" + CURVE,
        CURVE.replace("\n", "\r\n"),
        CURVE.replace("\n", "\r"),
        CURVE.rstrip("\n"),
        "# maker's sheet, page 3; with a semicolon\n\n"
        + CURVE.replace("\n1500", "\n# here\n\n1500"),
        CURVE + ",\n , \n",
        "torque (N·m), speed (rpm)\n61.5, 0\n61, 1500\n15, 6000\n",
        CURVE.replace("speed (rpm), torque (N·m)", "Speed [rpm], TORQUE(Nm)"),
        CURVE.replace("1500, 61", '"1500", "61"'),
        CURVE.replace("1500, 61", "1.5e3, +61.0"),
    ],
)
def test_ways_to_write_the_same_curve(csv: str) -> None:
    found, plain = curve(csv), curve(CURVE)
    assert (found.x, found.y) == (plain.x, plain.y)


def test_the_unit_in_the_head_changes_nothing() -> None:
    one = curve("speed (rpm), torque (N·m)\n0, 61\n3000, 20\n")
    other = curve(
        f"speed (rad/s), torque (lbf·ft)\n0, {61 / 1.3558179483314004}\n{3000 * RPM}, 20\n"
    )
    assert one.x == pytest.approx(other.x, rel=1e-15)
    assert one.y[0] == pytest.approx(other.y[0], rel=1e-15)
    assert other.y[1] == pytest.approx(20 * 1.3558179483314004)


def test_a_grid_is_read_whatever_the_order_of_its_rows_and_columns() -> None:
    found = grid(GRID)
    assert found.x == pytest.approx((1000 * RPM, 4000 * RPM))
    assert found.y == (10.0, 50.0)
    assert found.z == ((0.8, 0.88), (0.86, 0.945))
    head, *rows = GRID.splitlines()
    turned = [", ".join(reversed(line.split(", "))) for line in (head, *reversed(rows))]
    other = grid("\n".join(turned))
    assert (other.x, other.y, other.z) == (found.x, found.y, found.z)
    # Without a unit a share is a plain number.
    bare = grid(
        "speed (rpm), torque (N·m), efficiency\n"
        "1000,10,0.8\n1000,50,0.88\n4000,10,0.86\n4000,50,1\n"
    )
    assert bare.z == ((0.8, 0.88), (0.86, 1.0))


numbers = st.lists(
    st.integers(0, 29_999).map(lambda n: n / 10), min_size=2, max_size=6, unique=True
)


@settings(max_examples=60, deadline=None)
@draws(numbers, numbers, st.randoms(use_true_random=False), st.sampled_from(",;\t"), st.data())
def test_a_written_grid_reads_back_equal(speeds, torques, dice, delimiter, data) -> None:
    share = st.integers(10, 1000).map(lambda n: n / 1000)
    cells = {(x, y): data.draw(share) for x in speeds for y in torques}
    rows = [f"{x!r}{delimiter}{y!r}{delimiter}{z!r}" for (x, y), z in cells.items()]
    dice.shuffle(rows)
    head = delimiter.join(["speed (rad/s)", "torque (N·m)", "efficiency"])
    found = grid("\n".join([head, *rows]))
    assert found.x == tuple(sorted(speeds))
    assert found.y == tuple(sorted(torques))
    assert found.z == tuple(tuple(cells[x, y] for y in found.y) for x in found.x)


# --------------------------------------------------------------------------------- the leaf itself


@pytest.mark.parametrize(
    ("leaf", "band", "usual"),
    [
        ("curve.csv ± 5 %, datasheet", 0.05, ""),
        ("curve.csv +/- 5%, typical", 0.05, ""),
        ("curve.csv ± 2,5 %, measured", 0.025, ""),
        ("curve.csv ± 0 %, measured", 0.0, ""),
        ("curve.csv, datasheet", 0.0, ""),
        ("curve.csv, computed, finite elements", 0.0, ""),
        ("curve.csv, measured, bench, 2026-03-14", 0.02, "measured"),
        ("curve.csv, typical", 0.10, "typical"),
        ("curve.csv, assumed", 0.10, "assumed"),
        ("curve.csv", 0.10, "assumed"),
        ("curve.csv ± 0 %", 0.10, "assumed"),
    ],
)
def test_bands(leaf: str, band: float, usual: str) -> None:
    found, note = given_band(curve(CURVE, leaf).share)
    assert found == pytest.approx(band)
    assert note == (f"± as usual for {usual}, none was typed" if usual else "")


def test_the_origin_of_the_section_counts_where_the_leaf_names_none() -> None:
    text = text_with("curve.csv") + 'part.motor.origin = "measured, bench, 2026-03-14"\n'
    found = motor_of(parse_build(text.encode(), read_file=lambda _: CURVE.encode())).curve.share
    assert found.given is not None
    assert (found.given.origin.value, found.given.date) == ("measured", "2026-03-14")


@pytest.mark.parametrize("field", ["curve", "efficiency_grid"])
def test_unknown_and_left_out_are_lacks_with_how_to_measure(field: str) -> None:
    without = build_text({"part.motor.kind": '"motor"'}, SMALL)
    for text, state in ((text_with("unknown", field), "unknown"), (without, "not given")):
        found = getattr(motor_of(parse_build(text.encode())), field)
        (lack,) = found.share.lacks
        assert (lack.why, lack.path) == (state, f"part.motor.{field}")
        assert "maker's sheet" in lack.how
        assert not found.known
        assert found.x == found.y == ()
        assert said(found) == (state == "unknown")


def test_a_file_named_counts_as_said() -> None:
    assert said(curve(CURVE))
    assert said(grid(GRID))


@pytest.mark.parametrize(
    ("leaf", "words"),
    [
        ("none", 'cannot be "none"'),
        ("curve.csv, printed", "'printed' is no origin"),
        ("curve.csv ± 5, datasheet", "such as ± 5 %"),
        ("curve.csv ± 0.05, datasheet", "such as ± 5 %"),
        ("curve.csv ± 5 % ± 6 %, datasheet", "more than one ±"),
        ("curve.csv ± 120 %, datasheet", "± 0 % to ± 100 %"),
        ("curve.csv ± -5 %, datasheet", "± 0 % to ± 100 %"),
        ("curve.csv ± much %, datasheet", "expected a fraction"),
        ("other.csv, datasheet", "it is not in the build folder"),
        ("", "is no name of a file"),
        (", datasheet", "is no name of a file"),
        ("/etc/curve.csv, datasheet", "leads out of the build folder"),
        ("../curve.csv, datasheet", "leads out of the build folder"),
        ("a/../../curve.csv, datasheet", "leads out of the build folder"),
        ("./curve.csv, datasheet", "leads out of the build folder"),
        ("a//curve.csv, datasheet", "leads out of the build folder"),
        (r"..\\curve.csv, datasheet", "write / between folders"),
        ("c:curve.csv, datasheet", "write / between folders, and no drive"),
    ],
)
def test_a_leaf_that_cannot_be_read_is_located_in_the_build_file(leaf: str, words: str) -> None:
    problem = only(CURVE, leaf)
    assert words in str(problem)
    assert (problem.file, problem.column) == ("build.toml", 1)
    assert problem.line == line_of(text_with(leaf), "part.motor.curve")


def test_a_leaf_that_is_no_text_is_refused() -> None:
    text = text_with("X").replace('"X"', "12")
    with pytest.raises(BuildError, match=r'names a file; found 12\s+write "curve.csv, datasheet"'):
        parse_build(text.encode())


def test_without_a_folder_no_file_can_be_read() -> None:
    with pytest.raises(BuildError, match="there is no folder to read it from"):
        parse_build(text_with(LEAF).encode())


def test_a_field_may_allow_none() -> None:
    declared = Sampled((Column("torque", TORQUE), Column("mass", MASS)), "c", "h", may_be_none=True)
    assert declared.share.may_be_none
    assert declared.share.how == "h"


# ------------------------------------------------------------------------------ faults in the file


@pytest.mark.parametrize(
    ("csv", "line", "column", "words"),
    [
        ("", 1, 1, "holds no head and no numbers"),
        ("# nothing\n", 1, 1, "holds no head"),
        ("0, 61\n1500, 61\n", 1, 1, "begins with numbers instead of a head; found 0, 61"),
        ("speed (rpm), torqe (N·m)\n0,1\n", 1, 14, "did you mean torque?"),
        ("speed (rpm)\n0\n1\n", 1, 1, "has no column torque"),
        ("speed (rpm), torque (N·m), torque (N·m)\n", 1, 28, "second column of this name"),
        ("speed (rpm), torque (N·m), power (kW)\n", 1, 28, "no column of this file"),
        ("speed (rpm), torque (N·m),\n", 1, 27, "no column of this file; found ''"),
        ("speed, torque (N·m)\n0,1\n1,1\n", 1, 1, "the unit is missing"),
        ("speed (rpm), torque (kW)\n0,1\n", 1, 14, "kW is a power"),
        ("speed (2 rpm), torque (N·m)\n0,1\n", 1, 1, "2 rpm"),
        ("speed (rpm ± 3 rpm), torque (N·m)\n0,1\n", 1, 1, "unknown unit"),
        (CURVE.replace("1500, 61", "1500, fast"), 3, 7, "torque is no plain number; found 'fast'"),
        (CURVE.replace("1500, 61", "1500, 61 N·m"), 3, 7, "its unit stands in the head"),
        (CURVE.replace("1500, 61", "1500, 3/4"), 3, 7, "torque is no plain number"),
        (CURVE.replace("1500, 61", "1500, nan"), 3, 7, "torque is no plain number"),
        (CURVE.replace("1500, 61", '1500, "61,5"'), 3, 7, "torque is no plain number"),
        (CURVE.replace("1500, 61", "1500, 1e999"), 3, 7, "too large"),
        (CURVE.replace("1500, 61", "1500, "), 3, 7, "torque is empty"),
        (CURVE.replace("1500, 61", "1500, 61, 2"), 3, 1, "has 3 cells where the head has 2"),
        (CURVE.replace("1500, 61", "1500,61,5"), 3, 1, "with decimal commas put semicolons"),
        (CURVE.replace("1500, 61", "1500"), 3, 1, "has 1 cells where the head has 2"),
        (CURVE.replace("1500, 61", '"1500, 61'), 3, 1, "cannot be taken apart"),
        (CURVE.replace("1500, 61", "1500, 3001"), 3, 7, "allowed: 0 N·m to 3000 N·m"),
        (CURVE.replace("1500, 61", "1500, -1"), 3, 7, "torque is out of range; found -1 N·m"),
        (CURVE.replace("6000, 15", "60000, 15"), 4, 1, "speed is out of range; found 60000 rpm"),
        (CURVE.replace("6000", "1500"), 4, 1, "does not grow from line 3 to here"),
        (CURVE.replace("6000", "1400"), 4, 1, "found 1400 after 1500"),
        ("speed (rpm), torque (N·m)\n0, 61\n", 1, 1, "needs two points or more; found 1"),
        ("speed (rpm), torque (N·m)\n", 1, 1, "needs two points or more; found 0"),
        ("speed (rpm); torque (N·m)\n0; 1\n1; 2,5\n2; 2.5\n", 4, 4, "another decimal mark"),
        ("speed (rpm); torque (N·m)\n0; 1\n1,500; 2\n", 3, 1, "may be thousands or a decimal"),
    ],
)
def test_a_fault_in_a_curve_is_located_in_its_file(
    csv: str, line: int, column: int, words: str
) -> None:
    problem = only(csv)
    assert words in str(problem)
    assert (problem.file, problem.line, problem.column) == ("curve.csv", line, column)


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "words"),
    [
        ("4000, 50, 94.5\n", "", 1, 1, "speed 4000 rpm with torque 50 N·m is missing"),
        ("4000, 50, 94.5", "4000, 10.0, 9", 5, 1, "torque 10.0 N·m stands in line 4 already"),
        ("4000, 50, 94.5", "4000, 50, 945", 5, 11, "allowed: 1 % to 100 %"),
        ("4000, 50, 94.5", "4000, 50, 0.945", 5, 11, "the unit in the head, which is %"),
        ("efficiency (%)", "efficiency", 2, 11, "the unit in the head, which is none"),
        ("4000, 50, 94.5", "4000, 50", 5, 1, "has 2 cells"),
    ],
)
def test_a_fault_in_a_grid_is_located_in_its_file(
    old: str, new: str, line: int, column: int, words: str
) -> None:
    assert GRID.count(old) == 1
    found = problems(GRID.replace(old, new), "curve.csv", "efficiency_grid")
    assert {(each.file, each.path) for each in found} == {
        ("curve.csv", "part.motor.efficiency_grid")
    }
    places = [(each.line, each.column) for each in found if words in str(each)]
    assert places[0] == (line, column)


def test_a_delimiter_in_quotes_moves_no_place() -> None:
    found = problems(CURVE.replace("1500, 61", '"1,500", fast'))
    assert [(each.line, each.column) for each in found] == [(3, 1), (3, 10)]


def test_a_row_that_cannot_be_read_does_not_seem_missing_too() -> None:
    said_of = only(GRID.replace("94.5", "?"), "curve.csv", "efficiency_grid")
    assert "no plain number" in said_of.what


def test_a_grid_needs_two_steps_each_way() -> None:
    line = "speed (rpm), torque (N·m), efficiency (%)\n1000, 10, 80\n1000, 50, 88\n"
    problem = only(line, "curve.csv", "efficiency_grid")
    assert str(problem).startswith(
        "curve.csv:1:1: part.motor.efficiency_grid: needs two of speed or more; found 1"
    )


def test_scattered_points_are_refused_without_listing_every_hole() -> None:
    rows = "".join(f"{n}, {n % 2999}.{n}, 90\n" for n in range(1, 4000))
    found = problems(GRID.splitlines()[0] + "\n" + rows, "curve.csv", "efficiency_grid")
    assert len(found) == SHOWN
    assert all("is missing" in each.what for each in found)


def test_all_faults_of_all_files_come_in_one_pass_and_in_order() -> None:
    text = build_text(
        {
            "part.motor.kind": '"motor"',
            "part.motor.curve": '"b.csv, datasheet"',
            "part.motor.efficiency_grid": '"a.csv, datasheet"',
            "donor.wheelbase": '"2.5 kg, measured"',
        }
    )
    files = {"a.csv": GRID.replace("94.5", "945"), "b.csv": CURVE.replace("15\n", "x\n0, y\n")}
    with pytest.raises(BuildError) as caught:
        parse_build(text.encode(), read_file=lambda name: files[name].encode())
    places = [(each.file, each.line, each.column) for each in caught.value.problems]
    assert places == [
        ("build.toml", line_of(text, "donor.wheelbase"), 1),
        ("a.csv", 5, 11),
        ("b.csv", 4, 7),
        ("b.csv", 5, 4),
    ]


def test_many_faults_of_one_file_are_counted() -> None:
    found = problems("speed (rpm), torque (N·m)\n" + "x, 1\n" * (SHOWN + 7))
    assert len(found) == SHOWN + 1
    assert str(found[-1]) == f"curve.csv:{SHOWN + 2}:1: part.motor.curve: and 7 more of this file"


def test_other_encodings_are_refused_with_their_place() -> None:
    problem = only(CURVE.encode().replace(b"1500", b"15\xb000"))
    assert (problem.line, problem.column, problem.got) == (3, 3, "byte 0xB0")
    assert only(CURVE.encode("utf-16")).what == "is no UTF-8 text"


def test_thousands_are_told_from_decimals_by_the_rest_of_the_file() -> None:
    found = curve("speed (rad/s); torque (N·m)\n0; 61,25\n1,500; 61\n")
    assert found.x == (0.0, 1.5)
    assert curve("speed (rad/s); torque (N·m)\n0; 0,250\n1; 61\n").y == (0.25, 61.0)


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_every_kind_has_a_unit_that_may_head_a_column(kind) -> None:
    declared = Column("some", kind)
    unit = declared.head.partition("(")[2].removesuffix(")")
    if declared.head.count("(") > 1:
        unit = declared.head.removeprefix("some (").removesuffix(")")
    symbol = column_unit(unit, kind)
    assert read(f"1 {symbol}".rstrip(), kind).band is None
    assert examples(kind)


@settings(max_examples=150, deadline=None)
@draws(
    st.binary(max_size=200) | st.text("0123456789.,;\t\n\r#\"' eE+-x", max_size=80).map(str.encode)
)
@example(b'speed (rpm),torque (N\xc2\xb7m)\n"')
@example(b"\x00,\x00")
def test_any_bytes_are_read_or_refused_with_a_place(raw: bytes) -> None:
    for content in (raw, b"speed (rpm);torque (N\xc2\xb7m)\n" + raw):
        try:
            found = curve(content)
        except BuildError as error:
            lines = [each.line for each in error.problems if each.file == "curve.csv"]
            located = bool(lines) and None not in lines and len(lines) == len(error.problems)
        else:
            located = len(found.x) == len(found.y) >= 2
        assert located


# --------------------------------------------------------------------------------- folder and file


def folder_with(tmp_path: Path, leaf: str = LEAF, files: Mapping[str, str] | None = None) -> Path:
    folder = tmp_path / "build"
    folder.mkdir()
    (folder / "build.toml").write_text(text_with(leaf), encoding="utf-8")
    for name, text in (files or {"curve.csv": CURVE}).items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def refusal(folder: Path) -> Problem:
    with pytest.raises(BuildError) as caught:
        open_build(folder)
    (problem,) = caught.value.problems
    assert (problem.file, problem.path) == ("build.toml", "part.motor.curve")
    assert problem.line == line_of((folder / "build.toml").read_text("utf-8"), "part.motor.curve")
    return problem


def test_a_file_is_read_from_the_folder_or_below(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, "data/c.csv", {"data/c.csv": CURVE})
    for named in (folder, folder / "build.toml"):
        assert motor_of(open_build(named)).curve.y == (61.5, 61.0, 15.0)
    assert open_build(folder).folder == folder


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    problem = refusal(folder_with(tmp_path, "cuve.csv, datasheet"))
    assert problem.what == "the file cannot be read: it is not in the build folder"
    assert problem.got == "'cuve.csv, datasheet'"
    assert "write its name as it is there" in problem.do


def test_a_symlink_may_stay_inside_and_not_lead_out(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, "link.csv", {"curve.csv": CURVE})
    (folder / "link.csv").symlink_to("curve.csv")
    assert motor_of(open_build(folder)).curve.known
    (tmp_path / "outside.csv").write_text(CURVE, encoding="utf-8")
    (folder / "link.csv").unlink()
    (folder / "link.csv").symlink_to(tmp_path / "outside.csv")
    assert "it leads out of the build folder" in refusal(folder).what


def test_a_folder_that_is_a_symlink_may_not_lead_out_either(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, "data/curve.csv")
    (tmp_path / "data").mkdir()
    (tmp_path / "data/curve.csv").write_text(CURVE, encoding="utf-8")
    (folder / "data").symlink_to(tmp_path / "data")
    assert "it leads out of the build folder" in refusal(folder).what


def test_a_build_folder_reached_by_a_symlink_is_read(tmp_path: Path) -> None:
    folder = folder_with(tmp_path)
    (tmp_path / "other").symlink_to(folder)
    assert motor_of(open_build(tmp_path / "other")).curve.known


@pytest.mark.parametrize("what", ["folder", "pipe", "loop"])
def test_what_is_no_regular_file_is_refused(tmp_path: Path, what: str) -> None:
    folder = folder_with(tmp_path, "odd.csv")
    match what:
        case "folder":
            (folder / "odd.csv").mkdir()
        case "pipe":
            os.mkfifo(folder / "odd.csv")
        case _:
            (folder / "odd.csv").symlink_to("odd.csv")
    words = "symbolic links" if what == "loop" else "it is no file"
    assert words in refusal(folder).what


def test_a_file_that_is_too_large_is_refused(tmp_path: Path) -> None:
    folder = folder_with(tmp_path)
    padded = CURVE + "#" * (LARGEST - len(CURVE.encode()))
    (folder / "curve.csv").write_text(padded, encoding="utf-8")
    assert motor_of(open_build(folder)).curve.known
    (folder / "curve.csv").write_text(padded + "#", encoding="utf-8")
    problem = refusal(folder)
    assert f"larger than {LARGEST} bytes" in problem.what
    assert "leave out points" in problem.do


# ------------------------------------------------------------------------------------- the digest


def test_the_digest_covers_the_bytes_of_named_files_and_of_no_others(tmp_path: Path) -> None:
    folder = folder_with(tmp_path)
    first = open_build(folder)
    assert first.digest != first.source.digest
    assert assess(first).digest == first.digest
    (folder / "other.csv").write_text("1", encoding="utf-8")
    assert open_build(folder).digest == first.digest
    (folder / "curve.csv").write_text(CURVE + "#", encoding="utf-8")
    changed = open_build(folder)
    assert changed.digest != first.digest
    assert changed.source.digest == first.source.digest


def test_the_digest_tells_which_file_holds_what() -> None:
    text = build_text(
        {
            "part.motor.kind": '"motor"',
            "part.motor.curve": '"a.csv"',
            "part.other.kind": '"motor"',
            "part.other.curve": '"b.csv"',
        }
    ).encode()
    one, two = CURVE.encode(), CURVE.encode() + b"#"
    digests = {
        parse_build(text, read_file=files.__getitem__).digest
        for files in ({"a.csv": one, "b.csv": two}, {"a.csv": two, "b.csv": one})
    }
    assert len(digests) == 2


def test_a_build_that_names_no_file_keeps_the_digest_of_its_text() -> None:
    raw = text_with("unknown").encode()
    assert parse_build(raw).digest == read_text(raw).digest


def test_a_file_named_twice_is_read_once() -> None:
    text = text_with("curve.csv") + 'part.other.kind = "motor"\npart.other.curve = "curve.csv"\n'
    asked: list[str] = []

    def read_file(name: str) -> bytes:
        asked.append(name)
        return CURVE.encode()

    parse_build(text.encode(), read_file=read_file)
    assert asked == ["curve.csv"]


# -------------------------------------------------------------------- declarations and the commands


def test_a_curve_has_two_columns_and_a_grid_three() -> None:
    two = (Column("torque", TORQUE), Column("mass", MASS))

    class Wrong(Record):
        some: Annotated[Grid, Sampled(two, "some", "how")]

    class Missing(Record):
        some: Annotated[Value, Sampled(two, "some", "how")]

    with pytest.raises(TypeError, match=r"Wrong\.some needs 3 columns"):
        slots(Wrong)
    with pytest.raises(TypeError, match="some is no quantity"):
        _ = slots(Missing)[0].quantity
    with pytest.raises(TypeError, match="is no curve or grid"):
        _ = slots(Motor)[0].sampled
    assert {slot.name for slot in slots(Motor) if slot.shape == "curve"} == {
        "curve",
        "efficiency_grid",
    }


@pytest.mark.parametrize("name", ["curve", "efficiency_grid"])
def test_every_column_has_a_range_that_can_be_read(name: str) -> None:
    entry = find(f"part.some.{name}")
    assert entry is not None
    assert entry.kinds == ("motor",)
    for column in entry.slot.sampled.columns:
        assert column.range is not None
        assert column.range[0] < column.range[1]


def test_set_names_a_file_and_reads_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = folder_with(tmp_path, "unknown")
    before = (folder / "build.toml").read_text("utf-8")
    assert main(["set", str(folder), f"part.motor.curve={LEAF}"]) == 0
    assert (folder / "build.toml").read_text("utf-8") == before.replace('"unknown"', f'"{LEAF}"')
    assert motor_of(open_build(folder)).curve.known
    # A second edit of a build that names a file.
    assert main(["set", str(folder), "part.motor.mass=61 kg, measured"]) == 0
    kept = (folder / "build.toml").read_bytes()
    capsys.readouterr()
    assert main(["set", str(folder), "part.motor.curve=cuve.csv"]) == 2
    assert "it is not in the build folder" in capsys.readouterr().err
    assert (folder / "build.toml").read_bytes() == kept
    assert main(["set", str(folder), "part.motor.curve="]) == 0
    assert motor_of(open_build(folder)).curve.share.state is State.NOT_GIVEN


def test_fields_says_which_columns_the_file_has(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fields", "part"]) == 0
    blocks = capsys.readouterr().out.split("\npart.NAME.")
    (block,) = (each for each in blocks if each.startswith("efficiency_grid:"))
    words = " ".join(block.split())
    assert "grid in a CSV file, such as efficiency_grid.csv, datasheet" in words
    assert "column speed (rpm): 0 rpm to 30000 rpm column torque (N·m): 0 N·m to 3000 N·m" in words
    assert "column efficiency (%): 1 % to 100 % only for kind = motor how: maker's sheet" in words
