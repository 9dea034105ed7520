"""The text of a CSV file that holds a curve or a grid: cells to SI, every fault with its place.

    # read off the maker's sheet
    speed (rpm); torque (N·m)
    0; 61,5
    1500; 61

The first line that is neither empty nor a comment is the head. What separates the cells is told
from it, and the unit of a column stands there once, in brackets.
"""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise, product

from wattwright.build.fields import Column, Sampled
from wattwright.errors import BuildError, Problem, UnitsError
from wattwright.units import column_unit, read

# More faults than these in one file have one cause, and a page of them hides it.
SHOWN = 20

_HEAD = re.compile(r"([^(\[]*)(?:\((.*)\)|\[(.*)\])?")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?")
# 1,040 may be a thousand and forty, or a little more than one.
_DOUBTFUL = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")
_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True, slots=True)
class Head:
    """The head as read: where each declared column stands, its unit, and what separates cells."""

    line: int
    delimiter: str
    places: tuple[int, ...]
    units: tuple[str, ...]
    width: int


@dataclass(frozen=True, slots=True)
class Row:
    """One row, its cells in the order of declaration."""

    line: int
    cells: tuple[str, ...]
    numbers: tuple[float, ...]


Points = tuple[tuple[float, ...], tuple[float, ...], tuple[tuple[float, ...], ...]]


def read_points(raw: bytes, file: str, path: str, declared: Sampled) -> Points:
    """Read x, y and the rows of z (none for a curve). Raises BuildError with all that is wrong."""
    reading = _Reading(file, path, declared.columns)
    lines = reading.lines(raw)
    head = reading.head(lines, declared.head)
    reading.refuse()
    rows = reading.rows(lines, head)
    whole = not reading.problems
    points = reading.curve(rows, head) if len(head.units) == 2 else reading.grid(rows, head, whole)
    reading.refuse()
    return points


def read_rows(
    raw: bytes, file: str, path: str, columns: Sequence[Column], example: str
) -> tuple[tuple[str, ...], Head, list[Row]]:
    """Read a file that has some of the columns: their names as declared, head and rows.

    Raises BuildError with all that is wrong.
    """
    reading = _Reading(file, path, columns)
    lines = reading.lines(raw)
    head = reading.head(lines, example, every=False)
    rows = reading.rows(lines, head)
    reading.refuse()
    return tuple(column.name for column in reading.columns), head, rows


