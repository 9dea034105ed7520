"""The sheet for truing a coupling: what the indicator is to show, when to stop, what to cut."""

from __future__ import annotations

import pytest

from couplings import END_FLOAT, RUN_OUT, Tables, built
from wattwright.assessment import assess
from wattwright.bench.sheet import Line, Sheet
from wattwright.bench.sheets import sheet


def made(tables: Tables) -> Sheet:
    read = built(tables)
    return sheet("dial_indicator", read.build, assess(read))


def line(found: Sheet, name: str) -> Line:
    each = found.line(name)
    assert each is not None
    return each


def test_it_begins_dead_and_sets_to_nought_on_the_bare_shaft() -> None:
    found = made({"coupling.run_out": RUN_OUT})
    assert [each.name for each in found.lines] == [
        "dead",
        "zero",
        "flange",
        "bore",
        "face",
        "dowels",
        "bolts",
        "whole",
        "end_float",
    ]
    cautions = " ".join(found.cautions)
    for words in ("proven dead", "Hands", "Never lift", "by its shaft", "never locates a shaft"):
        assert words in cautions


def test_the_bore_shows_twice_the_offset_and_stops_above_the_limit() -> None:
    bore = line(made({"coupling.run_out": RUN_OUT}), "bore")
    assert bore.expected is not None
    assert bore.expected.number == pytest.approx(0.08e-3)
    assert bore.expects("metric") == "at most 0.05 mm"
    assert bore.stop_if.startswith("above the limit")


def test_readings_of_coupler_face_and_float_go_into_their_fields() -> None:
    found = made({"coupling.run_out": RUN_OUT, "coupling.end_float": END_FLOAT})
    paths = {each.name: each.path for each in found.lines if each.path}
    assert paths == {
        "flange": "coupling.run_out.flange",
        "face": "coupling.run_out.face",
        "end_float": "coupling.end_float.cold",
    }
    assert line(found, "end_float").expects("metric") == "at least 0.5 mm"


def test_the_shaft_is_turned_by_hand_after_each_bolt() -> None:
    bolts = line(made({"coupling.run_out": RUN_OUT}), "bolts")
    assert "turn the shaft by hand" in bolts.act
    assert "after each bolt" in bolts.act


def test_the_last_reading_names_what_to_cut_again() -> None:
    """√(0.08² + 0.03²) is 0.0854 mm; the bore alone made true leaves 0.03 mm."""
    whole = line(made({"coupling.run_out": RUN_OUT}), "whole")
    assert whole.expected is not None
    assert whole.expected.number == pytest.approx(0.08544e-3, rel=1e-4)
    assert "the bore of the adaptor gains most: 0.030 mm" in whole.act
    unread = line(made({"coupling.run_out": {**RUN_OUT, "flange": "unknown"}}), "whole")
    assert "gains most" not in unread.act


def test_a_build_without_a_coupling_has_the_sheet_all_the_same() -> None:
    bore = line(made({}), "bore")
    assert bore.expected is None or not bore.expected.known
