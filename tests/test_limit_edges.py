"""The quick searches along the edge of the limits against the search that looks at every candidate.

The quick ways are switched off by letting both of them answer with nothing, which is what they do
where they are not sure. Quantities that have no dimension are drawn over many decades: how far the
current reaches past the magnets, how salient the machine is, what its resistance drops, how fast it
turns for its voltage.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from wattwright.limit_edges import on_the_arc, on_the_ellipse
from wattwright.physics import pmsm

Machine = tuple[float, float, float, float, float]
Case = tuple[float, float, float, Machine]
# Both sides agree to the last digits; an angle found to 1e-14 leaves a little more of a torque.
SAME = 1e-9


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Speed of the shaft, DC voltage, current limit and machine."""

    def decades(low: float, high: float) -> float:
        return float(10.0 ** draw(st.floats(low, high)))

    flux, current, voltage = decades(-4, 1), decades(0, 4), decades(0, 4)
    pole_pairs = float(draw(st.integers(1, 12)))
    ld = flux / current * decades(-3, 3)
    lq = ld * draw(st.sampled_from([1.0, decades(-2, 2)]))
    rs = voltage / current * draw(st.sampled_from([0.0, decades(-7, 0)]))
    turning = decades(-3, 3) * draw(st.sampled_from([1, 1, -1]))
    return voltage / flux / pole_pairs * turning, voltage, current, (pole_pairs, flux, ld, lq, rs)


def torque_at(machine: Machine, at: pmsm.Currents) -> float:
    return pmsm.torque(*machine[:4], at.d, at.q)


def thorough(case: Case) -> pmsm.Currents:
    """Currents of the largest torque, every candidate looked at."""
    speed, voltage, current, machine = case
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pmsm, "on_the_arc", lambda *_: None)
        patch.setattr(pmsm, "on_the_ellipse", lambda *_: None)
        return pmsm.limit_currents(speed, voltage, current, *machine)


def inside(case: Case, d: float, q: float) -> bool:
    speed, voltage, current, machine = case
    needed = pmsm.phase_voltage(speed, *machine, d, q)
    # Voltage is a difference of two large numbers where the speed is high: rounding of those.
    size = abs(machine[0] * speed) * (machine[1] + max(machine[2:4]) * current)
    room = 1e-13 * (size + machine[4] * current)
    enough = needed <= voltage / math.sqrt(3) * (1 + SAME) + room
    return enough and math.hypot(d, q) <= current * (1 + SAME)


@settings(max_examples=400, deadline=None)
@given(cases())
def test_the_quick_ways_give_the_torque_of_the_thorough_one(case: Case) -> None:
    speed, voltage, current, machine = case
    found = pmsm.limit_currents(speed, voltage, current, *machine)
    full = machine[0] * machine[1] * current
    assert torque_at(machine, found) == pytest.approx(
        torque_at(machine, thorough(case)), rel=SAME, abs=1e-11 * full
    )


def quick(case: Case) -> dict[str, tuple[float, float] | None]:
    """What each of the quick ways answers where the currents of most torque need too much."""
    speed, voltage, current, machine = case
    pole_pairs, flux, ld, lq, rs = machine
    d = pmsm.mtpa_d_current(current, flux, ld, lq)
    start = (d, pmsm.q_current(current, d))
    electrical, volts = pole_pairs * speed, voltage / math.sqrt(3)
    if pmsm.phase_voltage(speed, *machine, *start) <= volts:
        return {}
    ellipse = pmsm._ellipse(volts, electrical, flux, ld, lq, rs)
    return {
        "arc": on_the_arc(electrical, flux, ld, lq, rs, volts, start, current),
        "ellipse": on_the_ellipse(*ellipse, flux, ld - lq, current),
    }


@settings(max_examples=400, deadline=None)
@given(cases())
def test_a_quick_answer_lies_inside_both_limits_and_nothing_gives_more(case: Case) -> None:
    machine = case[3]
    full = machine[0] * machine[1] * case[2]
    for way, point in quick(case).items():
        event(f"{way} {'answers' if point else 'leaves it to the thorough search'}")
        if point is None:
            continue
        assert inside(case, *point), way
        answered = torque_at(machine, pmsm.Currents(*point))
        most = torque_at(machine, thorough(case))
        assert answered == pytest.approx(most, rel=SAME, abs=1e-11 * full), way


# A machine whose current reaches past its magnets, from full torque to most torque per volt.
TRACTION: Machine = (3.0, 0.066, 0.37e-3, 1.2e-3, 5e-3)


@pytest.mark.parametrize(
    ("speed", "way"),
    # 300 V drive 400 A up to some 260 rad/s; then along the circle; then along the ellipse.
    [(100.0, None), (400.0, "arc"), (6000.0, "ellipse")],
)
@pytest.mark.parametrize("turning", [1.0, -1.0])
def test_on_a_traction_motor_each_way_is_taken(
    speed: float, way: str | None, turning: float
) -> None:
    case = (turning * speed, 300.0, 400.0, TRACTION)
    answers = {each for each, point in quick(case).items() if point is not None}
    assert answers == ({way} if way else set())


def test_a_voltage_too_low_for_any_torque_has_no_point() -> None:
    # Fast, with magnets stronger than the whole current: the EMF alone is past the voltage.
    case = (5000.0, 100.0, 10.0, (4.0, 0.1, 1e-4, 1e-4, 0.0))
    assert set(quick(case).values()) == {None}
    assert thorough(case) == pmsm.Currents(0.0, 0.0)


def test_an_ellipse_that_lies_on_one_side_of_nought_has_no_point() -> None:
    # Axes of i_q: middle 5 A, reach 3 A, so that i_q is nowhere nought.
    assert on_the_ellipse((0.0, 3.0, 0.0), (5.0, 0.0, 3.0), 0.1, 0.0, 100.0) is None
    assert on_the_ellipse((0.0, 3.0, 0.0), (-5.0, 0.0, 3.0), 0.1, 0.0, 100.0) is None
    # A round machine has its best point at the top: 0 A along, 3 A across.
    top = on_the_ellipse((0.0, 3.0, 0.0), (0.0, 0.0, 3.0), 0.1, 0.0, 100.0)
    assert top == pytest.approx((0.0, 3.0), abs=1e-12)
    # Outside the current circle it does not count.
    assert on_the_ellipse((0.0, 3.0, 0.0), (0.0, 0.0, 3.0), 0.1, 0.0, 2.9) is None
