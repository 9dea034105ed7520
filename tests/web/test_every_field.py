"""Every declared field can be written on the pages: what a form sends is what the file then says.

What a form means, how it is written into the file and how that reads back is tried of every field.
The way there through a server, the journal and the ripple is the same for all fields of a kind: it
is gone with one of each kind, and with all of them in the soak run.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from wattwright.build.as_typed import as_toml
from wattwright.build.catalogue import Entry, entries
from wattwright.build.edits import Edit, quote, splice
from wattwright.build.fields import Quantity, Sampled, Track
from wattwright.build.reader import FILE, Opened, build_of
from wattwright.build.sampled_files import beside
from wattwright.build.text import read_text
from wattwright.errors import BuildError
from wattwright.journal.starting import start
from wattwright.web.clash import leaves
from wattwright.web.leaves import Written, leaf_at
from wattwright.web.pages.forms import typed_in
from web_builders import Workbench

Open = Callable[..., Workbench]
BUILD = "bare-start"
NAMES = {"part": "thing", "place": "spot", "case": "load", "use": "trip", "season": "spring"}
ENTRIES = [entry for entry in entries() if entry.path != "format"]


def typed_for(entry: Entry) -> str:
    """Return something that the field may hold."""
    slot, declared = entry.slot, entry.slot.declared
    if isinstance(declared, Quantity):
        return "S" if declared.codes else declared.example
    if isinstance(declared, Sampled | Track):
        return "unknown"
    words = [word for word in entry.allowed if word]
    if words:
        return words[0]
    if slot.annotation in (int, float, float | None, int | None):
        return "3"
    return "2026-03-14" if slot.name == "date" else "some words"


def path_of(entry: Entry) -> str:
    """Return the path of the field, with names for the records it stands in."""
    path = entry.path
    while "NAME" in path.split("."):
        head = path.split(".NAME")[0].split(".")[-1]
        path = path.replace("NAME", NAMES.get(head, "first"), 1)
    return path


def first_of_all(entry: Entry) -> Iterator[tuple[str, str]]:
    """Yield what has to be written before the field can be."""
    path = path_of(entry)
    if entry.kinds:
        yield ".".join(path.split(".")[:2]) + ".kind", entry.kinds[0]
    for holder, needed in (("place.spot", "role"), ("drive.link.first", "turns_with")):
        if path.startswith(f"{holder}.") and not path.endswith(needed):
            yield f"{holder}.{needed}", "load" if needed == "role" else "wheel"


def kind_of(entry: Entry) -> tuple[object, ...]:
    """Return what forms, files and the reader tell fields apart by."""
    slot, declared = entry.slot, entry.slot.declared
    number = (declared.kind.name, declared.codes) if isinstance(declared, Quantity) else ()
    annotation = slot.annotation if slot.shape == "plain" else None
    none = getattr(declared, "may_be_none", False)
    return slot.shape, type(declared), number, none, str(annotation), bool(entry.kinds)


def one_of_each_kind() -> list[Entry]:
    """Choose one of each kind, and one of each section: always the same, and none by its place."""
    stirred = sorted(ENTRIES, key=lambda each: hashlib.sha256(each.path.encode()).digest())
    chosen = {kind_of(each): each for each in stirred}
    chosen |= {(each.section,): each for each in stirred}
    return list({each.path: each for each in chosen.values()}.values())


# -------------------------------------------------------------------------- written and read back


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Opened]:
    folder = tmp_path_factory.mktemp("builds") / BUILD
    start(folder, BUILD)
    return folder, read(folder, (folder / FILE).read_text(encoding="utf-8"))


def read(folder: Path, text: str, like: Opened | None = None) -> Opened:
    return build_of(read_text(text.encode()), FILE, beside(folder), like)


def written_in(opened: Opened) -> Written:
    return Written(opened.source.data, leaves(opened.source), opened.build)


@pytest.mark.parametrize("chunk", range(2))
def test_what_a_form_says_of_any_field_is_written_and_reads_back(
    bare: tuple[Path, Opened], chunk: int
) -> None:
    folder, opened = bare
    said: list[str] = []
    refused = 0
    for entry in ENTRIES[chunk::2]:
        before = opened
        for needed, word in first_of_all(entry):
            edit = Edit(tuple(needed.split(".")), quote(word))
            before = read(folder, splice(before.source, [edit]), before)
        path, text = tuple(path_of(entry).split(".")), typed_for(entry)
        leaf = leaf_at(written_in(before), path)
        typed = typed_in({"quantity": text}, leaf)
        edit = Edit(path, as_toml(leaf.slot, typed), leaf.written)
        new = splice(before.source, [edit])
        data = read_text(new.encode()).data
        assert leaf_at(Written(data, {}, None), path).typed.whole == text, path
        try:
            read(folder, new, before)
        except BuildError as error:
            # Fields that only make sense together are refused alone.
            refused += 1
            said += [f"{each.path} {each.what}" for each in error.problems]
    assert refused < 0.25 * len(ENTRIES[chunk::2])
    # Refused for what is missing beside them, and never for the way they are written.
    assert not [each for each in said if "should be a" in each or "is a quantity" in each]


# ------------------------------------------------------------------------- and through the server


def send_and_read_back(bench: Workbench, chosen: Sequence[Entry]) -> None:
    """Send forms to a build, each to the build as it was at first."""
    desk = bench.shelf.desk(BUILD)
    begun = desk.view().revision.number
    tried = 0
    for entry in chosen:
        path, text = path_of(entry), typed_for(entry)
        for needed, word in first_of_all(entry):
            fields = {"path": needed, "quantity": word}
            status, told = bench.send_by_script(f"/b/{BUILD}/set", **fields)
            assert status == 200, (fields, told)
        had = bench.written(BUILD, path)
        fields = {"path": path, "quantity": text, **({"was": had} if had else {})}
        status, told = bench.send_by_script(f"/b/{BUILD}/set", **fields)
        if status == 422:
            # Fields that only make sense together are refused alone, in words.
            assert told["message"], path
        else:
            assert status == 200, (path, text, told)
            now = desk.view()
            assert now.source is not None
            written = Written(now.source.data, {}, None)
            assert leaf_at(written, tuple(path.split("."))).typed.whole == text, path
            tried += 1
        if desk.view().revision.number != begun:
            desk.restore(begun, "the test")
    assert tried > 0.7 * len(chosen)


def test_a_field_of_every_kind_can_be_set_through_its_form_and_read_back(workbench: Open) -> None:
    chosen = one_of_each_kind()
    assert {kind_of(each) for each in chosen} == {kind_of(each) for each in ENTRIES}
    assert {each.section for each in chosen} == {each.section for each in ENTRIES}
    send_and_read_back(workbench(BUILD), chosen)


@pytest.mark.soak
@pytest.mark.parametrize("chunk", range(4))
def test_every_field_can_be_set_through_its_form_and_read_back(workbench: Open, chunk: int) -> None:
    send_and_read_back(workbench(BUILD), ENTRIES[chunk::4])
