"""The examples assessed once, and what is read back out of a printed page."""

from __future__ import annotations

import io
import re
from functools import cache, cached_property
from pathlib import Path

import pypdf

from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened, open_build
from wattwright.pages import PageAbout

EXAMPLES = Path(__file__).parents[1] / "examples"
ABOUT = PageAbout(12, "2026-03-14", "http://192.0.2.7:8437/b/pickup/")


@cache
def example(name: str) -> tuple[Opened, Assessment]:
    opened = open_build(EXAMPLES / name)
    return opened, assess(opened)


class Read:
    """A printed page, read back."""

    def __init__(self, content: bytes) -> None:
        self.reader = pypdf.PdfReader(io.BytesIO(content))

    @property
    def sizes(self) -> set[tuple[float, float]]:
        """Sizes of the pages in mm."""
        boxes = [page.mediabox for page in self.reader.pages]
        return {(round(b.width * 25.4 / 72, 2), round(b.height * 25.4 / 72, 2)) for b in boxes}

    @cached_property
    def pages(self) -> list[str]:
        """Words of each page, with all white space and line breaks as one space."""
        return [squeezed(page.extract_text()) for page in self.reader.pages]

    @property
    def text(self) -> str:
        return " ".join(self.pages)

    @property
    def bookmarks(self) -> list[str]:
        """Titles of the bookmarks of the first level."""
        return [each.title for each in self.reader.outline if not isinstance(each, list)]

    def fonts(self) -> dict[str, bool]:
        """Names of all fonts used, with whether each is embedded."""
        found: dict[str, bool] = {}
        references = {
            reference
            for page in self.reader.pages
            for reference in (page["/Resources"].get("/Font") or {}).values()
        }
        for reference in references:
            font = reference.get_object()
            inner = font.get("/DescendantFonts")
            held = inner[0].get_object() if inner else font
            descriptor = held.get("/FontDescriptor", {})
            found[font["/BaseFont"]] = any(key.startswith("/FontFile") for key in descriptor)
        return found


def squeezed(text: str) -> str:
    return re.sub(r"\s+", " ", text)
