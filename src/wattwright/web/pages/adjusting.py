"""The survey adjusted: what all readings together say, and putting it into the build."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.areas.mounts.adjusting import adjust_survey, edits
from wattwright.said_of_survey import sections
from wattwright.web.answers import base_of, desk_of, page, readable, taste_of, with_form
from wattwright.web.pages.forms import changed
from wattwright.web.person import name_of


def adjust(request: Request) -> Response:
    """Show what the readings say now; nothing is saved by looking."""
    desk = desk_of(request)
    made = adjust_survey(readable(desk.view()))
    return page(
        request,
        "adjust.html",
        "Survey, adjusted",
        desk,
        page_name="areas",
        told=list(sections(made, taste_of(request))),
        suspects=[each.observation.name for each in made.found.suspects],
    )


def _keep(request: Request, form: FormData) -> Response:
    """Put the result into the build, of the readings as they are now."""
    desk = desk_of(request)
    made = adjust_survey(readable(desk.view()))
    revision = desk.change(edits(made), name_of(request), "survey adjusted")
    del form
    return changed(request, {"back": f"{base_of(desk)}/area/mounts"}, desk, revision)


keep = with_form(_keep)
