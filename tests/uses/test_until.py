"""How far a trace leads when repeated, and how long a speed is held."""

from __future__ import annotations

import math

import numpy as np
import pytest

from vehicles import maps, mixed, parameters
from wattwright.errors import UseError
from wattwright.uses.inputs import Trace
from wattwright.uses.runs import run
from wattwright.uses.until import steady, until_reserve

MAPS = maps()
ROUND = mixed(300, fastest=20.0)
CLOSED = Trace(ROUND.steps, np.append(ROUND.speeds[:-1], ROUND.speeds[0]), 0.0)


def repeated(rounds):
    speeds = np.concatenate([CLOSED.speeds[:1], *[CLOSED.speeds[1:]] * rounds])
    return Trace(np.tile(CLOSED.steps, rounds), speeds)


def test_the_distance_is_that_of_the_trace_laid_end_to_end():
    p = parameters(start_charge=0.3, end_charge=0.1)
    reach = until_reserve(CLOSED, parameters(start_charge=0.3), MAPS, 0.1)
    long = run(repeated(math.ceil(reach.rounds)), p, MAPS)
    assert long.ended == "empty"
    last = long.steps
    passed = np.interp(-0.1, -long.charge, long.speed * 0 + np.arange(last + 1))
    distances = np.concatenate(([0.0], np.cumsum((long.speed[1:] + long.speed[:-1]) / 2)))
    assert reach.distance == pytest.approx(np.interp(passed, np.arange(last + 1), distances))
    assert reach.time == pytest.approx(passed)
    assert reach.rounds == pytest.approx(passed / 300)
    assert reach.limit == "charge"
    assert reach.rounds > 5


@pytest.mark.xdist_group("compiled")
def test_both_forms_lead_as_far():
    p = parameters(start_charge=0.3)
    one, other = (until_reserve(CLOSED, p, MAPS, 0.15, compiled=form) for form in (False, True))
    assert one.distance == pytest.approx(other.distance, rel=1e-9)


def test_less_reserve_leads_farther_and_no_charge_above_it_nowhere():
    p = parameters(start_charge=0.3)
    distances = [until_reserve(CLOSED, p, MAPS, reserve).distance for reserve in (0.2, 0.1, 0.0)]
    assert distances == sorted(distances)
    assert until_reserve(CLOSED, p, MAPS, 0.3).distance == 0
    assert until_reserve(CLOSED, p, MAPS, 0.2999).rounds < 1


def test_it_ends_where_a_later_round_is_held_back():
    p = parameters(start_charge=0.9, drive_coolant_to_ambient=2.0, limit_inverter=320.15)
    free = until_reserve(CLOSED, p, MAPS, 0.1)
    for form in (False, True):
        reach = until_reserve(CLOSED, p, MAPS, 0.1, form, missing=0.5)
        assert 1.0 < reach.rounds < free.rounds
        assert reach.limit == "inverter temperature"
        # So far it was driven as wanted: whole rounds, and the part of the last one.
        once = np.concatenate(([0.0], np.cumsum((CLOSED.speeds[1:] + CLOSED.speeds[:-1]) / 2)))
        whole, part = divmod(reach.time, 300.0)
        wanted = whole * once[-1] + np.interp(part, np.arange(301), once)
        assert reach.distance == pytest.approx(wanted, rel=0.01)
    assert until_reserve(CLOSED, p, MAPS, 0.1, missing=50.0).distance < free.distance


def test_downhill_all_the_way_has_no_end():
    down = Trace(CLOSED.steps, CLOSED.speeds, -0.08)
    reach = until_reserve(down, parameters(start_charge=0.5), MAPS, 0.1)
    assert reach.distance == math.inf
    assert reach.limit == "nothing"


def test_a_round_must_close_and_a_reserve_be_a_share():
    with pytest.raises(UseError, match="at which it begins"):
        until_reserve(Trace([1.0], [0.0, 1.0]), parameters(), MAPS, 0.1)
    with pytest.raises(UseError, match="reserve"):
        until_reserve(CLOSED, parameters(), MAPS, 1.0)


def test_a_steady_speed_lasts_until_the_pack_is_empty():
    p = parameters(start_charge=0.9, end_charge=0.1)
    lasted = steady(20.0, 0.0, p, MAPS)
    assert lasted.limit == "charge"
    assert lasted.distance == pytest.approx(20.0 * lasted.time)
    fine = steady(20.0, 0.0, p, MAPS, step=1.0)
    assert fine.time == pytest.approx(lasted.time, rel=1e-3)
    assert steady(20.0, 0.01, p, MAPS).time < lasted.time


@pytest.mark.parametrize(
    ("changes", "limit"),
    [
        ({"limit_motor": 311.15}, "motor temperature"),
        ({"limit_inverter": 308.15}, "inverter temperature"),
        ({"limit_pack": 300.15, "span_pack": 5.0, "resistance": 0.3}, "pack temperature"),
    ],
)
def test_a_climb_ends_where_it_becomes_too_hot(changes, limit):
    lasted = steady(24.0, 0.07, parameters(**changes), MAPS)
    assert lasted.limit == limit
    assert 0 < lasted.time < 3600
    assert lasted.distance == pytest.approx(24.0 * lasted.time)


def test_a_speed_out_of_reach_ends_at_once():
    assert steady(30.0, 0.4, parameters(), MAPS).limit in ("torque", "pack power")
    assert steady(30.0, 0.4, parameters(), MAPS).time == 0
    assert steady(50.0, 0.0, parameters(), MAPS).limit == "highest speed"
    weak = parameters(discharge_current=30.0)
    assert steady(25.0, 0.0, weak, MAPS).limit == "pack power"


def test_a_speed_downhill_is_held_as_long_as_one_looks():
    lasted = steady(15.0, -0.06, parameters(start_charge=0.5), MAPS, longest=7200.0)
    assert (lasted.limit, lasted.time) == ("nothing", 7200.0)
    assert lasted.distance == pytest.approx(15.0 * 7200)


def test_a_pack_that_cannot_feed_its_heater_holds_no_speed():
    lasted = steady(10.0, 0.0, parameters(heater=9000.0, discharge_current=10.0), MAPS)
    assert (lasted.limit, lasted.time) == ("pack cannot feed", 0.0)


def test_a_steady_speed_is_above_nought():
    with pytest.raises(UseError, match="above nought"):
        steady(0.0, 0.0, parameters(), MAPS)
