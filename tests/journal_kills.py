"""Writers that are killed, as programs of their own, and what has to hold of what they leave."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from wattwright.journal.keeper import Keeper
from wattwright.journal.revisions import Revision


def text_of(number: int) -> str:
    """A text of many blocks that names its own number and length: no part of it passes for one."""
    return f"n = {number}\n" * (number % 400 + 2000)


def digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


# Edits in a loop, and says the number of each edit that the journal acknowledged.
WRITER = """
import pathlib, sys
from journal_kills import text_of
from wattwright.journal.keeper import Keeper
with Keeper(pathlib.Path(sys.argv[1])) as keeper:
    number = int(keeper.text(keeper.head().number).partition("\\n")[0].removeprefix("n = "))
    print("ready", flush=True)
    while True:
        number += 1
        keeper.change(text_of(number), keeper.head().digest, "writer", f"to {number}")
        print(number, flush=True)
"""

# Makes the same few changes again and again, each time in a child that dies one point further on:
# before and after every call by which something gets to disk. Says what the child acknowledged.
DIER = """
import builtins, os, pathlib, signal, sys
from sqlalchemy.engine.default import DefaultDialect
from journal_kills import digest, text_of
from wattwright import system
from wattwright.journal.keeper import Keeper

passed, last = [], int(sys.argv[2])

def point(name):
    passed.append(name)
    if len(passed) == fatal:
        os.kill(os.getpid(), signal.SIGKILL)

def around(owner, name):
    inner = getattr(owner, name)
    def call(*args, **options):
        point(f"before {name}")
        result = inner(*args, **options)
        point(f"after {name}")
        return result
    setattr(owner, name, call)

class Halving:
    def __init__(self, stream):
        self.stream = stream
    def __enter__(self):
        return self
    def __exit__(self, *_):
        self.stream.close()
    def __getattr__(self, name):
        return getattr(self.stream, name)
    def write(self, new):
        self.stream.write(new[:len(new) // 2])
        self.stream.flush()
        point("half written")
        self.stream.write(new[len(new) // 2:])
        self.stream.flush()
        point("written")

def child(folder, ears):
    for name in ("open", "fsync", "replace", "unlink", "chmod"):
        around(os, name)
    around(DefaultDialect, "do_commit")
    system.open = lambda *args: Halving(builtins.open(*args))
    say = lambda words: os.write(ears, f"{words}\\n".encode())
    with Keeper(folder) as keeper:
        keeper.change(text_of(1), digest(text_of(0)), "writer", "to 1")
        say(1)
        keeper.change(text_of(2), digest(text_of(1)), "writer", "to 2")
        say(2)
        keeper.undo("writer")
        say(1)
    for name in passed:
        say(name)

for fatal in range(last + 1):
    folder = pathlib.Path(sys.argv[1], f"{fatal:03}")
    folder.mkdir()
    (folder / "build.toml").write_text(text_of(0))
    ears, mouth = os.pipe()
    pid = os.fork()
    if not pid:
        child(folder, mouth)
        os._exit(0)
    os.close(mouth)
    with open(ears) as stream:
        said = stream.read().splitlines()
    _, status = os.waitpid(pid, 0)
    print(fatal, os.waitstatus_to_exitcode(status), *(each.replace(" ", "_") for each in said))
"""


def left_by_the_dead(folder: Path, acknowledged: int) -> tuple[int, tuple[Revision, ...]]:
    """Check what a killed writer left: whole, alike in file and journal, nothing said lost.

    Returns the number in the file and all revisions, newest first.
    """
    before = (folder / "build.toml").read_text()
    number = int(before.partition("\n")[0].removeprefix("n = "))
    assert before == text_of(number), "the file is a whole text"
    with Keeper(folder) as keeper:
        assert (folder / "build.toml").read_text() == before, "looking changes nothing"
        head = keeper.head()
        assert head.digest == digest(before)
        found = keeper.revisions(most=10**6)
        assert [each.number for each in found] == list(range(len(found), 0, -1))
        assert {each.state for each in found} <= {"done", "not saved"}
        assert not [each for each in found if each.kind == "outside"], "nobody else was there"
        done = [each.digest for each in found if each.state == "done"]
        assert done[0] == head.digest
        held = [] if acknowledged == 0 else [digest(text_of(acknowledged))]
        assert set(held) <= set(done[:2]), "what was acknowledged is there, or one step back"
        for each in found[:3]:
            text = keeper.text(each.number)
            assert digest(text) == each.digest
            assert re.fullmatch(r"(n = \d+\n)+", text), "also what was not saved is kept whole"
    left = sorted(each.name for each in folder.iterdir())
    assert left == ["build.toml", "journal.sqlite"], "nothing else is left lying about"
    return number, found
