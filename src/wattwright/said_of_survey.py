"""What an adjustment found, in words: the same on the command line and on the page."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.mounts.adjusting import Adjustment
from wattwright.areas.mounts.network import BAND_IN_SD, kind_of
from wattwright.units import Taste, write

Section = tuple[str, tuple[str, ...]]


def sections(made: Adjustment, taste: Taste = "metric") -> Iterator[Section]:
    """Say what came of an adjustment, what is wrong first."""
    found = made.found
    untold = found.untold
    if untold:
        yield "No reading tells", tuple(_untold(made))
    if made.mirror_image:
        yield (
            "Left and right are changed over",
            ("the points of the unit fit far better mirrored: check the signs of their y",),
        )
    impossible = tuple(
        f"{one} is longer than {first} and {second} together: one of the three is wrong"
        for one, first, second in made.impossible
    )
    if impossible:
        yield "Cannot be", impossible
    suspects = tuple(_suspects(made, taste))
    if suspects:
        yield "Does not fit the others, and is left out", suspects
    left_out = tuple(_left_out(made, taste))
    if left_out:
        yield "Set aside before", left_out
    if found.mirrored:
        yield (
            "Fits as well on the other side of the points it was taped to",
            tuple(f"{name}: measure survey.height.{name}" for name in found.mirrored),
        )
    yield "How well they agree", tuple(_agreement(made))
    loose = tuple(_loose(made))
    if loose:
        yield "Checked by no other reading", loose
    yield "Points", tuple(_points(made, taste))
    if any(found.network.second):
        yield "The unit", tuple(_unit(made, taste))
    if made.helps:
        yield "What would help most", made.helps


def _untold(made: Adjustment) -> Iterator[str]:
    owners: dict[str, list[str]] = {}
    for name in made.found.untold:
        owner, _, axis = name.rpartition(".")
        owners.setdefault(owner, []).append(axis)
    fields = {"x": "behind", "y": "right", "z": "height"}
    levels = {"pitch": "survey.lengthwise", "roll": "survey.crosswise"}
    for owner, axes in owners.items():
        on_unit = owner != "unit" and made.survey.point[owner].on == "unit"
        if owner == "unit":
            asks = [levels[axis] for axis in axes if axis in levels]
            if set(axes) - set(levels):
                asks.append("distances from its points to points of the vehicle")
        elif on_unit:
            asks = [f"survey.point.{owner}.at.{axis}" for axis in axes]
        else:
            asks = [f"survey.{fields[axis]}.{owner}" for axis in axes]
        yield f"{owner}: {', '.join(axes)}; measure {', '.join(asks)}"


def _suspects(made: Adjustment, taste: Taste) -> Iterator[str]:
    for each in made.found.suspects:
        name = each.observation.name
        value = made.readings[name].value
        apart = write(abs(each.residual), value.kind, taste)
        sense = "more" if each.residual > 0 else "less"
        text = (
            f"{name}: reads {write(value.number or 0.0, value.kind, taste)}, {apart} {sense} than "
            f"what fits ({each.normalised:.1f} deviations); read it again"
        )
        if each.alike:
            text += f". It may as well be {' or '.join(each.alike)}: these cannot be told apart"
        yield text


def _left_out(made: Adjustment, taste: Taste) -> Iterator[str]:
    for name, more in made.left_out:
        value = made.readings[name].value
        apart = write(abs(more), value.kind, taste)
        sense = "more" if more > 0 else "less"
        yield (
            f"{name}: reads {write(value.number or 0.0, value.kind, taste)}, {apart} {sense} than "
            "what fits; once it has been read again, take it out of survey.set_aside"
        )


def _agreement(made: Adjustment) -> Iterator[str]:
    found = made.found
    count, spare = len(found.readings), found.linear.spare
    yield f"{count} readings and coordinates, {spare} more than needed"
    if spare > 0:
        yield (
            f"root of the mean square of their residuals: {found.misfit:.2f} deviations "
            "(about 1 where they are as good as said)"
        )
    else:
        yield "nothing checks them: a slip would go unseen"


def _loose(made: Adjustment) -> Iterator[str]:
    """Readings that a slip would go unseen in; the coordinates of one point together."""
    of_point: dict[str, list[str]] = {}
    for each in made.found.readings:
        name = each.observation.name
        if each.checks:
            continue
        if not name.startswith("at."):
            yield name
            continue
        _, point, axis = name.split(".")
        of_point.setdefault(point, []).append(axis)
    for point, axes in of_point.items():
        yield f"coordinates of {point}: {', '.join(axes)}"


def _points(made: Adjustment, taste: Taste) -> Iterator[str]:
    found = made.found
    for place, name in enumerate(found.network.points):
        rows = range(3 * place, 3 * place + 3)
        body = "unit" if found.network.second[place] else "vehicle"
        texts = [_number(made, row, taste) for row in rows]
        yield f"{name} ({body}): " + ", ".join(
            f"{word} {text}" for word, text in zip(("back", "right", "up"), texts, strict=True)
        )


def _unit(made: Adjustment, taste: Taste) -> Iterator[str]:
    first = 3 * len(made.found.network.points)
    words = ("zero back", "zero right", "zero up", "nose left", "nose up", "right side up")
    for step, word in enumerate(words):
        yield f"{word} {_number(made, first + step, taste)}"


def _number(made: Adjustment, row: int, taste: Taste) -> str:
    found = made.found
    if not found.linear.told[row]:
        return "not told"
    kind = kind_of(found.network.place(row))
    return write(float(found.numbers[row]), kind, taste, BAND_IN_SD * float(found.sd[row]))
