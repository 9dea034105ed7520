"""Fields of couplings and rings that cannot go together are refused, each at its place."""

from __future__ import annotations

import pytest

from couplings import RING, SPIGOT, built
from wattwright.errors import BuildError


@pytest.mark.parametrize(
    ("tables", "said"),
    [
        ({"coupling": {"link": "hub"}}, ("coupling.link", "no such link")),
        (
            {"coupling": {"link": "hup"}, "drive.link.hub": {"turns_with": "motor"}},
            ("coupling.link", "did you mean hub?"),
        ),
        (
            {"coupling.fit.spigot": {**SPIGOT, "hole": "10.002 mm"}},
            ("coupling.fit.spigot.hole", "is not the nominal diameter, 100 mm"),
        ),
        (
            {"coupling.fit.pin": {"hole_upper": "0 mm", "hole_lower": "0.02 mm"}},
            ("coupling.fit.pin.hole_lower", "is above the upper deviation"),
        ),
        (
            {"coupling.end_float": {"least": "2 mm", "most": "1.5 mm"}},
            ("coupling.end_float.least", "is more than the most"),
        ),
        (
            {"coupling.key": {"diameter": "30 mm", "width": "35 mm"}},
            ("coupling.key.width", "no wider than its shaft"),
        ),
        (
            {"coupling.flange": {"circle": "30 mm", "bolt": "35 mm"}},
            ("coupling.flange.bolt", "thinner than their circle"),
        ),
        ({"ring.a": {**RING, "groove": "18.5 mm"}}, ("ring.a.groove", "is no groove: in a shaft")),
        (
            {"ring.a": {**RING, "on": "bore", "free": "19 mm"}},
            ("ring.a.groove", 'write on = "shaft"'),
        ),
        ({"ring.a": {**RING, "width": "13 mm"}}, ("ring.a.width", "a third of the diameter")),
        ({"ring.a": {**RING, "free": "19 mm"}}, ("ring.a.free", "is no ring for this shaft")),
        (
            {"ring.a": RING, "ring.a.standard": {"groove_upper": "0 mm", "groove_lower": "0.1 mm"}},
            ("ring.a.standard.groove_lower", "swap the two"),
        ),
        ({"ring.a": {**RING, "on": "hub"}}, ("ring.a.on", "shaft")),
        ({"coupling.fit.pin": {"hole_class": "H9"}}, ("coupling.fit.pin.hole_class", "H7")),
        ({"coupling.run_out": {"flange": "3 mm"}}, ("coupling.run_out.flange", "2 mm")),
    ],
)
def test_what_cannot_be_is_refused(
    tables: dict[str, dict[str, str]], said: tuple[str, str]
) -> None:
    with pytest.raises(BuildError) as caught:
        built(tables)
    for words in said:
        assert words in str(caught.value)
