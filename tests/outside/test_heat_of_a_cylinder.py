"""Free convection and radiation of a level cylinder, against textbooks and a library.

- Incropera and others, Fundamentals of Heat and Mass Transfer, example 9.4 (from memory but for Ra,
  Pr and Nu, which two public codes repeat): pipe of 0.1 m at 165 °C in air of 23 °C, emissivity
  0.85; Ra 5.073e6, Pr 0.697, Nu 23.3, 325 W/m by convection and 441 W/m by radiation.
- Çengel, Heat and Mass Transfer: pipe of 8 cm, 6 m long, at 70 °C in air of 20 °C; Nu 17.40,
  h 5.869 W/(m²·K), 443 W (a published solution of it).
- The library `ht`, in the test of its Churchill and Chu cylinder: Pr 0.69, Gr 2.63e9, Nu 139.1349.
- Air at one atmosphere, as a published table prints it: conductivity and kinematic viscosity.
"""

from __future__ import annotations

from math import pi

import pytest

from wattwright.physics import cable_heat

ICE = 273.15


def nusselt(rayleigh: float, prandtl: float) -> float:
    """Churchill and Chu (1975), equation 9.34 of Incropera."""
    return (
        0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    ) ** 2


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


def test_the_correlation_typed_here_is_that_of_the_library_and_the_textbooks() -> None:
    assert nusselt(0.69 * 2.63e9, 0.69) == pytest.approx(139.13493970073597, rel=1e-12)
    assert nusselt(5.073e6, 0.697) == pytest.approx(23.3, rel=0.01)
    assert nusselt(1.869e6, 0.7241) == pytest.approx(17.40, abs=0.01)


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
