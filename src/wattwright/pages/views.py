"""A drawing of the build on a page, the same as on the screen."""

from __future__ import annotations

from typing import Any

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.drawings import drawing
from wattwright.paper.svg import render
from wattwright.units import Taste


def view(name: str, opened: Opened, assessment: Assessment, taste: Taste) -> tuple[str, Any]:
    """Make the title of a view and what its page prints.

    The drawing brings no rules of style, which only a browser would understand: without them it
    is black on white.
    """
    made = drawing(name, opened, assessment, taste)
    return made.title, {"picture": render(made, in_page=True), "says": made.description}
