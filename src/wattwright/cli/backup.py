"""``backup`` and ``restore``: a build as one file, compared before it is called good."""

from __future__ import annotations

import argparse
from pathlib import Path

from wattwright.cli.folders import build_folder
from wattwright.errors import visible
from wattwright.journal.archive import backup, unpack
from wattwright.journal.belonging import belonging
from wattwright.journal.manifest import Manifest
from wattwright.journal.places import JOURNAL


def run(asked: argparse.Namespace) -> int:
    """Make a backup of a build, or a build out of a backup."""
    return _back_up(asked) if asked.command == "backup" else _restore(asked)


def _back_up(asked: argparse.Namespace) -> int:
    folder, to = build_folder(asked.build), Path(asked.file)
    made = backup(folder, to, with_journal=not asked.without_journal, replace=asked.replace)
    print(f"{to} holds {_held(made)}; it was restored elsewhere and compared, and is the same")
    for name in belonging(folder).left_out:
        print(visible(f"left out, hidden, passing or outside of the folder: {name}"))
    return 0


def _restore(asked: argparse.Namespace) -> int:
    folder = Path(asked.folder)
    made = unpack(Path(asked.file), folder, plain=asked.plain)
    print(f"{folder} is restored: {_held(made)}. Next: wattwright check {folder}")
    return 0


def _held(made: Manifest) -> str:
    files = len(made.files.keys() - {JOURNAL})
    size = sum(entry.size for entry in made.files.values())
    journal = " and the journal" if JOURNAL in made.files else ", no journal"
    return f"{files} file{'s' if files > 1 else ''}{journal}, {size / 1e3:,.0f} kB"
