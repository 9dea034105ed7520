"""What the drawings of a build say, against what the assessment says."""

from __future__ import annotations

import pytest

from builders import ELECTRIC, SMALL, opened
from wattwright.assessment import assess
from wattwright.drawings import DRAWINGS
from wattwright.paper.svg import Drawing


def drawn(name: str, changes: dict[str, str | None] | None = None) -> Drawing:
    build = opened(changes, {**SMALL, **ELECTRIC})
    return DRAWINGS[name](build, assess(build), "metric")


def said(name: str, changes: dict[str, str | None] | None = None) -> str:
    return " ".join(shape.words for shape in drawn(name, changes).shapes if shape.words)


def test_the_windows_show_the_verdict_and_what_is_provisional() -> None:
    assert "provisional" not in said("windows")
    assumed = said("windows", {"part.inverter.voltage_high": '"900 V"'})
    assert assumed.count("sound, provisional") == 1


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        # 96 cells of 4.2 V, and 96 * 2 mΩ / 2 * 3 * 1.5 + 20 mΩ = 452 mΩ at 50 A on top: 425.8 V
        ({}, "empty to full and regenerating, 288 V to 425.8 V"),
        ({"pack.regen_current_full": None}, "empty to full, 288 V to 403.2 V"),
    ],
)
def test_the_shade_reaches_as_far_as_the_pack_is_judged(
    changes: dict[str, str | None], words: str
) -> None:
    assert words in said("windows", changes)


def test_the_side_view_says_what_its_marks_are() -> None:
    words = said("side")
    assert "Quartered: centre of gravity" in words
    assert "wheelbase" in words


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_bare_build_says_what_is_missing(name: str) -> None:
    bare = opened(None, {"format": "1", "build.name": '"Bare"'})
    words = [shape.words for shape in DRAWINGS[name](bare, assess(bare), "metric").shapes]
    asks = ("Measure the wheelbase", "No high-voltage", "Give motor, inverter", "Give the motor")
    assert any(ask in each for each in words for ask in asks)
