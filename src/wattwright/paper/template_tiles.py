"""A template over several sheets of paper at full size, to be put together along marks.

Each sheet shows a window of the template. Neighbours overlap, and marks lie in the middle of the
overlap, so that both sheets carry the same ones. Every sheet has its name by row and column, a
small map of all, and bars on both axes to check the size by.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wattwright.paper import Box, DrawingError, Point, number
from wattwright.paper.svg import fitted
from wattwright.paper.template import (
    CHECK_BARS,
    JOINS,
    OUTLINE,
    WORDS,
    Circle,
    Line,
    Shape,
    Template,
    Words,
    check_bar,
    rectangle,
)
from wattwright.paper.template_svg import clipped, document, grouped

OVERLAP = 10.0
MOST_SHEETS = 120
# Left free at the edges, where many printers cannot print.
_EDGE = 9.0
# Beside the window: upright bars on the left, flat ones with words and the map below.
_LEFT, _BELOW = 14.0, 31.0
_MAP = Box(0.0, 0.0, 24.0, 20.0)
_ROOM = 2.0
# So many places for the joins are tried, each way.
_TRIED = 40
_RING = 2.0
_SMALL = 3.2
_LARGE = 8.0
_LINE = 4.1


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper in mm."""

    name: str
    width: float
    height: float

    @property
    def window(self) -> Box:
        """Where the template shows, from the top left of the paper."""
        return Box(_EDGE + _LEFT, _EDGE, self.width - _EDGE, self.height - _EDGE - _BELOW)


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: its row and column from the top left, and what of the template it shows.

    The window has y upwards as the template has: ``top`` is its lower edge.
    """

    row: int
    column: int
    shows: Box

    @property
    def name(self) -> str:
        """Row as a letter, column as a number."""
        return f"{_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class Tiling:
    """A template laid out over sheets."""

    template: Template
    paper: Paper
    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    joins: tuple[Shape, ...]


def _letters(count: int) -> str:
    rest, last = divmod(count, 26)
    return (_letters(rest - 1) if rest else "") + chr(ord("A") + last)


def tiling(template: Template, paper: Paper) -> Tiling:
    """Lay a template out over as few sheets as it takes.

    It is centred on them, or moved as little as keeps holes and words clear of the joins.
    """
    room, window = template.box.grown(_ROOM), paper.window
    columns, rows = _count(room.width, window.width), _count(room.height, window.height)
    if rows * columns > MOST_SHEETS:
        raise DrawingError(
            f"{template.title}: that is {rows * columns} sheets of {paper.name}, more than "
            f"{MOST_SHEETS}; write it as SVG or DXF and have it plotted"
        )
    wide, high = window.width - OVERLAP, window.height - OVERLAP
    left = room.middle[0] - (columns * wide + OVERLAP) / 2
    top = room.middle[1] + (rows * high + OVERLAP) / 2
    boxes = [each.box for each in template.shapes if isinstance(each, Circle | Words)]
    left += _clear_of(
        [(each.left, each.right) for each in boxes],
        [left + column * wide for column in range(1, columns)],
        (columns * wide + OVERLAP - room.width) / 2,
    )
    top += _clear_of(
        [(each.top, each.bottom) for each in boxes],
        [top - row * high - OVERLAP for row in range(1, rows)],
        (rows * high + OVERLAP - room.height) / 2,
    )
    tiles = tuple(
        Tile(
            row,
            column,
            Box(
                left + column * wide,
                top - row * high - window.height,
                left + column * wide + window.width,
                top - row * high,
            ),
        )
        for row in range(rows)
        for column in range(columns)
    )
    return Tiling(template, paper, rows, columns, tiles, tuple(_joins(tiles)))


def _clear_of(
    spans: Sequence[tuple[float, float]], overlaps: Sequence[float], spare: float
) -> float:
    """How far to move all joins, one way or the other, so that the fewest spans are cut.

    ``overlaps`` are the lower ends of the strips that two sheets share, ``spare`` what may be moved
    each way.
    """
    if not overlaps:
        return 0.0
    moves = (spare * step / _TRIED for step in range(-_TRIED, _TRIED + 1))

    def cut(move: float) -> int:
        return sum(
            low < start + move + OVERLAP and start + move < high
            for low, high in spans
            for start in overlaps
        )

    return min(moves, key=lambda move: (cut(move), abs(move)))


def _count(length: float, window: float) -> int:
    return max(1, math.ceil((length - OVERLAP) / (window - OVERLAP) - 1e-9))


def _joins(tiles: Sequence[Tile]) -> Iterator[Shape]:
    """Draw a line in the middle of each overlap, with two marks to lay over each other."""
    by_place = {(tile.row, tile.column): tile for tile in tiles}
    for tile in tiles:
        right = by_place.get((tile.row, tile.column + 1))
        below = by_place.get((tile.row + 1, tile.column))
        box = tile.shows
        if right is not None:
            x = (box.right + right.shows.left) / 2
            ends = [(x, box.top + share * box.height) for share in (0.0, 0.25, 0.75, 1.0)]
            yield from _join(ends)
        if below is not None:
            y = (box.top + below.shows.bottom) / 2
            ends = [(box.left + share * box.width, y) for share in (0.0, 0.25, 0.75, 1.0)]
            yield from _join(ends)


def _join(ends: Sequence[Point]) -> Iterator[Shape]:
    yield Line(JOINS, ends[0], ends[-1])
    for x, y in ends[1:-1]:
        yield Circle(WORDS, (x, y), _RING)
        yield Line(WORDS, (x - 2 * _RING, y), (x + 2 * _RING, y))
        yield Line(WORDS, (x, y - 2 * _RING), (x, y + 2 * _RING))


def tile_svg(tiling: Tiling, tile: Tile, head: str, foot: str) -> str:
    """Draw one whole sheet; ``head`` and ``foot`` are lines for its margin."""
    paper, window = tiling.paper, tiling.paper.window
    moved = (window.left - tile.shows.left, window.top + tile.shows.bottom)
    inside = [
        *grouped(Template("", tiling.joins), moved),
        *grouped(tiling.template, moved),
    ]
    margin = Template("", tuple(_margin(tiling, tile, head, foot)))
    return document(
        f"{tiling.template.title}, sheet {tile.name}",
        paper.width,
        paper.height,
        [
            *clipped(inside, window),
            *grouped(margin, (0.0, paper.height)),
            *_current(tiling, tile),
        ],
    )


def _margin(tiling: Tiling, tile: Tile, head: str, foot: str) -> Iterator[Shape]:
    """Draw what stands around the window, from the lower left corner of the paper upwards."""
    paper, window = tiling.paper, tiling.paper.window
    low, high = paper.height - window.bottom, paper.height - window.top
    yield rectangle(JOINS, (window.left, low), (window.right, high))
    flat = low - 5.5
    for bar in CHECK_BARS:
        yield from check_bar((window.left, flat), bar)
        flat -= 6.0
    upright = window.left - 2.0
    for bar in CHECK_BARS:
        yield from check_bar((upright, low + 4.0), bar, upright=True)
        upright -= 6.5
    yield from _map(tiling)
    room = window.right - _MAP.width - window.left - 4.0
    beside = window.left + max(bar.length for bar in CHECK_BARS) + 6.0
    yield Words(WORDS, (beside, low - 11.5), tile.name, _LARGE)
    rows = (
        f"Sheet {tile.name} of {tiling.rows} × {tiling.columns}: {tiling.template.title}",
        f"{head} · {foot}",
        "Print at 100 %. Every bar must measure what it says, both ways.",
        tiling.template.advice,
    )
    down = flat - 0.2
    for words in rows:
        yield Words(WORDS, (window.left, down), fitted(words, room, _SMALL), _SMALL)
        down -= _LINE


def _place_of_map(tiling: Tiling) -> tuple[Point, float, float]:
    """Lower left corner of the map, and how wide and high a sheet is on it."""
    window = tiling.paper.window
    scale = min(
        _MAP.width / (tiling.columns * window.width), _MAP.height / (tiling.rows * window.height)
    )
    wide, high = scale * window.width, scale * window.height
    left = window.right - tiling.columns * wide
    top = tiling.paper.height - window.bottom - 3.0
    return (left, top - tiling.rows * high), wide, high


def _map(tiling: Tiling) -> Iterator[Shape]:
    """Draw all sheets small, with the outline of what is on them."""
    (left, low), wide, high = _place_of_map(tiling)
    for tile in tiling.tiles:
        corner = left + tile.column * wide, low + (tiling.rows - 1 - tile.row) * high
        yield rectangle(WORDS, corner, (corner[0] + wide, corner[1] + high))
    first, last = tiling.tiles[0].shows, tiling.tiles[-1].shows
    across, up = tiling.columns * wide, tiling.rows * high
    by_x, by_y = across / (last.right - first.left), up / (first.bottom - last.top)
    boxes = [shape.box for shape in tiling.template.on(OUTLINE)]
    for box in boxes:
        start = left + (box.left - first.left) * by_x, low + (box.top - last.top) * by_y
        end = left + (box.right - first.left) * by_x, low + (box.bottom - last.top) * by_y
        yield rectangle(OUTLINE, start, end)


def _current(tiling: Tiling, tile: Tile) -> Iterator[str]:
    """Shade the sheet at hand on the map."""
    (left, low), wide, high = _place_of_map(tiling)
    x = left + tile.column * wide
    y = tiling.paper.height - low - (tiling.rows - tile.row) * high
    box = f'x="{number(x)}" y="{number(y)}" width="{number(wide)}" height="{number(high)}"'
    yield f'<rect {box} fill="#000" fill-opacity="0.25"/>'
