"""``read``: write a reading down, say what it tells, and put it into the build."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import date
from pathlib import Path

from wattwright.assessment import Assessment, assess
from wattwright.bench.accepting import accepted, place, reason, tried, what_it_tells
from wattwright.bench.sheets import SHEETS
from wattwright.bench.told import Told
from wattwright.build.reader import Opened, open_build
from wattwright.build.typed import checked_date
from wattwright.cli.compare import ripple
from wattwright.cli.folders import build_folder
from wattwright.errors import UsageError, visible
from wattwright.journal.keeper import Keeper
from wattwright.journal.photos import Picture, picture_of
from wattwright.journal.readings import Reading, Taken
from wattwright.system import login_name
from wattwright.units import Taste


def run(asked: argparse.Namespace) -> int:
    """Keep a reading, or accept one, or list them."""
    folder = build_folder(asked.build)
    opened = open_build(folder)
    with Keeper(folder) as keeper:
        if asked.about is None and asked.accept is None:
            return _list(opened, keeper.readings(), asked.json)
        assessment = assess(opened)
        if asked.about is None:
            reading = keeper.reading(asked.accept)
        elif asked.text is None:
            raise UsageError('a reading needs what it shows: "313.5 kg"')
        else:
            reading = _kept(keeper, asked, opened, assessment)
        if asked.accept is None and asked.json:
            return _list(opened, (reading,), as_json=True)
        if asked.accept is not None:
            _accept(keeper, folder, reading, opened, assessment, asked)
    return 0


def _kept(
    keeper: Keeper, asked: argparse.Namespace, opened: Opened, assessment: Assessment
) -> Reading:
    """Write a reading down, or ask where it looks like a slip."""
    taken = Taken(
        about=asked.about,
        text=asked.text,
        instrument=asked.instrument,
        date=checked_date(asked.date) if asked.date else date.today().isoformat(),
        initials=asked.initials,
        note=asked.note,
        replaces=asked.corrects,
    )
    where = place(taken.about, opened, assessment, asked.units)
    found = what_it_tells(taken, where, opened, asked.units)
    if found is not None and found.questions and not asked.sure:
        questions = "\n  ".join(found.questions)
        raise UsageError(f"nothing was written down:\n  {questions}\nif it is so, add --sure")
    picture = _picture(asked.photo) if asked.photo else None
    reading = keeper.add_reading(login_name(), taken)
    if picture is not None:
        keeper.add_photo(login_name(), picture, about=f"reading {reading.id}")
    if asked.json:
        return reading
    print(visible(f"reading {reading.id}: {where.says}: {reading.text}"))
    for line in _says(found):
        print(line)
    return reading


def _picture(name: str) -> Picture:
    # Only where a photo comes in: pictures take long to load.
    from wattwright.journal.images import LARGEST

    try:
        with Path(name).open("rb") as file:
            raw = file.read(LARGEST + 1)
    except OSError as error:
        raise UsageError(f"{name} cannot be read: {error.strerror or error}") from None
    return picture_of(raw)


def _says(found: Told | None) -> Iterator[str]:
    if found is None:
        return
    pieces = [found.text, found.verdict, found.says]
    yield "  " + " · ".join(piece for piece in pieces if piece)
    if found.better:
        yield f"  what would tell: {found.better}"


def _accept(
    keeper: Keeper,
    folder: Path,
    reading: Reading,
    opened: Opened,
    before: Assessment,
    asked: argparse.Namespace,
) -> None:
    """Put a reading into the build, and show what that changes."""
    taste: Taste = asked.units
    where = place(reading.about, opened, before, taste)
    made = tried(reading, where, opened, before, folder, taste)
    if not asked.dry_run:
        why = reason(reading, where)
        keeper.change(made.text, opened.source.digest, login_name(), why, made.digest)
    if asked.json:
        from wattwright.output import CompareOut
        from wattwright.written_out import change_out

        name = opened.build.build.name
        out = CompareOut(old=name, new=name, changes=[change_out(each) for each in made.changes])
        print(out.model_dump_json(indent=2))
        return
    print("\n".join(ripple(made.changes)))
    said = f"reading {reading.id} stands in {where.path} now"
    print("nothing was saved in the build" if asked.dry_run else said)


def _list(opened: Opened, readings: Sequence[Reading], as_json: bool) -> int:
    stands = accepted(readings, opened)
    if as_json:
        from wattwright.output import ReadingOut, ReadingsOut

        rows = [
            ReadingOut(**asdict(reading), accepted_into=stands.get(reading.id, ""))
            for reading in readings
        ]
        print(ReadingsOut(readings=rows).model_dump_json(indent=2))
        return 0
    print(f"sheets: {', '.join(SHEETS)}")
    if not readings:
        print("no readings yet")
    for reading in readings:
        by = ", ".join(piece for piece in (reading.instrument, reading.initials) if piece)
        tail = f" ({by})" if by else ""
        state = ""
        if reading.replaced_by is not None:
            state = f"; corrected by reading {reading.replaced_by}"
        elif reading.id in stands:
            state = f"; stands in {stands[reading.id]}"
        line = f"{reading.id:>5}  {reading.date}  {reading.about}: {reading.text}{tail}{state}"
        print(visible(line))
    return 0
