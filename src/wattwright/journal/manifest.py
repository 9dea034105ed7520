"""The list that an archive carries of what is in it: names, sizes and digests.

    {
     "files": {"build.toml": {"sha256": "9f86d0…", "size": 4711}},
     "folder": "orchard-pickup",
     "format": 1
    }

No time stands in it, so that equal folders make equal archives.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

FORMAT = 1
NAME = "manifest.json"
LARGEST = 1024 * 1024

_DIGEST = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Entry:
    """One file of an archive."""

    sha256: str
    size: int


@dataclass(frozen=True, slots=True)
class Manifest:
    """What an archive holds: its files by their names in the build folder.

    ``folder`` is what the folder was called; it is only there to be shown.
    """

    folder: str
    files: Mapping[str, Entry]

    def written(self) -> bytes:
        """Write it as it stands in the archive."""
        files = {name: asdict(entry) for name, entry in self.files.items()}
        said = {"format": FORMAT, "folder": self.folder, "files": files}
        return (json.dumps(said, indent=1, sort_keys=True) + "\n").encode()


def read_manifest(raw: bytes) -> Manifest:
    """Read a manifest; raise ValueError with what is wrong with it."""
    try:
        said = json.loads(raw, object_pairs_hook=_once)
    except RecursionError:
        raise ValueError("it is nested too deep") from None
    if not isinstance(said, dict) or type(said.get("format")) is not int:
        raise ValueError("it states no format")
    if said["format"] != FORMAT:
        raise ValueError(f"it is of format {said['format']}; this release reads format {FORMAT}")
    if said.keys() != {"format", "folder", "files"}:
        raise ValueError("it does not hold exactly format, folder and files")
    folder, files = said["folder"], said["files"]
    if not isinstance(folder, str) or not isinstance(files, dict):
        raise ValueError("its folder is no text, or its files are no table")
    return Manifest(folder, {name: _entry(name, each) for name, each in files.items()})


def _entry(name: str, said: object) -> Entry:
    match said:
        case {"sha256": str(digest), "size": int(size), **rest} if (
            _DIGEST.fullmatch(digest) and type(size) is int and not rest
        ):
            return Entry(digest, size)
    raise ValueError(f"it does not state exactly sha256 and size of {name!r}")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    said = dict(pairs)
    if len(said) != len(pairs):
        raise ValueError("it names something twice")
    return said
