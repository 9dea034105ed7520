"""Keys and bolts of standard sizes: what belongs to a shaft, what a bolt in hand is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from wattwright.areas.listed import shown_cell
from wattwright.areas.mounts import coupling_checks as checks
from wattwright.build.joints import Flange, Key
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH
from wattwright.physics import fits, thread
from wattwright.tables import Row, load
from wattwright.units import read, write
from wattwright.values import Lack, Value, constant, lacking, worked

# Keys are drawn to hundredths, and calipers read a tenth on a key that has been in use.
_KEY_WITHIN = constant(LENGTH, read("0.1 mm", LENGTH).number, "what calipers tell apart on a key")
# A shank is up to a quarter of a millimetre under its name, and so is a core under its profile.
_BOLT_WITHIN = constant(LENGTH, read("0.3 mm", LENGTH).number, "what a bolt is under its name")


def judge_key_size(own: Key) -> Iterator[Finding | Figure]:
    """State whether the key is that which the standard has for its shaft."""
    row = _key_row(own.diameter.number)
    if row is None:
        width = height = lacking(LENGTH, _no_key(own.diameter))
    else:
        width = _cell("parallel_keys", row, "width_mm", "width of the key")
        height = worked(
            fits.key_in_hub,
            _cell("parallel_keys", row, "height_mm", "height of the key"),
            _cell("parallel_keys", row, "shaft_depth_mm", "depth of the shaft's slot"),
        )
    yield checks.KEY_SIZE.within(worked(fits.play, own.width, width), _KEY_WITHIN)
    yield checks.KEY_WIDTH.of(width)
    yield checks.KEY_IN_HUB.of(height)


def judge_bolt_size(own: Flange) -> Iterator[Finding]:
    """State which bolt of a standard comes nearest, by its shank or by its core."""
    off = own.bolt
    if off.number is not None:
        near = sorted(_bolts(), key=lambda each: abs(each.size - (off.number or 0.0)))
        close = abs(near[0].size - off.number) <= (_BOLT_WITHIN.number or 0.0)
        nominal = near[0].nominal() if close else lacking(LENGTH, _no_bolt(own.bolt, near))
        off = worked(fits.play, own.bolt, nominal)
    yield checks.BOLT_SIZE.within(off, _BOLT_WITHIN)


@dataclass(frozen=True, slots=True)
class _Bolt:
    """A bolt as calipers find it: over its shank, or over the core of its thread."""

    row: Row
    core: bool

    @property
    def name(self) -> str:
        """What it is called."""
        return f"{'core' if self.core else 'shank'} of {self.row.cells['bolt']}"

    @property
    def size(self) -> float:
        """Its diameter in SI."""
        diameter, pitch = (_in_mm(self.row, c) for c in ("diameter_mm", "pitch_mm"))
        return thread.core_diameter(diameter, pitch) if self.core else diameter

    def nominal(self) -> Value:
        """Its diameter as a value, with where it is from."""
        name = self.row.cells["bolt"]
        diameter = _cell("bolt_threads", self.row, "diameter_mm", f"diameter of {name}")
        if not self.core:
            return diameter
        pitch = _cell("bolt_threads", self.row, "pitch_mm", f"pitch of {name}")
        return worked(thread.core_diameter, diameter, pitch)


@cache
def _bolts() -> tuple[_Bolt, ...]:
    """List every bolt twice: by its shank first, and by the core of its thread."""
    rows = list(load("bolt_threads"))
    return tuple(_Bolt(row, core) for core in (False, True) for row in rows)


def _no_bolt(measured: Value, near: Sequence[_Bolt]) -> Lack:
    words = " and ".join(f"{each.name}, {write(each.size, LENGTH)}" for each in near[:2])
    why = f"no bolt here measures {write(measured.number or 0.0, LENGTH)}; nearest are {words}"
    how = "calipers over the shank or the core again; a bolt of no standard has no known strength"
    return Lack("coupling.flange.bolt", "coupling flange: diameter of a bolt", why, how, 5.0)


def _key_row(diameter: float | None) -> Row | None:
    """Find the row a shaft falls into: over one size, up to another."""
    for row in load("parallel_keys"):
        over, to = (_in_mm(row, c) for c in ("over_mm", "to_mm"))
        if diameter is not None and over * (1 + 1e-9) < diameter <= to * (1 + 1e-9):
            return row
    return None


def _no_key(diameter: Value) -> Lack:
    if diameter.number is None:
        return diameter.lacks[0]
    rows = list(load("parallel_keys"))
    low, high = rows[0].cells["over_mm"], rows[-1].cells["to_mm"]
    why = f"{write(diameter.number, LENGTH)} is outside of the table here, {low} to {high} mm"
    how = "measure it again; where it is so, hold the key against DIN 6885-1 yourself"
    return Lack("coupling.key.diameter", "coupling key: diameter of the shaft", why, how, 5.0)


def _in_mm(row: Row, column: str) -> float:
    return read(f"{row.cells[column]} mm", LENGTH).number


def _cell(table: str, row: Row, column: str, label: str) -> Value:
    return shown_cell(LENGTH, table, row, column, label)
