"""Journals of older, newer and foreign formats, and damaged ones: told, never overwritten."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from sqlalchemy import Column, Integer, MetaData, String, Table, create_engine, inspect, text

from wattwright.errors import JournalError, WattwrightError
from wattwright.journal import tables
from wattwright.journal.database import Database
from wattwright.journal.keeper import Keeper
from wattwright.journal.tables import FORMAT, STEPS, prepare

KEPT = Path(__file__).parents[1] / "journals"


def sql(folder: Path, *statements: str) -> list[tuple[object, ...]]:
    """Speak to the journal without any of the program's code."""
    connection = sqlite3.connect(folder / "journal.sqlite")
    try:
        for statement in statements:
            rows = connection.execute(statement).fetchall()
        connection.commit()
    finally:
        connection.close()
    return rows


def whole_file(folder: Path) -> bytes:
    return (folder / "journal.sqlite").read_bytes()


def copied(tmp_path: Path, name: str = "format-1") -> Path:
    return Path(shutil.copytree(KEPT / name, tmp_path / "copy"))


# ----------------------------------------------------------------------------------------- formats


def test_there_is_a_step_from_every_older_format() -> None:
    assert sorted(STEPS) == list(range(1, FORMAT))
    assert sorted(each.name for each in KEPT.iterdir()) == [
        f"format-{number}" for number in range(1, FORMAT + 1)
    ]


def test_a_journal_of_format_1_is_read(tmp_path: Path) -> None:
    with Keeper(copied(tmp_path)) as keeper:
        said = [(each.number, each.kind, each.of, each.state) for each in keeper.revisions()]
        assert said == [
            (8, "edit", None, "done"),
            (7, "restore", 5, "done"),
            (6, "undo", 5, "done"),
            (5, "outside", None, "done"),
            (4, "redo", 2, "done"),
            (3, "undo", 2, "done"),
            (2, "edit", None, "done"),
            (1, "start", None, "done"),
        ]
        assert keeper.revision(2).why == "donor.wheelbase: 2540 mm -> 2545 mm ± 2"
        assert keeper.revision(2).who == "mechanic"
        assert keeper.content(5) == b"# \xff is no text\n"
        assert keeper.text(1).startswith("format = 1\n")
        assert keeper.undoable() == keeper.revision(8)
        corrected, reading = keeper.readings()
        assert (reading.text, reading.replaced_by) == ("2545 mm", corrected.id)
        assert (corrected.instrument, corrected.date) == ("tape", "2026-03-14")
        assert (corrected.initials, corrected.note) == ("M", "wheels straight this time")
        (photo,) = keeper.photos()
        assert (photo.about, photo.width, photo.height) == ("part.charger", 4, 3)
        assert keeper.photo_file(photo).stat().st_size == photo.size
        (signed,) = keeper.sign_offs()
        assert (signed.who, signed.revision) == ("inspector", 2)
        assert keeper.undo("mechanic").number == 9


def test_an_old_journal_has_the_tables_of_a_new_one(tmp_path: Path, folder: Path) -> None:
    Keeper(folder).close()
    old = copied(tmp_path)
    Keeper(old).close()

    def columns(home: Path) -> dict[str, list[str]]:
        engine = create_engine(f"sqlite:///{home / 'journal.sqlite'}")
        looked = inspect(engine)
        found = {
            name: [f"{each['name']} {each['type']}" for each in looked.get_columns(name)]
            for name in looked.get_table_names()
        }
        engine.dispose()
        return found

    assert columns(old) == columns(folder)


def test_steps_are_taken_one_after_the_other_and_only_once(folder: Path) -> None:
    Keeper(folder).close()
    steps = {
        1: lambda connection: connection.execute(text("ALTER TABLE readings ADD COLUMN b TEXT")),
        2: lambda connection: connection.execute(text("UPDATE revisions SET why = why || '!'")),
    }
    for _ in range(2):
        database = Database(folder)
        prepare(database, 3, steps)
        database.close()
    assert sql(folder, "SELECT number FROM journal_format") == [(3,)]
    (why,) = sql(folder, "SELECT why FROM revisions")[0]
    assert why == "the build as it was when its journal began!"


def test_a_step_that_fails_leaves_the_journal_as_it_was(folder: Path) -> None:
    Keeper(folder).close()

    def breaks_off(connection) -> None:
        connection.execute(text("ALTER TABLE readings ADD COLUMN b TEXT"))
        connection.execute(text("UPDATE revisions SET number = 'x'"))
        raise RuntimeError

    database = Database(folder)
    with pytest.raises((RuntimeError, JournalError)):
        prepare(database, 2, {1: breaks_off})
    database.close()
    assert sql(folder, "SELECT number FROM journal_format") == [(1,)]
    assert "b" not in [row[1] for row in sql(folder, "PRAGMA table_info(readings)")]
    with Keeper(folder) as keeper:
        assert keeper.head().number == 1


def test_a_newer_journal_is_refused_and_not_touched(folder: Path) -> None:
    Keeper(folder).close()
    sql(folder, f"UPDATE journal_format SET number = {FORMAT + 1}")
    before = whole_file(folder)
    with pytest.raises(JournalError, match=f"format {FORMAT + 1}; .* up to {FORMAT}") as caught:
        Keeper(folder)
    assert "newer wattwright" in str(caught.value)
    assert "journal.sqlite" in str(caught.value)
    assert whole_file(folder) == before


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("CREATE TABLE recipes (name TEXT)", "tables of another program"),
        ("CREATE TABLE journal_format (number INTEGER)", "does not say its format"),
    ],
)
def test_a_database_of_another_program_is_refused_and_not_touched(
    folder: Path, statement: str, said: str
) -> None:
    sql(folder, statement)
    before = whole_file(folder)
    with pytest.raises(JournalError, match=said):
        Keeper(folder)
    assert whole_file(folder) == before


