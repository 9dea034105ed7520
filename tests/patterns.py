"""Hole patterns for tests: the six holes of a measured pattern, and builds that hold some.

The fifteen distances were made outside this program: true distances of the six points below plus
normal noise of 0.15 mm, rounded to 0.01 mm, by a general-purpose library with a stated seed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, parse_build

# True places in mm, in the axes they were chosen in.
TRUE = {
    "1": (0.0, 0.0),
    "2": (152.4, 8.5),
    "3": (248.0, 96.2),
    "4": (201.3, 224.6),
    "5": (61.7, 251.9),
    "6": (-42.5, 131.0),
}
# Distances in mm as read, sigma 0.15 mm.
READ = {
    "1-2": 152.59,
    "1-3": 265.86,
    "1-4": 301.68,
    "1-5": 259.41,
    "1-6": 137.66,
    "2-3": 129.72,
    "2-4": 221.29,
    "2-5": 259.62,
    "2-6": 230.23,
    "3-4": 136.72,
    "3-5": 242.80,
    "3-6": 292.45,
    "4-5": 142.19,
    "4-6": 261.23,
    "5-6": 159.40,
}
SIGMA = 0.15
# Half-width of 95 % of that sigma.
BAND = "0.294"
HOLE = {"diameter": '"11 mm ± 0.1, measured"', "bolt": '"10 mm ± 0.05, measured"'}
PAIRS = tuple((int(key[0]) - 1, int(key[2]) - 1) for key in READ)


def true_distance(key: str) -> float:
    return math.dist(TRUE[key[0]], TRUE[key[2]])


def pattern(
    name: str = "plate",
    readings: Mapping[str, float] | None = None,
    plain: Mapping[str, str] | None = None,
    hole: Mapping[str, str] | None = None,
    tables: Mapping[str, Mapping[str, str]] | None = None,
    band: str = BAND,
) -> str:
    """Text of a pattern; ``plain`` are its own fields, ``tables`` readings of edges."""
    read = READ if readings is None else readings
    holes = sorted({each for key in read for each in key.split("-")})
    rows = [f"[pattern.{name}]", *(f"{key} = {text}" for key, text in (plain or {}).items())]
    if read:
        rows += [f"[pattern.{name}.centres]", 'origin = "measured, calipers, 2026-05-01"']
        rows += [f'{key} = "{mm:.5f} mm ± {band}"' for key, mm in read.items()]
    for table, more in (tables or {}).items():
        rows += [f"[pattern.{name}.{table}]", 'origin = "measured, calipers, 2026-05-01"']
        rows += [f"{key} = {text}" for key, text in more.items()]
        holes = sorted({*holes, *(each for key in more for each in key.split("-"))})
    for each in holes:
        rows.append(f"[pattern.{name}.hole.{each}]")
        rows += [f"{key} = {text}" for key, text in (HOLE if hole is None else hole).items()]
    return "\n".join(rows) + "\n"


def built(*patterns: str) -> Opened:
    text = 'format = 1\n[build]\nname = "Holes"\n' + "".join(patterns)
    return parse_build(text.encode("utf-8"))


def assessed(*patterns: str) -> Assessment:
    return assess(built(*patterns))
