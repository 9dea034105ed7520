"""For tests of pages: reading them changes nothing."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path

from small_server import Browser


def contents(folder: Path) -> dict[str, str]:
    """Return a digest of every file below a folder, and of every folder that it is there."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        if path.is_file()
        else "folder"
        for path in sorted(folder.rglob("*"))
    }


def reading_changes_nothing(client: Browser, paths: Iterable[str], folder: Path) -> None:
    """Read every path with every method that may change nothing, and compare the folder."""
    before = contents(folder)
    for path in paths:
        for method in ("GET", "HEAD", "OPTIONS"):
            client.request(method, path)
            after = contents(folder)
            changed = sorted(before.items() ^ after.items())
            assert not changed, f"{method} {path} changed {sorted({name for name, _ in changed})}"
