"""Altitudes: noise out, climb kept, and nothing done without a note."""

from __future__ import annotations

import itertools
import random
from math import cos, pi, tau

import pytest
from hypothesis import given as draws
from hypothesis import settings
from hypothesis import strategies as st
from routes import gpx, gpx_route, note, point, texts

from wattwright.build.route_cleaning import SPACING, STEEPEST, WINDOW, smoothed
from wattwright.sampled import Route
from wattwright.uses.profile import of_route


def track(heights, step: float = 15.0) -> str:
    return gpx(*(point(step * n, f"{z:.3f}", 1.0 * n) for n, z in enumerate(heights)))


def climb(route: Route) -> float:
    pairs = zip(route.altitudes, route.altitudes[1:], strict=False)
    return sum(max(0.0, high - low) for low, high in pairs)


def hill(n: int, top: float = 120.0, count: int = 400) -> float:
    return top * (1 - cos(tau * n / count)) / 2


@pytest.mark.parametrize("seed", range(5))
def test_a_hill_with_noise_has_the_climb_of_the_hill(seed: int) -> None:
    """120 m over 6 km; the receiver is 2 m off, anew at each point: four times too much as read."""
    dice = random.Random(seed)
    noisy = [hill(n) + dice.gauss(0.0, 2.0) for n in range(401)]
    route = gpx_route(track(noisy))
    raw = sum(max(0.0, b - a) for a, b in itertools.pairwise(noisy))
    assert raw > 3.0 * 120.0
    assert climb(route) == pytest.approx(120.0, rel=0.10)
    where, amount = note(route, "altitude smoothed")
    assert (where, amount.split()[:2]) == ("throughout", ["climb", f"{raw:.0f}"])
    profile = of_route("hill", route, 1.0, 1.0)
    assert profile.climb == pytest.approx(climb(route), rel=1e-3)
    assert profile.distance == pytest.approx(6000.0, rel=2e-3)


def test_a_hill_without_noise_loses_next_to_nothing() -> None:
    route = gpx_route(track(hill(n) for n in range(401)))
    assert climb(route) == pytest.approx(120.0, rel=2e-3)


@pytest.mark.parametrize("place", [0, 1, 2, 50, 198, 199, 200])
@pytest.mark.parametrize("by", [60.0, -60.0, 8000.0, -10000.0])
def test_a_spike_is_replaced_wherever_it_is(place: int, by: float) -> None:
    heights = [hill(n, 80.0, 200) for n in range(201)]
    plain = gpx_route(track(heights))
    heights[place] += by
    route = gpx_route(track(heights))
    where, amount = note(route, "a spike of altitude")
    assert where == f"way.gpx line {place + 2}"
    assert amount.startswith(f"{heights[place]:.0f} m to ")
    assert route.altitudes == pytest.approx(plain.altitudes, abs=3.0)


def test_a_crest_seen_from_afar_is_no_spike() -> None:
    """Points 100 m apart on a road of 12 %: 24 m between a crest and the second point beside it."""
    heights = [min(n, 12 - n) * 40.0 * 0.3 for n in range(13)]
    route = gpx_route(gpx(*(point(100.0 * n, z, 8.0 * n) for n, z in enumerate(heights))))
    assert "a spike of altitude replaced" not in texts(route)


@pytest.mark.parametrize("count", [2, 3, 4])
def test_of_a_few_points_none_is_taken_for_a_spike(count: int) -> None:
    heights = [10.0, 60.0, 11.0, 12.0][:count]
    route = gpx_route(gpx(*(point(240.0 * n, z, 24.0 * n) for n, z in enumerate(heights))))
    assert "a spike of altitude replaced" not in texts(route)
    assert (route.altitudes[0], route.altitudes[-1]) == pytest.approx((heights[0], heights[-1]))


def test_what_is_too_steep_is_cut_and_noted() -> None:
    """A tunnel under a mountain whose altitudes are those of the mountain."""
    heights = [0.0] * 60 + [25.0 * n for n in range(21)] + [500.0] * 60
    route = gpx_route(track(heights))
    notes = [n for n in route.notes if n.text == f"grade taken as {100 * STEEPEST:g} %"]
    assert len(notes) >= 10
    assert all("way.gpx from" in n.where and n.amount.endswith(" %") for n in notes)
    pairs = zip(route.along, route.along[1:], route.altitudes, route.altitudes[1:], strict=False)
    steepest = max(
        (b - a) / ((there - here) ** 2 - (b - a) ** 2) ** 0.5 for here, there, a, b in pairs
    )
    assert steepest == pytest.approx(STEEPEST)


@settings(max_examples=100, deadline=None)
@draws(
    st.lists(st.floats(1.0, 90.0), min_size=1, max_size=60),
    st.floats(-50, 50),
    st.floats(-0.2, 0.2),
)
def test_a_steady_slope_stays_as_it_is(steps, start, slope) -> None:
    along = [0.0]
    for step in steps:
        along.append(along[-1] + step)
    grid, heights = smoothed(along, [start + slope * x for x in along])
    assert (grid[0], grid[-1]) == (0.0, pytest.approx(along[-1]))
    assert heights == pytest.approx([start + slope * x for x in grid], abs=1e-6)
    if along[-1] > SPACING:
        widths = [b - a for a, b in itertools.pairwise(grid)]
        assert all(SPACING / 1.5 < width <= SPACING * 1.5 for width in widths)


@settings(max_examples=100, deadline=None)
@draws(st.lists(st.floats(-80, 80), min_size=2, max_size=60))
def test_smoothing_stays_between_lowest_and_highest_and_keeps_the_ends(heights) -> None:
    along = [20.0 * n for n in range(len(heights))]
    _, smooth = smoothed(along, heights)
    assert (smooth[0], smooth[-1]) == pytest.approx((heights[0], heights[-1]))
    assert min(heights) - 1e-6 <= min(smooth)
    assert max(smooth) <= max(heights) + 1e-6


def test_a_wave_as_long_as_the_window_is_gone() -> None:
    along = [5.0 * n for n in range(401)]
    _, smooth = smoothed(along, [3.0 * cos(2 * pi * x / WINDOW) for x in along])
    assert max(abs(z) for z in smooth[4:-4]) < 0.05
