"""Times as the clock on the wall shows them, in a zone that the test sets."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest

from wattwright.journal.local_time import local, local_day, zone

pytestmark = pytest.mark.skipif(not hasattr(time, "tzset"), reason="the zone cannot be set here")


@pytest.fixture
def east(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    # Three hours east of Greenwich, as POSIX writes it; no change over the year.
    monkeypatch.setenv("TZ", "EAT-3")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("east")
def test_a_time_of_the_journal_is_moved_to_the_clock_here() -> None:
    assert local("2026-03-14T21:30:59.123Z") == "2026-03-15 00:30"
    assert local_day("2026-03-14T21:30:59.123Z") == "2026-03-15"
    assert zone() == "EAT, UTC+03:00"


def test_greenwich_is_named_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "UTC0")
    time.tzset()
    try:
        assert zone() == "UTC+00:00"
    finally:
        monkeypatch.undo()
        time.tzset()
