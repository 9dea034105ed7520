"""Readings, photos and sign-offs: added, never changed."""

from __future__ import annotations

import dataclasses
import errno
import hashlib
import os
from pathlib import Path

import pytest
from sqlalchemy.engine.default import DefaultDialect

from wattwright.build.sampled_files import beside
from wattwright.errors import EditError, UsageError
from wattwright.journal.keeper import Keeper
from wattwright.journal.photos import Picture
from wattwright.journal.readings import Taken

PICTURE = Picture(b"\xff\xd8 as if it were one \xff\xd9", 4, 3)


def test_a_reading_is_kept_as_typed(folder: Path) -> None:
    taken = Taken("donor.wheelbase", "2545 mm ± 2", "tape", "2026-03-14", "M", "with help")
    with Keeper(folder) as keeper:
        made = keeper.add_reading("mechanic", taken)
    with Keeper(folder) as keeper:
        assert keeper.readings() == (made,)
    assert (made.id, made.who, made.replaces, made.replaced_by) == (1, "mechanic", None, None)
    for field in dataclasses.fields(Taken):
        assert getattr(made, field.name) == getattr(taken, field.name)


def test_a_corrected_reading_stays_and_says_what_corrects_it(keeper: Keeper) -> None:
    one = keeper.add_reading("mechanic", Taken("donor.wheelbase", "2.545 mm"))
    two = keeper.add_reading("mechanic", Taken("donor.wheelbase", "2545 mm", replaces=one.id))
    other = keeper.add_reading("mechanic", Taken("how it feels", "soft"))
    assert [each.id for each in keeper.readings()] == [3, 2, 1]
    assert [each.replaced_by for each in keeper.readings()] == [None, None, 2]
    assert keeper.readings("donor.wheelbase", standing=True) == (two,)
    assert keeper.readings(standing=True) == (other, two)


@pytest.mark.parametrize(
    ("taken", "said"),
    [
        (Taken("", "1 mm"), "about"),
        (Taken("donor.track", "  "), "text"),
        (Taken("donor.wheelbase", "1 m", replaces=9), "no reading 9"),
        (Taken("donor.track", "1 m", replaces=1), "about donor.wheelbase, not about donor.track"),
        (Taken("donor.wheelbase", "1 m", replaces=1), "corrected by reading 2; correct that one"),
    ],
)
def test_a_reading_that_makes_no_sense_is_refused(keeper: Keeper, taken: Taken, said: str) -> None:
    keeper.add_reading("mechanic", Taken("donor.wheelbase", "2 m"))
    keeper.add_reading("mechanic", Taken("donor.wheelbase", "3 m", replaces=1))
    with pytest.raises(UsageError, match=said):
        keeper.add_reading("mechanic", taken)
    assert len(keeper.readings()) == 2


def test_a_photo_is_a_file_and_a_row(folder: Path, keeper: Keeper) -> None:
    (folder / "build.toml").chmod(0o640)
    photo = keeper.add_photo("mechanic", PICTURE, "part.charger", "the plate")
    assert photo.digest == hashlib.sha256(PICTURE.content).hexdigest()
    assert photo.name == f"{photo.at[:10]}-{photo.digest[:16]}.jpg"
    assert (photo.id, photo.about, photo.caption) == (1, "part.charger", "the plate")
    assert (photo.width, photo.height, photo.size) == (4, 3, len(PICTURE.content))
    file = folder / "photos" / photo.name
    assert keeper.photo_file(photo) == file
    assert file.read_bytes() == PICTURE.content
    assert file.stat().st_mode == (folder / "build.toml").stat().st_mode
    assert keeper.photo(1) == photo
    again = keeper.add_photo("mechanic", PICTURE, "part.inverter")
    assert again.name == photo.name
    assert [each.name for each in file.parent.iterdir()] == [photo.name]
    assert keeper.photos() == (again, photo)
    assert keeper.photos("part.charger") == (photo,)
    with pytest.raises(UsageError, match="no photo 7"):
        keeper.photo(7)


def test_a_photo_of_another_type_is_refused(folder: Path, keeper: Keeper) -> None:
    with pytest.raises(UsageError, match="kept are image/jpeg"):
        keeper.add_photo("mechanic", Picture(b"GIF89a", 1, 1, "image/gif"))
    assert not (folder / "photos").exists()


def test_the_file_of_a_photo_is_on_disk_before_its_row(
    keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = []
    for owner, name in ((os, "fsync"), (os, "replace"), (DefaultDialect, "do_commit")):
        inner = getattr(owner, name)

        def call(*args, inner=inner, name=name):
            order.append(name)
            return inner(*args)

        monkeypatch.setattr(owner, name, call)
    keeper.add_photo("mechanic", PICTURE)
    assert order == ["fsync", "fsync", "replace", "fsync", "do_commit"]


def test_a_photo_that_does_not_fit_on_the_disk_has_no_row(
    folder: Path, keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, "full")

    (folder / "photos").mkdir()
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(EditError, match=r"photos.*\.jpg: the disk is full"):
            keeper.add_photo("mechanic", PICTURE)
    assert keeper.photos() == ()
    assert list((folder / "photos").iterdir()) == []


def test_a_sign_off_holds_for_one_revision(keeper: Keeper) -> None:
    one = keeper.sign_off("inspector", "brakes seen", 1)
    keeper.change("a = 2\n", keeper.head().digest, "mechanic", "")
    two = keeper.sign_off("inspector", "wiring seen", 2)
    assert keeper.sign_offs() == (two, one)
    assert (two.who, two.statement, two.revision) == ("inspector", "wiring seen", 2)
    for who, statement, revision, said in (
        ("", "seen", 1, "needs a name"),
        ("inspector", " ", 1, "needs a name"),
        ("inspector", "seen", 7, "no revision 7"),
    ):
        with pytest.raises(UsageError, match=said):
            keeper.sign_off(who, statement, revision)
    assert len(keeper.sign_offs()) == 2


def test_what_stands_beside_the_text_does_not_change_it(folder: Path, keeper: Keeper) -> None:
    before = keeper.head()
    keeper.add_reading("mechanic", Taken("donor.wheelbase", "2 m"))
    keeper.add_photo("mechanic", PICTURE)
    keeper.sign_off("inspector", "seen", 1)
    assert keeper.head() == before
    assert beside(folder)("build.toml") == b"a = 1\n"
