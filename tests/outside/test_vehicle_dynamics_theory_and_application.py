"""Axle loads and centre of gravity in plan from a textbook of vehicle dynamics.

Source: Vehicle Dynamics: Theory and Application (Springer, 2008), chapter 2, example 40 (p. 41,
read in a copy) and example 39 (from memory). Both give forces per wheel; the program works in
masses, so forces are divided by the book's g = 9.81 m/s². Tolerances are half a unit of the last
printed digit. The book's example of a centre of gravity height is left out: its printed result
does not follow from its own equation.
"""

from __future__ import annotations

from wattwright.physics.axle_loads import cg_distance, front_axle_load, rear_axle_load

G = 9.81


def test_example_40_place_of_the_centre_of_gravity() -> None:
    """l 2.34 m, 2000 N under each front and 1800 N under each rear tyre: 1.1084 m, 1.2316 m."""
    front, rear = 2 * 2000 / G, 2 * 1800 / G
    behind_front = cg_distance(front, rear, 2.34)
    assert abs(behind_front - 1.1084) <= 0.5e-4
    assert abs((2.34 - behind_front) - 1.2316) <= 0.5e-4


def test_example_39_load_under_each_tyre() -> None:
    """890 kg, 0.78 m behind the front axle of 2.35 m: 2916.5 N and 1449 N a wheel."""
    front = front_axle_load([890.0], [0.78], 2.35)
    rear = rear_axle_load([890.0], [0.78], 2.35)
    assert abs(front / 2 * G - 2916.5) <= 0.05
    assert abs(rear / 2 * G - 1449) <= 0.5
