"""A build at one revision: read once, worked out once, and stopped where somebody says so."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, wait
from dataclasses import dataclass, field
from functools import cached_property

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened
from wattwright.build.text import Source
from wattwright.drawings import drawing
from wattwright.errors import Problem
from wattwright.journal.revisions import Revision
from wattwright.next_readings import Bundle, next_readings
from wattwright.paper.svg import render
from wattwright.units import Taste


@dataclass(frozen=True, slots=True)
class _Go:
    """One go at working a build out."""

    done: Future[Assessment | None] = field(default_factory=Future)
    stop: threading.Event = field(default_factory=threading.Event)


@dataclass(eq=False)
class View:
    """A build at one revision: its text, and either what is said of it or what is wrong with it.

    ``source`` is none where the file is no TOML at all. What is said is worked out once, on a
    thread of its own, so that a page can say that it is being worked out. ``known`` gives what was
    said of a revision near it.
    """

    revision: Revision
    text: str
    source: Source | None
    opened: Opened | None
    problems: tuple[Problem, ...]
    known: Callable[[], Assessment | None] = lambda: None
    _go: _Go = field(default_factory=_Go)
    _changing: threading.Lock = field(default_factory=threading.Lock)
    _drawn: dict[tuple[str, Taste], tuple[str, str]] = field(default_factory=dict)

    @property
    def _begun(self) -> Future[Assessment | None]:
        with self._changing:
            go = self._go
            if not go.done.running() and not go.done.done():
                go.done.set_running_or_notify_cancel()
                threading.Thread(target=self._work, args=(go,), daemon=True).start()
        return go.done

    def _work(self, go: _Go) -> None:
        try:
            opened = self.opened
            said = None
            if opened is not None:
                said = assess(opened, before=self.known(), stopped=go.stop.is_set)
            go.done.set_result(said)
        except BaseException as error:
            # Told to whoever asks for the result, on their own thread.
            go.done.set_exception(error)

    @property
    def assessment(self) -> Assessment | None:
        """Everything that is said about it; waits until it is worked out."""
        return self._begun.result()

    def within(self, seconds: float) -> bool:
        """Wait for so long, and say whether everything is worked out; begin it unless stopped."""
        if not self.stopped:
            wait([self._begun], seconds)
        return self._go.done.done() and not self.stopped

    @property
    def begun(self) -> bool:
        """True where somebody asked for what is said about it already."""
        return self._go.done.running() or self._go.done.done()

    @property
    def settled(self) -> bool:
        """True where everything that is said about it is there to be had."""
        return self._go.done.done() and self._go.done.exception() is None

    @property
    def so_far(self) -> Assessment | None:
        """Everything that is said about it, or none while that is not worked out."""
        return self.assessment if self._go.done.done() and not self.stopped else None

    @property
    def stopped(self) -> bool:
        """True where somebody stopped it before everything was worked out."""
        return self._go.stop.is_set() and not self.settled

    def stop(self) -> None:
        """Stop working it out, as soon as the use that is under way has been driven."""
        if self.begun and not self._go.done.done():
            self._go.stop.set()

    def go_on(self) -> None:
        """Work out what was stopped."""
        with self._changing:
            if self.stopped:
                self._go = _Go()

    def drawn(self, name: str, taste: Taste) -> tuple[str, str] | None:
        """Title and picture of a drawing, made once: finding room for its tags takes long."""
        if self.opened is None or self.assessment is None:
            return None
        found = self._drawn.get((name, taste))
        if found is None:
            made = drawing(name, self.opened, self.assessment, taste)
            found = made.title, render(made, in_page=True)
            self._drawn[name, taste] = found
        return found

    @cached_property
    def bundles(self) -> tuple[Bundle, ...]:
        """What to find out next."""
        return () if self.assessment is None else next_readings(self.assessment)
