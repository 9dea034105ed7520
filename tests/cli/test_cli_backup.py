"""``backup`` and ``restore``: there and back, what is said, and what is never overwritten."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
import zipfile
from contextlib import closing

import pytest


@pytest.fixture
def kept(cart):
    """The sound build with a journal beside it."""
    with closing(sqlite3.connect(cart / "journal.sqlite")) as journal:
        journal.execute("CREATE TABLE revision (number INTEGER PRIMARY KEY, text TEXT)")
        journal.execute("INSERT INTO revision VALUES (1, 'first')")
        journal.commit()
    return cart


def rows_of(folder):
    with closing(sqlite3.connect(folder / "journal.sqlite")) as journal:
        return journal.execute("SELECT * FROM revision").fetchall()


def test_a_build_and_its_journal_go_into_a_file_and_come_back(run, kept, tmp_path):
    file, back = tmp_path / "keep.zip", tmp_path / "deep" / "back"
    answer = run("backup", kept, file)
    assert (answer.code, answer.err) == (0, "")
    assert f"{file} holds 1 file and the journal" in answer.out
    assert "restored elsewhere and compared, and is the same" in answer.out
    answer = run("restore", file, back)
    assert (answer.code, answer.err) == (0, "")
    assert f"Next: wattwright check {back}" in answer.out
    assert (back / "build.toml").read_bytes() == (kept / "build.toml").read_bytes()
    assert rows_of(back) == [(1, "first")]
    assert run("check", back).out == run("check", kept).out


@pytest.mark.parametrize("name", ["orchard-pickup", "island-runabout", "bare-start"])
def test_an_example_is_assessed_as_before(run, examples, tmp_path, name):
    assert run("backup", examples / name, tmp_path / "keep.zip").code == 0
    assert run("restore", tmp_path / "keep.zip", tmp_path / name).code == 0
    assert (
        run("check", "--json", tmp_path / name).out == run("check", "--json", examples / name).out
    )


def test_the_build_file_itself_may_be_named(run, kept, tmp_path):
    assert run("backup", kept / "build.toml", tmp_path / "keep.zip").code == 0
    answer = run("backup", kept / "journal.sqlite", tmp_path / "other.zip")
    assert answer.code == 64
    assert not (tmp_path / "other.zip").exists()


def test_the_journal_stays_here_when_asked(run, kept, tmp_path):
    answer = run("backup", kept, tmp_path / "keep.zip", "--without-journal")
    assert answer.code == 0
    assert "holds 1 file, no journal" in answer.out
    with zipfile.ZipFile(tmp_path / "keep.zip") as zipped:
        assert zipped.namelist() == ["build/build.toml", "manifest.json"]


def test_what_is_left_out_is_named(run, kept, tmp_path):
    (kept / "notes.tmp").write_text("x")
    (kept / "\x1b[31m.csv~").write_text("x")
    answer = run("backup", kept, tmp_path / "keep.zip")
    assert answer.code == 0
    lines = [line for line in answer.out.splitlines() if line.startswith("left out")]
    assert [line.rpartition(": ")[2] for line in lines] == ["?[31m.csv~", "notes.tmp"]


def test_nothing_is_overwritten_unless_asked(run, kept, tmp_path):
    file = tmp_path / "keep.zip"
    file.write_text("mine")
    answer = run("backup", kept, file)
    assert answer.code == 64
    assert "--replace" in answer.err
    assert file.read_text() == "mine"
    assert run("backup", kept, file, "--replace").code == 0
    answer = run("restore", file, kept)
    assert answer.code == 64
    assert "not empty" in answer.err
    assert run("restore", file, tmp_path / "back", "--replace").code == 64


def test_a_backup_inside_the_build_is_refused(run, kept):
    answer = run("backup", kept, kept / "keep.zip")
    assert answer.code == 64
    assert "name a file elsewhere" in answer.err
    assert not (kept / "keep.zip").exists()


@pytest.mark.parametrize("raw", [b"", b"no zip", b"PK\x05\x06" + bytes(18)], ids=len)
@pytest.mark.parametrize("plain", [[], ["--plain"]])
def test_2_when_an_archive_cannot_be_read(run, tmp_path, raw, plain):
    (tmp_path / "bad.zip").write_bytes(raw)
    answer = run("restore", tmp_path / "bad.zip", tmp_path / "back", *plain)
    assert answer.code == 2
    assert answer.out == ""
    assert "bad.zip: " in answer.err
    assert "1 problem; nothing was changed" in answer.err
    assert [path.name for path in tmp_path.iterdir()] == ["bad.zip"]


def test_2_when_there_is_no_build(run, tmp_path):
    answer = run("backup", tmp_path / "nowhere", tmp_path / "keep.zip")
    assert answer.code == 2
    assert "no build file" in answer.err
    assert not (tmp_path / "keep.zip").exists()


def test_64_when_there_is_no_archive_or_no_place(run, kept, tmp_path):
    answer = run("restore", tmp_path / "none.zip", tmp_path / "back")
    assert answer.code == 64
    assert "none.zip" in answer.err
    assert run("backup", kept, tmp_path / "nowhere" / "keep.zip").code == 64


def test_a_plain_zip_is_taken_when_asked(run, kept, tmp_path):
    file = shutil.make_archive(str(tmp_path / "plain"), "zip", tmp_path, kept.name)
    answer = run("restore", file, tmp_path / "back")
    assert answer.code == 2
    assert "--plain" in answer.err
    answer = run("restore", file, tmp_path / "back", "--plain")
    assert answer.code == 0
    assert rows_of(tmp_path / "back") == [(1, "first")]


def test_neither_the_solvers_nor_the_database_library_is_imported(kept, tmp_path):
    script = (
        "import sys\nfrom wattwright.cli import main\n"
        "assert main(['backup', sys.argv[1], sys.argv[2]]) == 0\n"
        "print(' '.join(sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(kept), str(tmp_path / "keep.zip")],
        capture_output=True,
        text=True,
        check=True,
    )
    seen = set(done.stdout.split())
    assert "sqlite3" in seen
    assert not seen & {"PIL", "numba", "numpy", "pydantic", "sqlalchemy", "tree_sitter"}
