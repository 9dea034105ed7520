"""Uploaded pictures: upright, small, white where clear, and nothing in them but the picture.

What comes out is read by a walk over the markers of ITU-T T.81 (the JPEG standard), annex B,
written here, which knows nothing of the library that wrote the file. Orientations are those of
Exif 2.32, table 6: which corner of the scene the first row and column of the file show.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable, Iterator

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image as Pillow
from PIL import ImageCms

from wattwright.errors import ImageError
from wattwright.journal.images import LARGEST, LONGER_SIDE, MOST_POINTS, Image, cleaned

RED, GREEN, BLUE, YELLOW, WHITE = (220, 30, 30), (30, 160, 40), (30, 40, 210), (230, 220, 40), 255
Picture = Pillow.Image

# A complaint about EXIF that is damaged goes to the log and refuses nothing.
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")


def scene(width: int = 60, height: int = 40) -> Picture:
    """Red top left, green top right, blue bottom left, yellow bottom right."""
    picture = Pillow.new("RGB", (width, height), YELLOW)
    half = (width // 2, height // 2)
    picture.paste(RED, (0, 0, *half))
    picture.paste(GREEN, (half[0], 0, width, half[1]))
    picture.paste(BLUE, (0, half[1], half[0], height))
    return picture


def file_of(picture: Picture, kind: str = "JPEG", **more: object) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **more)
    return out.getvalue()


def shown(image: Image) -> Picture:
    return Pillow.open(io.BytesIO(image.data)).convert("RGB")


def near(seen: object, meant: tuple[int, int, int]) -> bool:
    return all(abs(a - b) < 30 for a, b in zip(seen, meant, strict=True))


def corners(picture: Picture) -> list[str]:
    """Names of the colours top left, top right, bottom left, bottom right."""
    w, h = picture.size
    names = {"red": RED, "green": GREEN, "blue": BLUE, "yellow": YELLOW}
    places = (
        (w // 4, h // 4),
        (3 * w // 4, h // 4),
        (w // 4, 3 * h // 4),
        (3 * w // 4, 3 * h // 4),
    )
    return [
        next(name for name, colour in names.items() if near(picture.getpixel(place), colour))
        for place in places
    ]


def segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Every marker of a JPEG with what follows it; entropy-coded bytes are passed over."""
    assert data[:2] == b"\xff\xd8"
    at = 2
    while True:
        assert data[at] == 0xFF
        marker = data[at + 1]
        if marker == 0xD9:
            assert at + 2 == len(data), "something follows the end of the picture"
            return
        (length,) = struct.unpack(">H", data[at + 2 : at + 4])
        yield marker, data[at + 4 : at + 2 + length]
        at += 2 + length
        if marker == 0xDA:
            while data[at] != 0xFF or data[at + 1] == 0 or 0xD0 <= data[at + 1] <= 0xD7:
                at += 1


def assert_plain(image: Image) -> None:
    """Only what draws the picture is left: tables, frame, scan, and the bare JFIF head."""
    found = list(segments(image.data))
    markers = {marker for marker, _ in found}
    assert markers <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    for marker, body in found:
        if marker == 0xE0:
            # JFIF 1.02: the last two of these bytes are the size of a thumbnail.
            assert (body[:5], len(body), body[-2:]) == (b"JFIF\0", 14, b"\0\0")
        if marker == 0xC0:
            assert struct.unpack(">HH", body[1:5]) == (image.height, image.width)
    assert image.media_type == "image/jpeg"


