"""One build as it lies open: its file, its journal, what is said about it, and who looks on.

Every change goes through ``change``: edits that say what they replace are spliced into the text as
it is now, the result is read as a whole, and only a build that can be read is saved. Two people who
change the same value at once meet a conflict that shows both; two who change different values do
not notice each other.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from wattwright.assessment import Assessment, Change, compare
from wattwright.build.edits import Edit, splice
from wattwright.build.reader import FILE, Opened, build_of
from wattwright.build.sampled_files import beside
from wattwright.build.text import Path as Leaf
from wattwright.build.text import Source, read_text
from wattwright.errors import BuildError, EditError, Problem, StoppedError
from wattwright.journal.keeper import Keeper
from wattwright.journal.reasons import described
from wattwright.journal.revisions import Revision
from wattwright.units import Taste
from wattwright.web.clash import Clash, clashes
from wattwright.web.view import View

# Views and ripples that are kept; the last few are what pages ask for.
_KEPT = 5
_UNREADABLE = "One side cannot be read, so nothing can be compared."
_STOPPED = "Working it out was stopped, so nothing can be compared yet."
Watcher = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Ripple:
    """What a revision changed; where ``changes`` is none, ``nothing`` says why."""

    revision: Revision
    changes: tuple[Change, ...] | None
    nothing: str = ""


class NotSavedError(EditError):
    """Nothing was saved: ``problems`` say why, each at its value."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in problems))


class ClashError(EditError):
    """Nothing was saved: somebody else changed the same values meanwhile."""

    def __init__(self, found: Sequence[Clash], last: Revision) -> None:
        self.clashes = tuple(found)
        self.last = last
        names = ", ".join(".".join(each.path) for each in found)
        super().__init__(f"{names}: changed by {last.who} meanwhile; nothing was saved")


