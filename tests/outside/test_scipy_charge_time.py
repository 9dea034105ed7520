"""A charge followed in time by a solver of differential equations, which knows no stages.

Source: scipy.integrate.solve_ivp, ds/dt = I/Q and dE/dt = (U + R·I)·I, with the current found anew
in each step by a root search of its own: the largest I at or under the limit for which neither the
power nor the highest voltage is passed. It stops where the charge is there.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from wattwright.physics import charge_time

# A curve of an iron phosphate pack, flat between steep ends, and one of a nickel pack.
FLAT = ([0, 0.05, 0.1, 0.3, 0.6, 0.9, 0.97, 1], [275, 305, 315, 322, 324, 328, 333, 360])
ROUND = ([0, 0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 1], [265, 290, 310, 325, 343, 368, 387, 400])
CASES = [
    # All three stages: 16 A to half charged, then 5.6 kW, then 398 V.
    (ROUND, 398.0, 0.30, 5600.0, 16.0, 0.2, 0.97),
    (ROUND, 398.0, 0.20, 3300.0, 100.0, 0.2, 0.98),
    (ROUND, 398.0, 0.45, 6600.0, 100.0, 0.05, 0.97),
    (ROUND, 395.0, 0.45, 6600.0, 16.0, 0.1, 0.955),
    (FLAT, 350.0, 0.15, 3000.0, 40.0, 0.1, 0.988),
    (FLAT, 345.0, 0.60, 9000.0, 25.0, 0.0, 0.975),
]


@pytest.mark.parametrize(("curve", "highest", "ohms", "power", "limit", "start", "wanted"), CASES)
def test_time_and_energy_of_a_charge(
    curve: tuple[list[float], list[float]],
    highest: float,
    ohms: float,
    power: float,
    limit: float,
    start: float,
    wanted: float,
) -> None:
    shares, volts = curve
    capacity = 70 * 3600.0

    def drawn(share: float) -> float:
        rest = float(np.interp(share, shares, volts))

        def over(current: float) -> float:
            terminal = rest + ohms * current
            return max(terminal - highest, terminal * current / power - 1)

        # The solver looks a little past where it stops.
        if over(0.0) >= 0:
            return 0.0
        return limit if over(limit) <= 0 else float(brentq(over, 0.0, limit, xtol=1e-12))

    def rate(_: float, state: np.ndarray) -> list[float]:
        current = drawn(float(state[0]))
        rest = float(np.interp(state[0], shares, volts))
        return [current / capacity, (rest + ohms * current) * current]

    def there(_: float, state: np.ndarray) -> float:
        return float(state[0]) - wanted

    there.terminal = True  # type: ignore[attr-defined]
    done = solve_ivp(
        rate, (0.0, 4e5), [start, 0.0], events=there, rtol=1e-8, atol=[1e-10, 1.0], max_step=200.0
    )
    assert done.status == 1
    numbers = (capacity, start, wanted, power, limit, highest, ohms, shares, volts)
    assert charge_time.charge_time(*numbers) == pytest.approx(done.t[-1], rel=2e-5)
    assert charge_time.charge_energy(*numbers) == pytest.approx(done.y[1, -1], rel=2e-5)
    # All of these end at the highest voltage, or they would not try that stage.
    last = charge_time.current_at_voltage(highest, float(np.interp(wanted, shares, volts)), ohms)
    assert last < min(limit, power / highest)
    assert charge_time.charge_reached(last, highest, ohms, shares, volts) == pytest.approx(wanted)
