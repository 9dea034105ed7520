"""Tables of conductors: what must hold within them, and the rules behind them."""

from __future__ import annotations

import itertools

import pytest

from wattwright import kinds
from wattwright.physics import ampacity, conductor, short_circuit_cable
from wattwright.tables import load
from wattwright.units import read

ICE = 273.15
KIND_OF = {
    "resistivity": kinds.RESISTIVITY,
    "coefficient": kinds.TEMPERATURE_COEFFICIENT,
    "heat capacity": kinds.HEAT_CAPACITY_BY_VOLUME,
    "density": kinds.DENSITY,
}


@pytest.mark.parametrize(
    ("name", "size", "columns", "grows"),
    [
        (
            "conductors_iec_60228",
            "size_mm2",
            ("solid_or_stranded_ohm_per_km", "flexible_ohm_per_km", "flexible_tinned_ohm_per_km"),
            False,
        ),
        ("ampacity_nec_310_16", "", ("at_60C_A", "at_75C_A", "at_90C_A"), True),
    ],
)
def test_columns_go_one_way(name: str, size: str, columns: tuple[str, ...], grows: bool) -> None:
    rows = list(load(name))
    if size:
        sizes = [row.number(size) for row in rows]
        assert sizes == sorted(sizes)
    for column in columns:
        numbers = [row.number(column) for row in rows]
        assert numbers == sorted(set(numbers), reverse=not grows), column
    assert all(row.limits for row in rows)


def test_what_is_tinned_or_fine_conducts_less_but_for_one_known_row() -> None:
    for row in load("conductors_iec_60228"):
        assert row.number("flexible_tinned_ohm_per_km") > row.number("flexible_ohm_per_km")
        finer = row.number("flexible_ohm_per_km") > row.number("solid_or_stranded_ohm_per_km")
        assert finer == (row.cells["size_mm2"] != "50")
        solid = conductor.resistance_of_length(17.241e-9, 1e3, row.number("size_mm2") * 1e-6)
        assert 1.0 < row.number("solid_or_stranded_ohm_per_km") / solid < 1.13


def test_hotter_conductors_carry_more_and_gauges_are_read() -> None:
    for row in load("ampacity_nec_310_16"):
        assert row.number("at_60C_A") < row.number("at_75C_A") < row.number("at_90C_A")
        assert read(f"{row.cells['awg']} AWG", kinds.WIRE_SIZE).number > 0


@pytest.mark.parametrize("name", ["ampacity_iec_60364_5_52", "cord_ampacity_nec_400_5"])
def test_more_loaded_conductors_carry_less(name: str) -> None:
    by_case: dict[tuple[str, str], dict[str, float]] = {}
    for row in load(name):
        case = (row.cells.get("size_mm2") or row.cells["awg"], row.cells.get("method", ""))
        by_case.setdefault(case, {})[row.cells["loaded"]] = row.number("current_A")
    pairs = [case for case in by_case.values() if len(case) == 2]
    assert len(pairs) >= 5
    assert all(case["3"] < case["2"] for case in pairs)


def test_a_cable_on_a_wall_carries_more_than_in_a_conduit() -> None:
    table = load("ampacity_iec_60364_5_52")
    for row in table:
        if row.cells["method"] == "B2":
            on_wall = table.row(row.cells["row"].replace("B2", "C"))
            assert on_wall.number("current_A") > row.number("current_A")
            assert row.limits == (row.cells["loaded"] == "3")


def test_factors_for_warm_air_follow_the_rule_behind_them() -> None:
    for row in load("ambient_factors"):
        rule = ampacity.ambient_factor(
            ICE + row.number("conductor_C"), ICE + row.number("air_C"), ICE + 30
        )
        assert row.number("factor") == pytest.approx(rule, abs=0.0075), row.cells


def test_k_follows_its_formula() -> None:
    for row in load("adiabatic_k"):
        k = short_circuit_cable.copper_density(
            ICE + row.number("start_C"), ICE + row.number("end_C")
        )
        assert row.number("k") == pytest.approx(k / 1e6, abs=0.6)
        assert not row.limits


def test_more_cables_and_more_layers_take_off_more() -> None:
    for name in ("NFPA 70", "IEC 60364-5-52"):
        rows = [row for row in load("grouping_factors") if row.cells["row"].startswith(name)]
        factors = [row.number("factor") for row in rows]
        assert factors == sorted(set(factors), reverse=True)
        starts = [row.number("from") for row in rows]
        assert starts == sorted(starts)
    layers = [row for row in load("drum_factors") if row.cells["layers"]]
    factors = [row.number("factor") for row in layers]
    assert factors == sorted(factors, reverse=True)
    assert all(0 < row.number("factor") < 1 for row in load("drum_factors"))


def test_metals_are_read_with_their_units_and_agree_with_k() -> None:
    table = load("conductor_metals")
    found = {}
    for row in table:
        metal, _, quantity = row.cells["quantity"].partition(" ")
        found[metal, quantity] = read(row.cells["value"], KIND_OF[quantity]).number
        assert metal == row.cells["metal"]
    for metal, k, beta in (("copper", 226e6, 234.5), ("aluminium", 148e6, 228.0)):
        capacity = found[metal, "heat capacity"] * (beta + 20)
        assert (capacity / found[metal, "resistivity"]) ** 0.5 == pytest.approx(k, rel=2e-3)
        assert 1 / found[metal, "coefficient"] == pytest.approx(beta + 20, rel=2e-3)


def test_fuses_open_sooner_at_more_current() -> None:
    rows = list(load("fuse_gates_iso_8820"))
    for _, group in itertools.groupby(rows, key=lambda row: row.cells["fuse"]):
        gates = list(group)
        percents = [row.number("percent") for row in gates]
        assert percents == sorted(set(percents))
        least = [row.number("least_s") for row in gates]
        assert least == sorted(least, reverse=True)
        most = [row.number("most_s") for row in gates if row.cells["most_s"]]
        assert most == sorted(most, reverse=True)
        assert all(
            row.number("least_s") < row.number("most_s") for row in gates if row.cells["most_s"]
        )
    assert not any(row.limits for row in rows)


def test_ducts_and_insulations_are_complete() -> None:
    for row in load("duct_constants"):
        assert min(row.number(column) for column in ("u_K_m_per_W", "v", "y_per_K")) > 0
    for row in load("insulation_heat"):
        assert 3 < row.number("thermal_resistivity_K_m_per_W") < 7
        assert 1 < row.number("heat_capacity_MJ_per_K_m3") < 3
    hottest = [row.number("hottest_C") for row in load("insulation_limits")]
    assert hottest[4:] == [85, 100, 125, 150, 175, 200, 225, 250]