class Desk:
    """An open build. Safe to use from several threads.

    ``home`` is where the files lie that the build names: its own folder, unless it is a side copy.
    """

    def __init__(self, name: str, folder: Path, home: Path | None = None) -> None:
        self.name = name
        self.folder = folder
        self.home = home or folder
        self.keeper = Keeper(folder)
        self._lock = threading.RLock()
        self._views: dict[int, View] = {}
        self._ripples: dict[tuple[int, Taste], Ripple] = {}
        self._watchers: set[Watcher] = set()
        # The revision that those who look on know of.
        self.told = 0

    def close(self) -> None:
        """Let go of the journal."""
        self.keeper.close()

    # ------------------------------------------------------------------------------- looking

    def view(self) -> View:
        """Show the build as it is now, however it was changed."""
        with self._lock:
            return self._at(self.keeper.head())

    def at(self, number: int) -> View:
        """Show the build as it was."""
        with self._lock:
            return self._at(self.keeper.revision(number))

    def _at(self, revision: Revision) -> View:
        found = self._views.get(revision.number)
        if found is None:
            found = self._remember(self._read(revision))
        return found

    def _remember(self, view: View) -> View:
        self._views = dict(list(self._views.items())[-_KEPT:])
        self._views[view.revision.number] = view
        return view

    def _read(self, revision: Revision) -> View:
        raw = self.keeper.content(revision.number)
        text = raw.decode("utf-8", "replace")
        source: Source | None = None
        try:
            source = read_text(raw)
            opened = self._built(source)
        except BuildError as error:
            return View(revision, text, source, None, error.problems)
        return View(revision, text, source, opened, (), self._known)

    def _built(self, source: Source) -> Opened:
        """Read a build like the last one that could be read: only what differs is read anew."""
        last = next((x.opened for x in reversed([*self._views.values()]) if x.opened), None)
        return build_of(source, FILE, beside(self.home), last)

    def _known(self) -> Assessment | None:
        """Say what was said last of any revision; nothing where nothing is worked out yet."""
        views = [view for view in [*self._views.values()] if view.opened and view.settled]
        return views[-1].assessment if views else None

    def ripple(self, number: int, taste: Taste = "metric") -> Ripple:
        """Work out what a revision changed against the one before."""
        with self._lock:
            found = self._ripples.get((number, taste))
            if found is not None:
                return found
            revision = self.keeper.revision(number)
            earlier = self.keeper.before(number)
            before = self._at(earlier) if earlier is not None else None
            after = self._at(revision)
        # Both sides may have to be worked out first, and nobody else waits for that.
        try:
            changes = _changes(before, after, taste)
        except StoppedError:
            # Not kept: it can be told as soon as both sides are worked out.
            return Ripple(revision, None, _STOPPED)
        found = Ripple(revision, changes, _UNREADABLE if changes is None else "")
        with self._lock:
            self._ripples = dict(list(self._ripples.items())[-20:])
            self._ripples[number, taste] = found
        return found

    # ------------------------------------------------------------------------------ changing

    def change(self, edits: Sequence[Edit], who: str, why: str = "") -> Revision:
        """Make some edits and save them; raise NotSavedError or ClashError and change nothing.

        Without ``why`` the journal says which values changed. Each edit must find the value that
        it says it replaces.
        """
        with self._lock:
            now = self.view()
            if now.source is None:
                raise NotSavedError(now.problems)
            if found := clashes(now.source, edits):
                raise ClashError(found, now.revision)
            text = splice(now.source, edits)
            return self.save(text, who, why, now)

    def save(self, text: str, who: str, why: str, now: View) -> Revision:
        """Save a whole text in place of the one that was seen."""
        with self._lock:
            opened: Opened | None
            try:
                opened = self._built(read_text(text.encode("utf-8")))
            except BuildError as error:
                # What was wrong before and still is must not keep anybody from mending the rest.
                known = {(each.path, each.what) for each in now.problems}
                new = [each for each in error.problems if (each.path, each.what) not in known]
                if new:
                    raise NotSavedError(new) from None
                opened = None
            digest = opened.digest if opened is not None else ""
            if not why:
                why = "several values"
                if opened is not None and now.source is not None:
                    why = described(now.source, opened.source)
            revision = self.keeper.change(text, now.revision.digest, who, why, digest)
            if opened is not None:
                # It was read just now.
                self._remember(View(revision, text, opened.source, opened, (), self._known))
            self._begin(revision)
        self.tell(revision.number)
        return revision

    def step(self, which: str, who: str, base: str | None = None) -> Revision:
        """Undo, or redo, the last change of anybody."""
        with self._lock:
            head = self.keeper.head()
            undoing = which == "undo"
            target = self.keeper.undoable() if undoing else self.keeper.redoable()
            if undoing and target is not None:
                target = self.keeper.before(target.number)
            take = self.keeper.undo if undoing else self.keeper.redo
            # Only while the file is still the one that this was found for.
            revision = take(who, base or head.digest, self._digest_of(target))
            self._begin(revision)
        self.tell(revision.number)
        return revision

    def restore(self, number: int, who: str) -> Revision:
        """Bring a former revision back as a new one."""
        with self._lock:
            digest = self._digest_of(self.keeper.revision(number))
            revision = self.keeper.restore(number, who, assessment=digest)
            self._begin(revision)
        self.tell(revision.number)
        return revision

    def _digest_of(self, revision: Revision | None) -> str:
        """Digest of the whole build as it was, or empty where it cannot be read."""
        opened = None if revision is None else self._at(revision).opened
        return "" if opened is None else opened.digest

    def _begin(self, revision: Revision) -> None:
        """Begin to work a revision out; whoever is told of it finds its numbers begun."""
        self._at(revision).within(0.0)

    # ------------------------------------------------------------------------------ looking on

    def watch(self, watcher: Watcher) -> Callable[[], None]:
        """Be told of every new revision until the returned function is called."""
        self._watchers.add(watcher)
        return lambda: self._watchers.discard(watcher)

    @property
    def watched(self) -> bool:
        """True while somebody looks on."""
        return bool(self._watchers)

    def tell(self, number: int) -> None:
        """Tell all who look on of a revision."""
        self.told = number
        for watcher in tuple(self._watchers):
            watcher(number)


def _changes(before: View | None, after: View, taste: Taste) -> tuple[Change, ...] | None:
    if before is None or before.assessment is None or after.assessment is None:
        return None
    return compare(before.assessment, after.assessment, taste)


def problems_by_path(problems: Sequence[Problem]) -> Mapping[str, str]:
    """Say what is wrong at each path, for showing beside its field."""
    found: dict[str, list[str]] = {}
    for each in problems:
        words = each.what + (f". {each.do}" if each.do else "")
        found.setdefault(each.path, []).append(words)
    return {path: " ".join(words) for path, words in found.items()}


def leaf_of(path: str) -> Leaf:
    """Split a path as pages write it."""
    return tuple(path.split("."))
