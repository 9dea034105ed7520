"""Older build files, brought up to date by edits that touch only what changed.

A migration turns format N into N + 1 as a list of edits, so that comments and layout stay. The
file on disk is not rewritten by reading it; the next edit saves the new form.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from wattwright.build.edits import ANY, Edit, splice
from wattwright.build.text import Source, read_text
from wattwright.errors import BuildError, Problem

Migration = Callable[[Source], Sequence[Edit]]

MIGRATIONS: Mapping[int, Migration] = {}


def migrated(
    source: Source, file: str, current: int, migrations: Mapping[int, Migration] = MIGRATIONS
) -> Source:
    """Bring a file to the current format, or say why that cannot be done."""
    found = source.data.get("format")
    place = source.places.get(("format",))
    if isinstance(found, bool) or not isinstance(found, int):
        raise BuildError(
            Problem(
                "the file does not say its format" if found is None else "the format is no number",
                "format",
                file,
                place.line if place else 1,
                got="" if found is None else repr(found),
                do=f"write format = {current} as the first line",
            )
        )
    if found > current:
        raise BuildError(
            Problem(
                f"this file was written for format {found}; this program knows up to {current}",
                "format",
                file,
                place.line if place else 1,
                do="install a newer wattwright",
            )
        )
    while found < current:
        if found not in migrations:
            raise BuildError(
                Problem(
                    f"format {found} never existed",
                    "format",
                    file,
                    place.line if place else 1,
                    do=f"write format = {current}",
                )
            )
        step = [*migrations[found](source), Edit(("format",), str(found + 1), ANY)]
        source = read_text(splice(source, step).encode(), file)
        found += 1
    return source