def exif(orientation: int = 1, *, place: bool = False) -> bytes:
    """EXIF made by hand: an orientation, and where the picture was taken."""
    entries = [struct.pack("<HHI4s", 0x0112, 3, 1, struct.pack("<HH", orientation, 0))]
    after = b""
    if place:
        start = 8 + 2 + 2 * 12 + 4
        entries.append(struct.pack("<HHII", 0x8825, 4, 1, start))
        gps = struct.pack("<HHI4s", 1, 2, 2, b"N\0\0\0")
        degrees = struct.pack("<HHII", 2, 5, 3, start + 2 + 2 * 12 + 4)
        after = struct.pack("<H", 2) + gps + degrees + bytes(4)
        after += struct.pack("<6I", 48, 1, 12, 1, 3456, 100)
    ifd = struct.pack("<H", len(entries)) + b"".join(entries) + bytes(4)
    return b"Exif\0\0II*\0" + struct.pack("<I", 8) + ifd + after


def with_segment(jpeg: bytes, marker: int, body: bytes) -> bytes:
    return jpeg[:2] + struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body + jpeg[2:]


# ------------------------------------------------------------------------------ what is taken


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_each_kind_becomes_a_jpeg_of_the_same_scene(kind: str) -> None:
    image = cleaned(file_of(scene(), kind))
    assert (image.width, image.height) == (60, 40)
    assert corners(shown(image)) == ["red", "green", "blue", "yellow"]
    assert_plain(image)


@pytest.mark.parametrize("mode", ["1", "L", "P", "CMYK", "I;16", "LA", "RGBA"])
def test_every_way_of_holding_colour_ends_in_three(mode: str) -> None:
    grey = Pillow.new("L", (30, 20), 128)
    picture = Pillow.new("I;16", (30, 20), 128 * 257) if mode == "I;16" else grey.convert(mode)
    image = cleaned(file_of(picture, "JPEG" if mode == "CMYK" else "PNG"))
    assert shown(image).size == (30, 20)
    if mode != "1":
        assert near(shown(image).getpixel((10, 10)), (128, 128, 128))
    assert_plain(image)


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_what_one_could_see_through_becomes_white(kind: str) -> None:
    picture = scene().convert("RGBA")
    picture.paste((0, 0, 0, 0), (0, 0, 30, 20))
    image = cleaned(file_of(picture, kind, lossless=True))
    assert near(shown(image).getpixel((10, 10)), (255, 255, 255))
    assert near(shown(image).getpixel((50, 10)), GREEN)


def test_a_palette_with_one_clear_colour_becomes_white_there() -> None:
    picture = Pillow.new("P", (30, 20), 1)
    picture.putpalette([0, 0, 0, *BLUE])
    picture.paste(0, (0, 0, 15, 20))
    image = cleaned(file_of(picture, "PNG", transparency=0))
    assert near(shown(image).getpixel((5, 10)), (255, 255, 255))
    assert near(shown(image).getpixel((25, 10)), BLUE)


@pytest.mark.parametrize(
    ("width", "height", "meant"),
    [
        (4000, 3000, (2048, 1536)),
        (1500, 6000, (512, 2048)),
        (2048, 100, (2048, 100)),
        (20_000, 1, (2048, 1)),
        (1, 1, (1, 1)),
    ],
)
def test_the_longer_side_is_bounded_and_nothing_is_enlarged(
    width: int, height: int, meant: tuple[int, int]
) -> None:
    for kind in ("JPEG", "PNG"):
        image = cleaned(file_of(Pillow.new("RGB", (width, height)), kind))
        assert (image.width, image.height) == meant
        assert max(meant) <= LONGER_SIDE


def test_a_picture_of_several_gives_the_first() -> None:
    other = Pillow.new("RGB", (60, 40), RED)
    for kind in ("MPO", "PNG", "WEBP"):
        image = cleaned(file_of(scene(), kind, save_all=True, append_images=[other]))
        assert corners(shown(image)) == ["red", "green", "blue", "yellow"]
        assert_plain(image)


# ------------------------------------------------------------------------------ upright

