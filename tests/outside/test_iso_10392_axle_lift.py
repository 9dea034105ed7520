"""Height of the centre of gravity from a lifted axle, against worked cases.

Source: ISO 10392, axle-lift method; its formula was read in secondary copies, no numbers of the
standard itself. No published example with sane numbers was found, so the two cases here were
worked by hand from h = r + L·Δm/(m·tan α):
  1400 kg, 2.5 m, +42 kg, 12°, axle at 0.30 m: 0.652847 m. The lift is then 2.5·sin 12° =
  0.519779 m. Taking lift over wheelbase for the tangent gives 0.660730 m instead, which is a
  wrong answer in common use.
  1200 kg, 2.400 m, 700 kg in front, axle at 0.290 m, centre of gravity at 0.530 m, rear lifted by
  0.600 m: the front must gain 30.984 kg. This one is made to close; it shows that the inverse is
  right, not that the method is.
Six or seven digits are given, so half a unit of the last is allowed. An independent computation,
which tilts a rigid body, is in test_numpy_equilibrium.py.
"""

from __future__ import annotations

import math

import pytest

from wattwright.assessment import assess
from wattwright.build.reader import parse_build
from wattwright.kinds import ANGLE, LENGTH, MASS
from wattwright.physics.cg_height import (
    angle_for_accuracy,
    cg_height,
    gain_on_floor_axle,
    height_band,
    level_part,
    lift_angle_from_height,
    scales_part,
)
from wattwright.units import read
from wattwright.values import Given, Origin, given, worked

BUILD = """\
format = 1
[build]
name = "axle lift"
[donor]
wheelbase = "2500 mm ± 0, measured"
[donor.weighed]
front = "742 kg ± 0, measured"
rear = "658 kg ± 0, measured"
aboard = {{}}
[place.tank]
role = "tank"
full = "0 kg ± 0, measured"
at = {{ x = "2 m", y = "0 m", z = "0.6 m" }}
[donor.weighed.lift]
lifted = "{lifted}"
{tilt}
floor_lifted = "{floor_lifted}"
axle_height = "300 mm ± 0, measured"
suspension_locked = true
"""


def test_tilt_by_angle() -> None:
    height = cg_height(1400, 2.5, 42, read("12°", ANGLE).number, 0.30)
    assert abs(height - 0.652847) <= 0.5e-6
    assert abs(height - 0.660730) > 0.007


def test_tilt_by_height() -> None:
    angle = lift_angle_from_height(0.519779, 2.5)
    assert abs(math.degrees(angle) - 12) <= 0.5e-4
    assert abs(cg_height(1400, 2.5, 42, angle, 0.30) - 0.652847) <= 1e-6


@pytest.mark.parametrize(
    ("lifted", "floor_lifted"),
    [("rear", "784 kg ± 0, measured"), ("front", "700 kg ± 0, measured")],
)
@pytest.mark.parametrize("tilt", ['angle = "12° ± 0, measured"', 'height = "519.779 mm, measured"'])
def test_the_same_through_a_build(lifted: str, floor_lifted: str, tilt: str) -> None:
    text = BUILD.format(lifted=lifted, floor_lifted=floor_lifted, tilt=tilt)
    said = assess(parse_build(text.encode())).by_address
    for address in ("vehicle.lift_height@donor", "vehicle.cg_z@kerb/donor"):
        number = said[address].value.number
        assert number is not None
        assert abs(number - 0.652847) <= 1e-6


def test_a_case_that_closes() -> None:
    angle = lift_angle_from_height(0.600, 2.400)
    assert abs(math.tan(angle) - 0.258199) <= 0.5e-6
    height = cg_height(1200, 2.400, gain_on_floor_axle(700, 730.984), angle, 0.290)
    # The gain is rounded to a gram, 7.75 µm of height.
    assert abs(height - 0.530) <= 0.5e-5


def test_what_a_kilogram_on_the_scales_does() -> None:
    """L/(m·tan α) = 7.746 mm of height per kilogram, and ±5 kg make ±39 mm."""
    reading = Given("lift.floor_lifted", "lifted", Origin.MEASURED, "", band=5.0)
    exact = Given("exact", "exact", Origin.MEASURED, "")
    height = worked(
        cg_height,
        given(MASS, 1200, exact),
        given(LENGTH, 2.400, exact),
        worked(gain_on_floor_axle, given(MASS, 700, exact), given(MASS, 730.984, reading)),
        worked(lift_angle_from_height, given(LENGTH, 0.600, exact), given(LENGTH, 2.400, exact)),
        given(LENGTH, 0.290, exact),
    )
    assert abs(height.effects[reading] / 5.0 - 0.007746) <= 0.5e-6
    assert abs(height.band - 0.039) <= 0.5e-3


@pytest.mark.parametrize("gain_band", [1.0, 3.0, 8.0])
@pytest.mark.parametrize("angle_band", [0.0, 0.002, 0.01])
@pytest.mark.parametrize("height", [0.45, 0.65, 0.9])
def test_how_closely_a_tilt_gives_the_height(
    gain_band: float, angle_band: float, height: float
) -> None:
    """The band is that of finite differences of the formula; the tilt asked for is the smallest."""
    mass, base, axle, angle = 1300.0, 2.6, 0.3, 0.2

    def at(tilt: float, more: float, off: float) -> float:
        gain = mass * (height - axle) * math.tan(tilt) / base
        return cg_height(mass, base, gain + more, tilt + off, axle)

    def band(tilt: float) -> float:
        step = 1e-5
        by_gain = (at(tilt, step, 0) - at(tilt, -step, 0)) / (2 * step) * gain_band
        by_angle = (at(tilt, 0, step) - at(tilt, 0, -step)) / (2 * step) * angle_band
        return math.hypot(by_gain, by_angle)

    parts = scales_part(mass, base, gain_band), level_part(height, axle, angle_band)
    assert height_band(*parts, angle) == pytest.approx(band(angle), rel=1e-7)
    wanted = 0.06
    enough = angle_for_accuracy(*parts, wanted)
    assert band(enough) == pytest.approx(wanted, rel=1e-6)
    assert band(0.98 * enough) > wanted
