"""The drawing of a power cable and its fuse: what it says and marks."""

from __future__ import annotations

import pytest

from cabled import cabled_build
from wattwright.assessment import assess
from wattwright.drawings import drawing, of_area
from wattwright.errors import UsageError
from wattwright.paper.svg import Drawing

PEAK = {
    "part.traction.peak": '"500 A, datasheet"',
    "part.traction.peak_time": '"10 s, datasheet"',
    "part.traction.kept_by": '"inverter"',
}


def drawn(changes: dict[str, str | None] | None = None, **more: str) -> Drawing:
    build = cabled_build(changes, **more)
    return drawing("fuse_curves@traction", build, assess(build), "metric")


def words_of(made: Drawing) -> list[str]:
    return [shape.words for shape in made.shapes if shape.words]


def test_both_curves_the_currents_and_what_is_bare_are_named() -> None:
    words = " ".join(words_of(drawn(PEAK)))
    # 90 °C and 50 K more; 403.2 V over 118.2 mΩ
    for said in ("35 mm²", "140 °C", "fuse: main", "highest current", "for hours: 150 A", "3411 A"):
        assert said in words
    # The curve begins at 2000 A.
    assert "not protected" in words


def test_a_quick_fuse_leaves_nothing_bare() -> None:
    quick = "current (A), time (s)\n210, 3600\n400, 20\n4000, 0.01\n"
    assert "not protected" not in words_of(drawn(PEAK, curve=quick))


def test_powers_of_ten_are_on_both_axes() -> None:
    words = words_of(drawn())
    for said in ("0.001", "1", "10,000", "current (A)", "time (s)"):
        assert said in words


def test_without_what_warms_it_it_asks() -> None:
    asked = " ".join(words_of(drawn({"part.traction.wire.section": None})))
    assert "Give size, insulation and fuse" in asked


def test_it_stands_on_the_page_of_its_area_for_each_cable() -> None:
    build = cabled_build()
    assert of_area("high_voltage", build) == ("fuse_curves@traction",)
    with pytest.raises(UsageError, match="no power cable 'none'; there are traction"):
        drawing("fuse_curves@none", build, assess(build), "metric")