# Exif 2.32, table 6: the sides of the scene that the first row and the first column show.
SIDES = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def as_stored(upright: Picture, orientation: int) -> Picture:
    """Lay the points out, one by one, as a camera does that states this orientation."""
    w, h = upright.size
    row, column = SIDES[orientation]
    turned = row in ("left", "right")
    stored = Pillow.new("RGB", (h, w) if turned else (w, h))
    for y in range(stored.height):
        for x in range(stored.width):
            along = {row: y, column: x}
            left = along["left"] if "left" in along else w - 1 - along["right"]
            top = along["top"] if "top" in along else h - 1 - along["bottom"]
            stored.putpixel((x, y), upright.getpixel((left, top)))
    return stored


@pytest.mark.parametrize("orientation", SIDES)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_every_orientation_ends_upright(kind: str, orientation: int) -> None:
    stored = as_stored(scene(), orientation)
    image = cleaned(file_of(stored, kind, exif=exif(orientation)))
    assert (image.width, image.height) == (60, 40)
    assert corners(shown(image)) == ["red", "green", "blue", "yellow"]
    assert_plain(image)


@pytest.mark.parametrize("orientation", [0, 9, 65535])
def test_an_orientation_that_is_none_turns_nothing(orientation: int) -> None:
    image = cleaned(file_of(scene(), exif=exif(orientation)))
    assert corners(shown(image)) == ["red", "green", "blue", "yellow"]


@pytest.mark.parametrize("cut", [8, 15, 20, 26])
def test_damaged_exif_turns_nothing_and_refuses_nothing(cut: int) -> None:
    image = cleaned(with_segment(file_of(scene()), 0xE1, exif(6)[:cut]))
    assert corners(shown(image)) == ["red", "green", "blue", "yellow"]
    assert_plain(image)


# ------------------------------------------------------------------------------ nothing told


def test_the_place_and_every_other_word_is_gone() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    told = file_of(scene(), exif=exif(1, place=True), icc_profile=profile, comment=b"my garage")
    told = with_segment(told, 0xE1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>home</x:xmpmeta>")
    told = with_segment(told, 0xED, b"Photoshop 3.0\0" + b"8BIM" + b"caption")
    # The test can fail: an independent reader sees the place in what goes in.
    assert {0xE1, 0xE2, 0xED, 0xFE} <= {marker for marker, _ in segments(told)}
    gps = Pillow.open(io.BytesIO(told)).getexif().get_ifd(0x8825)
    assert gps[2] == (48.0, 12.0, 34.56)
    image = cleaned(told)
    assert_plain(image)
    assert not Pillow.open(io.BytesIO(image.data)).getexif()
    for word in (b"garage", b"home", b"caption", b"Exif", b"ICC", b"adobe"):
        assert word not in image.data


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_nothing_is_told_out_of_the_other_kinds_either(kind: str) -> None:
    from PIL.PngImagePlugin import PngInfo

    words = PngInfo()
    words.add_text("Comment", "my garage")
    words.add_itxt("XML:com.adobe.xmp", "<x:xmpmeta>home</x:xmpmeta>")
    more = {"pnginfo": words} if kind == "PNG" else {"xmp": b"<x:xmpmeta>home</x:xmpmeta>"}
    told = file_of(scene(), kind, exif=exif(1, place=True), **more)
    assert b"home" in told
    image = cleaned(told)
    assert_plain(image)
    assert b"home" not in image.data
    assert b"garage" not in image.data


@pytest.mark.parametrize(
    "more", [b"<script>alert(1)</script>", b"PK\x03\x04" + bytes(200) + b"PK\x05\x06" + bytes(18)]
)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_what_hangs_on_behind_the_picture_falls_off(kind: str, more: bytes) -> None:
    image = cleaned(file_of(scene(), kind) + more)
    assert_plain(image)
    assert more not in image.data
    assert corners(shown(image)) == ["red", "green", "blue", "yellow"]


# ------------------------------------------------------------------------------ what is refused


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"hello",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"%PDF-1.7\n",
        b"\0\0\0\x18ftypheic",
        file_of(scene(), "GIF"),
        file_of(scene(), "TIFF"),
        file_of(scene(), "BMP"),
    ],
    ids=["nothing", "text", "svg", "pdf", "heic", "gif", "tiff", "bmp"],
)
def test_other_kinds_are_refused_by_what_they_are(raw: bytes) -> None:
    with pytest.raises(ImageError, match="JPEG, PNG and WebP"):
        cleaned(raw)


