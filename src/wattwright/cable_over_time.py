"""Temperature of conductors over time, in a cable in air, at constant currents.

All heat is kept in one place, at the temperature of the conductor:

    C dT/dt = I²·R′·(1 + α (T - T_ref)) - q′(T) = f(T)

with q′ as if the insulation were steady. The equation has no time in it, so that the time between
two temperatures is the integral of C dT/f. It is taken over x with T = P + (T_0 - P)·exp(∓x): P is
the temperature at which the cable would get steady, or where there is none, the one at which the
metal would have no resistance. In x the integrand is level, in the first case where the loss goes
straight with temperature, in the second where there is none: four points of Gauss for each step
of x give the time to a millionth, and to some ten-thousandths where a cable colder than the air
passes its temperature, at which the loss has a bend.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, log

from wattwright.bracketed import root_between
from wattwright.cylinder_in_air import CableInAir
from wattwright.errors import FormulaError

# Places and weights of Gauss for four points between 0 and 1.
_GAUSS = (
    (0.06943184420297371, 0.17392742256872692),
    (0.33000947820757187, 0.32607257743127307),
    (0.6699905217924281, 0.32607257743127307),
    (0.9305681557970263, 0.17392742256872692),
)
# So close to the steady temperature, in K, that the cable is taken for steady.
_NEAR = 1e-6
# Steps of x: towards the steady temperature the way left falls by two fifths, and away from the
# pole the resistance grows by an eighth. After the most of them nothing is left.
_TOWARDS, _AWAY = 0.5, 0.125
_MOST_STEPS = 80
# So near its pole the integrand is a quotient of noise, and is taken from this far away, in K.
_LEVEL = 1e-3


@dataclass(frozen=True)
class Warming:
    """A cable at one current: ``heat`` W/m of each conductor at ``reference`` K.

    ``coefficient`` 1/K at the reference, ``capacity`` J/(K·m) of each conductor with its share of
    insulation.
    """

    cable: CableInAir
    heat: float
    coefficient: float
    reference: float
    capacity: float

    def __post_init__(self) -> None:
        if self.capacity <= 0 or self.heat < 0 or self.coefficient <= 0:
            raise FormulaError(
                "heat capacity and coefficient must be above zero, and heat not below"
            )

    def kept(self, conductor: float) -> float:
        """Heat that stays in a conductor, W/m, at its temperature in K."""
        made = self.heat * (1 + self.coefficient * (conductor - self.reference))
        return made - self.cable.given_by_each(conductor)

    def steady(self) -> float | None:
        """Temperature at which the cable gets steady, in K, or none where it burns first."""
        try:
            surface = self.cable.steady_surface(self.heat, self.coefficient, self.reference)
        except FormulaError:
            return None
        return self.cable.conductor(surface)

    def time_between(self, start: float, end: float) -> float:
        """Time from one temperature to another, in s; both in K. Refused where it never comes."""
        if start == end:
            return 0.0
        path = self._path(start)
        return sum(path.time(low, high) for low, high in path.steps(end))

    def time_within(self, start: float, end: float, longest: float) -> float:
        """Time from one temperature up to another, in s, or ``longest`` where it takes more."""
        if self.kept(start) <= 0:
            return longest
        steady = self.steady()
        if steady is not None and steady - _NEAR <= end:
            return longest
        return min(longest, self.time_between(start, end))

    def heat_between(self, start: float, end: float) -> float:
        """Heat that a conductor makes on average between two temperatures, W/m."""
        rises, kept = self.points_between(start, end)
        time = sum(rise / heat for rise, heat in zip(rises, kept, strict=True))
        reached, mean = start, start if not time else 0.0
        for rise, heat in zip(rises, kept, strict=True):
            mean += (reached + rise / 2) * rise / heat / time
            reached += rise
        return self.heat * (1 + self.coefficient * (mean - self.reference))

    def points_between(self, start: float, end: float) -> tuple[list[float], list[float]]:
        """Rises, in K, whose heat kept, in W/m, makes the time between two temperatures.

        The time is the sum of capacity times rise over heat kept.
        """
        if start == end:
            return [], []
        path = self._path(start)
        points = [
            path.point(low, high, *gauss) for low, high in path.steps(end) for gauss in _GAUSS
        ]
        return [rise for rise, _ in points], [kept for _, kept in points]

    def after(self, start: float, time: float) -> float:
        """Temperature, in K, a ``time`` in s after the conductors were at ``start`` K."""
        if time < 0:
            raise FormulaError("time goes forward")
        path = self._path(start)
        if path.level:
            return start
        left, low = time, 0.0
        for _ in range(_MOST_STEPS):
            high = low + path.stride
            here = path.time(low, high)
            if here >= left:
                return path.temperature(path.place_after(low, high, left))
            left, low = left - here, high
        return path.farthest

    def _path(self, start: float) -> _Path:
        steady = self.steady()
        if steady is None:
            return _Path(self, start, self.reference - 1 / self.coefficient, 1.0)
        return _Path(self, start, steady, -1.0)


@dataclass(frozen=True)
class _Path:
    """The way from a temperature, away from a pole (``sign`` 1) or towards it (-1)."""

    warming: Warming
    start: float
    pole: float
    sign: float

    @property
    def level(self) -> bool:
        return self.sign < 0 and abs(self.start - self.pole) <= _NEAR

    @property
    def stride(self) -> float:
        return _TOWARDS if self.sign < 0 else _AWAY

    @property
    def farthest(self) -> float:
        if self.sign > 0:
            raise FormulaError("the conductor melts first")
        return self.pole

    def temperature(self, x: float) -> float:
        return self.pole + (self.start - self.pole) * exp(self.sign * x)

    def place(self, end: float) -> float:
        ratio = (end - self.pole) / (self.start - self.pole) if not self.level else 0.0
        if ratio <= 0 or log(ratio) * self.sign < 0 or abs(log(ratio)) > _MOST_STEPS * self.stride:
            raise FormulaError("at this current the conductor never gets to this temperature")
        return log(ratio) * self.sign

    def steps(self, end: float) -> list[tuple[float, float]]:
        """Steps of x on the way to a temperature."""
        x, whole = self.place(end), 0
        steps = []
        while (whole + 1) * self.stride < x:
            steps.append((whole * self.stride, (whole + 1) * self.stride))
            whole += 1
        return [*steps, (whole * self.stride, x)]

    def time(self, low: float, high: float) -> float:
        """Time that a step of x takes, in s."""
        points = (self.point(low, high, *gauss) for gauss in _GAUSS)
        return self.warming.capacity * sum(rise / kept for rise, kept in points)

    def point(self, low: float, high: float, place: float, weight: float) -> tuple[float, float]:
        """A rise, in K, and the heat kept, in W/m, at one place of a step."""
        away = self.temperature(low + place * (high - low)) - self.pole
        if self.sign < 0 and abs(away) < _LEVEL:
            away = _LEVEL if away > 0 else -_LEVEL
        rise = self.sign * away * weight * (high - low)
        return rise, self.warming.kept(self.pole + away)

    def place_after(self, low: float, high: float, time: float) -> float:
        return root_between(lambda x: self.time(low, x) - time, low, high)


def through(
    at: Callable[[float], Warming], start: float, profile: Sequence[tuple[float, float]]
) -> list[float]:
    """Temperatures, in K, at the start and at the end of each stretch of a profile.

    ``at`` makes the cable at a current in A, ``profile`` has currents and times in s. At a constant
    current the temperature only rises or only falls, so that the largest of them is the peak.
    """
    temperatures = [start]
    for current, time in profile:
        temperatures.append(at(current).after(temperatures[-1], time))
    return temperatures
