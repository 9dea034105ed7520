"""Edits sent to servers that may be several, or be killed, and what has to hold of what they leave."""

from __future__ import annotations

import hashlib
import itertools
import random
import threading
from collections.abc import Sequence
from pathlib import Path

import httpx2

from serving import PATIENCE, serving
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
    number, pauses = 0, []
    for _ in range(kills):
        acknowledged = number
        with serving(state, str(folder)) as served:
            pause = dice.uniform(0.05, 0.6)
            killer = threading.Timer(pause, served.process.kill)
            killer.start()
            try:
                while True:
                    answer = served.edit(folder.name, "donor.description", f"words {number + 1}")
                    assert answer.status_code == 200, answer.text
                    number += 1
            except httpx2.HTTPError:
                pass
            served.process.wait(PATIENCE)
            pauses.append(number - acknowledged)
        # The edit under way when it died may have come through, or not.
        with Keeper(folder) as keeper:
            raw = keeper.content(keeper.head().number)
        assert raw == (folder / "build.toml").read_bytes()
        if number:
            assert value(raw, "donor.description") in (f"words {number}", f"words {number + 1}")
            number = int(str(value(raw, "donor.description")).removeprefix("words "))
        kept_by(folder, [])
    # How far it gets before it is killed is a matter of the machine; some way it has to.
    assert sum(pauses) > kills
