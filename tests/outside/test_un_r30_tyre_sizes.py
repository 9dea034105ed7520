"""Outer diameters, rolling circumferences and revolutions of tyres by their size.

Sources: UN Regulation No. 30 and ISO 4000-1, D = d + 2H; ETRTO Standards Manual, rolling
circumference 3.05·D (both from memory). Whole diameters as size tables give them, in part from
memory: 647 mm and 546 mm were read in copies that compute them by the same rule. The other list
computes from the size without rounding rim or height, so it may differ by what rounding does:
0.5 mm for the rim and 1 mm for two heights.
"""

from __future__ import annotations

import pytest

from wattwright.physics.rolling_radius import (
    read_size,
    rolling_circumference,
    turns_per_kilometre,
)

WHOLE = [
    ("155/80R13", 578),
    ("165/65R14", 570),
    ("185/65R15", 621),
    ("195/65R15", 635),
    ("205/55R16", 632),
    ("205/65R15", 647),
    ("135/80R13", 546),
]

# size, diameter mm, circumference mm, revolutions per km
UNROUNDED = [
    ("145/80R10", 486.0, 1482.0, 674.6),
    ("145/80R12", 536.8, 1637.0, 610.8),
    ("155/80R12", 552.8, 1686.0, 593.1),
    ("155/80R13", 578.2, 1764.0, 567.1),
    ("165/80R13", 594.2, 1812.0, 551.8),
    ("175/70R13", 575.2, 1754.0, 570.0),
    ("155/65R14", 557.1, 1699.0, 588.5),
    ("165/65R14", 570.1, 1739.0, 575.1),
    ("185/65R14", 596.1, 1818.0, 550.0),
    ("185/80R14", 651.6, 1987.0, 503.2),
    ("185/65R15", 621.5, 1896.0, 527.5),
    ("195/65R15", 634.5, 1935.0, 516.7),
    ("205/55R16", 631.9, 1927.0, 518.9),
]

# Sizes without an aspect ratio, UN Regulations No. 30 and No. 54, Annex 5, from memory.
FULL_PROFILE = [
    ("145R10", 492, 666.4),
    ("145R12", 542, 604.9),
    ("155R12", 550, 596.1),
    ("135R13", 548, 598.3),
    ("145R13", 566, 579.3),
    ("155R13", 578, 567.2),
    ("165R13", 596, 550.1),
    ("175R13", 608, 539.3),
    ("185R13", 624, 525.4),
    ("155R14", 604, 542.8),
    ("165R14", 622, 527.1),
    ("175R14", 634, 517.1),
    ("185R14", 650, 504.4),
    ("155R15", 630, 520.4),
    ("165R15", 646, 507.5),
    ("185R14C", 650, 504.4),
]


@pytest.mark.parametrize(("size", "millimetres"), WHOLE)
def test_whole_diameter(size: str, millimetres: float) -> None:
    assert abs(1000 * read_size(size).diameter - millimetres) <= 1e-6


@pytest.mark.parametrize(("size", "diameter", "circumference", "turns"), UNROUNDED)
def test_size_with_aspect(size: str, diameter: float, circumference: float, turns: float) -> None:
    found = read_size(size).diameter
    off = 1.5 + 0.05
    assert abs(1000 * found - diameter) <= off
    assert abs(1000 * rolling_circumference(found) - circumference) <= 3.05 * off + 0.5
    # The list's own diameter must give its circumference and revolutions to their last digits.
    rolled = rolling_circumference(diameter / 1000)
    assert abs(1000 * rolled - circumference) <= 0.5 + 3.05 * 0.05
    assert abs(turns_per_kilometre(rolled) - turns) <= 0.05 + turns * 0.05 / diameter


@pytest.mark.parametrize(("size", "millimetres", "turns"), FULL_PROFILE)
def test_size_without_aspect(size: str, millimetres: float, turns: float) -> None:
    found = read_size(size)
    assert abs(1000 * found.diameter - millimetres) <= 1e-6
    assert abs(turns_per_kilometre(rolling_circumference(found.diameter)) - turns) <= 0.05
    assert not found.limits


def test_a_full_profile_is_not_82_per_cent() -> None:
    """The popular rule puts 660 mm in place of 650."""
    assert abs(1000 * read_size("185R14").diameter - (356 + 2 * round(0.82 * 185))) == 10
