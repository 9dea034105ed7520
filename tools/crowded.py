"""A made-up vehicle full of bodies, for measuring how long the room between them takes."""

from __future__ import annotations

_HEAD = """\
format = 1
[build]
name = "crowded"
[donor]
wheelbase = "2400 mm"
[donor.rear]
track = "1300 mm"
[clearance]
front = { bump = "70 mm", droop = "80 mm", laden_drop = "20 mm", hub = "280 mm" }
rear = { bump = "80 mm", droop = "90 mm", laden_drop = "40 mm", hub = "280 mm" }
"""
_MOVERS = ("body", "unit", "wheel_rl", "wheel_rr", "wheel_fl", "axle_rear", "body", "body")


def build_of(bodies: int) -> bytes:
    """Write a build with so many bodies: boxes, cylinders, swinging arms and hoses in turn."""
    return "\n".join([_HEAD, *map(_body, range(bodies))]).encode()


def _at(place: int) -> str:
    x, y, z = 100 + 373 * (place % 7), -700 + 291 * (place % 6), 250 + 197 * (place % 5)
    return f'{{ x = "{x} mm", y = "{y} mm", z = "{z} mm" }}'


def _body(place: int) -> str:
    head = f'[body.b{place:02}]\nmoves_with = "{_MOVERS[place % 8]}"\n'
    if place % 4 == 3:
        ends = "\n".join(
            f"[body.b{place:02}.via.{count}_clip]\nat = {_at(place + 3 * count)}"
            for count in range(4)
        )
        return f'{head}shape = "hose"\ndiameter = "20 mm"\n{ends}\n'
    turned = f'at = {_at(place)}\nyaw = "{7 * place % 40}°"\n'
    if place % 4 == 2:
        return f'{head}{turned}shape = "cylinder"\nlength = "260 mm"\ndiameter = "60 mm"\n'
    size = '{ length = "180 mm", width = "120 mm", height = "90 mm" }'
    return f"{head}{turned}size = {size}\n"
