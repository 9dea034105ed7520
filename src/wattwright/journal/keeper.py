"""Keeping a build: the one way in which its file is changed, and the memory beside it.

A change is first written down in the journal as pending, then made in the file, then marked as
done. Whoever looks next settles what a crash left open: the file says whether the change reached
it. What is in the file and not in the journal was put there by an editor or another program, and
is written down as a revision of its own. So nothing that was typed or saved is ever lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Self

from sqlalchemy import Connection

from wattwright.build.save import FILE, HeldFile, conflict, disk_trouble_told, hold, write_whole
from wattwright.errors import EditError, JournalError
from wattwright.journal import photos, readings, revisions, sign_offs
from wattwright.journal.database import Database
from wattwright.journal.glance import Glance
from wattwright.journal.photos import Photo, Picture
from wattwright.journal.places import PHOTOS
from wattwright.journal.readings import Reading, Taken
from wattwright.journal.revisions import Entry, Revision
from wattwright.journal.sign_offs import SignOff
from wattwright.journal.tables import prepare
from wattwright.system import sync_directory

_BEGINNING = Entry(revisions.START, "", "the build as it was when its journal began")
_OUTSIDE = Entry(revisions.OUTSIDE, "", "changed by an editor or another program")


class Keeper:
    """The journal of one build, open. Threads may share it; so may programs the build.

    ``url`` names a database elsewhere, which has to be this build's alone.
    """

    def __init__(self, folder: Path, url: str | None = None) -> None:
        self.folder = folder
        self._guard = RLock()
        with hold(folder) as held:
            held.sweep()
            photos.sweep(folder)
            self._glance = Glance(folder / FILE)
            self._database = Database(folder, url)
            try:
                prepare(self._database)
                self._settled(held)
            except BaseException:
                self.close()
                raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the journal."""
        with self._guard:
            self._database.close()

    # ------------------------------------------------------------------------------------ looking

    def head(self) -> Revision:
        """Give the revision that stands in the file."""
        with self._guard:
            return self._head()

    def revisions(self, before: int | None = None, most: int = 50) -> tuple[Revision, ...]:
        """List revisions, newest first: ``most`` of them, older than ``before``."""
        with self._looking() as connection:
            return revisions.listed(connection, before, most)

    def revision(self, number: int) -> Revision:
        """Find one revision; raise UsageError where there is none."""
        with self._looking() as connection:
            return revisions.by_number(connection, number)

    def before(self, number: int) -> Revision | None:
        """Give the revision that stood in the file before this one; the first has none."""
        with self._looking() as connection:
            return revisions.before(connection, number)

    def content(self, number: int) -> bytes:
        """Give the build file as it was in a revision, byte for byte."""
        with self._looking() as connection:
            return self._content(connection, revisions.by_number(connection, number))

    def text(self, number: int) -> str:
        """Give the build file as it was in a revision, to be shown: what is no text becomes a ?."""
        return self.content(number).decode("utf-8", "replace")

    def undoable(self) -> Revision | None:
        """Give the revision that undo would take back."""
        with self._looking() as connection:
            return self._next(connection, revisions.UNDO)

    def redoable(self) -> Revision | None:
        """Give the revision that redo would make again."""
        with self._looking() as connection:
            return self._next(connection, revisions.REDO)

    # ----------------------------------------------------------------------------------- changing

    def change(
        self, text: str, was_digest: str, who: str, why: str, assessment: str = ""
    ) -> Revision:
        """Save a new text in place of the one with ``was_digest``, or raise ConflictError.

        A text that is the file's already makes no revision.
        """
        try:
            content = text.encode("utf-8")
        except UnicodeEncodeError:
            raise EditError("this text holds half a character; nothing was saved") from None
        entry = Entry(revisions.EDIT, who, why, None, assessment)
        with self._held(was_digest) as (held, head):
            return self._replace(held, head, content, entry)

    def undo(self, who: str, base: str | None = None, assessment: str = "") -> Revision:
        """Take back the last change; refuse where the file has not the digest ``base``."""
        return self._step(revisions.UNDO, who, base, assessment)

    def redo(self, who: str, base: str | None = None, assessment: str = "") -> Revision:
        """Make again what undo took back last; refuse as ``undo`` does."""
        return self._step(revisions.REDO, who, base, assessment)

    def restore(
        self, number: int, who: str, base: str | None = None, assessment: str = ""
    ) -> Revision:
        """Go back to a revision, also to one that was not saved."""
        with self._held(base) as (held, head):
            with self._database.reading() as connection:
                target = revisions.by_number(connection, number)
                content = self._content(connection, target)
            why = f"back to revision {number}: {target.why}"
            entry = Entry(revisions.RESTORE, who, why, number, assessment)
            return self._replace(held, head, content, entry)

    # ---------------------------------------------------------------------- memory beside the text

    def add_reading(self, who: str, taken: Taken) -> Reading:
        """Keep a reading."""
        with self._guard, self._database.writing() as connection:
            return readings.add(connection, who, taken)

    def readings(self, about: str | None = None, standing: bool = False) -> tuple[Reading, ...]:
        """List readings, newest first; ``standing`` leaves out those that were corrected."""
        with self._guard, self._database.reading() as connection:
            return readings.listed(connection, about, standing)

    def reading(self, number: int) -> Reading:
        """Give one reading; raise UsageError where there is none."""
        with self._guard, self._database.reading() as connection:
            return readings.by_number(connection, number)

    def add_photo(self, who: str, picture: Picture, about: str = "", caption: str = "") -> Photo:
        """Keep a photo: its file first, then the row that speaks of it."""
        photo = photos.named(picture, who, about, caption)
        file = self.photo_file(photo)
        with self._guard, hold(self.folder) as held, disk_trouble_told(file):
            if not file.parent.is_dir():
                file.parent.mkdir()
                sync_directory(self.folder)
            write_whole(file, picture.content, like=held.target)
            with self._database.writing() as connection:
                return photos.add(connection, photo)

    def photos(self, about: str | None = None) -> tuple[Photo, ...]:
        """List photos, newest first."""
        with self._guard, self._database.reading() as connection:
            return photos.listed(connection, about)

    def photo(self, number: int) -> Photo:
        """Find one photo; raise UsageError where there is none."""
        with self._guard, self._database.reading() as connection:
            return photos.by_id(connection, number)

    def photo_file(self, photo: Photo) -> Path:
        """Say where the file of a photo is."""
        return self.folder / PHOTOS / photo.name

    def sign_off(self, who: str, statement: str, revision: int) -> SignOff:
        """Keep a sign-off for the revision that the person saw."""
        self.head()
        with self._guard, self._database.writing() as connection:
            return sign_offs.add(connection, who, statement, revision)

    def sign_offs(self) -> tuple[SignOff, ...]:
        """List sign-offs, newest first."""
        with self._guard, self._database.reading() as connection:
            return sign_offs.listed(connection)

    # ------------------------------------------------------------------------------------- within

    @contextmanager
    def _looking(self) -> Iterator[Connection]:
        """Read the journal when it is known to say what is in the file."""
        with self._guard:
            self._head()
            with self._database.reading() as connection:
                yield connection

    @contextmanager
    def _held(self, base: str | None) -> Iterator[tuple[HeldFile, Revision]]:
        """Hold the file, settled, and give what stands in it; refuse any other than ``base``."""
        with self._guard, hold(self.folder) as held:
            head = self._settled(held)
            if base is not None and head.digest != base:
                raise conflict(self.folder / FILE, _described(head), head.number)
            yield held, head

    def _head(self) -> Revision:
        with self._database.reading() as connection:
            head = revisions.last_done(connection)
            pending = revisions.any_pending(connection)
        # The file is looked at last: if it was replaced since, the two differ here.
        if head is not None and not pending and head.digest == self._digest_in_file():
            return head
        with hold(self.folder) as held:
            return self._settled(held)

    def _digest_in_file(self) -> str:
        with disk_trouble_told(self.folder / FILE):
            return self._glance.digest()

    def _settled(self, held: HeldFile) -> Revision:
        """Make the journal say what is in the file, and give the revision that says so."""
        content = held.content()
        digest = revisions.digest_of(content)
        with self._database.writing() as connection:
            revisions.settle(connection, digest)
            head = revisions.last_done(connection)
            if head is not None and head.digest == digest:
                return head
            entry = _BEGINNING if head is None else _OUTSIDE
            return revisions.add(connection, content, entry, revisions.DONE)

    def _replace(self, held: HeldFile, head: Revision, content: bytes, entry: Entry) -> Revision:
        if revisions.digest_of(content) == head.digest:
            return head
        with self._database.writing() as connection:
            made = revisions.add(connection, content, entry, revisions.PENDING)
        held.replace(content)
        self._glance.forget()
        try:
            with self._database.writing() as connection:
                revisions.mark(connection, made.number, revisions.DONE)
        except JournalError as error:
            raise JournalError(
                f"{self.folder / FILE} is saved as revision {made.number}, but the journal could "
                f"not note that yet; it will when it is opened next. {error}"
            ) from error
        return replace(made, state=revisions.DONE)

    def _step(self, kind: str, who: str, base: str | None, assessment: str) -> Revision:
        undoing = kind == revisions.UNDO
        with self._held(base) as (held, head):
            with self._database.reading() as connection:
                target = self._next(connection, kind)
                if target is None:
                    what = "take back" if undoing else "make again"
                    raise EditError(f"{self.folder / FILE}: there is no change to {what}")
                source = revisions.before(connection, target.number) if undoing else target
                content = self._content(connection, source)
            does = "takes back revision {}: {}" if undoing else "makes revision {} again: {}"
            why = does.format(target.number, target.why)
            entry = Entry(kind, who, why, target.number, assessment)
            return self._replace(held, head, content, entry)

    def _next(self, connection: Connection, kind: str) -> Revision | None:
        try:
            undoable, redoable = revisions.stacks(revisions.log(connection))
        except ValueError as error:
            raise self._database.refusal(f"the journal contradicts itself: {error}") from None
        stack = undoable if kind == revisions.UNDO else redoable
        return revisions.by_number(connection, stack[-1]) if stack else None

    def _content(self, connection: Connection, revision: Revision | None) -> bytes:
        found = None if revision is None else revisions.content(connection, revision.digest)
        if found is None:
            number = revision.number if revision else 0
            raise self._database.refusal(f"the text of revision {number} is missing or altered")
        return found


def _described(revision: Revision) -> str:
    if revision.kind == revisions.START:
        return ""
    by = f" by {revision.who}" if revision.who else ""
    return f"revision {revision.number}{by}: {revision.why}"
