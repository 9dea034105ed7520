"""Published tables: every row with its source, or the table is refused."""

from __future__ import annotations

import itertools
from importlib.resources import files

import pytest

from wattwright import tables
from wattwright.errors import TableError
from wattwright.kinds import SPEED
from wattwright.tables import FLAGS, Row, load, parse
from wattwright.units import read

HEAD = "size,load_kg,source,locator,flag\n"
SHIPPED = sorted(
    each.name.removesuffix(".csv")
    for each in files(tables.__name__).iterdir()
    if each.name.endswith(".csv")
)


def test_a_table_is_read_row_by_row() -> None:
    table = parse("t", HEAD + '10,190,A book,"p. 3, below",seen\n20,195.5,A book,,memory\n')
    assert table.name == "t"
    assert [row.cells for row in table] == [
        {"size": "10", "load_kg": "190"},
        {"size": "20", "load_kg": "195.5"},
    ]
    first = table.row("10")
    assert first.number("load_kg") == 190.0
    assert str(first.source) == "A book, p. 3, below"
    assert table.row("20").number("load_kg") == 195.5


@pytest.mark.parametrize(
    ("flag", "limits"),
    [("seen", True), ("computed", True), ("practice", True), ("memory", False)],
)
def test_a_row_from_memory_makes_no_limit(flag: str, limits: bool) -> None:
    row = parse("t", f"{HEAD}10,190,A book,,{flag}\n").row("10")
    assert row.limits is limits
    assert row.source.flag == flag
    assert flag in FLAGS


@pytest.mark.parametrize(
    ("row", "found"),
    [
        ("10,190,,p. 3,seen", "'no source', 'seen'"),
        ("10,190,  ,p. 3,seen", "'no source', 'seen'"),
        ("10,190,A book,p. 3,", "'A book', 'no flag'"),
        ("10,190,A book,p. 3,sure", "'A book', 'sure'"),
        ("10,190", "'no source', 'no flag'"),
        ("10,190,A book,p. 3", "'A book', 'no flag'"),
    ],
)
def test_a_row_without_source_or_flag_is_refused_by_line(row: str, found: str) -> None:
    with pytest.raises(TableError, match=r"t\.csv line 3: every row needs a source") as caught:
        parse("t", f"{HEAD}9,180,A book,,seen\n{row}\n")
    assert found in str(caught.value)


def test_a_row_that_stands_twice_is_refused() -> None:
    with pytest.raises(TableError, match=r"t\.csv line 3: 10 stands twice"):
        parse("t", f"{HEAD}10,190,A book,,seen\n10,191,A book,,seen\n")


@pytest.mark.parametrize("text", ["", HEAD])
def test_a_table_without_rows_is_refused(text: str) -> None:
    with pytest.raises(TableError, match=r"t\.csv has no rows"):
        parse("t", text)


def test_a_row_or_number_that_is_not_there_is_named() -> None:
    table = parse("t", f"{HEAD}10,heavy,A book,,seen\n20,195,A book,,seen\n")
    with pytest.raises(TableError, match="30 is not in t; it has 10, 20"):
        table.row("30")
    with pytest.raises(TableError, match=r"column load_kg of .* holds no number"):
        table.row("10").number("load_kg")
    with pytest.raises(TableError, match=r"column width of .* holds no number"):
        table.row("10").number("width")


def test_there_are_tables_and_all_of_them_are_read() -> None:
    assert SHIPPED == [
        "adiabatic_k",
        "ambient_factors",
        "ampacity_iec_60364_5_52",
        "ampacity_nec_310_16",
        "bolt_threads",
        "bore_rings",
        "cell_limits",
        "cell_ocv",
        "clearance_holes",
        "conductor_metals",
        "conductors_iec_60228",
        "cord_ampacity_nec_400_5",
        "cycles",
        "drum_factors",
        "duct_constants",
        "fuse_gates_iso_8820",
        "grouping_factors",
        "instruments",
        "insulation_heat",
        "insulation_limits",
        "iso_286_limits",
        "outlets",
        "parallel_keys",
        "pilot_circuit",
        "propshaft_angles",
        "proximity_codes",
        "road_load_default",
        "shaft_rings",
        "tyre_full_profile",
        "tyre_load_index",
        "tyre_speed_symbol",
    ]


@pytest.mark.parametrize("name", SHIPPED)
def test_every_table_that_ships_can_be_trusted(name: str) -> None:
    table = load(name)
    rows = list(table)
    assert len(rows) > 5
    assert all(row.source.title for row in rows)
    assert load(name) is table


def rows_of(name: str) -> list[Row]:
    return list(load(name))


def test_load_indices_run_without_gaps_and_grow() -> None:
    rows = rows_of("tyre_load_index")
    indices = [row.number("load_index") for row in rows]
    loads = [row.number("max_load_kg") for row in rows]
    assert indices == [float(index) for index in range(int(indices[0]), int(indices[-1]) + 1)]
    assert loads == sorted(set(loads))
    # Each index carries about three per cent more than the one before: a tenth-power decade
    # series, as preferred numbers are.
    ratios = [after / before for before, after in itertools.pairwise(loads)]
    assert all(1.015 < ratio < 1.045 for ratio in ratios)


def test_speed_symbols_can_be_read_and_grow_but_for_the_letter_h() -> None:
    rows = rows_of("tyre_speed_symbol")
    speeds = {row.cells["symbol"]: read(row.cells["meaning"], SPEED).number for row in rows}
    # H was there before the letters went round: it stands between U and V.
    order = [*"JKLMNPQRSTUHVWY"]
    assert [speeds[letter] for letter in order if letter in speeds] == sorted(speeds.values())
    assert set(speeds) <= set(order)
    assert speeds["S"] == pytest.approx(50.0)
