"""The builds that one server shows, by name, with their side copies."""

from __future__ import annotations

import re
import secrets
import shutil
import threading
import tomllib
from collections.abc import Iterable
from pathlib import Path

from wattwright.build.reader import FILE, NAME
from wattwright.build.text import LARGEST
from wattwright.errors import UsageError
from wattwright.web.desk import Desk

TRIED = "~try"
_SIDE = ".try"


class NoBuildError(UsageError):
    """There is no build of this name."""


class Shelf:
    """Builds by name; each is opened when it is first asked for.

    New builds and copies are put into ``home``.
    """

    def __init__(self, folders: Iterable[Path], home: Path | None = None) -> None:
        # A number that never repeats: a page that meets another one knows that the server is new.
        self.started = secrets.token_hex(8)
        self.home = home
        self._lock = threading.RLock()
        self._folders: dict[str, Path] = {}
        self._desks: dict[str, Desk] = {}
        for folder in folders:
            self.add(folder)

    def add(self, folder: Path) -> str:
        """Put a build on the shelf and return its name."""
        if not (folder / FILE).is_file():
            raise UsageError(f"{folder} holds no {FILE}; make one with: wattwright new FOLDER")
        with self._lock:
            stem = (
                re.sub(r"[^A-Za-z0-9_-]+", "-", folder.resolve().name).strip("-_")[:48] or "build"
            )
            name, count = stem, 1
            while name in self._folders:
                count += 1
                name = f"{stem}-{count}"
            self._folders[name] = folder
        return name

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the builds, in the order they were given."""
        return tuple(self._folders)

    def folder(self, name: str) -> Path:
        """Return where a build lies."""
        try:
            return self._folders[name]
        except KeyError:
            known = ", ".join(self._folders) or "none yet"
            raise NoBuildError(f"there is no build {name!r} here; there are {known}") from None

    def desk(self, name: str) -> Desk:
        """Open a build, or its side copy where the name ends so."""
        with self._lock:
            found = self._desks.get(name)
            if found is None:
                found = self._open(name)
                self._desks[name] = found
            return found

    def _open(self, name: str) -> Desk:
        own = self.folder(name.removesuffix(TRIED))
        if not name.endswith(TRIED):
            return Desk(name, own)
        side = own / _SIDE
        if not (side / FILE).is_file():
            raise NoBuildError("nothing is being tried on this build")
        return Desk(name, side, home=own)

    def free_folder(self, name: str) -> Path:
        """Return a folder for a new build. Raises UsageError where there can be none."""
        if self.home is None:
            raise UsageError("this server was started with single builds; new ones have no place")
        if not NAME.fullmatch(name):
            raise UsageError(f"{name!r} is no name: use letters, digits, - and _, up to 64")
        folder = self.home / name
        if folder.exists() or name in self._folders:
            raise UsageError(f"there is something called {name} already; choose another name")
        return folder

    # ------------------------------------------------------------------------- side copies

    def tried(self, name: str) -> bool:
        """Say whether something is being tried on a build."""
        own = self._folders.get(name.removesuffix(TRIED))
        return own is not None and (own / _SIDE / FILE).is_file()

    def begin_try(self, name: str) -> Desk:
        """Make a side copy of a build, or go on with the one there is."""
        own = self.folder(name)
        with self._lock:
            if not self.tried(name):
                side = own / _SIDE
                side.mkdir(exist_ok=True)
                (side / FILE).write_bytes((own / FILE).read_bytes())
            return self.desk(name + TRIED)

    def end_try(self, name: str) -> None:
        """Throw a side copy away."""
        with self._lock:
            desk = self._desks.pop(name + TRIED, None)
            if desk is not None:
                desk.close()
            shutil.rmtree(self.folder(name) / _SIDE, ignore_errors=True)

    def close(self) -> None:
        """Let go of everything."""
        with self._lock:
            for desk in self._desks.values():
                desk.close()
            self._desks.clear()

    def title(self, name: str) -> str:
        """Return what a build calls itself, without opening it; else its name here."""
        try:
            with open(self.folder(name) / FILE, "rb") as file:
                said = tomllib.loads(file.read(LARGEST).decode("utf-8-sig"))["build"]["name"]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return name
        return said if isinstance(said, str) and said.strip() else name

    def opened(self, name: str) -> Desk | None:
        """Return a build if it is open already."""
        with self._lock:
            return self._desks.get(name)

    @property
    def open_desks(self) -> tuple[Desk, ...]:
        """Builds that are open."""
        with self._lock:
            return tuple(self._desks.values())
