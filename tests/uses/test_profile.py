"""Profiles: whatever goes in, distance and climb come out."""

from __future__ import annotations

import itertools
from math import hypot, pi, sin

import pytest
from hypothesis import assume, example, settings
from hypothesis import given as draws
from hypothesis import strategies as st

from wattwright.kinds import FRACTION
from wattwright.sampled import Note, Route, looked_up
from wattwright.uses.driving import SPEED_WINDOW, passed
from wattwright.uses.hills import turns
from wattwright.uses.profile import Profile, Stretch, of_route, of_stretches
from wattwright.values import constant

SHARE = constant(FRACTION, 0.0, "exact")


def climb(altitudes) -> float:
    pairs = itertools.pairwise(altitudes)
    return sum(max(0.0, high - low) for low, high in pairs)


def changes(profile: Profile) -> list[float]:
    speeds = profile.speeds
    return [after - before for before, after in itertools.pairwise(speeds)]


# --------------------------------------------------------------------------------------- stretches


def test_one_level_stretch_by_hand() -> None:
    """Up to 10 m/s in 10 s over 50 m, 20 s held, down in 5 s over 25 m: 275 m in 35 s."""
    profile = of_stretches("hand", [Stretch(275.0, 10.0)], 1.0, 2.0)
    assert profile.duration == 35.0
    assert profile.speeds[:11] == pytest.approx(range(11))
    assert profile.speeds[10:31] == pytest.approx([10.0] * 21)
    assert profile.speeds[30:] == pytest.approx([10, 8, 6, 4, 2, 0])
    assert profile.distance == pytest.approx(275.0)
    assert profile.times[-1] == 35.0


def test_a_stretch_too_short_for_its_speed_is_driven_as_fast_as_it_allows() -> None:
    """25 m up and 25 m down at 1 m/s² meet at the square root of 50 m²/s²."""
    profile = of_stretches("short", [Stretch(49.0, 30.0)], 1.0, 1.0)
    assert max(profile.speeds) == pytest.approx(7.0)


def test_the_brakes_are_used_before_a_slower_stretch() -> None:
    profile = of_stretches("town", [Stretch(1000.0, 20.0), Stretch(500.0, 10.0)], 1.0, 1.0)
    end = next(n for n, _ in enumerate(profile.speeds) if sum(profile.lengths[:n]) >= 999.0)
    assert profile.speeds[end] == pytest.approx(10.0, abs=1.0)
    assert max(profile.speeds[end + 1 :]) <= 10.01


def test_a_stop_stands_as_long_as_it_says_and_the_last_one_too() -> None:
    stretches = [Stretch(200.0, 10.0, 0.0, 30.0), Stretch(200.0, 10.0, 0.05, 12.0)]
    profile = of_stretches("stops", stretches, 1.0, 1.0)
    standing = [length for length in profile.lengths if length == 0.0]
    assert 40 <= len(standing) <= 42
    assert profile.duration == pytest.approx(30 + 30 + 30 + 12, abs=1)
    # Standing at the top, the vehicle still stands on its hill.
    assert profile.grades[-1] == pytest.approx(0.05)


def test_a_summit_between_two_seconds_loses_nothing() -> None:
    profile = of_stretches("hill", [Stretch(510.0, 20.0, 0.1), Stretch(507.0, 20.0, -0.1)], 1, 1)
    assert profile.climb == pytest.approx(510.0 * 0.1 / hypot(1, 0.1), rel=1e-9)
    assert profile.rise == pytest.approx(3.0 * 0.1 / hypot(1, 0.1), rel=1e-6)


@st.composite
def some_stretches(draw):
    found = []
    for _ in range(draw(st.integers(1, 7))):
        speed = draw(st.floats(0.9, 55.0))
        length = draw(st.floats(max(10.0, 4.0 * speed), 3000.0))
        stop = draw(st.sampled_from([0.0, 0.0, 0.4, 7.0, 60.0]))
        found.append(Stretch(length, speed, draw(st.floats(-0.25, 0.25)), stop))
    return found


@settings(max_examples=300, deadline=None)
@draws(some_stretches(), st.floats(0.2, 5.0), st.floats(0.2, 5.0))
@example([Stretch(10.0, 1.0, 0.25)], 5.0, 5.0)
@example([Stretch(220.0, 55.0, 0.25), Stretch(220.0, 55.0, -0.25)] * 3, 5.0, 5.0)
def test_any_stretches_keep_distance_and_climb(stretches, up, down) -> None:
    profile = of_stretches("any", stretches, up, down)
    wanted = sum(stretch.length for stretch in stretches)
    assert profile.distance == pytest.approx(wanted, rel=1e-9)
    rises = [stretch.rise for stretch in stretches]
    assert profile.climb == pytest.approx(sum(r for r in rises if r > 0), rel=1e-3, abs=1e-6)
    assert profile.rise == pytest.approx(sum(rises), rel=1e-3, abs=1e-6)
    assert len(profile.speeds) == len(profile.grades) + 1
    assert profile.speeds[0] == profile.speeds[-1] == 0.0
    assert all(speed >= 0.0 for speed in profile.speeds)
    # Seconds cut the corners; what that takes is spread over the whole, a few per cent at most.
    assert max(profile.speeds) <= 1.1 * max(stretch.speed for stretch in stretches)
    assert max(changes(profile)) <= 1.1 * up
    assert min(changes(profile)) >= -1.1 * down
    assert max(abs(grade) for grade in profile.grades) < 0.36


