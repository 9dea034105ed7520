"""Undo and redo against a model that keeps texts in a row and a place in it."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.errors import EditError
from wattwright.journal.keeper import Keeper
from wattwright.journal.revisions import stacks


class Row:
    """The model: what every editor with undo does."""

    def __init__(self, text: bytes) -> None:
        self.texts, self.place = [text], 0

    @property
    def text(self) -> bytes:
        return self.texts[self.place]

    def put(self, text: bytes) -> None:
        if text != self.text:
            self.texts[self.place + 1 :] = [text]
            self.place += 1

    def step(self, by: int) -> bool:
        if not 0 <= self.place + by < len(self.texts):
            return False
        self.place += by
        return True


texts = st.sampled_from([f"a = {number}\n".encode() for number in range(4)])
acts = st.one_of(
    st.tuples(st.sampled_from(["edit", "outside"]), texts),
    st.tuples(st.just("restore"), st.integers(1, 4)),
    st.tuples(st.sampled_from(["undo", "redo", "undo", "look", "reopen"]), st.none()),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(acts, max_size=14))
def test_undo_and_redo_do_what_the_model_does(row: list[tuple[str, object]]) -> None:
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home)
        (folder / "build.toml").write_bytes(b"a = 0\n")
        for model, seen in played(folder, row):
            assert (folder / "build.toml").read_bytes() == model.text
            assert seen == (model.place > 0, model.place < len(model.texts) - 1)


def played(folder: Path, row: list[tuple[str, object]]) -> Iterator[tuple[Row, tuple[bool, bool]]]:
    model, keeper, log = Row(b"a = 0\n"), Keeper(folder), []
    try:
        for act, what in row:
            if act == "reopen":
                keeper.close()
                keeper = Keeper(folder)
            play(folder, keeper, model, act, what)
            yield model, (keeper.undoable() is not None, keeper.redoable() is not None)
            found = list(reversed(keeper.revisions(most=100)))
            assert found[: len(log)] == log, "history is only ever added to"
            log = found
    finally:
        keeper.close()


def play(folder: Path, keeper: Keeper, model: Row, act: str, what) -> None:
    if act == "edit":
        keeper.change(what.decode(), keeper.head().digest, "mechanic", "")
        model.put(what)
    elif act == "outside":
        (folder / "build.toml").write_bytes(what)
        keeper.head()
        model.put(what)
    elif act == "restore":
        if what <= keeper.head().number:
            text = keeper.content(what)
            keeper.restore(what, "mechanic")
            model.put(text)
    elif act in ("undo", "redo"):
        if model.step(-1 if act == "undo" else 1):
            getattr(keeper, act)("apprentice")
        else:
            with pytest.raises(EditError):
                getattr(keeper, act)("apprentice")


def test_a_log_that_contradicts_itself_is_refused() -> None:
    start, edit = (1, "start", None), (2, "edit", None)
    assert stacks([start, edit, (3, "undo", 2)]) == ([], [2])
    for log in ([start, (2, "undo", 1)], [start, edit, (3, "undo", 1)], [start, (2, "redo", 1)]):
        with pytest.raises(ValueError, match="cannot be the"):
            stacks(log)