class _Reading:
    """One pass over the text of a file."""

    def __init__(self, file: str, path: str, columns: Sequence[Column]) -> None:
        self.file = file
        self.path = path
        self.columns = columns
        self.problems: list[Problem] = []
        self.text: dict[int, str] = {}
        self.known: dict[tuple[int, str], float] = {}

    def problem(
        self,
        what: str,
        line: int,
        column: int = 1,
        got: str = "",
        allowed: str = "",
        do: str = "",
    ) -> None:
        self.problems.append(
            Problem(what, self.path, self.file, line, column, got[:120], allowed, do)
        )

    def refuse(self) -> None:
        if not self.problems:
            return
        left = len(self.problems) - SHOWN
        shown = self.problems[:SHOWN]
        if left > 0:
            first = self.problems[SHOWN]
            self.problems = []
            self.problem(f"and {left} more of this file", first.line or 1)
            shown += self.problems
        raise BuildError(*shown)

    # ---------------------------------------------------------------------------- text and head

    def lines(self, raw: bytes) -> list[int]:
        """Keep the lines by their numbers, and list those that count."""
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            before = raw[: error.start].decode("utf-8", "replace")
            *above, line = _LINE_END.split(before)
            self.problem(
                "is no UTF-8 text",
                len(above) + 1,
                len(line) + 1,
                f"byte 0x{raw[error.start]:02X}",
                do="save it again as CSV in UTF-8",
            )
            self.refuse()
        self.text = dict(enumerate(_LINE_END.split(text), start=1))
        return [
            number
            for number, line in self.text.items()
            if line.strip() and not line.lstrip().startswith("#")
        ]

    def head(self, lines: list[int], example: str, every: bool = True) -> Head:
        do = f"write the head as: {example}"
        if not lines:
            self.problem("holds no head and no numbers", 1, do=do)
            self.refuse()
        line = lines.pop(0)
        text = self.text[line]
        delimiter = next((sign for sign in ";\t" if sign in text), ",")
        cells = self.cells(line, delimiter) or ()
        found: dict[str, tuple[int, str]] = {}
        names = [column.name for column in self.columns]
        if cells and not any(sign.isalpha() for sign in text):
            self.problem("begins with numbers instead of a head", line, got=text.strip(), do=do)
            self.refuse()
        for place, cell in enumerate(cells):
            at = _start(text, delimiter, place)
            match = _HEAD.fullmatch(cell)
            name = match[1].strip().casefold() if match else cell
            unit = (match[2] or match[3] or "").strip() if match else ""
            if name not in names:
                near = difflib.get_close_matches(name, names, n=1)
                hint = f"did you mean {near[0]}?" if near else do
                self.problem("is no column of this file", line, at, repr(cell), do=hint)
            elif name in found:
                self.problem("is a second column of this name", line, at, repr(cell), do=do)
            else:
                found[name] = (place, self.unit(unit, names.index(name), line, at, do))
        # What was mistyped would only seem to be missing as well.
        self.refuse()
        for name in names if every else ():
            if name not in found:
                self.problem(f"has no column {name}", line, do=do)
        self.refuse()
        self.columns = [column for column in self.columns if column.name in found]
        places, units = zip(*(found[column.name] for column in self.columns), strict=True)
        return Head(line, delimiter, places, units, len(cells))

    def unit(self, typed: str, column: int, line: int, at: int, do: str) -> str:
        try:
            return column_unit(typed, self.columns[column].kind)
        except UnitsError as error:
            self.problem(str(error), line, at, do=do)
            return ""

    # ------------------------------------------------------------------------------------ cells

    def cells(self, line: int, delimiter: str) -> tuple[str, ...] | None:
        row = csv.reader(
            [self.text[line]], delimiter=delimiter, strict=True, skipinitialspace=delimiter != "\t"
        )
        try:
            return tuple(cell.strip() for cell in next(row))
        except csv.Error as error:
            what = "cannot be taken apart into cells"
            self.problem(what, line, got=str(error), do="put no quotes round numbers")
            return None

    def rows(self, lines: list[int], head: Head) -> list[Row]:
        """Read every row below the head that can be read."""
        typed: list[tuple[int, tuple[str, ...]]] = []
        for line in lines:
            cells = self.cells(line, head.delimiter)
            # A spreadsheet writes an empty row as delimiters alone.
            if cells is None or not any(cells):
                continue
            if len(cells) == head.width:
                typed.append((line, tuple(cells[place] for place in head.places)))
                continue
            comma = head.delimiter == "," and len(cells) > head.width
            self.problem(
                f"has {len(cells)} cells where the head has {head.width}",
                line,
                got=self.text[line].strip(),
                do="with decimal commas put semicolons or tabs between the cells"
                if comma
                else "write one number for each column",
            )
        self.refuse_doubtful(typed, head)
        return [row for line, cells in typed if (row := self.row(line, cells, head)) is not None]

    def refuse_doubtful(self, typed: list[tuple[int, tuple[str, ...]]], head: Head) -> None:
        """Refuse decimal marks that the file as a whole leaves open."""
        if head.delimiter == ",":
            return
        every = [(line, place, cell) for line, cells in typed for place, cell in enumerate(cells)]
        commas = [each for each in every if "," in each[2] and _NUMBER.fullmatch(each[2])]
        points = [each for each in every if "." in each[2] and _NUMBER.fullmatch(each[2])]
        if commas and points:
            line, place, cell = max(commas[0], points[0])
            what = "has another decimal mark than a cell above it"
            do = "use the comma or the point throughout, and neither for thousands"
        elif commas and all(_DOUBTFUL.fullmatch(cell) for _, _, cell in commas):
            line, place, cell = commas[0]
            what = "may be thousands or a decimal; no other cell of the file tells which"
            do = "write thousands without a comma, or use decimal points"
        else:
            return
        self.problem(what, line, self.at(line, place, head), repr(cell), do=do)

    def at(self, line: int, column: int, head: Head) -> int:
        return _start(self.text[line], head.delimiter, head.places[column])

    def row(self, line: int, cells: tuple[str, ...], head: Head) -> Row | None:
        numbers = [self.number(line, place, cell, head) for place, cell in enumerate(cells)]
        found = tuple(number for number in numbers if number is not None)
        return Row(line, cells, found) if len(found) == len(cells) else None

    def number(self, line: int, place: int, cell: str, head: Head) -> float | None:
        """Read a cell in the unit of its column; a grid repeats most of them."""
        known = self.known.get((place, cell))
        if known is not None:
            return known
        column, unit = self.columns[place], head.units[place]
        at = self.at(line, place, head)
        if not _NUMBER.fullmatch(cell) or (head.delimiter == "," and "," in cell):
            what = f"{column.name} is no plain number" if cell else f"{column.name} is empty"
            do = "write the number alone; its unit stands in the head"
            self.problem(what, line, at, repr(cell) if cell else "", "such as 1500 or 0.93", do)
            return None
        try:
            number = read(f"{cell.replace(',', '.')} {unit}".rstrip(), column.kind).number
        except UnitsError as error:
            self.problem(str(error), line, at)
            return None
        if column.range is not None and not column.range[0] <= number <= column.range[1]:
            self.problem(
                f"{column.name} is out of range",
                line,
                at,
                f"{cell} {unit}".rstrip(),
                " to ".join(column.allowed or ()),
                f"look at the cell and at the unit in the head, which is {unit or 'none'}",
            )
            return number
        self.known[place, cell] = number
        return number

    # ---------------------------------------------------------------------------- curve and grid

    def curve(self, rows: list[Row], head: Head) -> Points:
        name = self.columns[0].name
        for before, row in pairwise(rows):
            if row.numbers[0] <= before.numbers[0]:
                self.problem(
                    f"{name} does not grow from line {before.line} to here",
                    row.line,
                    self.at(row.line, 0, head),
                    f"{row.cells[0]} after {before.cells[0]}",
                    do=f"sort the rows by {name}, each {name} once",
                )
        if len(rows) < 2 and not self.problems:
            self.problem("needs two points or more", head.line, got=f"{len(rows)}")
        x, y = (tuple(row.numbers[place] for row in rows) for place in (0, 1))
        return x, y, ()

    def grid(self, rows: list[Row], head: Head, whole: bool) -> Points:
        found: dict[tuple[float, float], Row] = {}
        for row in rows:
            first = found.setdefault(row.numbers[:2], row)  # type: ignore[arg-type]
            if first is not row:
                what = f"{self.pair(row.cells, head)} stands in line {first.line} already"
                at = self.at(row.line, 0, head)
                self.problem(what, row.line, at, do="keep one of the two")
        x, y = (sorted({pair[place] for pair in found}) for place in (0, 1))
        # Where a row could not be read, its pair would only seem to be missing.
        if whole:
            self.refuse_holes(found, x, y, head)
        if self.problems:
            return (), (), ()
        z = tuple(tuple(found[one, other].numbers[2] for other in y) for one in x)
        return tuple(x), tuple(y), z

    def refuse_holes(
        self, found: dict[tuple[float, float], Row], x: list[float], y: list[float], head: Head
    ) -> None:
        for column, steps in zip(self.columns, (x, y), strict=False):
            if len(steps) < 2:
                self.problem(f"needs two of {column.name} or more", head.line, got=f"{len(steps)}")
        if len(x) * len(y) == len(found):
            return
        typed: tuple[dict[float, str], ...] = ({}, {})
        for row in found.values():
            for place in (0, 1):
                typed[place].setdefault(row.numbers[place], row.cells[place])
        # Scattered points lack nearly all pairs of their rectangle: only the first are looked for.
        for one, other in islice(self.holes(found, x, y), SHOWN):
            missing = self.pair((typed[0][one], typed[1][other]), head)
            first, second = (column.name for column in self.columns[:2])
            do = f"give every {second} at every {first}, each pair once"
            self.problem(f"{missing} is missing", head.line, do=do)

    def holes(
        self, found: dict[tuple[float, float], Row], x: list[float], y: list[float]
    ) -> Iterator[tuple[float, float]]:
        return (pair for pair in product(x, y) if pair not in found)

    def pair(self, cells: Sequence[str], head: Head) -> str:
        return " with ".join(
            f"{column.name} {cell} {unit}".rstrip()
            for column, cell, unit in zip(self.columns[:2], cells, head.units, strict=False)
        )


def _start(text: str, delimiter: str, index: int) -> int:
    """Column at which a cell starts; a delimiter in quotes is none."""
    at, quoted = 0, False
    while index and at < len(text):
        quoted ^= text[at] == '"'
        index -= text[at] == delimiter and not quoted
        at += 1
    rest = text[at:]
    return at + len(rest) - len(rest.lstrip(" ")) + 1
