"""Fields of the adaptor plate that cannot go together are refused, each at its place."""

from __future__ import annotations

import pytest

from couplings import built
from plates import plate
from wattwright.errors import BuildError

HERE = "coupling.adaptor"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {f"{HERE}.motor_holes": {"pattern": "motor_fase"}},
            (f"{HERE}.motor_holes.pattern", "no such pattern", "did you mean motor_face?"),
        ),
        (
            {f"{HERE}.gearbox_holes": {"pattern": "zzz"}},
            (f"{HERE}.gearbox_holes.pattern", "there are housing, motor_face"),
        ),
        ({HERE: {"datum": "spigott"}}, (f"{HERE}.datum", "did you mean spigot?")),
        (
            {f"{HERE}.feature.spigot": {"fit": "zzz"}},
            (f"{HERE}.feature.spigot.fit", "no such fit", "there are dowel, spigot"),
        ),
        (
            {f"{HERE}.feature.spigot": {"x": "1 mm"}},
            (f"{HERE}.feature.spigot.x", "places are counted from the datum", "leave it out"),
        ),
        (
            {"pattern.housing.hole.5": {"fit": "dowl"}},
            ("pattern.housing.hole.5.fit", "did you mean dowel?"),
        ),
        (
            {"pattern.housing.hole.5": {"drill": "12 mm"}},
            ("pattern.housing.hole.5.drill", "no drill makes it", "leave it out"),
        ),
        (
            {"pattern.housing.hole.5": {"thread": "M12"}},
            ("pattern.housing.hole.5.thread", "carries a fit already"),
        ),
        (
            {"pattern.housing.hole.1": {"drill": "13 mm"}},
            ("pattern.housing.hole.1.drill", "wider than the bolt", "core hole"),
        ),
        (
            {f"{HERE}.motor_holes": {"looking": "down"}},
            (f"{HERE}.motor_holes.looking", "to the motor"),
        ),
        ({HERE: {"flatness": "2 mm"}}, (f"{HERE}.flatness", "1 mm")),
        ({HERE: {"face_share": "100 %"}}, (f"{HERE}.face_share", "95 %")),
        ({HERE: {"thickness": "2 mm"}}, (f"{HERE}.thickness",)),
    ],
)
def test_what_cannot_be_is_refused(
    changes: dict[str, dict[str, str | None] | None], said: tuple[str, ...]
) -> None:
    with pytest.raises(BuildError) as caught:
        built(plate(changes))
    for words in said:
        assert words in str(caught.value)


def test_a_datum_that_says_it_stands_at_nought_is_taken() -> None:
    built(plate({f"{HERE}.feature.spigot": {"x": "0 mm", "y": "0 mm"}}))
