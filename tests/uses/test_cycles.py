"""Test cycles as package data."""

from __future__ import annotations

import itertools
from typing import get_args

import pytest

from wattwright.build.uses import CycleName
from wattwright.errors import UsageError
from wattwright.kinds import SPEED
from wattwright.units import read
from wattwright.uses.cycles import about, cycle, names
from wattwright.uses.profile import of_cycle


def test_the_names_in_a_build_file_are_those_of_the_table() -> None:
    assert get_args(CycleName) == names()


@pytest.mark.parametrize("name", names())
def test_a_cycle_is_one_speed_a_second_from_standstill_to_standstill(name: str) -> None:
    times, speeds = cycle(name)
    assert times == tuple(range(len(speeds)))
    assert speeds[0] == speeds[-1] == 0.0
    assert all(0.0 <= speed < 40.0 for speed in speeds)
    steepest = max(abs(after - before) for before, after in itertools.pairwise(speeds))
    assert steepest < 4.0
    profile = of_cycle(name)
    assert (profile.speeds, profile.step) == (speeds, 1.0)
    assert len(profile.grades) == len(speeds) - 1
    assert (profile.climb, profile.rise, profile.notes) == (0.0, 0.0, ())
    assert about(name).source.title


def test_speeds_are_those_of_the_file_in_metres_per_second() -> None:
    speeds = cycle("nedc")[1]
    assert speeds[15] == read("15 km/h", SPEED).number
    assert speeds[13] == pytest.approx(read("7.5 km/h", SPEED).number)


def test_an_unknown_cycle_is_named_with_the_nearest() -> None:
    with pytest.raises(UsageError, match="there is no cycle 'wltc_3'; did you mean wltc_3"):
        cycle("wltc_3")
    with pytest.raises(UsageError, match="known: wltc_1, "):
        cycle("x")
