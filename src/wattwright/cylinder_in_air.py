"""What a long level cylinder gives to still air and to walls as warm as the air.

Free convection after Churchill and Chu (1975), with dry air at the pressure of the sea and at the
mean of surface and air. Conductivity and viscosity follow Sutherland's form, k = 2.334e-3 T^1.5/(T
+ 164.54) and 1e6 μ = 1.4592 T^1.5/(T + 109.1), the density is that of an ideal gas, the Prandtl
number 0.71. With x for the sum of the two temperatures, twice the mean, all of it comes down to

    h = 1.6504e-3 x^1.5/((x + 329.08) D) (0.60 + B (|T_s - T_a| (x + 218.2)²)^(1/6) √D/x)²

The properties follow tables within 0.5 % from 200 K to 400 K, and within 5 % to 600 K, where the
conductivity is a little too low. The surface is grey and the surroundings are wide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from math import pi, sqrt

from wattwright.bracketed import root_between
from wattwright.errors import FormulaError

GRAVITY = 9.80665  # m/s²
PRESSURE = 101_325.0  # Pa
GAS_CONSTANT = 287.05287  # J/(kg·K), dry air
PRANDTL = 0.71
STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m²·K⁴)
COLDEST, HOTTEST = 200.0, 600.0  # K, mean of surface and air

# Constants of the formula above.
CONDUCTION = 2.3340e-3 / sqrt(2)
CONDUCTION_SHIFT = 2 * 164.54  # K
RISE_SHIFT = 2 * 109.10  # K
STILL = 0.60
_RAYLEIGH = GRAVITY * PRANDTL * (PRESSURE / (GAS_CONSTANT * 1.4592e-6)) ** 2
_SPREAD: float = 0.387 / (1 + (0.559 / PRANDTL) ** (9 / 16)) ** (8 / 27)
RISE: float = 2 * _SPREAD * (_RAYLEIGH / 4) ** (1 / 6)


def convection(surface: float, ambient: float, diameter: float) -> float:
    """Heat transfer by free convection, W/(m²·K); temperatures in K, diameter in m."""
    both = surface + ambient
    if not 2 * COLDEST <= both <= 2 * HOTTEST:
        raise FormulaError(
            "the mean of surface and air must lie between -73 °C and 327 °C, for which the "
            "properties of air hold"
        )
    driving = abs(surface - ambient) * (both + RISE_SHIFT) ** 2
    spread = STILL + RISE * math.pow(driving, 1 / 6) * sqrt(diameter) / both
    return CONDUCTION * both * sqrt(both) / ((both + CONDUCTION_SHIFT) * diameter) * spread**2


def radiation(surface: float, ambient: float, emissivity: float) -> float:
    """Heat transfer by radiation to walls as warm as the air, W/(m²·K)."""
    return emissivity * STEFAN_BOLTZMANN * (surface**2 + ambient**2) * (surface + ambient)


@dataclass(frozen=True, slots=True)
class CableInAir:
    """A cable, or a bundle or duct of cables, in still air.

    ``diameter`` m of the outside, ``emissivity`` of it, ``free`` the share of it that gives heat,
    ``ambient`` K of air and walls. ``loaded`` conductors inside are equally warm, and ``inner``
    K·m/W is how much warmer one is than the outside for each watt per metre that it gives.
    """

    diameter: float
    emissivity: float
    free: float
    ambient: float
    inner: float
    loaded: float

    def __post_init__(self) -> None:
        if min(self.diameter, self.free, self.loaded, self.ambient) <= 0:
            raise FormulaError(
                "diameter, share of the surface, loaded conductors and the absolute temperature "
                "must be above zero"
            )
        if not (0 <= self.emissivity <= 1 and self.free <= 1 and self.inner >= 0):
            raise FormulaError(
                "emissivity and the share of the surface lie between zero and one, and a thermal "
                "resistance is never below zero"
            )

    @property
    def hottest_surface(self) -> float:
        """Hottest surface, in K, for which the properties of air hold."""
        return 2 * HOTTEST - self.ambient

    def transfer(self, surface: float) -> float:
        """Heat transfer of the outside, W/(m²·K), at a temperature of the surface in K."""
        by_air = convection(surface, self.ambient, self.diameter)
        return by_air + radiation(surface, self.ambient, self.emissivity)

    def loss(self, surface: float) -> float:
        """Heat that the outside gives, W/m, at a temperature of the surface in K."""
        area = pi * self.diameter * self.free
        return area * self.transfer(surface) * (surface - self.ambient)

    def conductor(self, surface: float) -> float:
        """Temperature of the conductors, K, that keeps the outside at a temperature."""
        return surface + self.inner * self.loss(surface) / self.loaded

    def surface(self, conductor: float) -> float:
        """Temperature of the outside, K, with conductors steady at a temperature."""
        ends = sorted((self.ambient, conductor))
        if self.conductor(min(ends[1], self.hottest_surface)) < conductor:
            raise FormulaError("the surface would be hotter than the properties of air are known")
        return root_between(
            lambda surface: self.conductor(surface) - conductor,
            ends[0],
            min(ends[1], self.hottest_surface),
        )

    def given_by_each(self, conductor: float) -> float:
        """Heat that each conductor gives away, W/m, while it is steady at a temperature."""
        return self.loss(self.surface(conductor)) / self.loaded

    def steady_surface(self, heat: float, coefficient: float, reference: float) -> float:
        """Temperature of the outside, K, at which heat in is heat out.

        Each conductor gives ``heat`` W/m at ``reference`` K, and by ``coefficient`` 1/K more above.
        """

        def left_over(surface: float) -> float:
            given = self.loss(surface) / self.loaded
            conductor = surface + self.inner * given
            return heat * (1 + coefficient * (conductor - reference)) - given

        if heat < 0 or left_over(self.ambient) < 0:
            raise FormulaError("a conductor in a current gives heat")
        if left_over(self.hottest_surface) > 0:
            raise FormulaError("the cable never gets steady: it burns first")
        return root_between(left_over, self.ambient, self.hottest_surface)
