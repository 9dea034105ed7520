"""Values of the file as a person is shown them."""

from __future__ import annotations

import pytest

from wattwright.web.clash import Clash, as_shown


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (None, "nothing"),
        ('"51 in, measured"', "51 in, measured"),
        ('"say \\"so\\""', 'say "so"'),
        ('""', "nothing"),
        ("12.5", "12.5"),
        ("true", "yes"),
        ("false", "no"),
        ("2026-03-14", "2026-03-14"),
        ('["a", "b"]', "a, b"),
        ('{ mass = "5 kg", at = { max_x = "1 m" } }', "mass: 5 kg; at: max x: 1 m"),
        ("no value at all [", "no value at all ["),
    ],
)
def test_a_value_is_shown_as_its_form_shows_it(text: str | None, shown: str) -> None:
    assert as_shown(text) == shown


def test_a_clash_says_both_sides() -> None:
    clash = Clash(("donor", "wheelbase"), '"1 m"', None)
    assert (clash.now_says, clash.meant_says) == ("1 m", "nothing")
