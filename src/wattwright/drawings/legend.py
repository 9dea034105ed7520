"""What stands under a view of the vehicle: its marks, its centres of gravity, what is missing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from wattwright.assessment import shown
from wattwright.descriptions.vehicle import Standing
from wattwright.drawings.placed import Axes, Axis, Scene
from wattwright.paper import MARGIN, NARROW, Box, Point
from wattwright.paper.dimension import centre_of_gravity
from wattwright.paper.svg import Label, Shape, below, wrapped
from wattwright.paper.tags import Look, Tagged
from wattwright.units import Taste, write
from wattwright.values import Value

Mark = Callable[[Point], tuple[Shape, ...]]

# Discs of this radius: one within the other where the two centres nearly meet.
DISCS: Mapping[str, float] = {"kerb": 1.6, "full": 2.3}
_SIDES: Mapping[Axis, tuple[str, str]] = {
    "x": ("behind the front axle", "ahead of the front axle"),
    "y": ("right of the middle", "left of the middle"),
    "z": ("above the floor", "below the floor"),
}
_NAMES: Mapping[Axis, str] = {"x": "distance back", "y": "offset", "z": "height"}
_NOWHERE = (
    "No part has a place yet. Tape the middle of each: x behind the front axle, y right of the "
    "middle line, z above the floor. Write them as part.NAME.at."
)
_INDENT = 8.0
_ROOM = NARROW - 2 * MARGIN
# So many missing fields are named behind a centre of gravity; the findings list all.
_ASKED = 2


def disc(case: str, at: Point, bands: Point = (0.0, 0.0)) -> tuple[Shape, ...]:
    """Draw the mark of the centre of gravity of one loading case."""
    return centre_of_gravity(at, DISCS[case], open_=case == "full", bands=bands)


def legend(
    scene: Scene, axes: Axes, things: Sequence[Tagged], taste: Taste, top: float
) -> tuple[Shape, ...]:
    """Say what the marks are, each drawn once more in front of its words."""
    shapes: list[Shape] = []
    for mark, sentences in (*_masses(scene, axes, taste), *_looks(things)):
        rows = [row for each in sentences for row in wrapped(each, _ROOM - _INDENT, most=6)]
        label = Label(tuple(rows))
        shapes += (*mark((MARGIN + 3.0, top + 2.4)), *label.at(MARGIN + _INDENT, top))
        top += label.height + 0.8
    return tuple(shapes)


def _masses(scene: Scene, axes: Axes, taste: Taste) -> Iterator[tuple[Mark, tuple[str, ...]]]:
    for case, standing in scene.loads.items():

        def mark(at: Point, case: str = case) -> tuple[Shape, ...]:
            return disc(case, at)

        mass = standing.loads.mass
        if not mass.known:
            yield mark, (f"{case}: mass not known{_asks(mass)}",)
            continue
        places = [_place(standing, axis, taste) for axis in axes]
        yield mark, (f"{case}: {shown(mass, taste)}, centre of gravity", *places)


def _place(standing: Standing, axis: Axis, taste: Taste) -> str:
    value: Value = getattr(standing, f"cg_{axis}")
    if value.number is None:
        return f"{_NAMES[axis]} not known{_asks(value)}"
    words = write(abs(value.number), value.kind, taste, value.band or None)
    return f"{words} {_SIDES[axis][value.number < 0.0]}"


def _asks(value: Value) -> str:
    """Name the first fields that a value lacks."""
    paths = [lack.path for lack in value.lacks if lack.path]
    more = f" and {len(paths) - _ASKED} more" if len(paths) > _ASKED else ""
    return f" (needs {', '.join(paths[:_ASKED])}{more})" if paths else ""


def _looks(things: Sequence[Tagged]) -> Iterator[tuple[Mark, tuple[str, ...]]]:
    """Yield each way in which something is drawn, with what it means."""

    def example(look: Look, half: Point) -> Mark:
        def mark(at: Point) -> tuple[Shape, ...]:
            box = Box(at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
            return (Tagged("", "", box, "", "", look).outline(),)

        return mark

    solid = [thing for thing in things if thing.look != "faint"]
    if any(not thing.is_box for thing in solid):
        yield example("outline", (0.0, 0.0)), ("part without outside measures: its middle",)
    if any(thing.look == "dashed" and thing.is_box for thing in solid):
        yield example("dashed", (2.4, 1.4)), ("one of several, drawn in the middle of all",)
    if len(solid) < len(things):
        yield example("faint", (0.0, 0.0)), ("seat, load or tank: the middle of its load",)


def notes(
    scene: Scene,
    axes: Axes,
    needs: Sequence[str],
    untagged: Sequence[Tagged],
    top: float,
) -> tuple[Shape, ...]:
    """List what is not shown, why, and what it needs."""
    shapes: list[Shape] = []
    for words in _noted(scene, axes, needs, untagged):
        label = Label(wrapped(words, _ROOM, most=60))
        shapes += label.at(MARGIN, below(shapes, 1.2) if shapes else top)
    return tuple(shapes)


def _noted(
    scene: Scene, axes: Axes, needs: Sequence[str], untagged: Sequence[Tagged]
) -> Iterator[str]:
    if not any(thing.section == "part" for thing in scene.standing(axes)):
        yield _NOWHERE
    lacking: dict[tuple[str, ...], list[str]] = {}
    for thing in scene.things:
        if missing := thing.needs(axes):
            lacking.setdefault(missing, []).append(thing.words)
    for missing, names in lacking.items():
        yield f"Not placed: {', '.join(names)}; needs {', '.join(missing)}."
    yield from needs
    for reason, left_out in scene.left_out.items():
        if left_out:
            yield f"Left out, {reason}: {', '.join(n.replace('_', ' ') for n in left_out)}."
    if untagged:
        tags = ", ".join(thing.tag for thing in untagged)
        yield f"Too crowded in the picture for the tags of {tags}."
