"""Adaptor plates for tests: text of a build that holds one, places chosen by hand.

Four holes to the motor on the corners of a square of 100 mm about datum B, threads in the motor;
four holes to the gearbox on the corners of a rectangle of 240 mm by 180 mm, threads in the plate,
and two dowels beside them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from couplings import Tables, built
from wattwright.assessment import Assessment, assess

Point = tuple[float, float]

# In mm from datum B, seen from the motor's side.
MOTOR = {"1": (50.0, -50.0), "2": (-50.0, -50.0), "3": (-50.0, 50.0), "4": (50.0, 50.0)}
GEARBOX = {
    "1": (-120.0, -90.0),
    "2": (120.0, -90.0),
    "3": (120.0, 90.0),
    "4": (-120.0, 90.0),
    "5": (125.0, 10.0),
    "6": (-125.0, -15.0),
}
THREAD_IN_MOTOR = {
    "diameter": "8.5 mm ± 0, measured",
    "bolt": "10 mm ± 0, measured",
    "drill": "11 mm",
    "depth": "none",
}
THREAD_IN_PLATE = {
    "diameter": "13 mm ± 0, measured",
    "bolt": "12 mm ± 0, measured",
    "drill": "10.2 mm",
    "thread": "M12 × 1.75 - 6H",
    "depth": "none",
}
DOWEL = {"diameter": "12 mm, measured", "bolt": "none", "fit": "dowel", "depth": "15 mm"}
FIT = {"hole_class": "H7", "shaft_class": "h6"}


def distances(places: Mapping[str, Point]) -> dict[str, str]:
    """Every distance between two holes, exact."""
    names = sorted(places)
    return {
        f"{a}-{b}": f"{math.dist(places[a], places[b]):.6f} mm ± 0.001, measured"
        for a in names
        for b in names
        if a < b
    }


def plate(changes: Mapping[str, Mapping[str, str | None] | None] | None = None) -> Tables:
    """Tables of a build with a plate; a change of None leaves a field or a table out."""
    tables: dict[str, dict[str, str]] = {
        "coupling.run_out": {
            "limit": "0.05 mm",
            "flange": "0.02 mm ± 0, measured",
            "face_radius": "100 mm ± 0, measured",
            "reach": "50 mm ± 0, measured",
        },
        "coupling.faces": {"before": "none", "plate": "22 mm ± 0.01, measured"},
        "coupling.fit.spigot": {"nominal": "80 mm", **FIT},
        "coupling.fit.dowel": {"nominal": "12 mm", **FIT},
        "coupling.adaptor": {
            "datum": "spigot",
            "outside": "320 mm",
            "material": "steel",
            "flatness": "0.02 mm",
            "dowel_position": "0.012 mm",
            "face_share": "50 %",
        },
        "coupling.adaptor.feature.spigot": {"fit": "spigot", "depth": "none"},
        "coupling.adaptor.motor_holes": {
            "pattern": "motor_face",
            "looking": "to the motor",
            "x": "50 mm ± 0, measured",
            "y": "-50 mm ± 0, measured",
            "turn": "180° ± 0, measured",
        },
        "coupling.adaptor.gearbox_holes": {
            "pattern": "housing",
            "looking": "to the gearbox",
            "x": "-120 mm ± 0, measured",
            "y": "-90 mm ± 0, measured",
            "turn": "0° ± 0, measured",
        },
        "pattern.motor_face": {"zero": "1", "along": "2", "above": "3"},
        "pattern.motor_face.centres": distances(MOTOR),
        **{f"pattern.motor_face.hole.{each}": dict(THREAD_IN_MOTOR) for each in MOTOR},
        "pattern.housing": {"zero": "1", "along": "2", "above": "3"},
        "pattern.housing.centres": distances(GEARBOX),
        **{f"pattern.housing.hole.{each}": dict(THREAD_IN_PLATE) for each in "1234"},
        **{f"pattern.housing.hole.{each}": dict(DOWEL) for each in "56"},
    }
    for name, fields in (changes or {}).items():
        if fields is None:
            del tables[name]
            continue
        table = tables.setdefault(name, {})
        for field, words in fields.items():
            if words is None:
                del table[field]
            else:
                table[field] = words
    return tables


def plated(changes: Mapping[str, Mapping[str, str | None] | None] | None = None) -> Assessment:
    return assess(built(plate(changes)))
