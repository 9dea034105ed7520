"""From a reading in the journal to a value in the build file, and where each one has gone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wattwright.assessment import Assessment
from wattwright.bench.instruments import Meter, meters, named
from wattwright.bench.sheet import Line
from wattwright.bench.sheets import SHEETS, sheet
from wattwright.bench.told import Told, kind_of, told
from wattwright.build.edits import Edit, quote
from wattwright.build.reader import Opened
from wattwright.build.text import Path
from wattwright.errors import UnitsError, UsageError
from wattwright.journal.readings import Reading, Taken
from wattwright.kinds import Kind
from wattwright.units import Taste, read, write

_FREE = "a reading about {about} stands in the journal; it belongs to no field of the build"


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """What a reading is about: a line of a sheet, a field, or neither.

    ``path`` is the field that it may be accepted into; ``kind`` what is read, none where nobody
    says.
    """

    about: str
    line: Line | None
    path: str
    kind: Kind | None
    says: str


def place(about: str, opened: Opened, assessment: Assessment, taste: Taste = "metric") -> Place:
    """Find what a reading is about: ``weigh_in/fl``, a path, or words of your own."""
    name, slash, word = about.partition("/")
    if slash and name in SHEETS:
        whole = sheet(name, opened.build, assessment, taste)
        found = whole.line(word)
        if found is None:
            raise UsageError(f"the sheet {name} has no line {word!r}")
        says = f"{whole.title}, {found.where or found.act}"
        return Place(about, found, found.path, found.kind, says)
    kind = kind_of(about)
    return Place(about, None, about if kind is not None else "", kind, about)


def meter_of(taken: Taken, opened: Opened) -> Meter | None:
    """Find the instrument of a reading among those of the build and the usual ones."""
    return named(meters(opened.build.instrument), taken.instrument) if taken.instrument else None


def what_it_tells(
    taken: Taken, where: Place, opened: Opened, taste: Taste = "metric"
) -> Told | None:
    """Say what a reading tells; none for one that is only words. Raises UnitsError."""
    if where.kind is None:
        return None
    every = meters(opened.build.instrument)
    meter = meter_of(taken, opened)
    if meter is not None and meter.kind.si != where.kind.si:
        raise UnitsError(f"{meter.says} measures {meter.kind.name}, and this is {where.kind.name}")
    return told(taken.text, where.kind, where.line, meter, every, where.path, taste)


def leaf_text(reading: Reading, where: Place, opened: Opened) -> str:
    """Write an accepted reading as the builder would type it."""
    if not where.path or where.kind is None:
        raise UsageError(_FREE.format(about=reading.about))
    found = read(reading.text, where.kind)
    text = reading.text
    meter = meter_of(reading, opened)
    if found.band is None and meter is not None:
        # Nobody knows an error to more than two digits.
        text += f" ± {write(float(f'{meter.band(found.number):.2g}'), where.kind)}"
    words = [text, "measured"]
    instrument = meter.says if meter is not None else reading.instrument
    if instrument:
        words.append(instrument.replace(",", " "))
    words.append(f"reading {reading.id}")
    if reading.date:
        words.append(reading.date)
    return ", ".join(words)


def acceptance(reading: Reading, where: Place, opened: Opened) -> Edit:
    """Make the edit that puts a reading into the build, in place of what stands there."""
    if reading.replaced_by is not None:
        raise UsageError(f"reading {reading.id} was corrected by reading {reading.replaced_by}")
    path: Path = tuple(where.path.split("."))
    stood = opened.source.places.get(path)
    was = None if stood is None else quote(_leaf(opened, path))
    return Edit(path, quote(leaf_text(reading, where, opened)), was)


def reason(reading: Reading, where: Place) -> str:
    """Say in the journal why the value changed."""
    by = f" by {reading.initials}" if reading.initials else ""
    return f"reading {reading.id} accepted into {where.path}: {reading.text}{by}"


def accepted(readings: Sequence[Reading], opened: Opened) -> dict[int, str]:
    """Say which readings stand in the build now, and in which field."""
    found: dict[int, str] = {}
    numbers = {f"reading {reading.id}": reading.id for reading in readings}
    for path in opened.source.places:
        typed = _leaf(opened, path)
        if not isinstance(typed, str):
            continue
        for word in typed.split(", "):
            if word in numbers:
                found[numbers[word]] = ".".join(path)
    return found


def _leaf(opened: Opened, path: Path) -> object:
    data: object = opened.source.data
    for piece in path:
        data = data.get(piece) if isinstance(data, dict) else None
    return data
