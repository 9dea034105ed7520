"""``undo``: take back the last change, or make it again, and show what that changes."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from wattwright.assessment import Assessment, Change, assess, compare
from wattwright.build.reader import parse_build
from wattwright.build.sampled_files import beside
from wattwright.build.save import FILE
from wattwright.cli.compare import ripple
from wattwright.cli.folders import build_folder
from wattwright.errors import BuildError, EditError, visible
from wattwright.journal.keeper import Keeper
from wattwright.journal.places import has_journal
from wattwright.journal.revisions import Revision
from wattwright.system import login_name
from wattwright.units import Taste


@dataclass(frozen=True, slots=True)
class _Step:
    """One change taken back or made again; ``made`` is the revision that did it, if it was done."""

    target: Revision
    made: Revision | None
    build: str
    ripple: tuple[Change, ...]
    unreadable: tuple[str, ...]


def run(asked: argparse.Namespace) -> int:
    """Take back or make again one change, and print the ripple."""
    folder = build_folder(asked.build)
    step = _step(folder, asked.redo, asked.dry_run, asked.units)
    print(_json(step) if asked.json else "\n".join(_lines(step, folder, asked.redo)))
    return 0


def _step(folder: Path, redo: bool, dry_run: bool, taste: Taste) -> _Step:
    if not has_journal(folder):
        raise EditError(f"{folder}: it has no journal yet; that begins with the first change")
    with Keeper(folder) as keeper:
        head = keeper.head()
        target = keeper.redoable() if redo else keeper.undoable()
        result = target if redo or target is None else keeper.before(target.number)
        if target is None or result is None:
            verb = "make again" if redo else "take back"
            raise EditError(f"{folder / FILE}: there is no change to {verb}")
        unreadable: list[str] = []
        before = _assessed(folder, keeper, head, "as it is", unreadable)
        after = _assessed(folder, keeper, result, "as it will be", unreadable)
        made = None
        if not dry_run:
            make = keeper.redo if redo else keeper.undo
            made = make(login_name(), head.digest, after.digest if after else "")
    return _Step(
        target,
        made,
        next((each.name for each in (after, before) if each), ""),
        compare(before, after, taste) if before and after else (),
        tuple(unreadable),
    )


def _assessed(
    folder: Path, keeper: Keeper, revision: Revision, which: str, unreadable: list[str]
) -> Assessment | None:
    """Assess a revision; one that cannot be read may well be what somebody wants to take back."""
    try:
        return assess(parse_build(keeper.content(revision.number), FILE, beside(folder)))
    except BuildError as error:
        count = len(error.problems)
        more = f", and {count - 1} more" if count > 1 else ""
        unreadable.append(f"{FILE} {which} cannot be read: {error.problems[0]}{more}")
        return None


def _lines(step: _Step, folder: Path, redo: bool) -> Iterator[str]:
    number = step.target.number
    does = f"Making revision {number} again" if redo else f"Taking back revision {number}"
    yield visible(f"{does}: {step.target.why}")
    if step.unreadable:
        yield from step.unreadable
        yield "so that nothing can be said of what this changes"
    else:
        yield from ripple(step.ripple)
    if step.made is None:
        yield "nothing was saved"
    else:
        yield f"saved {folder / FILE} as revision {step.made.number}"


def _json(step: _Step) -> str:
    from wattwright.output import UndoOut
    from wattwright.written_out import change_out, revision_out

    out = UndoOut(
        build=step.build,
        target=revision_out(step.target),
        made=revision_out(step.made) if step.made else None,
        changes=[change_out(change) for change in step.ripple],
        unreadable=list(step.unreadable),
    )
    return out.model_dump_json(indent=2)
