"""``compare``: what changed in what is said between two builds."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from wattwright.assessment import Change, assess, compare
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
    said = tuple(changes)
    if not said:
        yield "nothing that is shown has changed"
        return
    turned = [change for change in said if change.turned]
    others = [change for change in said if not change.turned]
    if turned:
        yield "Verdicts that turned"
    for change in turned:
        yield f"  {change.says}   {change.address}"
        yield f"      {_words(change.verdict_before, change.before)}"
        yield f"   -> {_words(change.verdict_after, change.after)}"
    if others:
        yield "Numbers that moved"
        yield from _moved(others)


def _moved(changes: Iterable[Change]) -> Iterator[str]:
    """Write one row for everything that moved in the same way, in columns where they fit."""
    rows: dict[tuple[str, tuple[str, str]], list[str]] = {}
    for change in changes:
        rows.setdefault((change.name, change.moved), []).append(about_words(change.about))
    lines = [(_label(name, abouts), *moved) for (name, moved), abouts in rows.items()]
    widest = (max((len(row[n]) for row in lines if _fits(row)), default=0) for n in (1, 2))
    most = width() - 8 - sum(widest)
    short = [row for row in lines if _fits(row) and len(row[0]) <= most]
    laid_out = table([(label, before, "->", after) for label, before, after in short])
    columns = dict(zip(short, laid_out, strict=True))
    for row in lines:
        if row in columns:
            yield f"  {columns[row]}"
        else:
            label, before, after = row
            yield wrapped(label, "    ", "  ")
            yield wrapped(f"{before} -> {after}", "          ", "      ")


def _label(name: str, abouts: Sequence[str]) -> str:
    return ": ".join(filter(None, (name, "; ".join(filter(None, abouts)))))


def _fits(row: tuple[str, str, str]) -> bool:
    return len(row[1]) <= _NUMBER and len(row[2]) <= _NUMBER


def _words(verdict: str, text: str) -> str:
    return f"{verdict}: {text}" if verdict else text
