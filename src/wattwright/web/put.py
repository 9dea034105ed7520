"""Putting a file beside the build file, under a name of its own."""

from __future__ import annotations

import os
import re
from pathlib import Path

from wattwright.errors import UsageError

ENDINGS = (".csv", ".gpx")
_TRIES = 1000


def new_file(folder: Path, sent_name: str, content: bytes) -> tuple[str, bool]:
    """Write a new file; return its name, and whether it is new or lay there just so.

    The name is made from the one that was sent, of letters, digits, - and _ alone. A file that is
    there already is never overwritten.
    """
    stem, ending = os.path.splitext(sent_name.replace("\\", "/").rpartition("/")[2])
    ending = ending.casefold()
    if ending not in ENDINGS:
        raise UsageError(f"{sent_name[-60:]!r}: only {' and '.join(ENDINGS)} files belong here")
    plain = re.sub(r"[^A-Za-z0-9_-]+", "-", stem).strip("-_")[:48] or "file"
    for count in range(_TRIES):
        name = f"{plain}{f'-{count}' if count else ''}{ending}"
        try:
            handle = os.open(folder / name, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644)
        except FileExistsError:
            if (folder / name).read_bytes() == content:
                return name, False
            continue
        with open(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        return name, True
    raise UsageError(f"there are {_TRIES} files called {plain} already; give it another name")
