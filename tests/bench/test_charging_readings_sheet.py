"""Sheet of the inlet: what stands on it for each kind, and that it needs no assessed area."""

from __future__ import annotations

import pytest

from builders import SMALL, assessed, opened
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import sheet

BOX = {"supply_box.barn.pilot": '"16 A"', "supply_box.long_post.pilot": '"32 A"'}


def made(changes: dict[str, str | None]) -> Sheet:
    texts = {**SMALL, **BOX, **changes}
    return sheet("charging_readings", opened(texts).build, assessed(texts, areas=()))


def expected(found: Sheet, name: str) -> float:
    line = found.line(name)
    assert line is not None
    assert line.expected is not None
    assert line.expected.number is not None
    return line.expected.number


def test_type_2_dead_at_the_bench_and_at_each_box() -> None:
    found = made({"charging.inlet.kind": '"type_2"', "charging.inlet.diode": '"0.7 V, measured"'})
    names = [line.name for line in found.lines]
    assert names[:5] == ["earth", "barn_coding", "long_post_coding", "diode", "diode_turned"]
    assert names.index("bench_supply") < names.index("bench_turned") < names.index("barn_alone")
    assert not [name for name in names if "proximity" in name or "handle" in name]
    for name, level in (
        ("bench_plugged", 8.98),
        ("bench_asking", 6.0),
        ("bench_turned", -12.0),
        ("barn_alone", 12.0),
        ("barn_frequency", 1000.0),
        ("barn_duty", 0.2667),
        ("barn_plugged_mean", -6.4),
        ("long_post_asking_mean", -2.4),
        ("ohms_asking", 882.0),
    ):
        assert expected(found, name) == pytest.approx(level, rel=2e-3), name
    earth = found.line("earth")
    assert earth is not None
    assert earth.path == "charging.inlet.earth"
    assert earth.expects("metric") == "at most 100 mΩ"
    turned = found.line("bench_turned")
    assert turned is not None
    assert "diode" in turned.stop_if


def test_type_1_reads_connector_and_proximity_and_codes_nothing() -> None:
    found = made({"charging.inlet.kind": '"type_1"'})
    assert expected(found, "handle_latched") == pytest.approx(150.0)
    assert expected(found, "proximity_volts_pressed") == pytest.approx(2.763, rel=1e-3)
    assert not [line for line in found.lines if line.name.endswith("_coding")]


def test_an_inlet_without_a_pilot_says_so_and_keeps_its_earth() -> None:
    found = made({"charging.inlet.kind": '"industrial"'})
    assert [line.name for line in found.lines] == ["earth", "no_pilot"]


def test_what_is_not_known_expects_nothing() -> None:
    unknown = dict.fromkeys(("charging.inlet.pilot_plugged", "supply_box.barn.pilot"), '"unknown"')
    found = made({**unknown})
    for name in ("bench_plugged", "barn_duty", "barn_plugged_mean"):
        line = found.line(name)
        assert line is not None
        assert line.expects("metric") == ""


def test_nobody_is_sent_to_open_anything_and_the_bench_is_fused() -> None:
    found = made({})
    assert any("Nobody opens a supply box" in caution for caution in found.cautions)
    assert any("fused at 1 A" in caution for caution in found.cautions)
    assert any("mains pins" in caution for caution in found.cautions)
