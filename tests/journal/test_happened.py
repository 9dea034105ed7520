"""What a revision did, as the page tells it right after."""

from __future__ import annotations

from pathlib import Path

from wattwright.journal.keeper import Keeper
from wattwright.journal.revisions import happened
from wattwright.journal.starting import start


def test_each_kind_of_revision_says_what_happened(tmp_path: Path) -> None:
    folder = tmp_path / "build"
    start(folder, "bare-start")
    file = folder / "build.toml"
    text = file.read_text(encoding="utf-8")
    with Keeper(folder) as keeper:
        first = keeper.head()
        assert happened(first) == "The build as it was when its journal began"
        made = keeper.change(text + "# one\n", first.digest, "me", "notes: one")
        assert happened(made) == "Saved: notes: one"
        assert happened(keeper.undo("me")) == "Taken back: revision 2: notes: one"
        assert happened(keeper.redo("me")) == "Made again: revision 2: notes: one"
        assert happened(keeper.restore(1, "me")).startswith("Brought back: revision 1: the build")
        file.write_text(text + "# two\n", encoding="utf-8")
        assert happened(keeper.head()) == "Changed by an editor or another program"
