"""What a phone uploads becomes a plain picture: upright, of a sensible size, and saying nothing.

A photo from a phone says where and when it was taken and with what; none of that is kept. The
picture is drawn anew from its points, so that nothing hidden in the file or hung on behind it can
come through. Colours are taken as sRGB, and the profile that says otherwise is left out.
"""

from __future__ import annotations

import io
import struct
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from wattwright.errors import ImageError

if TYPE_CHECKING:
    from PIL.Image import Image as Picture
    from PIL.Image import Transpose
    from PIL.ImageFile import ImageFile

LARGEST = 20 * 1024 * 1024
MOST_POINTS = 60_000_000
LONGER_SIDE = 2048
# Letters on a plate stay sharp; half the bytes of a phone's own setting.
QUALITY = 85

_ORIENTATION = 0x0112
# Exif 2.32, table 6: what was done to the picture, undone by the name that Pillow has for it.
_UNDONE_BY = {
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_270",
    7: "TRANSVERSE",
    8: "ROTATE_90",
}
# What the decoders raise over bytes that are no picture, found by feeding them such.
_STUMBLES = (OSError, SyntaxError, ValueError, LookupError, TypeError, EOFError, struct.error)


@dataclass(frozen=True, slots=True)
class Image:
    """A picture that can be kept and shown."""

    data: bytes
    media_type: Literal["image/jpeg"]
    width: int
    height: int


def cleaned(raw: bytes) -> Image:
    """Make a plain JPEG of an uploaded JPEG, PNG or WebP. Raises ImageError."""
    if len(raw) > LARGEST:
        raise ImageError(
            f"the picture is too large: {len(raw) / 1e6:.1f} MB; at most {LARGEST / 1e6:.1f} MB. "
            "Take it with a lower resolution"
        )
    picture, orientation = _decoded(raw)
    picture.thumbnail((LONGER_SIDE, LONGER_SIDE))
    if orientation in _UNDONE_BY:
        picture = picture.transpose(_way(_UNDONE_BY[orientation]))
    # Among what Pillow keeps beside the points is a comment, which it would write again.
    picture.info.clear()
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY)
    return Image(out.getvalue(), "image/jpeg", picture.width, picture.height)


def _decoded(raw: bytes) -> tuple[Picture, int]:
    """Give the points of a picture on a white ground, and how it has to be turned."""
    from PIL.Image import DecompressionBombError

    decoder = _decoder(raw)
    try:
        picture = decoder(io.BytesIO(raw))
        # Only the head is read so far: no room is taken for points that were merely stated.
        if picture.width * picture.height > MOST_POINTS:
            raise DecompressionBombError
        # A JPEG is decoded at half or a quarter of its size where that is enough.
        picture.draft(None, (2 * LONGER_SIDE, 2 * LONGER_SIDE))
        picture.load()
        return _on_white(picture), _orientation(picture)
    except _STUMBLES as error:
        raise ImageError(
            f"the picture is damaged or not whole ({error}). Take it or send it again"
        ) from None
    except (DecompressionBombError, MemoryError):
        raise ImageError(
            f"the picture has more than {MOST_POINTS / 1e6:.0f} million points. "
            "Take it with a lower resolution"
        ) from None


def _decoder(raw: bytes) -> type[ImageFile]:
    """Choose by the first bytes, whatever the name said; nothing else is tried."""
    if raw.startswith(b"\xff\xd8\xff"):
        from PIL.JpegImagePlugin import JpegImageFile

        return JpegImageFile
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        from PIL.PngImagePlugin import PngImageFile

        return PngImageFile
    if raw.startswith(b"RIFF") and raw[8:12] == b"WEBP":
        from PIL.WebPImagePlugin import WebPImageFile

        return WebPImageFile
    raise ImageError(
        "the file is no picture that can be read; allowed are JPEG, PNG and WebP. "
        "Set the camera to JPEG"
    )


def _on_white(picture: Picture) -> Picture:
    """Give three colours of eight bits each, and white where one could see through."""
    import PIL.Image

    if picture.mode.startswith("I"):
        picture = picture.point(lambda grey: grey / 257).convert("L")
    if not picture.has_transparency_data:
        return picture.convert("RGB")
    layer = picture.convert("RGBA")
    ground = PIL.Image.new("RGB", layer.size, "white")
    ground.paste(layer, mask=layer.getchannel("A"))
    return ground


def _orientation(picture: Picture) -> int:
    """Say how the camera was held; what cannot be read says nothing."""
    try:
        found = picture.getexif().get(_ORIENTATION)
    except _STUMBLES:
        return 1
    return found if isinstance(found, int) else 1


def _way(name: str) -> Transpose:
    from PIL.Image import Transpose

    return Transpose[name]
