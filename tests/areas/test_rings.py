"""Retaining rings: the row that belongs to a groove, the ring in hand, what the groove carries."""

from __future__ import annotations

import pytest

from couplings import RING, assessed, finding, number
from wattwright.findings import Verdict

MM = 1e-3
OF_A_RING = ("groove", "width", "edge", "load", "thickness", "goes_in", "free", "grips", "ears")


def verdicts(fields: dict[str, str]) -> dict[str, Verdict]:
    said = assessed({"ring.a": fields})
    return {word: finding(said, f"mounts.ring_{word}@a").verdict for word in OF_A_RING}


def test_a_groove_and_a_ring_as_the_standard_has_them_are_sound() -> None:
    assert set(verdicts(RING).values()) == {Verdict.SOUND}


def test_the_ring_that_belongs_to_a_groove_is_named() -> None:
    """DIN 471 for 18 mm: s 1.2, d3 16.5, d2 17.0, m 1.3, n 1.5."""
    said = assessed({"ring.a": RING})
    sizes = {"size": 18.0, "s": 1.2, "d3": 16.5, "d2": 17.0, "m": 1.3, "n": 1.5}
    for word, mm in sizes.items():
        assert number(said, f"mounts.ring_{word}@a") == pytest.approx(mm * MM)


def test_the_groove_carries_what_the_standard_states() -> None:
    """DIN 471, 18 mm: 4.58 kN with the groove at 17.0 mm and 200 N/mm²."""
    said = assessed({"ring.a": {**RING, "groove": "17.0 mm ± 0.01, measured"}})
    load = finding(said, "mounts.ring_load@a")
    assert load.limit.number == pytest.approx(4580.0, rel=0.01)
    heavy = finding(assessed({"ring.a": {**RING, "load": "6 kN, computed"}}), "mounts.ring_load@a")
    assert heavy.verdict is Verdict.FAILING


@pytest.mark.parametrize(
    ("field", "text", "failing"),
    [
        ("groove", "17.2 mm ± 0.02, measured", "groove"),
        ("width", "1.25 mm ± 0.01, measured", "width"),
        ("edge", "1.2 mm ± 0.05, measured", "edge"),
        ("thickness", "1.50 mm ± 0.01, measured", "goes_in"),
        ("thickness", "1.00 mm ± 0.01, measured", "thickness"),
        ("free", "17.1 mm ± 0.05, measured", "grips"),
    ],
)
def test_what_is_off_fails_and_says_so(field: str, text: str, failing: str) -> None:
    assert verdicts({**RING, field: text})[failing] is Verdict.FAILING


def test_a_ring_of_the_neighbouring_size_is_a_warning() -> None:
    """17 mm: free at 15.7 mm, 0.8 mm less than that of 18 mm; half of the step is 0.4 mm."""
    said = finding(
        assessed({"ring.a": {**RING, "free": "15.7 mm, measured"}}), "mounts.ring_free@a"
    )
    assert said.limit.number == pytest.approx(0.4 * MM)
    assert said.verdict is Verdict.MARGINAL


def test_nothing_is_asked_of_a_ring_that_is_not_there_yet() -> None:
    said = assessed({"ring.a": {**RING, "thickness": "none", "free": "none", "ear": "none"}})
    there = {f.check.id.removeprefix("mounts.ring_") for f in said.findings}
    assert there == set(OF_A_RING) - {"thickness", "free", "goes_in", "grips", "ears"}


def test_a_row_from_memory_is_shown_and_makes_no_limit() -> None:
    """25 mm: groove 23.9 mm, which nobody has read again."""
    fields = {**RING, "diameter": "25 mm ± 0.01, measured", "groove": "23.8 mm ± 0.02, measured"}
    fields |= {"free": "23.2 mm, measured"}
    said = assessed({"ring.a": fields})
    groove = finding(said, "mounts.ring_groove@a")
    assert groove.verdict is Verdict.UNKNOWN
    why = {lack.path: lack.why for lack in groove.lacks}["ring.a.standard.groove"]
    assert why == "23.9 mm only from memory; read it in DIN 471"
    assert number(said, "mounts.ring_d2@a") == pytest.approx(23.9 * MM)
    # What does not rest on the row is judged all the same.
    assert finding(said, "mounts.ring_load@a").verdict is Verdict.SOUND
    standard = {"groove": "23.9 mm", "groove_upper": "0 mm", "groove_lower": "-0.21 mm"}
    read = assessed({"ring.a": fields, "ring.a.standard": standard})
    assert finding(read, "mounts.ring_groove@a").verdict is Verdict.SOUND


