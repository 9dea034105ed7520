"""Text on a terminal: plain when piped, colour never alone."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from collections.abc import Sequence

_COLOURS = {"failing": "1;31", "unknown": "1;35", "marginal": "1;33", "sound": "32", "dim": "2"}


def width() -> int:
    """Columns to write into: the terminal's, 100 when piped."""
    if not sys.stdout.isatty():
        return 100
    return min(120, shutil.get_terminal_size((100, 24)).columns)


def coloured() -> bool:
    """True on a terminal that wants colour."""
    wanted = "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"
    return wanted and sys.stdout.isatty()


def paint(text: str, style: str) -> str:
    """Colour a text where colour is wanted; the words say the same without it."""
    return f"\x1b[{_COLOURS[style]}m{text}\x1b[0m" if coloured() else text


def wrapped(text: str, indent: str, first: str = "") -> str:
    """Wrap a text to the width of the terminal."""
    return textwrap.fill(
        text,
        width(),
        initial_indent=first or indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def table(rows: Sequence[Sequence[str]], right: Sequence[bool] = ()) -> list[str]:
    """Lay out rows in columns; ``right`` says which are set flush right."""
    if not rows:
        return []
    columns = len(rows[0])
    widths = [max(len(row[column]) for row in rows) for column in range(columns)]
    sides = list(right) or [False] * columns
    return [
        "  ".join(
            cell.rjust(width) if side else cell.ljust(width)
            for cell, width, side in zip(row, widths, sides, strict=True)
        ).rstrip()
        for row in rows
    ]