def test_another_database_may_be_named_by_its_address(folder: Path, tmp_path: Path) -> None:
    elsewhere = f"sqlite:///{tmp_path / 'shop.sqlite'}"
    with Keeper(folder, elsewhere) as keeper:
        keeper.change("a = 2\n", keeper.head().digest, "mechanic", "")
    assert not (folder / "journal.sqlite").exists()
    with Keeper(folder, elsewhere) as keeper:
        assert keeper.head().number == 2


@pytest.mark.parametrize("address", ["no address", "nosuch://host/name"])
def test_an_address_that_leads_nowhere_is_told(folder: Path, address: str) -> None:
    with pytest.raises(JournalError, match="cannot be reached"):
        Keeper(folder, address)


def test_the_statements_are_no_sqlite_of_their_own() -> None:
    """They can be written for another database, as SQLAlchemy's own dialect says."""
    from sqlalchemy.dialects import postgresql
    from sqlalchemy.schema import CreateTable

    for table in tables.revisions.metadata.sorted_tables:
        assert "CREATE TABLE" in str(CreateTable(table).compile(dialect=postgresql.dialect()))
    for module in Path(tables.__file__).parent.glob("*.py"):
        # Copies of a journal are of SQLite's file, and read without the tables' own statements.
        if module.name not in ("database.py", "rows.py"):
            said = module.read_text(encoding="utf-8")
            assert "PRAGMA" not in said
            assert "sqlalchemy.dialects" not in said


# ------------------------------------------------------------------------------------------ damage


@pytest.mark.parametrize("content", [b"this is no database\n" * 100, b"PK\x03\x04", b"\xff" * 9000])
def test_a_file_that_is_no_journal_is_told_and_not_touched(folder: Path, content: bytes) -> None:
    (folder / "journal.sqlite").write_bytes(content)
    with pytest.raises(JournalError) as caught:
        Keeper(folder)
    assert "journal.sqlite: " in str(caught.value)
    assert "Move it aside" in str(caught.value)
    assert "build.toml is untouched" in str(caught.value)
    assert whole_file(folder) == content
    assert (folder / "build.toml").read_text() == "a = 1\n"


def test_a_folder_in_its_place_is_told(folder: Path) -> None:
    (folder / "journal.sqlite").mkdir()
    with pytest.raises(JournalError, match="cannot be opened"):
        Keeper(folder)


def test_a_text_that_was_altered_is_never_given_out(folder: Path) -> None:
    with Keeper(folder) as keeper:
        keeper.change("a = 2\n", keeper.head().digest, "mechanic", "")
    sql(folder, "UPDATE texts SET content = x'00' WHERE content = CAST('a = 1\n' AS BLOB)")
    with Keeper(folder) as keeper:
        for ask in (lambda: keeper.text(1), lambda: keeper.undo("mechanic")):
            with pytest.raises(JournalError, match="text of revision 1 is missing or altered"):
                ask()
    assert (folder / "build.toml").read_text() == "a = 2\n"


def test_a_history_that_contradicts_itself_is_told(folder: Path) -> None:
    with Keeper(folder) as keeper:
        keeper.change("a = 2\n", keeper.head().digest, "mechanic", "")
        keeper.undo("mechanic")
    sql(folder, "UPDATE revisions SET of = 1 WHERE number = 3")
    with Keeper(folder) as keeper, pytest.raises(JournalError, match="contradicts itself"):
        keeper.undoable()


def complaint(folder: Path) -> str:
    """Read everything there is in a journal, and give what is said against it."""
    try:
        with Keeper(folder) as keeper:
            for each in keeper.revisions():
                keeper.text(each.number)
            keeper.undoable()
            keeper.readings()
            keeper.photos()
            keeper.sign_offs()
    except WattwrightError as error:
        return str(error)
    return ""


def test_a_truncated_journal_is_told_or_read_never_lost(folder: Path) -> None:
    with Keeper(folder) as keeper:
        for number in range(40):
            keeper.change(f"a = {number}\n" * 500, keeper.head().digest, "mechanic", "")
    whole, build = whole_file(folder), (folder / "build.toml").read_bytes()
    told = 0
    for length in range(100, len(whole), len(whole) // 25):
        (folder / "journal.sqlite").write_bytes(whole[:length])
        told += "Move it aside" in complaint(folder)
        assert (folder / "build.toml").read_bytes() == build
    assert told > 20


@settings(max_examples=150, deadline=None)
@example(0.065, b"\x80")  # in the text of a table: what SQLite quotes of it is no text
@given(st.floats(0, 1, exclude_max=True), st.binary(min_size=1, max_size=40))
def test_no_damage_is_a_crash(place: float, damage: bytes) -> None:
    with tempfile.TemporaryDirectory() as home:
        folder = copied(Path(home))
        build = (folder / "build.toml").read_bytes()
        raw = bytearray(whole_file(folder))
        start = int(place * len(raw))
        raw[start : start + len(damage)] = damage[: len(raw) - start]
        (folder / "journal.sqlite").write_bytes(raw)
        complaint(folder)
        assert (folder / "build.toml").read_bytes() == build


def test_tables_of_a_shop_s_own_are_not_mixed_with_a_journal(tmp_path: Path, folder: Path) -> None:
    address = f"sqlite:///{tmp_path / 'shop.sqlite'}"
    engine, meta = create_engine(address), MetaData()
    Table("invoices", meta, Column("id", Integer, primary_key=True), Column("to", String(9)))
    meta.create_all(engine)
    engine.dispose()
    with pytest.raises(JournalError, match="another program"):
        Keeper(folder, address)
