"""The folder of a build as a command was given it."""

from __future__ import annotations

from pathlib import Path

from wattwright.build.save import FILE
from wattwright.errors import UsageError


def build_folder(named: str) -> Path:
    """Find the folder of a build that is to be changed; its build file may be named instead."""
    path = Path(named)
    if not path.is_file():
        return path
    if path.name != FILE:
        raise UsageError(f"{path} is not a {FILE}; name the folder of the build")
    return path.parent
