"""Where the journal of a build lies in its folder. Nothing heavy is imported here."""

from __future__ import annotations

import os
from pathlib import Path

JOURNAL = "journal.sqlite"
PHOTOS = "photos"


def has_journal(folder: Path) -> bool:
    """Say whether a build has a journal beside it already."""
    return os.path.lexists(folder / JOURNAL)
