"""``draw``: one of the build's drawings as SVG."""

from __future__ import annotations

import argparse
from pathlib import Path

from wattwright.assessment import assess
from wattwright.build.reader import open_build
from wattwright.drawings import check_name, drawing
from wattwright.errors import UsageError
from wattwright.paper.svg import render


def run(asked: argparse.Namespace) -> int:
    """Write a drawing to a file, or to standard output."""
    check_name(asked.name)
    opened = open_build(Path(asked.build))
    picture = render(drawing(asked.name, opened, assess(opened), asked.units))
    if asked.output is None:
        print(picture)
        return 0
    try:
        Path(asked.output).write_text(picture, encoding="utf-8")
    except OSError as error:
        raise UsageError(f"{asked.output} cannot be written: {error.strerror or error}") from None
    print(f"{asked.output} is written")
    return 0
