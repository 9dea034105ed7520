"""Static equilibrium solved by a general numerics library, for random vehicles.

Source: NumPy, whose linear solver and least squares know nothing of the formulas under test. The
equations are written down here from Newton's laws: sum of forces, moments about two axes, and,
because four wheels need a fourth equation, the practice that side load is shared between the
axles as weight is. Without that practice least squares must give the same up to a twist of the
chassis, which lifts one diagonal and lowers the other.

The axle lift is computed by turning points with a rotation matrix and solving for the two axle
forces. Seeds are fixed; agreement is asked to 1e-9 of the vehicle's mass or wheelbase.
"""

from __future__ import annotations

import numpy as np
import pytest

from wattwright.physics import axle_loads as ours
from wattwright.physics.cg_height import (
    cg_height,
    gain_on_floor_axle,
    height_after,
    height_moment,
    lift_angle_from_height,
)

SEEDS = pytest.mark.parametrize("seed", range(40))


class Heap:
    """Random masses on a random vehicle; wheels in the order fl, fr, rl, rr."""

    def __init__(self, seed: int) -> None:
        rng = np.random.default_rng(seed)
        count = int(rng.integers(1, 30))
        self.m = rng.uniform(0.1, 400, count)
        self.x = rng.uniform(-1.0, 5.0, count)
        self.y = rng.uniform(-1.2, 1.2, count)
        self.z = rng.uniform(0.1, 2.0, count)
        self.base = rng.uniform(1.6, 4.5)
        self.front, self.rear = rng.uniform(0.9, 2.1, 2)
        self.rng = rng

    @property
    def wheels_x(self) -> np.ndarray:
        return np.array([0, 0, self.base, self.base])

    @property
    def wheels_y(self) -> np.ndarray:
        return np.array([-self.front, self.front, -self.rear, self.rear]) / 2

    @property
    def statics(self) -> tuple[np.ndarray, np.ndarray]:
        """Three equations: forces, moments about the front axle, moments about the middle."""
        left = np.vstack([np.ones(4), self.wheels_x, self.wheels_y])
        right = np.array([self.m.sum(), self.m @ self.x, self.m @ self.y])
        return left, right

    def solved(self) -> np.ndarray:
        left, right = self.statics
        sharing = self.wheels_y * np.array([1, 1, 0, 0])
        moment = self.m @ ((1 - self.x / self.base) * self.y)
        return np.linalg.solve(np.vstack([left, sharing]), np.append(right, moment))

    def ours(self) -> np.ndarray:
        masses, xs, ys = (list(map(float, row)) for row in (self.m, self.x, self.y))
        base = float(self.base)
        wheels = []
        for load, moment, track in (
            (ours.front_axle_load, ours.front_side_moment, self.front),
            (ours.rear_axle_load, ours.rear_side_moment, self.rear),
        ):
            axle = load(masses, xs, base)
            side = moment(masses, xs, ys, base)
            wheels.append(ours.left_wheel_load(axle, side, float(track)))
            wheels.append(ours.right_wheel_load(axle, side, float(track)))
        return np.array(wheels)


@SEEDS
def test_wheel_loads(seed: int) -> None:
    heap = Heap(seed)
    assert np.abs(heap.ours() - heap.solved()).max() <= 1e-9 * heap.m.sum()


@SEEDS
def test_least_squares_differs_by_a_twist_only(seed: int) -> None:
    heap = Heap(seed)
    left, right = heap.statics
    least, *_ = np.linalg.lstsq(left, right, rcond=None)
    difference = heap.ours() - least
    assert np.abs(left @ difference).max() <= 1e-9 * heap.m.sum() * heap.base
    twist = np.array([1 / heap.front, -1 / heap.front, -1 / heap.rear, 1 / heap.rear])
    along = difference @ twist / (twist @ twist)
    assert np.abs(difference - along * twist).max() <= 1e-9 * heap.m.sum()


@SEEDS
def test_centre_of_gravity_and_imbalances(seed: int) -> None:
    heap = Heap(seed)
    fl, fr, rl, rr = map(float, heap.solved())
    front, rear = ours.axle_load(fl, fr), ours.axle_load(rl, rr)
    mass = heap.m.sum()
    moments = [
        ours.axle_side_moment(fl, fr, float(heap.front)),
        ours.axle_side_moment(rl, rr, float(heap.rear)),
    ]
    x = np.average(heap.x, weights=heap.m)
    y = np.average(heap.y, weights=heap.m)
    assert abs(ours.cg_distance(front, rear, float(heap.base)) - x) <= 1e-9 * heap.base
    assert abs(ours.cg_offset(*moments, front, rear) - y) <= 1e-9 * heap.base
    assert abs(ours.rear_share(front, rear) - x / heap.base) <= 1e-9
    side = ours.side_imbalance(*moments, front, rear, float(heap.front), float(heap.rear))
    assert abs(side - (fr + rr - fl - rl) / mass) <= 1e-9
    assert abs(ours.diagonal_imbalance(fl, fr, rl, rr) - (fl + rr - fr - rl) / mass) <= 1e-9


def tilted(heap: Heap, axle_height: float, angle: float, lifted: str) -> tuple[float, float]:
    """Vertical forces on front and rear axle, as masses, of a rigid body turned in space."""
    x = np.average(heap.x, weights=heap.m)
    z = np.average(heap.z, weights=heap.m)
    hubs = np.array([[0.0, axle_height], [heap.base, axle_height]])
    floor = hubs[0] if lifted == "rear" else hubs[1]
    # Turning the nose down lifts the rear axle, turning it up lifts the front axle.
    turn = angle if lifted == "rear" else -angle
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    front, rear, middle = ((matrix @ (point - floor))[0] for point in (*hubs, np.array([x, z])))
    mass = heap.m.sum()
    forces = np.linalg.solve([[1, 1], [front, rear]], [mass, mass * middle])
    return float(forces[0]), float(forces[1])


@SEEDS
@pytest.mark.parametrize("lifted", ["front", "rear"])
def test_height_from_a_lifted_axle(seed: int, lifted: str) -> None:
    heap = Heap(seed)
    axle_height = heap.rng.uniform(0.2, 0.45)
    angle = heap.rng.uniform(np.radians(2), np.radians(30))
    on_floor = 0 if lifted == "rear" else 1
    level = tilted(heap, axle_height, 0.0, lifted)[on_floor]
    up = tilted(heap, axle_height, angle, lifted)[on_floor]
    height = float(np.average(heap.z, weights=heap.m))
    lift = float(heap.base * np.sin(angle))
    tilt = lift_angle_from_height(lift, float(heap.base))
    found = cg_height(
        float(heap.m.sum()),
        float(heap.base),
        gain_on_floor_axle(level, up),
        tilt,
        float(axle_height),
    )
    # The gain is a small difference of large loads; at 2° its round-off counts 30-fold.
    assert abs(found - height) <= 1e-9 * heap.base


@SEEDS
def test_height_after_a_change(seed: int) -> None:
    heap = Heap(seed)
    start, height = 900.0, 0.55
    out = len(heap.m) // 3
    masses, heights = list(map(float, heap.m)), list(map(float, heap.z))
    sign = np.where(np.arange(len(heap.m)) < out, -1.0, 1.0)
    after = start + float(sign @ heap.m)
    expected = (start * height + float((sign * heap.m) @ heap.z)) / after
    found = height_after(
        start,
        height,
        height_moment(masses[:out], heights[:out]),
        height_moment(masses[out:], heights[out:]),
        after,
    )
    assert found == pytest.approx(expected, rel=1e-9)
