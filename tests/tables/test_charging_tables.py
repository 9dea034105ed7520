"""Tables of charging: ranges of codes that join without gaps, sockets that bear what they print."""

from __future__ import annotations

import itertools

from wattwright import kinds
from wattwright.tables import load
from wattwright.units import read


def ohms(text: str) -> float:
    return read(text, kinds.RESISTANCE).number


def test_ranges_of_codes_join_and_hold_their_own_resistor() -> None:
    rows = [row.cells for row in load("proximity_codes") if row.cells["resistance"]]
    assert all(ohms(r["least"]) < ohms(r["resistance"]) < ohms(r["most"]) for r in rows)
    assert all(one["most"] == other["least"] for one, other in itertools.pairwise(rows))
    amperes = [read(row["current"], kinds.CURRENT).number for row in rows]
    assert amperes == sorted(amperes, reverse=True)
    table = load("proximity_codes")
    assert table.row("shorted").cells["most"] == rows[0]["least"]
    assert table.row("open").cells["least"] == rows[-1]["most"]


def test_sockets_bear_no_more_for_hours_than_is_printed_and_by_80_percent_in_north_america() -> (
    None
):
    for row in load("outlets"):
        printed, hours = (
            read(row.cells[column], kinds.CURRENT).number for column in ("rating", "continuous")
        )
        assert hours <= printed
        assert 100 < read(row.cells["voltage"], kinds.VOLTAGE).number < 250
        if row.cells["socket"].startswith("NEMA"):
            assert hours == 0.8 * printed


def test_the_pilot_s_table_is_read_as_what_it_is() -> None:
    kind_of = {"frequency": kinds.FREQUENCY, "handle": kinds.RESISTANCE}
    for row in load("pilot_circuit"):
        item = row.cells["item"]
        ohm = item.endswith(("resistance", "pull-up"))
        kind = kind_of.get(item.partition(" ")[0], kinds.RESISTANCE if ohm else kinds.VOLTAGE)
        assert read(row.cells["within"], kind).number > 0
        assert read(row.cells["value"], kind).number
