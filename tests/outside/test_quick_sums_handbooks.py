"""Quick sums against worked examples of textbooks and handbooks, typed in mixed units.

Sources, all from memory and recomputed by hand. A tolerance is half a unit of the last digit
printed unless it says otherwise.
  Gillespie, Fundamentals of Vehicle Dynamics (SAE, 1992), chapter 2, example 1.
  Chapman, Electric Machinery Fundamentals, chapter on induction motors, example of a 460 V, 25 hp,
    60 Hz, four-pole motor. The book states a phase by its rms, rounded to 266 V; here it is its
    peak. Its slip and torque at breakdown do not follow to their last digit from the circuit
    printed with them, and are held to 2 %.
  Shigley, Mechanical Engineering Design, chapter 3, example of a crank whose shaft of 3/4 in takes
    1500 lbf·in.
  U.S. Standard Atmosphere, 1976, tables in English units, at 5000 ft.
  Bosch Automotive Handbook, dynamics of motor vehicles: drag in N is 0.0386 ρ Cd A v², with v in
    km/h.
  IEC 60034-1: windings of copper have ohms in proportion to 235 plus their temperature in °C.
"""

from __future__ import annotations

import math

import pytest

from wattwright.quick_sums import find

POUND, POUND_FORCE, INCH, FOOT = 0.45359237, 4.4482216152605, 0.0254, 0.3048
PSI = POUND_FORCE / INCH**2


def answer(name: str, **texts: str) -> float:
    """Number in SI that a sum gives for texts; every one of them must be readable."""
    found = find(name).work(texts)
    assert not found.errors
    assert not found.problem
    assert not found.doubts
    assert found.value is not None
    assert found.value.number is not None
    return found.value.number


def test_rolling_radius_from_turns_in_a_mile() -> None:
    """Gillespie: 801 turns in a mile, 12.59 in."""
    circumference = answer("rolling_radius.measured_circumference", distance="1 mi", turns="801")
    radius = answer("rolling_radius.rolling_radius", circumference=f"{circumference} m")
    assert abs(radius / INCH - 12.59) <= 0.005


@pytest.mark.parametrize(
    ("torque", "radius", "efficiency"),
    [
        ("201 lb·ft", "12.59 in", "95.634 %"),
        ("272.52 N·m", "1 ft 0.59 in", "0.95634"),
        ("2412 lb·in", "31.9786 cm", "95.634 %"),
    ],
)
def test_tractive_effort_in_first_gear(torque: str, radius: str, efficiency: str) -> None:
    """Gillespie: 201 lb·ft through 4.28 and 2.92 at 0.966 · 0.99, 2290 lbf at the road."""
    ratio = answer("gearing.total_ratio", gear_ratio="4.28", final_ratio="2.92:1")
    force = answer(
        "gearing.road_force",
        torque=torque,
        ratio=str(ratio),
        efficiency=efficiency,
        rolling_radius=radius,
    )
    assert abs(force / POUND_FORCE - 2290) <= 0.5


def test_efficiency_of_two_gear_pairs() -> None:
    """Gillespie: 0.966 · 0.99 = 0.956."""
    assert abs(answer("gearing.driveline_efficiency", efficiencies="96.6 % 99 %") - 0.956) <= 0.0005


def test_induction_motor_by_thevenin() -> None:
    """255.2 V, 0.590 Ω and 1.075 Ω before the rotor; slip 0.198 and 229 N·m at most."""
    stator = {"rs": "641 mΩ", "xs": "1.106 Ω", "xm": "26.3 Ω"}
    peak = answer("induction_on_mains.phase_peak", line_voltage="0.46 kV")
    assert abs(peak / math.sqrt(2) - 266) <= 0.5
    peak = 266 * math.sqrt(2)
    voltage = answer("induction_on_mains.thevenin_voltage", phase_peak=f"{peak} V", **stator)
    assert abs(voltage / math.sqrt(2) - 255.2) <= 0.05
    resistance = answer("induction_on_mains.thevenin_resistance", **stator)
    assert abs(resistance - 0.590) <= 0.0005
    reactance = answer("induction_on_mains.thevenin_reactance", **stator)
    assert abs(reactance - 1.075) <= 0.0005
    rotor = {
        "thevenin_resistance": "0.590 Ω",
        "thevenin_reactance": "1075 mΩ",
        "rotor_reactance": "0.464 Ω",
    }
    slip = answer("induction_on_mains.breakdown_slip", rotor_resistance="332 mΩ", **rotor)
    assert slip == pytest.approx(0.198, rel=0.02)
    torque = answer(
        "induction_on_mains.breakdown_torque",
        thevenin_voltage=f"{255.2 * math.sqrt(2)} V",
        frequency="60 Hz",
        pole_pairs="2",
        **rotor,
    )
    assert torque == pytest.approx(229, rel=0.02)


@pytest.mark.parametrize(
    ("torque", "diameter"),
    [("1500 lb·in", "3/4 in"), ("125 lb·ft", "19.05 mm"), ("169.477 N·m", "0.75 in")],
)
def test_shear_stress_of_a_shaft(torque: str, diameter: str) -> None:
    """Shigley: 16 · 1500/(π · 0.75³) = 18.1 kpsi."""
    stress = answer("shaft.solid_shear_stress", torque=torque, diameter=diameter)
    assert abs(stress / (1000 * PSI) - 18.1) <= 0.05


@pytest.mark.parametrize("height", ["5000 ft", "1524 m", "60000 in"])
def test_standard_atmosphere_at_five_thousand_feet(height: str) -> None:
    """41.2 °F, 12.23 psi and 0.0659 lb/ft³."""
    kelvin = answer("air.isa_temperature", height=height)
    assert abs(kelvin * 9 / 5 - 459.67 - 41.2) <= 0.05
    assert abs(answer("air.isa_pressure", height=height) / PSI - 12.23) <= 0.005
    density = answer("air.isa_density", height=height)
    assert abs(density * FOOT**3 / POUND - 0.0659) <= 0.00005
    by_hand = answer("air.air_density", pressure="12.23 psi", temperature="41.2 °F")
    assert abs(by_hand * FOOT**3 / POUND - 0.0659) <= 0.00005


def test_drag_by_the_handbook_s_rule() -> None:
    """0.0386 · 1.202 · 0.36 · 2.1 · 100² = 350.8 N; the factor is rounded by up to 0.0013."""
    force = answer(
        "road_load.air_force",
        density="1.202 kg/m³",
        drag_coefficient="0.36",
        area="22.604 ft²",
        speed="62.1371 mph",
        headwind="0 km/h",
    )
    assert force == pytest.approx(350.8, rel=0.0013)


def test_copper_when_hot() -> None:
    """235 + 120 over 235 + 20: 1.392; the two standards agree to a thousandth."""
    hot = answer("fed_by_pack.hot_resistance", resistance="1000 µΩ", temperature="248 °F")
    assert hot / 1e-3 == pytest.approx(1.392, rel=1e-3)
