"""The same functions as the plain loop, compiled.

Each function is copied with the names of its callees bound to their compiled forms, so there is
one source. Compiled code is kept on disk. The compiler takes notice only of the file of the
function it compiles and not of those that it calls, so the folder is named after a digest of all
modules here: an edit of any of them leads to another folder. No shortcuts in arithmetic are
allowed, so both forms agree.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from threading import Lock
from types import FunctionType
from typing import Any, NamedTuple

from wattwright.uses import kernel

ENTRIES = (kernel.drive, kernel.drive_rows)
HERE = Path(__file__).parent
_LOADING = Lock()


class Compiled(NamedTuple):
    """The two entries into the compiled loop."""

    drive: Callable[..., None]
    drive_rows: Callable[..., None]


@cache
def available() -> bool:
    """Say whether the compiler is installed, without importing it."""
    return importlib.util.find_spec("numba") is not None


def digest(folder: Path = HERE) -> str:
    """Digest of all sources in a folder, by which compiled code is filed."""
    seen = hashlib.sha256()
    for path in sorted(folder.glob("*.py")):
        content = path.read_bytes()
        seen.update(f"{path.name} {len(content)}\n".encode())
        seen.update(content)
    return seen.hexdigest()[:16]


def cache_folder(sources: Path = HERE) -> Path:
    """Folder for compiled code: the user's own for such things, or a temporary one."""
    name = f"compiled-{digest(sources)}"
    wanted = _user_cache() / "wattwright" / name
    try:
        wanted.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=wanted):
            return wanted
    except OSError:
        # Not one that others could have put their code into beforehand.
        return Path(tempfile.mkdtemp(prefix="wattwright-"))


def _user_cache() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or _home() / ".cache")


def _home() -> Path:
    try:
        return Path.home()
    except RuntimeError as error:
        raise OSError("no home folder") from error


def load() -> Compiled:
    """Compile both entries, or take them from the disk; once for the process."""
    with _LOADING:
        return _load()


@cache
def _load() -> Compiled:
    import numba

    config: Any = numba.config
    before = config.CACHE_DIR
    config.CACHE_DIR = str(cache_folder())
    try:
        done: dict[FunctionType, Any] = {}
        return Compiled(*(_with_callees(entry, numba.njit, done) for entry in ENTRIES))
    finally:
        config.CACHE_DIR = before


def _with_callees(function: Any, njit: Any, done: dict[FunctionType, Any]) -> Any:
    """Compile a function after every function of this package that it calls."""
    if function not in done:
        names = dict(function.__globals__)
        for name in function.__code__.co_names:
            callee = names.get(name)
            if isinstance(callee, FunctionType) and callee.__module__.startswith(__package__):
                names[name] = _with_callees(callee, njit, done)
        copy = FunctionType(function.__code__, names, function.__name__)
        copy.__module__ = function.__module__
        copy.__qualname__ = function.__qualname__
        done[function] = _compiled(copy, njit, entry=function in ENTRIES)
    return done[function]


def _compiled(function: Any, njit: Any, entry: bool) -> Any:
    """Compile one function whose callees are compiled.

    All but the entries are put into the loop itself; and as nothing here makes or keeps an array,
    references to arrays need no counting. Without the two a run was measured to take two and a
    half times as long. The second has no public name: where a release of the compiler does not
    know it, the loop is only slower.
    """
    known = {"cache": True, "nogil": True, "error_model": "numpy", "forceinline": not entry}
    try:
        return njit(**known, _nrt=False)(function)
    except KeyError:
        return njit(**known)(function)
