"""The unit on its three mounts with a motor that pulls on them: 60 kg in the middle of these."""

from __future__ import annotations

from builders import DRIVEN, ELECTRIC, SMALL
from hung import HUNG
from wattwright.build.reader import Opened, parse_build

# Middle of the mounts, back.
MIDDLE = (0.7 + 1.2 + 1.2) / 3
RATED = {
    f"mounts.mount.{name}.{field}": text
    for name in ("front", "left", "right")
    for field, text in (
        ("rated", '"6000 N, datasheet"'),
        ("holds", '"15000 N, datasheet"'),
        ("stiffness", '"300 N/mm ± 0, datasheet"'),
    )
}
UNIT = {
    "mounts.unit": '"motor"',
    "part.motor.mass": '"60 kg ± 0.5, measured"',
    "part.motor.at.x": f'"{MIDDLE:.9f} m ± 0, measured"',
    "part.motor.at.y": '"0 m ± 0, measured"',
    "part.motor.at.z": '"0.4 m ± 0, measured"',
    "mounts.jolts.bump": '"4 g ± 0, datasheet"',
    "mounts.jolts.braking": '"1 g ± 0, datasheet"',
    "mounts.jolts.cornering": '"1 g ± 0, datasheet"',
}
BASE: dict[str, str] = {**SMALL, **ELECTRIC, **DRIVEN, **HUNG, **RATED, **UNIT}


def loaded_build(changes: dict[str, str | None] | None = None) -> Opened:
    """Read the build, with changes; a change to None leaves the value out."""
    lines = {**BASE, **(changes or {})}
    text = "".join(f"{path} = {value}\n" for path, value in lines.items() if value is not None)
    return parse_build(text.encode())