def test_too_many_bytes_are_refused_before_they_are_read() -> None:
    with pytest.raises(ImageError, match="too large"):
        cleaned(file_of(scene()) + bytes(LARGEST))


def png_stating(width: int, height: int) -> bytes:
    """A PNG of one deflated byte that says it has so many points."""

    def chunk(name: bytes, body: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + body))
        return struct.pack(">I", len(body)) + name + body + check

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    data = chunk(b"IDAT", zlib.compress(b"\0"))
    return b"\x89PNG\r\n\x1a\n" + head + data + chunk(b"IEND", b"")


def jpeg_stating(width: int, height: int) -> bytes:
    raw = file_of(scene())
    at = raw.index(b"\xff\xc0") + 5
    return raw[:at] + struct.pack(">HH", height, width) + raw[at + 4 :]


def webp_stating(width: int, height: int) -> bytes:
    size = struct.pack("<I", width - 1)[:3] + struct.pack("<I", height - 1)[:3]
    body = b"WEBPVP8X" + struct.pack("<II", 10, 0) + size
    return b"RIFF" + struct.pack("<I", len(body)) + body


@pytest.mark.parametrize(
    ("stating", "width", "height"),
    [
        (png_stating, 100_000, 100_000),
        (png_stating, MOST_POINTS // 1000 + 1, 1000),
        (jpeg_stating, 65_000, 65_000),
        (jpeg_stating, 7747, 7747),
        (webp_stating, 16_383, 16_383),
    ],
)
def test_too_many_points_are_refused_by_the_head_alone(
    stating: Callable[[int, int], bytes], width: int, height: int
) -> None:
    with pytest.raises(ImageError, match="60 million points"):
        cleaned(stating(width, height))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("share", [0.05, 0.3, 0.5, 0.8])
def test_half_a_file_is_refused(kind: str, share: float) -> None:
    noise = Pillow.effect_noise((200, 150), 80)
    raw = file_of(noise, kind)
    with pytest.raises(ImageError, match="damaged or not whole"):
        cleaned(raw[: int(len(raw) * share)])


SOUND = [
    file_of(scene(), exif=exif(6, place=True)),
    file_of(scene(), progressive=True, comment=b"words"),
    file_of(scene().convert("RGBA"), "PNG", exif=exif(3)),
    file_of(scene().convert("P"), "PNG", transparency=0),
    file_of(scene(), "WEBP", exif=exif(8, place=True)),
    file_of(scene().convert("RGBA"), "WEBP", lossless=True),
]


def image_or_refusal(raw: bytes) -> None:
    try:
        image = cleaned(raw)
    except ImageError:
        return
    assert_plain(image)
    assert shown(image).size == (image.width, image.height)


@given(
    st.sampled_from([b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\0\0\0\0WEBP"]), st.binary()
)
@settings(max_examples=300, deadline=None)
def test_any_bytes_are_an_image_or_a_refusal(head: bytes, rest: bytes) -> None:
    image_or_refusal(head + rest)


@given(
    st.sampled_from(SOUND),
    st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=6),
    st.floats(0, 1),
)
@example(SOUND[0], [(0.0, 255)], 1.0)
@settings(max_examples=600, deadline=None)
def test_a_file_with_bytes_changed_or_cut_off_is_an_image_or_a_refusal(
    raw: bytes, changes: list[tuple[float, int]], kept: float
) -> None:
    changed = bytearray(raw)
    for place, byte in changes:
        changed[int(place * (len(raw) - 1))] = byte
    image_or_refusal(bytes(changed[: max(1, int(kept * len(raw)))]))
    image_or_refusal(bytes(changed))
