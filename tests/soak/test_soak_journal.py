"""A writer killed at any time, again and again in the same folder."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from journal_kills import WRITER, left_by_the_dead, text_of

HERE = Path(__file__).parents[1]
KILLS = 200

pytestmark = [
    pytest.mark.soak,
    pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals"),
]


def test_what_was_acknowledged_outlives_two_hundred_kills(tmp_path: Path) -> None:
    dice, seen = random.Random(11), set()
    (tmp_path / "build.toml").write_text(text_of(0))
    for _ in range(KILLS):
        command = [sys.executable, "-c", WRITER, str(tmp_path)]
        with subprocess.Popen(command, cwd=HERE, stdout=subprocess.PIPE) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(dice.uniform(0, 0.12))
            writer.send_signal(signal.SIGKILL)
            # What the writer was just saying when it died does not count.
            said = [line for line in writer.stdout if line.endswith(b"\n")]
        acknowledged = int(said[-1]) if said else 0
        number, _ = left_by_the_dead(tmp_path, acknowledged)
        assert not said or number in (acknowledged, acknowledged + 1)
        seen.add(number)
    # How far a writer gets before it is killed is a matter of the machine; some way it has to.
    assert len(seen) > 10