@draws(st.lists(st.floats(0, 40), min_size=2, max_size=9), st.floats(0.2, 5), st.data())
def test_no_speed_is_raised_and_every_change_can_be_driven(wanted, rate, data) -> None:
    size = len(wanted) - 1
    lengths = data.draw(st.lists(st.floats(1, 900), min_size=size, max_size=size))
    speeds = passed(wanted, lengths, rate, rate)
    assert all(got <= want for got, want in zip(speeds, wanted, strict=True))
    for begin, end, length in zip(speeds, speeds[1:], lengths, strict=False):
        assert abs(end**2 - begin**2) <= 2 * rate * length * (1 + 1e-9) + 1e-9


# ------------------------------------------------------------------------------------------ routes


def hill(length: float, height: float, waves: int = 2) -> tuple[tuple[float, ...], ...]:
    along = tuple(length * n / 240 for n in range(241))
    return along, tuple(height * (1 - sin(pi / 2 + waves * 2 * pi * x / length)) / 2 for x in along)


def route(places, times=(), speeds=(), height=80.0, notes=()) -> Route:
    along, altitudes = hill(places[-1], height)
    return Route(tuple(places), tuple(times), tuple(speeds), along, altitudes, notes, SHARE)


MENDED = (Note("a gap bridged by a straight line", "x.gpx line 9", "300 m"),)


@settings(max_examples=150, deadline=None)
@draws(st.floats(2000, 20000), st.floats(2.0, 35.0), st.floats(0, 90))
@example(2000.0000000000002, 2.0, 0.0)
def test_a_planned_route_keeps_distance_and_climb(length, speed, height) -> None:
    way = route((0.0, length), height=height, notes=MENDED)
    profile = of_route("plan", way, 1.0, 1.0, speed)
    assert profile.distance == pytest.approx(length, rel=1e-9)
    assert profile.climb == pytest.approx(climb(way.altitudes), rel=1e-3, abs=1e-6)
    assert profile.rise == pytest.approx(0.0, abs=1e-6)
    assert profile.speeds[0] == profile.speeds[-1] == 0.0
    assert profile.notes == MENDED


def test_a_planned_route_without_any_speed_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a speed"):
        of_route("plan", route((0.0, 900.0)), 1.0, 1.0)


def test_a_plan_with_speeds_is_driven_within_the_accelerations_and_says_so() -> None:
    places, speeds = (0.0, 300.0, 310.0, 800.0), (15.0, 15.0, 2.0, 10.0)
    profile = of_route("plan", route(places, speeds=speeds), 1.0, 1.0)
    assert profile.distance == pytest.approx(800.0)
    assert max(abs(change) for change in changes(profile)) < 1.05
    assert max(profile.speeds) == pytest.approx(15.0, rel=0.01)
    (note,) = profile.notes
    assert "lowered" in note.text
    assert note.where == "most at 300 m"
    assert note.amount == "15.0 m/s to 4.9 m/s"
    assert str(note).startswith("speeds lowered to what the accelerations allow, at 1 places, most")


def test_a_recording_with_speeds_is_driven_as_it_stands() -> None:
    times = tuple(float(t) for t in range(0, 201, 2))
    speeds = tuple(10.0 + 8.0 * sin(t / 20) for t in times)
    places = [0.0]
    for a, b in itertools.pairwise(speeds):
        places.append(places[-1] + a + b)
    way = route(places, times, speeds)
    profile = of_route("log", way, 1.0, 1.0)
    assert profile.duration == 200.0
    assert profile.speeds[::2] == pytest.approx(speeds, rel=1e-9)
    assert profile.distance == pytest.approx(places[-1])
    assert profile.climb == pytest.approx(climb(way.altitudes), rel=1e-3)


@settings(max_examples=100, deadline=None)
@draws(st.lists(st.tuples(st.floats(0.3, 9.0), st.floats(0.0, 25.0)), min_size=40, max_size=80))
def test_a_recording_of_places_keeps_distance_and_climb(steps) -> None:
    assume(sum(seconds * speed for seconds, speed in steps) > 500)
    times, places = [0.0], [0.0]
    for seconds, speed in steps:
        times.append(times[-1] + seconds)
        places.append(places[-1] + seconds * speed)
    way = route(places, times, height=0.02 * places[-1])
    profile = of_route("track", way, 1.0, 1.0)
    assert profile.distance == pytest.approx(places[-1], rel=1e-9)
    assert profile.climb == pytest.approx(climb(way.altitudes), rel=1e-3)
    assert max(profile.speeds) <= 26.0 * places[-1] / (places[-1] - 25.0)
    assert profile.duration == pytest.approx(times[-1], abs=1.0)


def test_a_stop_stays_a_stop_and_a_receiver_that_wavers_is_no_acceleration() -> None:
    times = [float(t) for t in range(121)]
    places = [min(t, 40.0) * 12.0 + max(0.0, t - 90.0) * 12.0 for t in times]
    profile = of_route("stop", route(places, times), 1.0, 1.0)
    half = SPEED_WINDOW // 2 + 1
    assert max(profile.speeds[40 + half : 90 - half]) == pytest.approx(0.0, abs=1e-9)
    wavering = [12.0 * t + (0.4 if t % 2 else -0.4) * (0 < t < 120) for t in times]
    smooth = of_route("waver", route(wavering, times), 1.0, 1.0)
    assert max(abs(change) for change in changes(smooth)[3:-3]) < 0.3


def test_summits_and_hollows_are_found_whatever_is_flat_between() -> None:
    along, altitudes = [0, 1, 2, 3, 4, 5, 6], [0, 5, 5, 3, 3, 4, 9]
    assert turns(along, altitudes) == [2, 4]
    assert turns([0, 1], [3, 3]) == []


def test_looking_up_between_points() -> None:
    xs, ys = (0.0, 1.0, 1.0, 3.0), (0.0, 10.0, 20.0, 40.0)
    assert [looked_up(xs, ys, x) for x in (-1, 0.5, 1.0, 2.0, 9.0)] == [0, 5, 20, 30, 40]
