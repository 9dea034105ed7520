"""Edits sent to servers that may be several, or be killed, and what has to hold of what they leave."""

from __future__ import annotations

import hashlib
import itertools
import random
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import httpx2

from serving import PATIENCE, Served, serving
from wattwright.build.reader import open_build
from wattwright.build.text import read_text
from wattwright.journal.keeper import Keeper


def kept_by(folder: Path, told: Sequence[tuple[int, str, str]]) -> None:
    """Every acknowledged edit stands in the revision it was said to be; the last one in the file."""
    with Keeper(folder) as keeper:
        for number, path, text in told:
            assert value(keeper.content(number), path) == text, (number, path)
        numbers = [number for number, _, _ in told]
        assert len(numbers) == len(set(numbers))
        head = keeper.head()
        raw = (folder / "build.toml").read_bytes()
        assert head.digest == hashlib.sha256(raw).hexdigest()
        assert keeper.content(head.number) == raw
        listed = [each.number for each in keeper.revisions(most=10_000)]
        assert all(newer == older + 1 for newer, older in itertools.pairwise(listed))
    assert open_build(folder).source.text.encode() == raw


def value(raw: bytes, path: str) -> object:
    found: object = read_text(raw).data
    for key in path.split("."):
        assert isinstance(found, dict)
        found = found[key]
    return found


def left_by_a_killed_server(folder: Path, state: Path, kills: int) -> None:
    """Kill a server again and again while it saves; each time see what it has left."""
    dice = random.Random(kills)
    number = 0
    for _ in range(kills):
        with serving(state, str(folder)) as served:
            number = _edited_until_killed(served, folder.name, number, dice)
        # The edit under way when it died may have come through, or not.
        with Keeper(folder) as keeper:
            raw = keeper.content(keeper.head().number)
        assert raw == (folder / "build.toml").read_bytes()
        said = value(raw, "donor.description")
        assert said in (f"words {number}", f"words {number + 1}")
        number = int(str(said).removeprefix("words "))
        kept_by(folder, [])
    assert number >= 2 * kills


def _edited_until_killed(served: Served, build: str, number: int, dice: random.Random) -> int:
    """Edit a few times, and go on while the server is killed; return the last acknowledged edit."""
    enough = number + dice.randint(2, 4)
    with suppress(httpx2.HTTPError):
        while True:
            began = time.monotonic()
            answer = served.edit(build, "donor.description", f"words {number + 1}")
            assert answer.status_code == 200, answer.text
            number += 1
            if number == enough:
                took = time.monotonic() - began
                threading.Timer(dice.uniform(0, 1.5 * took), served.process.kill).start()
    served.process.wait(PATIENCE)
    return number
