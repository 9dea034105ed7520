"""``set``: change values in a build file and show what that changes."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence

from wattwright.assessment import assess, compare
from wattwright.build.catalogue import find, nearest
from wattwright.build.edits import ANY, Edit, quote, splice
from wattwright.build.fields import Quantity
from wattwright.build.reader import FILE, open_build, parse_build
from wattwright.build.sampled_files import beside
from wattwright.build.text import Source
from wattwright.cli.compare import ripple
from wattwright.cli.folders import build_folder
from wattwright.errors import UsageError
from wattwright.journal.keeper import Keeper
from wattwright.journal.reasons import described
from wattwright.system import login_name


def run(asked: argparse.Namespace) -> int:
    """Edit the build file, save it and print the ripple."""
    folder = build_folder(asked.build)
    before = open_build(folder)
    edits = list(_edits(asked.changes))
    if not asked.whole_section:
        _refuse_sections(before.source, edits)
    text = splice(before.source, edits)
    after = parse_build(text.encode("utf-8"), FILE, beside(folder))
    changes = compare(assess(before), assess(after), asked.units)
    if not asked.dry_run:
        why = asked.why or described(before.source, after.source)
        with Keeper(folder) as keeper:
            keeper.change(text, before.source.digest, login_name(), why, after.digest)
    if asked.json:
        from wattwright.output import CompareOut
        from wattwright.written_out import change_out

        name = before.build.build.name
        out = CompareOut(old=name, new=name, changes=[change_out(each) for each in changes])
        print(out.model_dump_json(indent=2))
    else:
        print("\n".join(ripple(changes)))
        print("nothing was saved" if asked.dry_run else f"saved {folder / FILE}")
    return 0


def _refuse_sections(source: Source, edits: Sequence[Edit]) -> None:
    """Deleting a section takes everything in it, so it has to be asked for."""
    for edit in edits:
        place = source.places.get(edit.path)
        if edit.new is None and place is not None and place.shape == "record":
            path = ".".join(edit.path)
            inside = sum(other[: len(edit.path)] == edit.path for other in source.places) - 1
            raise UsageError(
                f"{path} is a section with {inside} entries; to delete all of it add "
                "--whole-section; nothing was changed"
            )


def _edits(changes: Sequence[str]) -> Iterator[Edit]:
    for change in changes:
        path, equals, text = change.partition("=")
        if not equals or not path.strip():
            raise UsageError(f'{change!r} is no change; write PATH="TEXT", or PATH= to delete')
        pieces = tuple(piece.strip() for piece in path.split("."))
        yield Edit(pieces, _toml(path.strip(), text.strip()) if text.strip() else None, ANY)


def _toml(path: str, text: str) -> str:
    entry = find(path)
    if entry is None and text == "{}" and find(f"{path}.name") is not None:
        return text
    if entry is None:
        near = nearest(path)
        hint = f"; did you mean {near}?" if near else "; see: wattwright fields"
        raise UsageError(f"there is no field {path}{hint}")
    plain = not isinstance(entry.slot.declared, Quantity)
    if plain and entry.slot.annotation in (bool | None, bool) and text in ("true", "false"):
        return text
    if plain and entry.slot.annotation in (float | None, int):
        return text
    return quote(text)
