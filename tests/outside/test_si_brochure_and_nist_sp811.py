"""Conversion factors against published values.

Sources:
  SI Brochure, 9th edition (BIPM, 2019), tables 4 and 8: units accepted for use with the SI.
  International yard and pound agreement, 1959: yard 0.9144 m and pound 0.45359237 kg, exactly.
  NIST Special Publication 811, 2008 edition, appendix B.8: factors for units by name. Values in
  bold there are exact; the others are rounded to seven significant digits (printed 6.894 757 E+03).

All numbers were typed from memory of these publications, not copied from a page; the last digits
were worked again by hand from the definitions. A rounded value is held to half a unit of its last
printed digit, so that no looser agreement passes; an exact value to four units in the last place
of a binary double.
"""

from __future__ import annotations

import math

import pytest

from wattwright import kinds
from wattwright.kinds import Kind
from wattwright.units import read

EXACT = [
    # SI Brochure, table 8 and the prefixes
    ("1 min", kinds.TIME, 60.0),
    ("1 h", kinds.TIME, 3600.0),
    ("1 d", kinds.TIME, 86400.0),
    ("1 L", kinds.VOLUME, 1e-3),
    ("1 t", kinds.MASS, 1000.0),
    ("180°", kinds.ANGLE, math.pi),
    ("10800'", kinds.ANGLE, math.pi),
    ('648000"', kinds.ANGLE, math.pi),
    ("0 °C", kinds.TEMPERATURE, 273.15),
    ("1 bar", kinds.GAUGE_PRESSURE, 1e5),
    ("1 mA", kinds.CURRENT, 1e-3),
    ("1 kV", kinds.VOLTAGE, 1e3),
    ("1 µF", kinds.CAPACITANCE, 1e-6),
    ("1 MΩ", kinds.RESISTANCE, 1e6),
    # yard and pound agreement
    ("1 in", kinds.LENGTH, 0.0254),
    ("1 ft", kinds.LENGTH, 0.3048),
    ("1 yd", kinds.LENGTH, 0.9144),
    ("1 lb", kinds.MASS, 0.45359237),
    # SP 811 appendix B.8, printed in bold
    ("1 mi", kinds.LENGTH, 1609.344),
    ("1 mil", kinds.LENGTH, 2.54e-5),
    ("1 in²", kinds.AREA, 6.4516e-4),
    ("1 ft²", kinds.AREA, 9.290304e-2),
    ("1 mph", kinds.SPEED, 0.44704),
    ("1 ft/s", kinds.SPEED, 0.3048),
    ("1 kgf", kinds.FORCE, 9.80665),
    ("1 lbf", kinds.FORCE, 4.4482216152605),
    ("1 g", kinds.ACCELERATION, 9.80665),
    ("1 kWh", kinds.ENERGY, 3.6e6),
    ("1 Ah", kinds.CHARGE, 3600.0),
    ("1 PS", kinds.POWER, 735.49875),
    ("1 atm", kinds.ABSOLUTE_PRESSURE, 101325.0),
    ("1 kgf/cm²", kinds.ABSOLUTE_PRESSURE, 98066.5),
    ("1 gal(imp)", kinds.VOLUME, 4.54609e-3),
    ("1 Btu", kinds.ENERGY, 1055.05585262),
    ("32 °F", kinds.TEMPERATURE, 273.15),
    ("9 °F", kinds.TEMPERATURE_DIFFERENCE, 5.0),
]

# SP 811 appendix B.8, as printed: digits of the mantissa and the power of ten.
ROUNDED = [
    ("1 oz", kinds.MASS, "2.834952", -2),
    ("1 st", kinds.MASS, "6.350293", 0),
    ("1 gal(US)", kinds.VOLUME, "3.785412", -3),
    ("1 qt(US)", kinds.VOLUME, "9.463529", -4),
    ("1 in³", kinds.VOLUME, "1.638706", -5),
    ("1 ft³", kinds.VOLUME, "2.831685", -2),
    ("1 lb·ft", kinds.TORQUE, "1.355818", 0),
    ("1 lb·in", kinds.TORQUE, "1.129848", -1),
    ("1 hp", kinds.POWER, "7.456999", 2),
    ("1 Btu/h", kinds.POWER, "2.930711", -1),
    ("1 psi", kinds.GAUGE_PRESSURE, "6.894757", 3),
    ("1 lbf/in", kinds.SPRING_RATE, "1.751268", 2),
    ("1 lbf/ft", kinds.SPRING_RATE, "1.459390", 1),
    ("1 lb/ft³", kinds.DENSITY, "1.601846", 1),
    ("1 lb/in³", kinds.DENSITY, "2.767990", 4),
    ("1°", kinds.ANGLE, "1.745329", -2),
    ("1'", kinds.ANGLE, "2.908882", -4),
    ('1"', kinds.ANGLE, "4.848137", -6),
    ("1 rpm", kinds.ROTATIONAL_SPEED, "1.047198", -1),
    ("1 km/h", kinds.SPEED, "2.777778", -1),
    ("1 gal(US)/min", kinds.FLOW, "6.309020", -5),
    ("1 ft³/min", kinds.FLOW, "4.719474", -4),
    ("1000 kcmil", kinds.WIRE_SIZE, "5.067075", -4),
]


@pytest.mark.parametrize(("text", "kind", "value"), EXACT)
def test_exact_factors(text: str, kind: Kind, value: float) -> None:
    assert abs(read(text, kind).number - value) <= 4 * math.ulp(value)


@pytest.mark.parametrize(("text", "kind", "mantissa", "power"), ROUNDED)
def test_rounded_factors(text: str, kind: Kind, mantissa: str, power: int) -> None:
    value = float(f"{mantissa}e{power}")
    half_a_digit = 0.5 * 10.0 ** (power - len(mantissa.partition(".")[2]))
    assert abs(read(text, kind).number - value) <= half_a_digit * (1 + 1e-9)
