"""Couplings and rings for tests: text of a build that holds some."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, parse_build
from wattwright.findings import Finding

Tables = Mapping[str, Mapping[str, str]]

RUN_OUT = {
    "spigot_offset": "0.04 mm ± 0.002, measured",
    "flange": "0.03 mm ± 0.002, measured",
    "face": "none",
    "limit": "0.05 mm",
}
SPIGOT = {
    "nominal": "100 mm",
    "hole_class": "H7",
    "shaft_class": "g6",
    "hole": "100.020 mm ± 0.002, measured",
    "shaft": "99.980 mm ± 0.002, measured",
}
# Steel of 11.7 and aluminium of 23 over 300 mm, both 50 K warmer.
END_FLOAT = {
    "cold": "0.8 mm ± 0.01, measured",
    "length": "300 mm ± 1, measured",
    "shaft_expansion": "11.7 µm/(m·K) ± 0.1, datasheet",
    "housing_expansion": "23 µm/(m·K) ± 0.1, datasheet",
    "shaft_warmer": "50 K ± 1, measured",
    "housing_warmer": "50 K ± 1, measured",
    "least": "0.5 mm",
    "most": "1.5 mm",
}
# A groove and a ring as DIN 471 has them for 18 mm.
RING = {
    "on": "shaft",
    "diameter": "18.00 mm ± 0.01, measured",
    "groove": "16.95 mm ± 0.02, measured",
    "width": "1.35 mm ± 0.01, measured",
    "edge": "3.0 mm ± 0.1, measured",
    "thickness": "1.20 mm ± 0.01, measured",
    "free": "16.5 mm ± 0.05, measured",
    "ear": "4.2 mm ± 0.05, measured",
    "room": "6 mm ± 0.1, measured",
    "load": "2000 N ± 100, computed",
    "strength": "200 MPa ± 1, datasheet",
}


def built(tables: Tables) -> Opened:
    rows = ["format = 1", "[build]", 'name = "Joined"']
    for table, fields in tables.items():
        rows += [f"[{table}]", *(f'{key} = "{text}"' for key, text in fields.items())]
    return parse_build("\n".join(rows).encode("utf-8"))


def assessed(tables: Tables) -> Assessment:
    return assess(built(tables))


def finding(assessment: Assessment, address: str) -> Finding:
    said = assessment.by_address[address]
    assert isinstance(said, Finding)
    return said


def number(assessment: Assessment, address: str) -> float:
    value = assessment.by_address[address].value.number
    assert value is not None
    return value
