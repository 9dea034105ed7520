"""``adjust``: what all readings of the survey together say, and which of them does not fit."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from wattwright.areas.mounts.adjusting import Adjustment, adjust_survey, edits
from wattwright.assessment import assess, compare
from wattwright.build.edits import splice
from wattwright.build.reader import FILE, open_build, parse_build
from wattwright.build.sampled_files import beside
from wattwright.cli.compare import ripple
from wattwright.cli.folders import build_folder
from wattwright.journal.keeper import Keeper
from wattwright.said_of_survey import sections
from wattwright.system import login_name


def run(asked: argparse.Namespace) -> int:
    """Adjust the survey, say what came of it, and keep it where that is asked."""
    folder = build_folder(asked.build)
    opened = open_build(folder)
    made = adjust_survey(opened)
    print("\n".join(_written(made, asked)))
    if not asked.keep:
        print("nothing was saved; add --keep to put this into the build")
        return 0
    text = splice(opened.source, edits(made))
    after = parse_build(text.encode("utf-8"), FILE, beside(folder))
    changes = compare(assess(opened), assess(after), asked.units)
    with Keeper(folder) as keeper:
        why = "survey adjusted"
        keeper.change(text, opened.source.digest, login_name(), why, after.digest)
    print("\n".join(ripple(changes)))
    print(f"saved {folder / FILE}")
    return 0


def _written(made: Adjustment, asked: argparse.Namespace) -> Iterator[str]:
    for title, lines in sections(made, asked.units):
        yield title
        yield from (f"  {line}" for line in lines)