def test_a_diameter_of_no_ring_names_its_neighbours() -> None:
    said = assessed({"ring.a": {**RING, "diameter": "23 mm", "groove": "22 mm", "free": "21 mm"}})
    width = finding(said, "mounts.ring_width@a")
    assert width.verdict is Verdict.UNKNOWN
    assert width.lacks[0].why == "no ring here is for 23 mm; nearest are 22 mm and 24 mm"


def test_an_unknown_diameter_is_asked_for() -> None:
    said = assessed({"ring.a": {**RING, "diameter": "unknown"}})
    for word in ("groove", "width", "load"):
        paths = [lack.path for lack in finding(said, f"mounts.ring_{word}@a").lacks]
        assert paths == ["ring.a.diameter"]


def test_a_wire_ring_is_of_another_standard() -> None:
    said = finding(assessed({"ring.a": {**RING, "shape": "wire"}}), "mounts.ring_groove@a")
    assert said.verdict is Verdict.UNKNOWN
    assert "another standard" in said.doubts[0]


def test_a_bore_ring_is_closed_and_presses_outwards() -> None:
    """DIN 472 for 16 mm: groove 16.8 mm, free 17.3 mm, 3.40 kN."""
    fields = {
        **RING,
        "on": "bore",
        "diameter": "16 mm ± 0.01, measured",
        "groove": "16.85 mm ± 0.02, measured",
        "width": "1.15 mm ± 0.01, measured",
        "thickness": "1.0 mm ± 0.01, measured",
        "free": "17.3 mm ± 0.05, measured",
    }
    assert set(verdicts(fields).values()) == {Verdict.SOUND}
    exact = assessed({"ring.a": {**fields, "groove": "16.8 mm, measured"}})
    assert number(exact, "mounts.ring_capacity@a") == pytest.approx(3400.0, rel=0.02)
    loose = verdicts({**fields, "free": "16.7 mm ± 0.05, measured"})
    assert loose["grips"] is Verdict.FAILING


@pytest.mark.parametrize(
    ("ear", "room", "verdict"),
    # In a groove 0.525 mm deep ears of 4.2 mm stand 3.675 mm out of the shaft.
    [
        ("4.2 mm ± 0.05, measured", "4 mm ± 0.1, measured", Verdict.SOUND),
        ("4.2 mm ± 0.05, measured", "3 mm ± 0.1, measured", Verdict.FAILING),
        ("4.2 mm ± 0.05, measured", "unknown", Verdict.UNKNOWN),
    ],
)
def test_ears_need_room_beside_the_groove(ear: str, room: str, verdict: Verdict) -> None:
    said = finding(assessed({"ring.a": {**RING, "ear": ear, "room": room}}), "mounts.ring_ears@a")
    assert said.value.number == pytest.approx(3.675 * MM)
    assert said.verdict is verdict


def test_a_ring_without_ears_or_with_nothing_around_it_needs_no_room() -> None:
    for fields in ({"ear": "none"}, {"ear": "4 mm, measured", "room": "none"}):
        said = assessed({"ring.a": {**RING, **fields}})
        assert "mounts.ring_ears@a" not in said.by_address


def test_ears_turned_to_the_groove_leave_its_load_unknown() -> None:
    said = finding(assessed({"ring.a": {**RING, "shape": "turned"}}), "mounts.ring_load@a")
    assert said.verdict is Verdict.UNKNOWN
    assert "leave less of it that carries" in said.doubts[0]
    claws = finding(assessed({"ring.a": {**RING, "shape": "claws"}}), "mounts.ring_load@a")
    assert claws.verdict is Verdict.SOUND
