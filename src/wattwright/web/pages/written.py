"""From a view of a build to what its forms show."""

from __future__ import annotations

from wattwright.units import Taste
from wattwright.web.clash import leaves
from wattwright.web.leaves import Written
from wattwright.web.view import View


def written_of(view: View, taste: Taste) -> Written:
    """Gather what a build file says and what was made of it."""
    if view.source is None:
        return Written({}, {}, None, taste)
    build = view.opened.build if view.opened is not None else None
    return Written(view.source.data, leaves(view.source), build, taste)
