"""``new``: a starter build, or a copy of one of the examples."""

from __future__ import annotations

import argparse
from pathlib import Path

from wattwright.build.reader import FILE, open_build
from wattwright.journal.starting import start


def run(asked: argparse.Namespace) -> int:
    """Make a new build folder."""
    folder = Path(asked.folder)
    start(folder, asked.like)
    open_build(folder)
    print(f"{folder / FILE} is ready. Next: wattwright check {folder}")
    return 0
