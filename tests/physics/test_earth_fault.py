"""Earth faults by hand."""

from __future__ import annotations

import pytest

from wattwright.errors import FormulaError
from wattwright.physics import earth_fault


def test_by_hand() -> None:
    assert earth_fault.magnetic_trip(16.0, 5.0) == 80.0
    assert earth_fault.loop_current(230.0, 0.8) == pytest.approx(287.5)
    # 100 Ω · 30 mA
    assert earth_fault.touch_voltage(100.0, 0.03) == pytest.approx(3.0)
    assert earth_fault.leakage_sum([2e-3, 0.5e-3, 3.5e-3]) == pytest.approx(6e-3)
    assert earth_fault.leakage_sum([]) == 0
    assert earth_fault.floating_voltage(230.0) == 115.0


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (earth_fault.magnetic_trip, (0.0, 5.0)),
        (earth_fault.magnetic_trip, (16.0, 0.0)),
        (earth_fault.loop_current, (230.0, 0.0)),
        (earth_fault.touch_voltage, (-1.0, 0.03)),
        (earth_fault.touch_voltage, (100.0, -0.03)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]
