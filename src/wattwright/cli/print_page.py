"""``print``: a page of the build as a PDF; templates and views as SVG, templates as DXF too."""

from __future__ import annotations

import argparse
from pathlib import Path
from urllib.parse import quote

from wattwright.assessment import assess
from wattwright.bench.sheets import is_sheet
from wattwright.build.reader import Opened, open_build
from wattwright.cli.terminal import table
from wattwright.errors import UsageError
from wattwright.pages import PageAbout, areas_for, names, printed


def run(asked: argparse.Namespace) -> int:
    """Write a page to a file, or list the pages there are."""
    opened = open_build(Path(asked.build))
    assessment = assess(opened, areas_for(asked.name or ""))
    if asked.name is None:
        print("\n".join(table(list(names(opened, assessment).items()))))
        return 0
    made = printed(
        asked.name,
        opened,
        assessment,
        asked.units,
        asked.paper,
        _about(opened, asked),
        asked.format,
    )
    target = Path(made.file_name if asked.output is None else asked.output)
    try:
        target.write_bytes(made.content)
    except OSError as error:
        raise UsageError(f"{target} cannot be written: {error.strerror or error}") from None
    print(f"{target} is written")
    return 0


def _about(opened: Opened, asked: argparse.Namespace) -> PageAbout:
    """Look up which revision this is, and of what day; nothing where there is no journal."""
    number, day = None, ""
    from wattwright.journal.places import has_journal

    if opened.folder is not None and has_journal(opened.folder):
        from wattwright.journal.keeper import Keeper

        with Keeper(opened.folder) as keeper:
            head = keeper.head()
        # Somebody may have saved another state since the build was read.
        if head.digest == opened.source.digest:
            number, day = head.number, head.at[:10]
    address = ""
    if asked.name and is_sheet(asked.name) and asked.address and opened.folder is not None:
        name = quote(opened.folder.resolve().name)
        since = "" if number is None else f"?as={number}"
        address = f"{asked.address.rstrip('/')}/b/{name}/sheet/{quote(asked.name)}{since}"
    return PageAbout(number, day, address)
