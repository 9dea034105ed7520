"""A folder with a build file, and the digest of a text."""

from __future__ import annotations

from pathlib import Path

import pytest

from wattwright.journal.keeper import Keeper

FIRST = "a = 1\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    home = tmp_path / "build"
    home.mkdir()
    (home / "build.toml").write_text(FIRST)
    return home


@pytest.fixture
def keeper(folder: Path):
    with Keeper(folder) as opened:
        yield opened
