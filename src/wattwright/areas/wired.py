"""A run of cable as values: its resistance, how warm it gets, how much it may carry.

Not an area: every area with a cable of its own takes it from here, so that one physics and one
table serve mains wiring, cords and the cables of the vehicle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wattwright.areas.listed import from_table
from wattwright.build.conductors import Wire
from wattwright.cable_over_time import Warming
from wattwright.cylinder_in_air import CableInAir
from wattwright.kinds import (
    COUNT,
    FRACTION,
    HEAT_CAPACITY_BY_VOLUME,
    RATIO,
    RESISTANCE_PER_LENGTH,
    RESISTIVITY,
    TEMPERATURE,
    TEMPERATURE_COEFFICIENT,
    THERMAL_RESISTANCE_OF_LENGTH,
    THERMAL_RESISTIVITY,
    WIRE_SIZE,
    Kind,
)
from wattwright.physics import (
    ampacity,
    cable_heat,
    cable_paths,
    cable_warming,
    charge_chain,
    conductor,
)
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import Given, Origin, Value, constant, either, given, worked

# How close a section has to be to a published one to be taken for it.
_SAME = 0.02
_INSULATION = {
    "pvc": ("PVC", "PVC, up to 3 kV"),
    "rubber": ("rubber, ordinary", "rubber"),
    "xlpe": ("XLPE or EPR", "polyethylene or XLPE"),
    "silicone": ("silicone rubber", "rubber"),
}
_EMISSIVITY = constant(FRACTION, 0.9, "plastic and rubber of any colour")
_GUESS = constant(TEMPERATURE, read("50 °C", TEMPERATURE).number, "a guess to begin with")
_IN_A_BUNDLE = constant(
    THERMAL_RESISTIVITY,
    read("8 K·m/W", THERMAL_RESISTIVITY).number,
    "wires and gaps, common practice",
)
OUT_AND_BACK = constant(COUNT, 2.0, "out and back")
ONE_WAY = constant(COUNT, 1.0, "three phases, nothing in the neutral")
_DUCT = "plastic"
# Share of the outside that gives heat, and how far that may be off. Of two and three that touch
# by IEC 60287-2-1; of a cable in a lagged wall by the ratings of IEC 60364-5-52 for it, which are
# three quarters of those for one on the wall.
_FREE = {
    "free 1": ("95 %", "5 %", "alone in still air"),
    "free 2": ("70 %", "5 %", "two that touch"),
    "free 3": ("55 %", "5 %", "three that touch"),
    "bundle": ("83 %", "12 %", "a bundle against something"),
    "conduit": ("83 %", "10 %", "a tube on a wall"),
    "wall": ("45 %", "15 %", "inside a lagged wall"),
}
# The table of reels ends there.
_LAYERS = 4
# More than these count as a bundle.
_TOUCHING = 3


@dataclass(frozen=True, slots=True, eq=False)
class Wired:
    """A run of cable, ready to carry a current.

    ``per_length`` and ``coefficient`` are of one conductor, ``inner`` the path of its heat to the
    outside whose diameter is ``outside``; ``loaded`` conductors heat it. ``capacity`` is the heat
    that one conductor keeps, its insulation left out for the safe side; ``capacity_in_minutes``
    counts what of the insulation gets warm with it within minutes.
    """

    length: Value
    per_length: Value
    coefficient: Value
    inner: Value
    loaded: Value
    outside: Value
    free: Value
    ambient: Value
    limit: Value
    capacity: Value
    capacity_in_minutes: Value
    reel: Value | None = None

    def allows(self) -> Value:
        """Current that it carries for hours without passing what its insulation bears."""
        laid_out = worked(cable_heat.ampacity, self.limit, *self._heat)
        return laid_out if self.reel is None else worked(ampacity.derated, laid_out, (self.reel,))

    def warm(self, current: Value) -> Value:
        """Temperature of its conductors after hours of a current."""
        if self.reel is None:
            return worked(cable_heat.steady_temperature, current, *self._heat)
        return worked(
            charge_chain.reel_temperature, self.ambient, self.limit, current, self.allows()
        )

    def loop(self, temperature: Value, ways: Value = OUT_AND_BACK) -> Value:
        """Resistance of the whole way at a temperature: out and back, unless said otherwise."""
        warm = worked(conductor.when_warm, self.per_length, self.coefficient, temperature)
        return worked(conductor.of_loop, warm, self.length, ways)

    def warming(self, current: float, keeps: Value) -> Warming:
        """Itself at a current in A, in plain numbers, to search in; all it needs is known."""
        heat, coefficient, *air = (value.number or 0.0 for value in self._heat[:-1])
        inner, loaded, diameter, emissivity, free, ambient = air
        cable = CableInAir(diameter, emissivity, free, ambient, inner, loaded)
        made = current**2 * heat
        return Warming(cable, made, coefficient, cable_heat.REFERENCE, keeps.number or 0.0)

    @property
    def known(self) -> bool:
        """True where nothing is missing of what warms it."""
        kept = (self.capacity, self.capacity_in_minutes, self.limit)
        return all(value.known for value in (*self._heat, *kept))

    @property
    def _heat(self) -> tuple[Value, ...]:
        return (
            self.per_length,
            self.coefficient,
            self.inner,
            self.loaded,
            self.outside,
            _EMISSIVITY,
            self.free,
            self.ambient,
            _GUESS,
        )


def wired(own: Wire, path: str, cores: int, ambient: Value, wound: Value | None = None) -> Wired:
    """Take a wire as it lies; ``path`` is where it stands in the build, ``cores`` carry current.

    ``wound`` is the share of its current that a reel leaves it; none where it is laid out.
    """
    count = constant(COUNT, float(cores), "conductors that carry current")
    core = outside = outside_of(own, path)
    if cores > 1:
        core = worked(cable_paths.usual_core, own.section, _usual(path))
        outside = either(own.outside, worked(cable_paths.usual_outside, core, count), asking=1)
    resistivity = _thermal_resistivity(own, path)
    bare = worked(conductor.solid_diameter, own.section)
    through = worked(cable_paths.insulation_path, resistivity, bare, core)
    loaded, seen, shared, lies = _laid(own, count, outside)
    free = _typical(FRACTION, f"{path}.laid", *_FREE[lies])
    by_volume = of_metal(own, "heat capacity", HEAT_CAPACITY_BY_VOLUME)
    metal = worked(cable_warming.conductor_capacity, own.section, by_volume)
    insulated = worked(cable_warming.insulation_capacity, bare, core, _keeps(own, path))
    share = worked(cable_warming.insulation_share, bare, core)
    return Wired(
        own.length,
        _per_length(own, path),
        of_metal(own, "coefficient", TEMPERATURE_COEFFICIENT),
        worked(cable_paths.whole_path, through, shared, loaded) if shared else through,
        loaded,
        seen,
        free,
        ambient,
        either(own.hottest, _usual_limit(own), asking=1),
        metal,
        worked(cable_warming.capacity, metal, insulated, share),
        wound,
    )


def outside_of(own: Wire, path: str) -> Value:
    """Outside diameter of a cable of one core: as measured, else what is usual for its size."""
    return either(own.outside, worked(cable_paths.usual_core, own.section, _usual(path)), asking=1)


def _laid(own: Wire, cores: Value, outside: Value) -> tuple[Value, Value, list[Value], str]:
    """Say what heats the outside, how wide that is, what lies between, and how it lies."""
    together = int(own.grouped.number or 1)
    if own.laid in ("free", "wall") and together <= _TOUCHING:
        return cores, outside, [], "wall" if own.laid == "wall" else f"free {together}"
    loaded = worked(cable_paths.all_loaded, cores, own.grouped)
    bundle = outside if together == 1 else worked(cable_paths.bundle_diameter, own.grouped, outside)
    between = [] if together == 1 else [worked(cable_paths.bundle_path, _IN_A_BUNDLE)]
    if own.laid != "conduit":
        return loaded, bundle, between, "wall" if own.laid == "wall" else "bundle"
    row = load("duct_constants").row(_DUCT)
    constants = (
        from_table(
            kind, "duct_constants", row, f"{row.cells[column]} {unit}", f"{letter} of a tube"
        )
        for kind, column, unit, letter in (
            (THERMAL_RESISTANCE_OF_LENGTH, "u_K_m_per_W", "K·m/W", "U"),
            (RATIO, "v", "", "V"),
            (TEMPERATURE_COEFFICIENT, "y_per_K", "1/K", "Y"),
        )
    )
    between.append(worked(cable_paths.duct_path, bundle, _GUESS, *constants))
    return loaded, worked(cable_paths.duct_outside, bundle), between, "conduit"


def _typical(kind: Kind, path: str, text: str, band: str, label: str) -> Value:
    """Make a typical value that stands for what is left out at a path of the build."""
    origin = Given(
        path, label, Origin.TYPICAL, text, read(band, kind).number, f"± {band}, common practice"
    )
    return given(kind, read(text, kind).number, origin)


def _usual(path: str) -> Value:
    return _typical(RATIO, f"{path}.outside", "1", "0.2", "usual thickness of a cable of its size")


def _thermal_resistivity(own: Wire, path: str) -> Value:
    material = _INSULATION.get(own.insulation, _INSULATION["pvc"])[1]
    row = load("insulation_heat").row(material)
    name = f"thermal resistivity of {material}"
    text = f"{row.cells['thermal_resistivity_K_m_per_W']} K·m/W"
    return _typical(THERMAL_RESISTIVITY, f"{path}.insulation", text, "1 K·m/W", name)


def _keeps(own: Wire, path: str) -> Value:
    """Heat that its insulation keeps, by volume."""
    material = _INSULATION.get(own.insulation, _INSULATION["pvc"])[1]
    row = load("insulation_heat").row(material)
    text = f"{row.cells['heat_capacity_MJ_per_K_m3']} MJ/(K·m³)"
    name = f"heat capacity of {material}"
    return _typical(HEAT_CAPACITY_BY_VOLUME, f"{path}.insulation", text, "0.3 MJ/(K·m³)", name)


def _usual_limit(own: Wire) -> Value:
    """Temperature that the insulation bears, by its name."""
    if own.insulation not in _INSULATION:
        return own.hottest
    row = load("insulation_limits").row(_INSULATION[own.insulation][0])
    text = f"{row.cells['hottest_C']} °C"
    return from_table(TEMPERATURE, "insulation_limits", row, text, f"limit of {own.insulation}")


def of_metal(own: Wire, quantity: str, kind: Kind) -> Value:
    """What the metal of its conductors has of a quantity."""
    row = load("conductor_metals").row(f"{own.metal} {quantity}")
    label = f"{quantity} of {own.metal}"
    return from_table(kind, "conductor_metals", row, row.cells["value"], label)


def _per_length(own: Wire, path: str) -> Value:
    """Resistance of a metre at 20 °C: the most that IEC 60228 allows the size, else by its area."""
    row = _published(own.section.number) if own.metal == "copper" else None
    if row is None:
        stranding = _typical(
            RATIO, f"{path}.section", "1.04", "0.03", "twisting and gaps of strands"
        )
        resistivity = of_metal(own, "resistivity", RESISTIVITY)
        return worked(conductor.resistance_per_length, resistivity, own.section, stranding)
    text = f"{row.cells['flexible_ohm_per_km']} Ω/km"
    label = f"resistance of {row.cells['size_mm2']} mm², flexible"
    return from_table(RESISTANCE_PER_LENGTH, "conductors_iec_60228", row, text, label)


@cache
def _sizes() -> tuple[tuple[float, Row], ...]:
    return tuple(
        (read(f"{row.cells['size_mm2']} mm²", WIRE_SIZE).number, row)
        for row in load("conductors_iec_60228")
    )


def _published(section: float | None) -> Row | None:
    near = [row for size, row in _sizes() if section and abs(section / size - 1) <= _SAME]
    return near[0] if near else None


def reel_factor(layers: Value) -> Value:
    """Share of its current that a reel leaves a cord, by the layers it lies in."""
    if layers.number is None:
        row = load("drum_factors").row("household reel, wound up")
    else:
        deepest = min(int(layers.number), _LAYERS)
        row = load("drum_factors").row(f"cylindrical, {deepest} layer{'s' if deepest > 1 else ''}")
    share = float(row.cells["factor"])
    return from_table(FRACTION, "drum_factors", row, f"{share:.0%}", f"reel, {row.cells['drum']}")
