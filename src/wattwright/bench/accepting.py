"""From a reading in the journal to a value in the build file, and where each one has gone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from wattwright.assessment import Assessment, Change, assess, compare
from wattwright.bench.instruments import Meter, meters, named
from wattwright.bench.sheet import Line
from wattwright.bench.sheets import is_sheet, sheet
from wattwright.bench.told import Told, kind_of, told
from wattwright.build.edits import Edit, quote, splice
from wattwright.build.reader import FILE, Opened, parse_build
from wattwright.build.sampled_files import beside
from wattwright.build.text import Path as Leaf
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
    if slash and is_sheet(name):
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
        off = float(f"{meter.band(found.number, where.kind):.2g}")
        text += f" ± {write(off, meter.kind)}"
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
    path: Leaf = tuple(where.path.split("."))
    stood = opened.source.places.get(path)
    was = None if stood is None else quote(_leaf(opened, path))
    return Edit(path, quote(leaf_text(reading, where, opened)), was)


@dataclass(frozen=True, slots=True, eq=False)
class Tried:
    """The build with a reading in it, not saved: its text and digest, and what changes."""

    text: str
    digest: str
    changes: tuple[Change, ...]


def tried(
    reading: Reading,
    where: Place,
    opened: Opened,
    assessment: Assessment,
    home: Path,
    taste: Taste,
) -> Tried:
    """Say what accepting a reading would change; ``home`` is where the files of the build lie."""
    text = splice(opened.source, [acceptance(reading, where, opened)])
    after = parse_build(text.encode("utf-8"), FILE, beside(home), opened)
    changes = compare(assessment, assess(after, before=assessment), taste)
    return Tried(text, after.digest, changes)


def reason(reading: Reading, where: Place) -> str:
    """Say in the journal why the value changed."""
    by = f" by {reading.initials}" if reading.initials else ""
    return f"reading {reading.id} accepted into {where.path}: {reading.text}{by}"


def accepted(readings: Sequence[Reading], opened: Opened) -> dict[int, str]:
    """Say which readings stand in the build now, and in which field.

    A build that was copied may name readings of the journal it came from: what is typed has to
    begin with what this one says.
    """
    found: dict[int, str] = {}
    named_so = {f"reading {reading.id}": reading for reading in readings}
    for path in opened.source.places:
        typed = _leaf(opened, path)
        if not isinstance(typed, str):
            continue
        for word in typed.split(", "):
            if word in named_so and typed.startswith(named_so[word].text):
                found[named_so[word].id] = ".".join(path)
    return found


def _leaf(opened: Opened, path: Leaf) -> object:
    data: object = opened.source.data
    for piece in path:
        data = data.get(piece) if isinstance(data, dict) else None
    return data
