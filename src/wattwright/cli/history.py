"""``history``: the revisions of a build file, and what one of them changed."""

from __future__ import annotations

import argparse
import difflib
from collections.abc import Iterator, Sequence
from pathlib import Path

from wattwright.build.save import FILE
from wattwright.cli.folders import build_folder
from wattwright.cli.terminal import wrapped
from wattwright.errors import visible
from wattwright.journal.keeper import Keeper
from wattwright.journal.local_time import local, zone
from wattwright.journal.places import has_journal
from wattwright.journal.revisions import DONE, OUTSIDE, START, Revision

_PAGE = 500


def run(asked: argparse.Namespace) -> int:
    """Print all revisions, newest first, or one of them as a difference."""
    folder = build_folder(asked.build)
    revisions, difference = _looked_up(folder, asked.number)
    if asked.json:
        from wattwright.output import HistoryOut
        from wattwright.written_out import revision_out

        rows = [revision_out(revision) for revision in revisions]
        print(HistoryOut(revisions=rows, difference=difference).model_dump_json(indent=2))
    else:
        print("\n".join(_lines(folder, revisions, difference)))
    return 0


def _looked_up(folder: Path, number: int | None) -> tuple[Sequence[Revision], str | None]:
    # Looking alone does not begin a journal. Where the folder is wrong, opening says so.
    if (folder / FILE).is_file() and not has_journal(folder) and number is None:
        return (), None
    with Keeper(folder) as keeper:
        if number is None:
            return list(_all(keeper)), None
        return [keeper.revision(number)], _difference(keeper, number)


def _all(keeper: Keeper) -> Iterator[Revision]:
    before: int | None = None
    while page := keeper.revisions(before, _PAGE):
        yield from page
        before = page[-1].number


def _difference(keeper: Keeper, number: int) -> str:
    """Give the unified difference between a revision and what stood in the file before it."""
    earlier = keeper.before(number)
    old = keeper.text(earlier.number) if earlier else ""
    lines = difflib.unified_diff(
        old.splitlines(),
        keeper.text(number).splitlines(),
        f"revision {earlier.number}" if earlier else "nothing",
        f"revision {number}",
        lineterm="",
    )
    return "\n".join(lines)


def _lines(folder: Path, revisions: Sequence[Revision], difference: str | None) -> Iterator[str]:
    if not revisions:
        yield f"{folder} has no journal yet; it begins with the first change"
        return
    wide = max(len(_by(each)) for each in revisions)
    for each in revisions:
        front = f"{each.number:>5}  {local(each.at)}  {_by(each):<{wide}}  "
        why = each.why if each.state == DONE else f"{each.state}: {each.why}"
        yield wrapped(visible(why), " " * len(front), front)
    yield f"times as the clock here shows them ({zone()})"
    if difference is not None:
        yield visible(difference) or "only ends of lines differ"


def _by(revision: Revision) -> str:
    nobody = {START: "", OUTSIDE: "outside"}
    return visible(revision.who) or nobody.get(revision.kind, "")
