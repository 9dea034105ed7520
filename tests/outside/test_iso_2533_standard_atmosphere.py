"""Density of the air against altitude, the standard atmosphere.

Source: ISO 2533 and U.S. Standard Atmosphere, 1976, which agree in these layers; the values by
geometric altitude were computed by a general-purpose library of fluid properties, which prints
five or six digits. Tolerances are half a unit of the last digit; for the pressure also what the
gas constant does, which the two print as 287.05287 and 287.05307 J/(kg·K): 0.02 Pa at most.
"""

from __future__ import annotations

import pytest

from wattwright.physics.air import (
    air_density,
    geopotential_height,
    isa_density,
    isa_pressure,
    isa_temperature,
)

# geometric altitude m, temperature K, pressure Pa, density kg/m³
PRINTED = [
    (0, 288.15, 101325.0, 1.225),
    (250, 286.525, 98357.7, 1.19587),
    (500, 284.9, 95461.3, 1.16727),
    (750, 283.276, 92634.6, 1.13921),
    (1000, 281.651, 89876.3, 1.11166),
    (1500, 278.402, 84559.7, 1.0581),
    (2000, 275.154, 79501.4, 1.00655),
    (2500, 271.906, 74691.8, 0.95695),
    (3000, 268.659, 70121.2, 0.90925),
]


@pytest.mark.parametrize(("altitude", "kelvin", "pascal", "density"), PRINTED)
def test_row(altitude: float, kelvin: float, pascal: float, density: float) -> None:
    height = geopotential_height(altitude)
    assert abs(isa_temperature(height) - kelvin) <= 0.5e-3
    assert abs(isa_pressure(height) - pascal) <= 0.05 + 0.02
    assert abs(isa_density(height) - density) <= 0.5e-5
    assert abs(air_density(pascal, kelvin) - density) <= 1e-5


def test_geometric_altitude_taken_for_geopotential_misses_the_row() -> None:
    assert abs(isa_density(3000) - 0.90925) > 1e-4
