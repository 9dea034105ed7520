"""The published chart for two joints: which second angle a first one allows, by speed.

Source: an engineering site's page on driveline design, which refers to a society's manual of
universal joints and driveshafts, section 3.1.1 (angles seen there, in steps of 0.1°).
"""

from __future__ import annotations

import math

import pytest

from wattwright.areas.mounts.propshaft_checks import TORSION
from wattwright.build.fields import Quantity
from wattwright.build.propshafts import Propshaft
from wattwright.build.shape import slots
from wattwright.physics import cardan, propshaft

# rpm, then the second angle for a first one of 0°, 1°, 2° ...
CHART = {
    1500.0: (7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6),
    1600.0: (6.9, 6.9, 7.1, 7.5, 7.9, 8.5, 9.1, 9.8, 10.5),
    1700.0: (6.5, 6.5, 6.8, 7.1, 7.6, 8.2, 8.8),
}
POINTS = [
    (rpm, float(first), second)
    for rpm, seconds in CHART.items()
    for first, second in enumerate(seconds)
]


@pytest.mark.parametrize(("rpm", "first", "second"), POINTS)
def test_every_point_of_the_chart_shakes_as_much_as_the_limit(
    rpm: float, first: float, second: float
) -> None:
    """Read in steps of 0.1°, every point lies within 2 % of 400 rad/s²."""
    speed = rpm * 2 * math.pi / 60
    line = (0.0, math.radians(first), math.radians(first + second))
    yoke = cardan.yoke_after(0.0, 0.0, 0.0)
    one = (line[0], 0.0, line[1], 0.0, 0.0)
    two = (line[1], 0.0, line[2], 0.0, yoke)
    residual = cardan.residual_angle(
        [cardan.swing_along(*one), cardan.swing_along(*two)],
        [cardan.swing_across(*one), cardan.swing_across(*two)],
    )
    assert 395.0 < cardan.excitation(speed, residual) < 408.5
    allowed = math.degrees(propshaft.angle_for(400.0, speed))
    assert math.hypot(first, allowed) == pytest.approx(second, abs=0.1)


def test_the_limit_that_stands_there_until_the_builder_writes_his_own_is_that_of_the_chart() -> (
    None
):
    assert len(POINTS) == 26
    declared = {slot.name: slot.declared for slot in slots(Propshaft)}["torsion_limit"]
    assert isinstance(declared, Quantity)
    assert declared.default.startswith("400 rad/s²")
    assert "396 to 408" in declared.basis
    assert TORSION.kind.si == "rad/s²"
