"""A traction cable of 35 mm² behind a main fuse, on the small build made electric."""

from __future__ import annotations

from builders import ELECTRIC, SMALL
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, parse_build

# I²t of 16 MA²s at every current.
CURVE = "current (A), time (s)\n2000, 4\n4000, 1\n"
CABLED: dict[str, str] = {
    **SMALL,
    **ELECTRIC,
    "part.main.kind": '"fuse"',
    "part.main.mass": '"1 kg ± 0.1, measured"',
    "part.main.voltage_low": '"none"',
    "part.main.voltage_high": '"500 V, datasheet"',
    "part.main.current": '"200 A, datasheet"',
    "part.main.breaks": '"10 kA, datasheet"',
    "part.main.opening_curve": '"fuse.csv ± 0 %, datasheet"',
    "part.traction.kind": '"cable"',
    "part.traction.begins": '"pack"',
    "part.traction.ends": '"inverter"',
    "part.traction.rated_voltage": '"600 V, datasheet"',
    "part.traction.warmest": '"30 °C ± 0, measured"',
    "part.traction.carries": '"150 A, datasheet"',
    "part.traction.peak": '"none"',
    "part.traction.fuse": '"main"',
    "part.traction.lug_contact": '"0.02 mΩ ± 0, measured"',
    "part.traction.bend": '"60 mm ± 0, measured"',
    "part.traction.clips": '"250 mm ± 0, measured"',
    "part.traction.wire.section": '"35 mm², datasheet"',
    "part.traction.wire.length": '"2 m ± 0, measured"',
    "part.traction.wire.insulation": '"xlpe"',
    "part.traction.wire.outside": '"10.5 mm ± 0, measured"',
    **{
        f"part.{name}.at.{axis}": f'"{place} m ± 0, measured"'
        for name in ("main", "traction")
        for axis, place in (("x", 0.5), ("y", 0), ("z", 0.8))
    },
}


def cabled_build(changes: dict[str, str | None] | None = None, curve: str = CURVE) -> Opened:
    """Read that build, with changes; a change to None leaves the value out."""
    lines = {**CABLED, **(changes or {})}
    text = "".join(f"{path} = {value}\n" for path, value in lines.items() if value is not None)
    return parse_build(text.encode(), read_file={"fuse.csv": curve.encode()}.__getitem__)


def cabled(changes: dict[str, str | None] | None = None, curve: str = CURVE) -> Assessment:
    """Assess it."""
    return assess(cabled_build(changes, curve))
