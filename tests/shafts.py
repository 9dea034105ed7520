"""A propshaft with round numbers on a small build whose drive has round numbers, to be changed.

Gearbox 3° down at the tail, shaft 6° down, pinion 3° down: two joints of 3°. Tyre 2 m round, final
drive 4, top speed 90 km/h: the shaft turns 50 times a second.
"""

from __future__ import annotations

from builders import ELECTRIC, SMALL, opened
from wattwright.build.reader import Opened

SHAFT: dict[str, str] = {
    "propshaft.main.axis.1_gearbox.rise": '"-3° ± 0, measured"',
    "propshaft.main.axis.1_gearbox.turn": '"0° ± 0, measured"',
    "propshaft.main.axis.2_shaft.rise": '"-6° ± 0, measured"',
    "propshaft.main.axis.2_shaft.turn": '"0° ± 0, measured"',
    "propshaft.main.axis.2_shaft.length": '"1500 mm ± 0, measured"',
    "propshaft.main.axis.2_shaft.diameter": '"76.2 mm ± 0, measured"',
    "propshaft.main.axis.2_shaft.wall": '"2.11 mm ± 0, measured"',
    "propshaft.main.axis.2_shaft.phase_error": '"0° ± 0, measured"',
    "propshaft.main.axis.3_pinion.rise": '"-3° ± 0, measured"',
    "propshaft.main.axis.3_pinion.turn": '"0° ± 0, measured"',
    "propshaft.main.laden.by": '"none"',
    "propshaft.main.bump.by": '"80 mm ± 0, measured"',
    "propshaft.main.bump.back": '"0 mm ± 0, measured"',
    "propshaft.main.bump.nose_up": '"0° ± 0, measured"',
    "propshaft.main.droop.by": '"90 mm ± 0, measured"',
    "propshaft.main.droop.back": '"0 mm ± 0, measured"',
    "propshaft.main.droop.nose_up": '"0° ± 0, measured"',
    "propshaft.main.wind_up": '"4° ± 0, measured"',
    "propshaft.main.nose_length": '"250 mm ± 0, measured"',
    "propshaft.main.slip_range": '"70 mm ± 0, measured"',
    "propshaft.main.slip_at_ride": '"30 mm ± 0, measured"',
    "propshaft.main.youngs_modulus": '"206 GPa ± 0, measured"',
    "propshaft.main.density": '"7850 kg/m³ ± 0, measured"',
    **{
        f"propshaft.main.{field}": f'"{text}"'
        for field, text in (
            ("angle_running", "3.5°"),
            ("angle_most", "15°"),
            ("angle_least", "0.5°"),
            ("torsion_limit", "400 rad/s²"),
            ("inertia_limit", "1000 rad/s²"),
            ("critical_share", "75 %"),
            ("slip_spare", "10 mm"),
        )
    },
}
ROAD: dict[str, str] = {
    "drive.rolling_circumference": '"2 m ± 0, measured"',
    "drive.final_ratio": '"4 ± 0, measured"',
    "targets.top_speed": '"90 km/h"',
}
BASE: dict[str, str] = {**SMALL, **ELECTRIC, **ROAD, **SHAFT}
_SECOND = "propshaft.main.axis.3_rear"
# A front shaft on a bearing, then one that swings.
TWO_SHAFTS: dict[str, str | None] = {
    **{path: None for path in SHAFT if ".3_pinion." in path},
    f"{_SECOND}.rise": '"-5° ± 0, measured"',
    f"{_SECOND}.turn": '"0° ± 0, measured"',
    f"{_SECOND}.length": '"1000 mm ± 0, measured"',
    f"{_SECOND}.diameter": '"50.8 mm ± 0, measured"',
    f"{_SECOND}.wall": '"1.65 mm ± 0, measured"',
    f"{_SECOND}.phase_error": '"0° ± 0, measured"',
    "propshaft.main.axis.4_pinion.rise": '"-3° ± 0, measured"',
    "propshaft.main.axis.4_pinion.turn": '"0° ± 0, measured"',
}


def shafted(changes: dict[str, str | None] | None = None) -> Opened:
    """Read the build, with changes; a change to None leaves the value out."""
    return opened(changes, BASE)
