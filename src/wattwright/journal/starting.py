"""A new build: an empty one with everything to fill in, or a copy of an example."""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from wattwright.build.reader import FILE
from wattwright.errors import UsageError
from wattwright.journal.places import JOURNAL, PHOTOS


def start(folder: Path, like: str | None) -> None:
    """Fill a new folder. Raises UsageError where it is not empty or there is no such example."""
    if folder.exists() and any(folder.iterdir() if folder.is_dir() else [folder]):
        raise UsageError(f"{folder} exists and is not empty; nothing was touched")
    try:
        _fill(folder, like)
    except OSError as error:
        raise UsageError(f"{folder} cannot be made: {error.strerror or error}") from None


def _fill(folder: Path, like: str | None) -> None:
    if like:
        with as_file(example_folder(like)) as source:
            # The history of an example is not that of the new build.
            kept = shutil.ignore_patterns(".*", f"{JOURNAL}*", PHOTOS)
            shutil.copytree(source, folder, dirs_exist_ok=True, ignore=kept)
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


def example_names() -> tuple[str, ...]:
    """Names of the examples."""
    return tuple(sorted(each.name for each in examples().iterdir() if each.is_dir()))


def example_folder(name: str) -> Traversable:
    """Find one example by name."""
    known = example_names()
    if name not in known:
        raise UsageError(f"there is no example {name!r}; there are {', '.join(known)}")
    return examples().joinpath(name)
