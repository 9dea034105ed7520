"""``compare``: what changed in what is said between two builds."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from wattwright.assessment import Change, Sorted, assess, compare, sorted_out
from wattwright.build.reader import open_build
from wattwright.cli.terminal import table, width, wrapped
from wattwright.findings import about_words

# Longer than any number with its band: such a text stands on lines of its own.
_NUMBER = 26


def run(asked: argparse.Namespace) -> int:
    """Print the ripple between two builds."""
    old, new = (assess(open_build(Path(folder))) for folder in (asked.old, asked.new))
    changes = compare(old, new, asked.units)
    if asked.json:
        from wattwright.output import CompareOut
        from wattwright.written_out import change_out

        out = CompareOut(
            old=old.name, new=new.name, changes=[change_out(change) for change in changes]
        )
        print(out.model_dump_json(indent=2))
    else:
        print("\n".join(ripple(changes)))
    return 0


def ripple(changes: Iterable[Change]) -> Iterator[str]:
    """Write a ripple as text, verdict turns first."""
    said = sorted_out(changes)
    if not any((said.turned, said.new, said.gone, said.moved, said.needs)):
        yield "nothing that is shown has changed"
        return
    heads = (
        (said.turned, "Verdicts that turned"),
        (said.new, "New"),
        (said.gone, "No longer said"),
    )
    for found, head in heads:
        if found:
            yield head
        for change in found:
            yield f"  {change.says}   {change.address}"
            yield from _sides(change)
    if said.moved:
        yield "Numbers that moved"
        yield from _moved(said.moved)
    if said.needs:
        yield _needing(said)


def _sides(change: Change) -> Iterator[str]:
    if not change.new:
        yield f"      {'was ' if change.gone else ''}{change.verdict_before}: {change.before}"
    if not change.gone:
        yield f"   {'   ' if change.new else '-> '}{change.verdict_after}: {change.after}"


def _needing(said: Sorted) -> str:
    """Fold what only needs other readings into one line: its numbers and verdicts are as before."""
    count = len(said.needs)
    more = "more " if said.turned or said.new or said.gone or said.moved else ""
    line, need = ("line", "needs") if count == 1 else ("lines", "need")
    return f"{'and ' if more else ''}{count} {more}{line} {need} other readings now"


def _moved(changes: Iterable[Change]) -> Iterator[str]:
    """Write one row for everything that moved in the same way, in columns where they fit."""
    rows: dict[tuple[str, tuple[str, str, str]], list[str]] = {}
    for change in changes:
        rows.setdefault((change.name, _way(change)), []).append(about_words(change.about))
    lines = [(_label(name, abouts), *way) for (name, way), abouts in rows.items()]
    widest = (max((len(row[n]) for row in lines if _fits(row)), default=0) for n in (1, 3))
    most = width() - 8 - sum(widest)
    short = [row for row in lines if _fits(row) and len(row[0]) <= most]
    columns = dict(zip(short, table(short), strict=True))
    for row in lines:
        if row in columns:
            yield f"  {columns[row]}"
        else:
            label, *way = row
            yield wrapped(label, "    ", "  ")
            yield wrapped(" ".join(filter(None, way)), "          ", "      ")


def _way(change: Change) -> tuple[str, str, str]:
    """Say how a number moved, as three columns."""
    before, after = change.moved
    if change.new:
        return "", "", f"new: {after}"
    return (before, "", "no longer said") if change.gone else (before, "->", after)


def _label(name: str, abouts: Sequence[str]) -> str:
    return ": ".join(filter(None, (name, "; ".join(filter(None, abouts)))))


def _fits(row: tuple[str, str, str, str]) -> bool:
    return len(row[1]) <= _NUMBER and len(row[3]) <= _NUMBER
