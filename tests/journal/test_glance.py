"""Looking at a file without reading it, and never being fooled by a coarse clock."""

from __future__ import annotations

import hashlib
import os
import time
from pathlib import Path

import pytest

from wattwright.journal import glance
from wattwright.journal.glance import Glance


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "build.toml"
    file.write_bytes(b"a = 1\n")
    return file


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[bytes]:
    read: list[bytes] = []

    def noted(content: bytes) -> str:
        read.append(content)
        return digest(content)

    monkeypatch.setattr(glance, "digest_of", noted)
    return read


def later(monkeypatch: pytest.MonkeyPatch, seconds: int) -> None:
    ahead = time.time_ns() + seconds * 10**9
    monkeypatch.setattr(time, "time_ns", lambda: ahead)


def test_a_file_of_some_age_is_read_once(file, readings, monkeypatch) -> None:
    later(monkeypatch, 10)
    look = Glance(file)
    assert [look.digest() for _ in range(5)] == [digest(b"a = 1\n")] * 5
    assert len(readings) == 1
    look.forget()
    look.digest()
    assert len(readings) == 2


def test_a_file_just_written_is_read_every_time(file, readings) -> None:
    look = Glance(file)
    for _ in range(3):
        look.digest()
    assert len(readings) == 3


def test_a_file_whose_time_lies_ahead_is_read_every_time(file, readings) -> None:
    ahead = time.time_ns() + 10**12
    os.utime(file, ns=(ahead, ahead))
    look = Glance(file)
    for _ in range(3):
        look.digest()
    assert len(readings) == 3


def test_two_writings_in_one_tick_of_the_clock_are_told_apart(file, monkeypatch) -> None:
    """Nothing but the bytes differs: same size, same place, same times."""
    same = os.stat(file)
    look = Glance(file)
    look.digest()
    file.write_bytes(b"a = 2\n")
    monkeypatch.setattr(os, "stat", lambda _path: same)
    monkeypatch.setattr(os, "fstat", lambda _handle: same)
    assert look.digest() == digest(b"a = 2\n")


def test_any_mark_that_differs_leads_to_a_reading(file, monkeypatch) -> None:
    later(monkeypatch, 10)
    look = Glance(file)
    look.digest()
    kept = file.stat()
    file.write_bytes(b"a = 2\n")
    os.utime(file, ns=(kept.st_atime_ns, kept.st_mtime_ns))
    assert look.digest() == digest(b"a = 2\n"), "the time of writing was put back"


def test_a_file_written_while_it_is_read_is_not_remembered(file, readings, monkeypatch) -> None:
    later(monkeypatch, 10)
    inner = glance.digest_of

    def written_meanwhile(content: bytes) -> str:
        if len(readings) == 0:
            file.write_bytes(b"a = 22\n")
        return inner(content)

    monkeypatch.setattr(glance, "digest_of", written_meanwhile)
    look = Glance(file)
    look.digest()
    assert look.digest() == digest(b"a = 22\n")
