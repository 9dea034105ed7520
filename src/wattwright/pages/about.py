"""What a page says of itself, and the paper it is printed on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, get_args

from wattwright.assessment import Assessment
from wattwright.paper.svg import fitted
from wattwright.paper.template_tiles import Paper
from wattwright.words import CERTIFIES_NOTHING

PaperName = Literal["a4", "letter"]
PAPERS: dict[str, Paper] = {
    "a4": Paper("A4", 210.0, 297.0),
    "letter": Paper("Letter", 215.9, 279.4),
}
PAPER_NAMES: tuple[str, ...] = get_args(PaperName)
_DIGITS = 12
# What the head of a page leaves for the name of the build, in mm, beside its title.
_NAME_ROOM = 105.0
_HEAD_SIZE = 3.2


@dataclass(frozen=True, slots=True)
class PageAbout:
    """What is known of the state that is printed.

    ``revision`` is its number in the journal, ``date`` the day of that revision or one that was
    given, as ``2026-03-14``; ``address`` is where the workbench shows the same, for a code that a
    phone reads. What is not known stays empty.
    """

    revision: int | None = None
    date: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Printed:
    """A finished file: its bytes, what they are, and what to call it."""

    content: bytes
    media_type: str
    file_name: str


def state_words(assessment: Assessment, about: PageAbout) -> str:
    """Say which state of the build a page shows."""
    pieces = [] if about.revision is None else [f"revision {about.revision}"]
    pieces.append(f"build {assessment.digest[:_DIGITS]}")
    if about.date:
        pieces.append(about.date)
    return " · ".join(pieces)


def frame(title: str, assessment: Assessment, paper: Paper, about: PageAbout) -> dict[str, Any]:
    """Collect what stands in the frame of every page."""
    return {
        "title": title,
        "build": assessment.name,
        "short": fitted(assessment.name, _NAME_ROOM, _HEAD_SIZE, bold=True),
        "state": state_words(assessment, about),
        "statement": CERTIFIES_NOTHING,
        "width": paper.width,
        "height": paper.height,
    }
