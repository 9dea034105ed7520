"""``print``: a page of the build as a PDF; templates and views as SVG, templates as DXF too."""

from __future__ import annotations

import argparse
from pathlib import Path

from wattwright.assessment import assess
from wattwright.build.reader import Opened, open_build
from wattwright.cli.terminal import table
from wattwright.errors import UsageError
from wattwright.pages import PageAbout, names, printed


def run(asked: argparse.Namespace) -> int:
    """Write a page to a file, or list the pages there are."""
    opened = open_build(Path(asked.build))
    assessment = assess(opened)
    if asked.name is None:
        print("\n".join(table(list(names(opened, assessment).items()))))
        return 0
    made = printed(
        asked.name, opened, assessment, asked.units, asked.paper, _about(opened), asked.format
    )
    target = Path(made.file_name if asked.output is None else asked.output)
    try:
        target.write_bytes(made.content)
    except OSError as error:
        raise UsageError(f"{target} cannot be written: {error.strerror or error}") from None
    print(f"{target} is written")
    return 0


def _about(opened: Opened) -> PageAbout:
    """Look up which revision this is, and of what day; nothing where there is no journal."""
    from wattwright.journal.places import has_journal

    if opened.folder is None or not has_journal(opened.folder):
        return PageAbout()
    from wattwright.journal.keeper import Keeper

    with Keeper(opened.folder) as keeper:
        head = keeper.head()
    # Somebody may have saved another state since the build was read.
    return (
        PageAbout(head.number, head.at[:10]) if head.digest == opened.source.digest else PageAbout()
    )
