"""Distance between two places on the earth, taken as a sphere.

The sphere has the mean radius of the earth, (2a + b)/3 of the ellipsoid GRS 80, as the
International Union of Geodesy and Geophysics rounds it (from memory). Against the ellipsoid a
distance is off by six parts in a thousand at most, north to south near the equator.
"""

from __future__ import annotations

from math import asin, cos, sin, sqrt

EARTH_RADIUS = 6371008.8


def central_angle(
    latitude: float, longitude: float, other_latitude: float, other_longitude: float
) -> float:
    """Angle in rad at the middle of the earth between two places given in rad.

    By haversines, which keep their digits where the places are a step apart.
    """
    across = sin((other_longitude - longitude) / 2.0)
    along = sin((other_latitude - latitude) / 2.0)
    square = along * along + cos(latitude) * cos(other_latitude) * across * across
    return 2.0 * asin(min(1.0, sqrt(square)))


def great_circle(
    latitude: float, longitude: float, other_latitude: float, other_longitude: float
) -> float:
    """Shortest way in m over the surface between two places given in rad."""
    return EARTH_RADIUS * central_angle(latitude, longitude, other_latitude, other_longitude)
