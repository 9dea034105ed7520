"""The same functions as the plain loop, compiled.

Each function is copied with the names of its callees bound to their compiled forms, so there is
one source. The machine code is kept on disk and loaded from there without the compiler, whose
import takes longer than a whole assessment. It is filed under a digest of all modules here, so
that an edit of any of them leads to other code, and under the processor it was made for. No
shortcuts in arithmetic are allowed, so both forms agree.
"""

from __future__ import annotations

import ctypes
import hashlib
import importlib.util
import json
import os
import platform
import sys
import tempfile
from base64 import b64decode, b64encode
from functools import cache
from pathlib import Path
from threading import Lock
from types import FunctionType
from typing import Any, NamedTuple

import numpy as np

from wattwright.errors import UseError
from wattwright.uses import kernel
from wattwright.uses import places as at
from wattwright.uses.heat import HEAT_ROOM

HERE = Path(__file__).parent
_LOADING = Lock()

# What the machine code names but never calls: it makes no object and raises no error.
_NEVER_CALLED = ("numba_", "NRT_", "Py")


class Filed(NamedTuple):
    """Machine code as it is filed: its way in, what it names outside, and a digest of itself."""

    entry: str
    names: list[str]
    code: str
    digest: str


class Entry(NamedTuple):
    """The way into the compiled loop; called as ``kernel.drive_rows`` with arrays."""

    address: int
    kept: Any

    def __call__(self, first: int, behind: int, afresh: int, *arrays: Any) -> None:
        """Drive each row of parameters."""
        steps, _, _, _, _, begins, _, rows, maps, _, places, *_, states, channels = arrays
        sizes = (
            *(first, behind, afresh, len(steps), len(begins), *rows.shape, len(maps)),
            *(len(places), len(states), len(channels)),
        )
        # Held until the call is over: of an array nobody holds the memory is given away again.
        held = (np.array(sizes, dtype=np.int64), *arrays)
        if not all(each.flags.c_contiguous for each in held):
            raise UseError("the compiled loop walks along arrays without gaps only")
        _PROTOTYPE(self.address)(*(each.ctypes.data for each in held))


# Sizes, and the sixteen arrays.
_PROTOTYPE = ctypes.CFUNCTYPE(None, *([ctypes.c_void_p] * 17))
_WHOLE_NUMBERS = frozenset({6, 11})  # sizes stand first, so these are begins and places


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
    name = f"loop-{digest(sources)}"
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


def load() -> Entry:
    """Compile the loop, or take it from the disk; once for the process."""
    with _LOADING:
        return _load()


@cache
def _load() -> Entry:
    path = cache_folder() / f"{_machine()}.json"
    filed = _filed(path)
    if filed is None:
        if sys.stderr is not None and sys.stderr.isatty():
            import logging

            logging.getLogger("wattwright").warning(
                "compiling the loop over time, once for this release; some fifteen seconds"
            )
        filed = _compile()
        _write(path, json.dumps(filed._asdict()).encode())
    return _into_process(filed)


def _machine() -> str:
    """Name for the processor and the system that code is made for."""
    import llvmlite
    import llvmlite.binding as llvm

    features = llvm.get_host_cpu_features().flatten()
    # ``platform.platform`` would start another program to ask it for the processor.
    system = f"{sys.platform} {platform.machine()}"
    said = "|".join((system, llvm.get_host_cpu_name(), features, sys.version))
    digest = hashlib.sha256(f"{said}|{llvmlite.__version__}".encode())
    return digest.hexdigest()[:16]


def _compile() -> Filed:
    """Compile the loop to machine code."""
    import llvmlite.binding as llvm

    entry = _compiled_entry()
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    module = llvm.parse_assembly(entry.inspect_llvm())
    named = [f.name for f in module.functions if f.is_declaration and "llvm." not in f.name]
    named += [v.name for v in module.global_variables if v.is_declaration]
    code = b64encode(_target().emit_object(module)).decode()
    return Filed(entry.native_name, named, code, _sum(code))


def _sum(code: str) -> str:
    return hashlib.sha256(code.encode()).hexdigest()


