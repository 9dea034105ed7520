"""The mass of a part: as typed, or of a power cable what follows from its wire."""

from __future__ import annotations

from wattwright.areas.wired import of_metal, outside_of
from wattwright.build.cables import Cable
from wattwright.build.parts import Part
from wattwright.build.presence import said
from wattwright.kinds import DENSITY
from wattwright.physics import conductor
from wattwright.units import read
from wattwright.values import Given, Lack, Origin, Value, given, worked

# Plastic and rubber with a thin shield in it; common practice.
_COVER, _COVER_BAND = "1500 kg/m³", "400 kg/m³"


def mass_of(part: Part) -> Value:
    """Take the mass of one, typed where it is."""
    if isinstance(part, Cable) and not said(part.mass):
        return _by_wire(part, part.mass.lacks[0])
    return part.mass


def _by_wire(cable: Cable, lack: Lack) -> Value:
    """Mass of all its conductors; lugs, glands and conduit come on top."""
    wire, path = cable.wire, lack.path.removesuffix(".mass")
    cover = Given(
        lack.path,
        f"{lack.label}: density of insulation and shield",
        Origin.TYPICAL,
        _COVER,
        read(_COVER_BAND, DENSITY).number,
        f"± {_COVER_BAND}, common practice",
        how=lack.how,
        minutes=lack.minutes,
    )
    one = worked(
        conductor.covered_mass_per_length,
        wire.section,
        of_metal(wire, "density", DENSITY),
        worked(conductor.solid_diameter, wire.section),
        outside_of(wire, f"{path}.wire"),
        given(DENSITY, read(_COVER, DENSITY).number, cover),
    )
    return worked(conductor.mass_of_cables, one, wire.length, cable.conductors)
