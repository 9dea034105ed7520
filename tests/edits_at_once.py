"""Edits sent to servers, several or killed ones, and what has to hold of what they leave."""

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

PATH = "donor.description"


def kept_by(folder: Path, told: Sequence[tuple[int, str, str]]) -> None:
    """Every acknowledged edit stands in its revision, and the last revision in the file."""
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
            number = _edited_until_killed(served, folder, number, dice)
        # The edit under way when it died may have come through, or not.
        with Keeper(folder) as keeper:
            raw = keeper.content(keeper.head().number)
        assert raw == (folder / "build.toml").read_bytes()
        said = value(raw, PATH)
        assert said in (f"words {number}", f"words {number + 1}")
        number = int(str(said).removeprefix("words "))
        kept_by(folder, [])
    assert number >= 2 * kills


def _edited_until_killed(served: Served, folder: Path, number: int, dice: random.Random) -> int:
    """Edit a few times, and go on while the server is killed; return the last acknowledged edit."""
    enough = number + dice.randint(2, 4)
    was = value((folder / "build.toml").read_bytes(), PATH)
    with suppress(httpx2.HTTPError):
        while True:
            began = time.monotonic()
            # A form, whose answer does not wait for what the change moves.
            form = {"path": PATH, "quantity": f"words {number + 1}", "was": f'"{was}"'}
            answer = served.client.post(f"/b/{folder.name}/set", data=form, headers=served.token)
            assert answer.status_code == 303, answer.text
            number, was = number + 1, form["quantity"]
            if number == enough:
                took = time.monotonic() - began
                threading.Timer(dice.uniform(0, 1.5 * took), served.process.kill).start()
    served.process.wait(PATIENCE)
    return number
