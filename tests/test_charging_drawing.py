"""The drawings of an outlet: its chain link by link, and a charge over its time."""

from __future__ import annotations

import pytest

from outlets import charged, plugged
from wattwright.assessment import assess
from wattwright.drawings import drawing, of_area
from wattwright.errors import UsageError
from wattwright.pages import areas_for
from wattwright.paper.svg import Drawing

REEL = {"cord.long.wound": "true", "cord.long.layers": '"3 ± 0, measured"'}
NAMES = ("charging_chain@barn", "charging_power@barn")


def words_of(made: Drawing) -> str:
    return " ".join(shape.words for shape in made.shapes if shape.words)


def drawn(name: str, changes: dict[str, str | None] | None = None) -> str:
    return words_of(drawing(name, plugged(changes), charged(changes), "metric"))


def test_the_chain_names_its_links_and_what_each_bears_and_leaves() -> None:
    words = drawn("charging_chain@barn")
    for said in ("breaker", "wiring in the wall", "cord long", "charger's power", "drawn 10 A"):
        assert said in words
    # 230 V less 11.5 V of a warm cord; 13 A by the table for a cord of its section.
    assert "13 A" in words
    assert "218 V" in words or "219 V" in words
    assert "Weakest: pilot of box, 10 A" in words
    assert "Unwind" not in words


def test_a_wound_reel_is_told_to_be_unwound() -> None:
    words = drawn("charging_chain@barn", REEL)
    assert "Weakest: cord long, 5.85 A" in words
    assert "Unwind long: laid out whole, the chain allows 13 A" in words
    assert "failing" in words


def test_a_link_nobody_knows_is_said_to_be_so() -> None:
    words = drawn("charging_chain@barn", {"outlet.barn.socket_current": None})
    assert "not known" in words
    assert "unknown" in words
    assert "Weakest of those known: " in words


def test_a_charge_is_drawn_to_its_end_and_asks_for_what_is_missing() -> None:
    words = drawn("charging_power@barn")
    for said in ("Power into the pack", "Charge", "time (h)", "power (kW)", "charge (%)"):
        assert said in words
    assert "Something is missing" in drawn("charging_power@barn", {"pack.capacity": None})


def test_they_stand_on_the_page_of_the_area_for_each_outlet() -> None:
    assert of_area("charging", plugged()) == NAMES
    with pytest.raises(UsageError, match="no outlet 'shed'; there are barn"):
        drawn("charging_chain@shed")


@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_made_from_the_areas_it_speaks_of(name: str) -> None:
    build = plugged()
    made = drawing(name, build, assess(build, areas_for(name)), "metric")
    assert words_of(made) == words_of(drawing(name, build, assess(build), "metric"))
