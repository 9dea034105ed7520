"""Hole patterns: holes, and the distances that calipers gave between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated, Literal

from wattwright.build.adaptor import depth_of
from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.survey import BETWEEN
from wattwright.build.typed import Field, labelled, lack
from wattwright.kinds import ANGLE, LENGTH
from wattwright.values import Lack, Value

_PAIR = "keys are two names of [pattern.NAME.hole] with a hyphen between: 1-2"
READ = ("centres", "inside", "outside")


def _distance(label: str, how: str) -> Quantity:
    return Quantity(LENGTH, label, how, minutes=2, allowed=("1 mm", "5 m"), help=_PAIR)


def _across(label: str, how: str, *, may_be_none: bool = False, decided: bool = False) -> Quantity:
    return Quantity(
        LENGTH,
        label,
        how,
        minutes=2,
        allowed=("0.5 mm", "500 mm"),
        may_be_none=may_be_none,
        decided=decided,
    )


CENTRES = _distance(
    "distance from centre to centre",
    "calipers or tape from centre to centre: over pins or bolts that fit, or between the same "
    "edges of two holes of one size",
)


class Hole(Record):
    """One hole of a pattern."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and drawings")] = ""
    diameter: Annotated[
        Value,
        _across(
            "diameter as it is",
            "calipers across the hole, twice, a quarter turn apart, the mean of both; of a "
            "thread over its crests, where edges are measured from",
        ),
    ]
    bolt: Annotated[
        Value,
        _across(
            "diameter of the bolt that goes through",
            "calipers over the thread of the bolt",
            may_be_none=True,
        ),
    ]
    drill: Annotated[
        Value,
        _across(
            "diameter it is to be drilled to in the new part",
            "what you decide; the drill at hand",
            may_be_none=True,
            decided=True,
        ),
    ]
    thread: Annotated[
        str, Plain("thread to be cut in the new part", "as it is ordered: M10 × 1.5 - 6H")
    ] = ""
    fit: Annotated[
        str,
        Plain(
            "fit that it carries",
            "a name of [coupling.fit]: it is bored and measured, and left out of every template",
        ),
    ] = ""
    depth: Annotated[Value, depth_of("the hole")]


class Pattern(Record):
    """A pattern of holes, as far as it was measured."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and drawings")] = ""
    hole: Annotated[dict[str, Hole], Section("holes, by name")]
    centres: Annotated[dict[str, Value], CENTRES]
    inside: Annotated[
        dict[str, Value],
        _distance(
            "distance between nearest edges",
            "outside jaws of the calipers over the web between both holes, along the line of their "
            "centres: the smallest reading counts",
        ),
    ]
    outside: Annotated[
        dict[str, Value],
        _distance(
            "distance over farthest edges",
            "inside jaws of the calipers in both holes at their far edges, along the line of their "
            "centres: the largest reading counts",
        ),
    ]
    zero: Annotated[
        str, Plain("hole at the origin", "a name of its holes; left out: the first by name")
    ] = ""
    along: Annotated[
        str, Plain("hole on the x axis", "a name of its holes; left out: the next by name")
    ] = ""
    above: Annotated[
        str,
        Plain(
            "hole to the left of the x axis, seen from the front",
            "looking from the origin along the axis: distances alone cannot tell a pattern from "
            "its mirror image; left out: the next by name that is not on the axis",
        ),
    ] = ""
    seen_from: Annotated[
        Literal["front", "back"],
        Plain(
            "side that sheets and drawings show",
            "back: mirrored over the x axis, as for a plate that lies on the other face",
        ),
    ] = "front"
    turned: Annotated[
        Value,
        Quantity(
            ANGLE,
            "angle by which the x axis is turned on the sheet",
            "what you decide; counter-clockwise is above zero",
            minutes=1,
            allowed=("-360°", "360°"),
            default="0°",
            decided=True,
        ),
    ]
    drilled_within: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far a hole may be drilled off its place",
            "drill a scrap by a template and measure the distances again",
            minutes=20,
            allowed=("0.01 mm", "5 mm"),
            default="0.3 mm ± 0.1",
            basis="centre punched through paper and drilled with a pilot, common practice",
        ),
    ]
    like: Annotated[
        str,
        Plain(
            "pattern it has to fit",
            "a name of [pattern]: the old part, where this is the new one; holes are matched by "
            "name, or by the best fit where their names differ",
        ),
    ] = ""
    set_aside: Annotated[
        str,
        Plain(
            "readings set aside",
            "with commas between: centres.1-2, inside.3-4; measure them again, write the new "
            "reading, take them out here",
        ),
    ] = ""

    def readings(self) -> Iterator[tuple[str, str, Value]]:
        """Yield every reading as its table, its key and its value."""
        for table in READ:
            values: dict[str, Value] = getattr(self, table)
            # The empty key says that nobody wrote any.
            yield from ((table, key, value) for key, value in values.items() if key)

    @property
    def aside(self) -> tuple[str, ...]:
        """Readings that are left out, as ``centres.1-2``."""
        return tuple(piece.strip() for piece in self.set_aside.split(",") if piece.strip())


def holes_of(key: str, names: Iterable[str]) -> tuple[str, str] | None:
    """Split a key into the names of two holes; none where it does not name two that there are."""
    known, found = frozenset(names), []
    for place, sign in enumerate(key):
        if sign == BETWEEN and key[:place] in known and key[place + 1 :] in known:
            found.append((key[:place], key[place + 1 :]))
    return found[0] if len(found) == 1 else None


def in_order(names: Iterable[str]) -> list[str]:
    """Sort names as people count: 2 before 10."""
    return sorted(
        names, key=lambda name: (0, int(name), name) if name.isdecimal() else (1, 0, name)
    )


def asked_distance(pattern: str, first: str, second: str, why: str) -> Lack:
    """Make the entry of a distance that is still to be measured on the list of things to do."""
    key = f"{first}{BETWEEN}{second}"
    path = f"pattern.{pattern}.centres.{key}"
    return lack(Field(path, labelled(("pattern", pattern, key), CENTRES), None, CENTRES), why)
