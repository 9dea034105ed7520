"""``new``: a starter build, or a copy of one of the examples."""

from __future__ import annotations

import argparse
import shutil
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from wattwright.build.reader import FILE, open_build
from wattwright.errors import UsageError
from wattwright.journal.places import JOURNAL, PHOTOS


def run(asked: argparse.Namespace) -> int:
    """Make a new build folder."""
    folder = Path(asked.folder)
    if folder.exists() and any(folder.iterdir() if folder.is_dir() else [folder]):
        raise UsageError(f"{folder} exists and is not empty; nothing was touched")
    try:
        _fill(folder, asked.like)
    except OSError as error:
        raise UsageError(f"{folder} cannot be made: {error.strerror or error}") from None
    open_build(folder)
    print(f"{folder / FILE} is ready. Next: wattwright check {folder}")
    return 0


def _fill(folder: Path, like: str | None) -> None:
    if like:
        with as_file(example_folder(like)) as source:
            # The history of an example is not that of the new build.
            journal = shutil.ignore_patterns(f"{JOURNAL}*", PHOTOS)
            shutil.copytree(source, folder, dirs_exist_ok=True, ignore=journal)
        return
    folder.mkdir(parents=True, exist_ok=True)
    starter = files("wattwright").joinpath("starter.toml").read_text(encoding="utf-8")
    (folder / FILE).write_text(starter, encoding="utf-8")


def examples() -> Traversable:
    """Find the examples: inside the package when installed, beside it in a checkout."""
    inside = files("wattwright").joinpath("examples")
    if inside.is_dir():
        return inside
    return Path(__file__).parents[3] / "examples"


def example_folder(name: str) -> Traversable:
    """Find one example by name."""
    known = sorted(each.name for each in examples().iterdir() if each.is_dir())
    if name not in known:
        raise UsageError(f"there is no example {name!r}; there are {', '.join(known)}")
    return examples().joinpath(name)
