"""What a cord laid out, or a thicker one, would make of an outlet."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.charging.chain import Scene, described_outlet
from wattwright.build.outlets import Cord, Outlet
from wattwright.descriptions.charging import LAID_OUT, THICKER, OutletFound
from wattwright.kinds import WIRE_SIZE
from wattwright.tables import load
from wattwright.units import read
from wattwright.values import constant, nonexistent

# A section has to be so much larger to be the next one.
_LARGER = 1.05


def with_other_cords(name: str, outlet: Outlet, scene: Scene) -> Iterator[tuple[str, OutletFound]]:
    """Yield the outlet as it would be: each cord laid out, each a size thicker and laid out."""
    for each in outlet.cord_names:
        cord = scene.cords.get(each)
        if cord is None:
            continue
        if cord.wound:
            yield f"{each}{LAID_OUT}", _with(name, outlet, scene, each, _laid_out(cord))
        thicker = _thicker(cord)
        if thicker is not None:
            yield f"{each}{THICKER}", _with(name, outlet, scene, each, thicker)


def _with(name: str, outlet: Outlet, scene: Scene, each: str, cord: Cord) -> OutletFound:
    cords = {**scene.cords, each: cord}
    return described_outlet(name, outlet, Scene(scene.aboard, scene.pack, cords, scene.boxes))


def _laid_out(cord: Cord) -> Cord:
    """The same cord without its reel: what is printed for it wound up no longer counts."""
    return cord.model_copy(update={"wound": False, "printed": nonexistent(cord.printed.kind)})


def _thicker(cord: Cord) -> Cord | None:
    """The next published section of the same length, laid out; none where there is none."""
    if cord.section.number is None:
        return None
    for row in load("conductors_iec_60228"):
        text = f"{row.cells['size_mm2']} mm²"
        size = read(text, WIRE_SIZE).number
        if size > cord.section.number * _LARGER:
            section = constant(WIRE_SIZE, size, f"a cord of {text}")
            usual = nonexistent(cord.outside.kind)
            update = {"section": section, "outside": usual}
            return _laid_out(cord).model_copy(update=update)
    return None
