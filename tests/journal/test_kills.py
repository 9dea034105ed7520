"""A writer killed before and after each thing it does to the disk."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from journal_kills import DIER, left_by_the_dead

HERE = Path(__file__).parents[1]
KILLED = -9

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals")


def died(home: Path, points: int) -> list[list[str]]:
    home.mkdir()
    command = [sys.executable, "-c", DIER, str(home), str(points)]
    done = subprocess.run(command, cwd=HERE, capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
    return [line.split() for line in done.stdout.splitlines()]


def test_whatever_a_writer_dies_at_nothing_is_lost(tmp_path: Path) -> None:
    ((_, code, *said),) = died(tmp_path / "none", 0)
    points = said[3:]
    assert (code, said[:3]) == ("0", ["1", "2", "1"])
    for name in ("open", "fsync", "replace", "do_commit"):
        assert points.count(f"before_{name}") == points.count(f"after_{name}") >= 3, name
    assert points.count("half_written") == 3

    states = []
    for number, code, *said in died(tmp_path / "each", len(points))[1:]:
        assert int(code) == KILLED
        acknowledged = int(said[-1]) if said else 0
        in_file, found = left_by_the_dead(tmp_path / "each" / f"{int(number):03}", acknowledged)
        states.append((len(said), in_file, found[0].state))
    # What the child was at when it died, in how far it had come: not begun, written down only,
    # in the file though not yet said.
    assert (0, 0, "done") in states
    assert (0, 0, "not saved") in states
    assert (0, 1, "done") in states
    assert (1, 1, "not saved") in states
    assert (1, 2, "done") in states
    assert (2, 2, "not saved") in states
    assert (2, 1, "done") in states
