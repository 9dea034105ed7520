"""Compiled code: filed under all its sources, found again, and never in the way."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from wattwright.errors import UseError
from wattwright.uses import compiled

MODULES = sorted(path.name for path in compiled.HERE.glob("*.py"))


@pytest.fixture
def own_cache(tmp_path, monkeypatch):
    monkeypatch.setattr(compiled, "_user_cache", lambda: tmp_path / "cache")
    return tmp_path / "cache"


@pytest.fixture
def copied(tmp_path):
    folder = tmp_path / "uses"
    shutil.copytree(compiled.HERE, folder, ignore=shutil.ignore_patterns("__pycache__"))
    return folder


@pytest.mark.parametrize("name", MODULES)
def test_an_edit_of_any_module_leads_to_another_folder(own_cache, copied, name):
    before = compiled.cache_folder(copied)
    assert before == compiled.cache_folder(copied) == compiled.cache_folder()
    assert before.is_relative_to(own_cache)
    path = copied / name
    # An edit as small as can be, which leaves the length as it was.
    path.write_bytes(path.read_bytes().replace(b"e", b"a", 1))
    assert compiled.cache_folder(copied) != before


def test_every_function_of_the_loop_is_in_those_modules():
    """The digest covers what is compiled: callees elsewhere would go stale unnoticed."""
    from wattwright.uses import kernel

    seen, left = set(), [kernel.drive, kernel.drive_rows]
    while left:
        function = left.pop()
        seen.add(function)
        names = (function.__globals__.get(name) for name in function.__code__.co_names)
        left += [each for each in names if hasattr(each, "__code__") and each not in seen]
    assert {function.__module__.rpartition(".")[0] for function in seen} == {"wattwright.uses"}
    assert len(seen) > 20
    assert {Path(function.__code__.co_filename).name for function in seen} <= set(MODULES)


def test_where_the_users_folder_cannot_be_written_a_temporary_one_does(tmp_path, monkeypatch):
    taken = tmp_path / "taken"
    taken.write_text("a file where a folder is wanted")
    monkeypatch.setattr(compiled, "_user_cache", lambda: taken)
    folder = compiled.cache_folder()
    assert folder.is_dir()
    assert not folder.is_relative_to(tmp_path / "taken")
    folder.rmdir()


def test_the_users_folder_is_that_of_the_system(monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert compiled._user_cache() == tmp_path
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert compiled._user_cache() == tmp_path / ".cache"
    monkeypatch.setattr(sys, "platform", "darwin")
    assert compiled._user_cache() == tmp_path / "Library" / "Caches"
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "local"))
    assert compiled._user_cache() == tmp_path / "local"


PLAIN = """
import sys
sys.modules["numba"] = None
sys.path.insert(0, sys.argv[1])
from vehicles import maps, mixed, parameters
from wattwright.uses.runs import run, run_many
trace = mixed(60)
one = run(trace, parameters(), maps())
table = run_many(trace, [parameters()], maps())
assert table["chemistry"][0] == one.balance.chemistry > 0
assert not [name for name in sys.modules if name.startswith("numba.")]
"""


def test_the_plain_form_runs_without_the_compiler():
    """And where it is installed nothing imports it for one run: that would take longer."""
    tests = Path(__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-c", PLAIN, str(tests)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.xdist_group("compiled")
def test_loading_leaves_the_compilers_own_setting_as_it_was():
    import numba

    before = numba.config.CACHE_DIR
    assert compiled.load() is compiled.load()
    assert before == numba.config.CACHE_DIR


@pytest.mark.xdist_group("compiled")
def test_threads_do_not_disturb_each_other():
    """Every row is the same vehicle: whichever thread drives it, the numbers are the same."""
    import numpy as np

    from vehicles import maps, mixed, parameters
    from wattwright.uses.inputs import fitting
    from wattwright.uses.runs import run_rows

    trace, known = mixed(300), maps()
    rows = fitting([parameters()] * 40, known)
    first = run_rows(trace, rows[:1], known, True, 1)
    for _ in range(30):
        table = run_rows(trace, rows, known, True, 4)
        assert all(each == first[0] for each in table)
    with pytest.raises(UseError, match="gaps"):
        compiled.load()(0, 1, 1, *[np.zeros(4)[::2]] * 5, *[np.zeros((2, 2))] * 11)


@pytest.mark.xdist_group("compiled")
def test_code_on_disk_is_loaded_without_the_compiler():
    """Compiled by one process, and found by the next one, which never imports the compiler."""
    tests = Path(__file__).parents[1]
    said = subprocess.run(
        [sys.executable, "-c", LOADED, str(tests)], capture_output=True, text=True, check=False
    )
    assert said.returncode == 0, said.stderr


LOADED = """
import sys
sys.path.insert(0, sys.argv[1])
from wattwright.uses import compiled
compiled.load()
sys.modules["numba"] = None
compiled._load.cache_clear()
from vehicles import maps, mixed, parameters
from wattwright.uses.runs import run
fast = run(mixed(60), parameters(), maps(), compiled=True)
slow = run(mixed(60), parameters(), maps(), compiled=False)
assert abs(fast.balance.chemistry / slow.balance.chemistry - 1) < 1e-12
"""


@pytest.mark.xdist_group("compiled")
@pytest.mark.parametrize("harm", ["empty", "short", "no text", "another digest", "a name missing"])
def test_code_that_is_not_whole_is_not_loaded(harm, tmp_path):
    """As a power cut leaves it: calling into it would end the program."""
    compiled.load()
    (filed,) = compiled.cache_folder().glob(f"{compiled._machine()}.json")
    whole = filed.read_bytes()
    path = tmp_path / filed.name
    path.write_bytes(whole)
    assert compiled._filed(path) is not None
    harmed = {
        "empty": b"",
        "short": whole[: len(whole) // 2],
        "no text": b"\xff" + whole,
        "another digest": whole.replace(b'"code": "', b'"code": "AAAA', 1),
        "a name missing": whole.replace(b'"entry"', b'"entrance"', 1),
    }
    path.write_bytes(harmed[harm])
    assert compiled._filed(path) is None


def test_no_code_is_no_code(tmp_path):
    assert compiled._filed(tmp_path / "none.json") is None
