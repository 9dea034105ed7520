"""Pages on paper, as files to print: of the build as it is, with the address of a sheet on them."""

from __future__ import annotations

from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from wattwright.bench.sheets import is_sheet
from wattwright.errors import UsageError
from wattwright.pages import FORMATS, PageAbout, names, printed
from wattwright.web.answers import assessed, base_of, desk_of, download, readable, taste_of
from wattwright.web.desk import Desk
from wattwright.web.view import View


def print_page(request: Request) -> Response:
    """Answer with a page as PDF, a view as SVG too, and a template as SVG or DXF."""
    desk = desk_of(request)
    view = desk.view()
    opened = readable(view)
    name, kind = request.path_params["name"], request.query_params.get("format", "pdf")
    found = next((each for each in FORMATS if each == kind), None)
    if found is None:
        raise UsageError(f"there is no format {kind[:20]!r}; there are {', '.join(FORMATS)}")
    made = printed(
        name,
        opened,
        assessed(view),
        taste_of(request),
        request.query_params.get("paper", "a4"),
        _about(request, desk, view, name),
        found,
    )
    return download(made.content, made.media_type, made.file_name)


def _about(request: Request, desk: Desk, view: View, name: str) -> PageAbout:
    revision = view.revision
    address = ""
    if is_sheet(name):
        # The page that this very browser sees: on a phone it is the address in the network.
        root = f"{request.url.scheme}://{request.url.netloc}"
        address = f"{root}{base_of(desk)}/sheet/{quote(name)}?as={revision.number}"
    return PageAbout(revision.number, revision.at[:10], address)


def papers(view: View) -> list[tuple[str, str, bool]]:
    """List what can be printed: name, what it is, and whether it is a template."""
    if view.opened is None:
        return []
    listed = names(view.opened, assessed(view))
    return [(name, says, name.startswith("template@")) for name, says in listed.items()]
