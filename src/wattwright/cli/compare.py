"""``compare``: what changed in what is said between two builds."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from pathlib import Path

from wattwright.assessment import Change, assess, compare
from wattwright.build.reader import open_build


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
    for change in others:
        yield f"  {change.says}   {change.address}"
        yield f"      {change.before} -> {change.after}"


def _words(verdict: str, text: str) -> str:
    return f"{verdict}: {text}" if verdict else text
