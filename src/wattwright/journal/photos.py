"""Photos: a row each in the journal; the pictures are files in the folder of the build."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Row, select

from wattwright.errors import UsageError
from wattwright.journal.places import PHOTOS
from wattwright.journal.revisions import digest_of, now, plain
from wattwright.journal.tables import photos

SUFFIXES = {"image/jpeg": ".jpg"}


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo as it is handed in: bytes cleaned of what a camera writes beside the picture."""

    content: bytes
    width: int
    height: int
    media_type: str = "image/jpeg"


def picture_of(raw: bytes) -> Picture:
    """Make a photo to hand in out of what a camera wrote. Raises ImageError."""
    # Pictures take long to load, and a journal seldom gets one.
    from wattwright.journal.images import cleaned

    image = cleaned(raw)
    return Picture(image.data, image.width, image.height, image.media_type)


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo in the journal; ``name`` is that of its file in the folder ``photos``."""

    id: int
    at: str
    who: str
    about: str
    caption: str
    name: str
    media_type: str
    width: int
    height: int
    size: int
    digest: str


def named(picture: Picture, who: str, about: str, caption: str) -> Photo:
    """Say what the row of a new photo will hold; its id comes with the row."""
    if picture.media_type not in SUFFIXES:
        known = ", ".join(SUFFIXES)
        raise UsageError(f"a photo of type {picture.media_type!r} is not kept; kept are {known}")
    at, digest = now(), digest_of(picture.content)
    return Photo(
        id=0,
        at=at,
        who=plain(who),
        about=plain(about),
        caption=plain(caption),
        # The digest says which bytes: the same picture twice in one day is one file.
        name=f"{at[:10]}-{digest[:16]}{SUFFIXES[picture.media_type]}",
        media_type=picture.media_type,
        width=picture.width,
        height=picture.height,
        size=len(picture.content),
        digest=digest,
    )


def sweep(folder: Path) -> None:
    """Delete what a killed writer left behind; the lock of the build has to be held."""
    for left in (folder / PHOTOS).glob(".*.tmp"):
        left.unlink()


def add(connection: Connection, photo: Photo) -> Photo:
    """Add the row of a photo whose file is on disk."""
    row = asdict(photo)
    del row["id"]
    done = connection.execute(photos.insert().values(row).returning(photos.c.id))
    return Photo(id=done.scalar_one(), **row)


def listed(connection: Connection, about: str | None) -> tuple[Photo, ...]:
    """List photos, newest first, of one thing or all."""
    query = select(photos).order_by(photos.c.id.desc())
    if about is not None:
        query = query.where(photos.c.about == about)
    return tuple(_photo(row) for row in connection.execute(query))


def by_id(connection: Connection, number: int) -> Photo:
    """Find one photo; raise UsageError where there is none."""
    row = connection.execute(select(photos).where(photos.c.id == number)).first()
    if row is None:
        raise UsageError(f"there is no photo {number}")
    return _photo(row)


def _photo(row: Row[Any]) -> Photo:
    return Photo(**row._asdict())
