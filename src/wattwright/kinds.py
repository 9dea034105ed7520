"""What a number means: its dimension and its meaning, each declared once.

A kind is more than a dimension. Torque is not energy though both are newton metres, gauge
pressure is not absolute pressure, a temperature difference is not a temperature, and a position
(which may be zero or negative anywhere) is not a length.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True, slots=True)
class Kind:
    """One meaning of a number.

    ``si`` is the unit symbol the number is held in. ``true_zero`` says that ten per cent of the
    value is a meaningful amount (a mass), which it is not for a place or a temperature.
    ``assumed`` and ``measured`` are the 95 % half-widths used when the builder states none: a
    fraction of the value where ``true_zero``, otherwise an amount in ``si``. They are common
    practice, and are shown as such wherever they count.
    """

    name: str
    si: str
    example: str
    true_zero: bool = True
    assumed: float = 0.10
    measured: float = 0.01


MASS = Kind("mass", "kg", "1,040 kg")
LENGTH = Kind("length", "m", "2540 mm", measured=0.003)
POSITION = Kind("position", "m", "1620 mm", true_zero=False, assumed=0.05, measured=0.01)
AREA = Kind("area", "m²", "1.9 m²")
WIRE_SIZE = Kind("wire size", "m²", "35 mm²")
VOLUME = Kind("volume", "m³", "4.5 L")
ANGLE = Kind("angle", "rad", "12.5°", true_zero=False, assumed=0.0349, measured=0.0035)
GRADE = Kind("grade", "m/m", "12 %", true_zero=False, assumed=0.02, measured=0.005)
FRACTION = Kind("fraction", "", "20 %")
RATIO = Kind("ratio", "", "3.9")
COUNT = Kind("count", "", "96", assumed=0.0, measured=0.0)
TIME = Kind("time", "s", "45 min")
SPEED = Kind("speed", "m/s", "90 km/h")
ROTATIONAL_SPEED = Kind("rotational speed", "rad/s", "5400 rpm")
ACCELERATION = Kind("acceleration", "m/s²", "20 g")
ANGULAR_ACCELERATION = Kind("angular acceleration", "rad/s²", "400 rad/s²")
FORCE = Kind("force", "N", "2100 N")
TORQUE = Kind("torque", "N·m", "61 N·m")
ENERGY = Kind("energy", "J", "22 kWh")
POWER = Kind("power", "W", "60 kW")
ENERGY_PER_DISTANCE = Kind("energy per distance", "J/m", "210 Wh/km")
GAUGE_PRESSURE = Kind("gauge pressure", "Pa", "2.4 bar")
ABSOLUTE_PRESSURE = Kind("absolute pressure", "Pa", "101.3 kPa")
TEMPERATURE = Kind("temperature", "K", "25 °C", true_zero=False, assumed=5.0, measured=1.0)
TEMPERATURE_DIFFERENCE = Kind("temperature difference", "K", "12 K", assumed=0.2, measured=0.05)
VOLTAGE = Kind("voltage", "V", "350 V")
CURRENT = Kind("current", "A", "16 A")
RESISTANCE = Kind("resistance", "Ω", "0.1 Ω")
RESISTANCE_PER_VOLT = Kind("isolation", "Ω/V", "500 Ω/V")
CAPACITANCE = Kind("capacitance", "F", "500 µF")
CHARGE = Kind("charge", "C", "66 Ah")
FLOW = Kind("flow", "m³/s", "8 L/min")
FREQUENCY = Kind("frequency", "Hz", "50 Hz")
COPPER_LOSS = Kind("loss by torque squared", "W/(N·m)²", "0.3 W/(N·m)²")
IRON_LOSS = Kind("loss by speed", "W·s/rad", "0.01 W·s/rad")
WINDAGE_LOSS = Kind("loss by speed cubed", "W·s³/rad³", "0.000005 W·s³/rad³")
STRESS = Kind("stress", "Pa", "600 MPa")
HEAT_CAPACITY = Kind("heat capacity", "J/K", "12 kJ/K")
THERMAL_RESISTANCE = Kind("thermal resistance", "K/W", "0.02 K/W")
THERMAL_CONDUCTANCE = Kind("thermal conductance", "W/K", "120 W/K")
THERMAL_EXPANSION = Kind("thermal expansion", "1/K", "11.7 µm/(m·K)")
SPRING_RATE = Kind("spring rate", "N/m", "30 N/mm")
DENSITY = Kind("density", "kg/m³", "1.2 kg/m³")
FLUX_LINKAGE = Kind("flux linkage", "Wb", "66 mWb")
INDUCTANCE = Kind("inductance", "H", "0.37 mH")
INERTIA = Kind("inertia", "kg·m²", "0.04 kg·m²")
DRAG_LINEAR = Kind("drag by speed", "N·s/m", "0.5 N/(km/h)")
DRAG_SQUARE = Kind("drag by speed squared", "N·s²/m²", "0.046 N/(km/h)²")
RESISTANCE_PER_LENGTH = Kind("resistance per length", "Ω/m", "13.3 Ω/km")
RESISTIVITY = Kind("resistivity", "Ω·m", "17.241 Ω·mm²/km")
TEMPERATURE_COEFFICIENT = Kind("temperature coefficient", "1/K", "0.393 %/K")
MASS_PER_LENGTH = Kind("mass per length", "kg/m", "380 kg/km")
JOULE_INTEGRAL = Kind("Joule integral", "A²·s", "1,200,000 A²·s")
WITHSTAND_DENSITY = Kind("short-time current density", "A·√s/m²", "115 A·√s/mm²")
THERMAL_RESISTIVITY = Kind("thermal resistivity", "K·m/W", "5 K·m/W")
THERMAL_RESISTANCE_OF_LENGTH = Kind("thermal resistance of a length", "K·m/W", "0.6 K·m/W")
HEAT_PER_LENGTH = Kind("heat per length", "W/m", "21 W/m")
HEAT_TRANSFER = Kind("heat transfer", "W/(m²·K)", "11 W/(m²·K)")
HEAT_CAPACITY_PER_LENGTH = Kind("heat capacity per length", "J/(K·m)", "120 J/(K·m)")
HEAT_CAPACITY_BY_VOLUME = Kind("heat capacity by volume", "J/(K·m³)", "3.45 MJ/(K·m³)")
MOMENT_OF_MASS = Kind("moment of mass", "kg·m", "350 kg·m", true_zero=False, assumed=5.0)


def difference_of(kind: Kind) -> Kind:
    """Kind of the difference between two numbers of a kind."""
    return TEMPERATURE_DIFFERENCE if kind is TEMPERATURE else kind


KINDS: dict[str, Kind] = {
    kind.name: kind for kind in list(globals().values()) if isinstance(kind, Kind)
}

# Stands for whatever kind it is given: for formulas that hold for any quantity alike.
ANYTHING = Kind("anything", "*", "")

# The names that physics functions annotate their arguments with.
Mass = Annotated[float, MASS]
SpringRate = Annotated[float, SPRING_RATE]
Length = Annotated[float, LENGTH]
Position = Annotated[float, POSITION]
Angle = Annotated[float, ANGLE]
Fraction = Annotated[float, FRACTION]
Ratio = Annotated[float, RATIO]
Count = Annotated[float, COUNT]
Speed = Annotated[float, SPEED]
Time = Annotated[float, TIME]
RotationalSpeed = Annotated[float, ROTATIONAL_SPEED]
Acceleration = Annotated[float, ACCELERATION]
AngularAcceleration = Annotated[float, ANGULAR_ACCELERATION]
Frequency = Annotated[float, FREQUENCY]
Force = Annotated[float, FORCE]
Torque = Annotated[float, TORQUE]
Power = Annotated[float, POWER]
Energy = Annotated[float, ENERGY]
Grade = Annotated[float, GRADE]
Area = Annotated[float, AREA]
WireSize = Annotated[float, WIRE_SIZE]
Density = Annotated[float, DENSITY]
Temperature = Annotated[float, TEMPERATURE]
Voltage = Annotated[float, VOLTAGE]
Current = Annotated[float, CURRENT]
Resistance = Annotated[float, RESISTANCE]
Charge = Annotated[float, CHARGE]
FluxLinkage = Annotated[float, FLUX_LINKAGE]
Inductance = Annotated[float, INDUCTANCE]
Inertia = Annotated[float, INERTIA]
DragLinear = Annotated[float, DRAG_LINEAR]
DragSquare = Annotated[float, DRAG_SQUARE]
GaugePressure = Annotated[float, GAUGE_PRESSURE]
CopperLoss = Annotated[float, COPPER_LOSS]
IronLoss = Annotated[float, IRON_LOSS]
WindageLoss = Annotated[float, WINDAGE_LOSS]
Stress = Annotated[float, STRESS]
HeatCapacity = Annotated[float, HEAT_CAPACITY]
ThermalResistance = Annotated[float, THERMAL_RESISTANCE]
ThermalConductance = Annotated[float, THERMAL_CONDUCTANCE]
ThermalExpansion = Annotated[float, THERMAL_EXPANSION]
Anything = Annotated[float, ANYTHING]
MomentOfMass = Annotated[float, MOMENT_OF_MASS]
EnergyPerDistance = Annotated[float, ENERGY_PER_DISTANCE]
TemperatureDifference = Annotated[float, TEMPERATURE_DIFFERENCE]
ResistancePerLength = Annotated[float, RESISTANCE_PER_LENGTH]
Resistivity = Annotated[float, RESISTIVITY]
TemperatureCoefficient = Annotated[float, TEMPERATURE_COEFFICIENT]
MassPerLength = Annotated[float, MASS_PER_LENGTH]
JouleIntegral = Annotated[float, JOULE_INTEGRAL]
WithstandDensity = Annotated[float, WITHSTAND_DENSITY]
ThermalResistivity = Annotated[float, THERMAL_RESISTIVITY]
ThermalResistanceOfLength = Annotated[float, THERMAL_RESISTANCE_OF_LENGTH]
HeatPerLength = Annotated[float, HEAT_PER_LENGTH]
HeatTransfer = Annotated[float, HEAT_TRANSFER]
HeatCapacityPerLength = Annotated[float, HEAT_CAPACITY_PER_LENGTH]
HeatCapacityByVolume = Annotated[float, HEAT_CAPACITY_BY_VOLUME]
