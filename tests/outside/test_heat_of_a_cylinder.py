"""Free convection and radiation of a level cylinder, against textbooks and a library.

- Incropera and others, Fundamentals of Heat and Mass Transfer, example 9.4 (from memory but for Ra,
  Pr and Nu, which two public codes repeat): pipe of 0.1 m at 165 °C in air of 23 °C, emissivity
  0.85; Ra 5.073e6, Pr 0.697, Nu 23.3, 325 W/m by convection and 441 W/m by radiation.
- Çengel, Heat and Mass Transfer: pipe of 8 cm, 6 m long, at 70 °C in air of 20 °C; Nu 17.40,
  h 5.869 W/(m²·K), 443 W (a published solution of it).
- The library `ht`: its cylinder of Churchill and Chu, and its thermal radiation.
- Air at one atmosphere, as a published table prints it: conductivity and kinematic viscosity.
"""

from __future__ import annotations

from math import pi

import pytest
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from ht.radiation import q_rad

from wattwright.physics import cable_heat

ICE = 273.15


# °C, W/(m·K), m²/s, Pr
AIR = [
    (-20, 0.02211, 1.169e-5, 0.7408),
    (0, 0.02364, 1.338e-5, 0.7362),
    (20, 0.02514, 1.516e-5, 0.7309),
    (40, 0.02662, 1.702e-5, 0.7255),
    (60, 0.02808, 1.896e-5, 0.7202),
    (80, 0.02953, 2.097e-5, 0.7154),
    (100, 0.03095, 2.306e-5, 0.7111),
    (140, 0.03374, 2.745e-5, 0.7041),
]


def nusselt(rayleigh: float, prandtl: float) -> float:
    """Nu of the library, which takes the Grashof number."""
    return float(Nu_horizontal_cylinder_Churchill_Chu(prandtl, rayleigh / prandtl))


def test_the_library_agrees_with_the_textbooks() -> None:
    assert nusselt(5.073e6, 0.697) == pytest.approx(23.3, rel=0.01)
    assert nusselt(1.869e6, 0.7241) == pytest.approx(17.40, abs=0.01)


@pytest.mark.parametrize("surface", [40.0, 70.0, 165.0])
def test_radiation_is_that_of_the_library(surface: float) -> None:
    hot, air = ICE + surface, ICE + 23
    wanted = q_rad(0.85, hot, air)
    # The library's constant is that of CODATA 2014, 1.3 millionths less than the exact one.
    assert cable_heat.radiation(hot, air, 0.85) * (hot - air) == pytest.approx(wanted, rel=3e-6)


@pytest.mark.parametrize(("film", "conductivity", "viscosity", "prandtl"), AIR)
@pytest.mark.parametrize("diameter", [0.002, 0.01, 0.1])
def test_with_properties_of_air_from_a_table(
    film: float, conductivity: float, viscosity: float, prandtl: float, diameter: float
) -> None:
    rise = 40.0
    rayleigh = 9.80665 / (film + ICE) * rise * diameter**3 / viscosity**2 * prandtl
    wanted = nusselt(rayleigh, prandtl) * conductivity / diameter
    found = cable_heat.convection(ICE + film + rise / 2, ICE + film - rise / 2, diameter)
    assert found == pytest.approx(wanted, rel=0.025)


def test_a_steam_pipe() -> None:
    hot, air = ICE + 165, ICE + 23
    area = pi * 0.1 * (hot - air)
    assert cable_heat.radiation(hot, air, 0.85) * area == pytest.approx(441.0, rel=3e-3)
    assert cable_heat.convection(hot, air, 0.1) * area == pytest.approx(325.0, rel=0.01)
    convected, radiated = cable_heat.convection(hot, air, 0.1), cable_heat.radiation(hot, air, 0.85)
    path = cable_heat.outside_path(0.1, 1.0, convected, radiated)
    assert (hot - air) / path == pytest.approx(766.0, rel=5e-3)


def test_a_hot_water_pipe() -> None:
    found = cable_heat.convection(ICE + 70, ICE + 20, 0.08)
    assert found == pytest.approx(5.869, rel=0.015)
    assert found * pi * 0.08 * 6 * 50 == pytest.approx(443.0, rel=0.015)