def _filed(path: Path) -> Filed | None:
    """Read what was compiled before; none where it is not there, or not whole.

    Code that lost a part on its way to the disk would end the program at its first call.
    """
    try:
        filed = Filed(**json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None
    return filed if filed.digest == _sum(filed.code) else None


def _write(path: Path, content: bytes) -> None:
    """Put a whole file in place of another; two that compile at once do not disturb each other."""
    handle, name = tempfile.mkstemp(dir=path.parent)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    os.replace(name, path)


def _target() -> Any:
    import llvmlite.binding as llvm

    return llvm.Target.from_default_triple().create_target_machine(
        cpu=llvm.get_host_cpu_name(),
        features=llvm.get_host_cpu_features().flatten(),
        opt=3,
        jit=True,
    )


def _into_process(filed: Filed) -> Entry:
    """Load machine code into this process."""
    import llvmlite.binding as llvm

    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    abort = ctypes.cast(ctypes.pythonapi.Py_FatalError, ctypes.c_void_p).value
    for name in filed.names:
        if llvm.address_of_symbol(name) is None:
            llvm.add_symbol(name, abort if name.startswith(_NEVER_CALLED) else _in_system(name))
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), _target())
    code = llvm.object_file.ObjectFileRef.from_data(b64decode(filed.code))
    engine.add_object_file(code)
    engine.finalize_object()
    address = engine.get_function_address(filed.entry)
    if not address:
        raise UseError("the compiled loop has no way in")
    return Entry(address, engine)


def _in_system(name: str) -> int:
    """Address of a function of the system's mathematics, where it is in a library of its own."""
    library = ctypes.CDLL("msvcrt" if sys.platform == "win32" else None)
    return ctypes.cast(getattr(library, name), ctypes.c_void_p).value or 0


def _compiled_entry() -> Any:
    """The loop as a function on plain addresses."""
    import numba
    from numba import types

    carray: Any = getattr(numba, "carray")  # noqa: B009 - it is exported, not declared so
    pointer: Any = types.CPointer
    loop = _with_callees(kernel.drive_rows, numba.njit, {})
    instants, columns, heat = at.STATES, at.COLUMNS, HEAT_ROOM

    def entry(
        sizes: Any,
        steps: Any,
        wanted: Any,
        sines: Any,
        on: Any,
        times: Any,
        begins: Any,
        shares: Any,
        rows: Any,
        maps: Any,
        state: Any,
        places: Any,
        room: Any,
        squares: Any,
        summaries: Any,
        states: Any,
        channels: Any,
    ) -> None:
        n = carray(sizes, (11,))
        count, windows, parameters = n[3], n[4], (n[5], n[6])
        loop(
            n[0],
            n[1],
            n[2],
            carray(steps, (count,)),
            carray(wanted, (count + 1,)),
            carray(sines, (count,)),
            carray(on, (count,)),
            carray(times, (count + 1,)),
            carray(begins, (windows,)),
            carray(shares, (windows,)),
            carray(rows, parameters),
            carray(maps, (n[7],)),
            carray(state, (instants,)),
            carray(places, (n[8],)),
            carray(room, (heat,)),
            carray(squares, (count + 1,)),
            carray(summaries, (n[5], columns)),
            carray(states, (n[9],)),
            carray(channels, (n[10],)),
        )

    whole, real = pointer(types.int64), pointer(types.float64)
    kinds = [whole if place in _WHOLE_NUMBERS or not place else real for place in range(17)]
    return numba.cfunc(types.void(*kinds))(entry)


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
        done[function] = _compiled(copy, njit, inlined=function is not kernel.drive)
    return done[function]


def _compiled(function: Any, njit: Any, inlined: bool) -> Any:
    """Compile one function whose callees are compiled.

    All but the loop itself are put into their callers; and as nothing here makes or keeps an
    array, references to arrays need no counting. Without the two a run was measured to take two
    and a half times as long. The second has no public name: where a release of the compiler does
    not know it, the loop is only slower.
    """
    known = {"nogil": True, "error_model": "numpy", "forceinline": inlined}
    try:
        return njit(**known, _nrt=False)(function)
    except KeyError:
        return njit(**known)(function)
