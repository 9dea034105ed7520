"""What every page shares: the frame around it, the person who asks, and the form of an answer."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable, Mapping
from functools import cache
from typing import Any
from urllib.parse import quote, urlsplit

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from wattwright.areas import AREAS
from wattwright.assessment import WORST_FIRST, Assessment, sorted_out
from wattwright.bench.instruments import Meter, meters
from wattwright.build.reader import NAME, Opened
from wattwright.build.text import dotted
from wattwright.errors import (
    BuildError,
    ConflictError,
    JournalError,
    StoppedError,
    UsageError,
)
from wattwright.findings import Verdict
from wattwright.journal.keeper import Keeper
from wattwright.journal.local_time import local, local_day, zone
from wattwright.journal.revisions import happened
from wattwright.system import BusyError
from wattwright.units import TASTES, Taste
from wattwright.web.clash import as_shown
from wattwright.web.desk import ClashError, Desk, NotSavedError, leaf_of, problems_by_path
from wattwright.web.leaves import address_of
from wattwright.web.pages.written import written_of
from wattwright.web.person import is_device, is_host, may_change, may_look, name_of, token_for
from wattwright.web.safety import RefusedError, TroubleOut
from wattwright.web.shelf import TRIED, NoBuildError, Shelf
from wattwright.web.static_files import versioned
from wattwright.web.typed_leaf import ORIGINS
from wattwright.web.view import View

# How long a page waits for the assessment: one that only counts verdicts, one that shows it.
SHORT, LONG = 0.5, 4.0
NOT_NOW = 503
LOOKS = ("auto", "bright", "dark")
PAGES = (
    ("tonight", "", "Tonight"),
    ("areas", "areas", "Areas"),
    ("placement", "placement", "Placement"),
    ("sums", "sums", "Sums"),
    ("sheets", "sheets", "Sheets"),
    ("history", "history", "History"),
)
SIGNS = {"failing": "✕", "unknown": "?", "marginal": "!", "sound": "✓"}


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("wattwright.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["url"] = lambda text: quote(text, safe="@/.~-_")
    made.globals.update(SIGNS=SIGNS, ORIGINS=ORIGINS, NAME=NAME.pattern)
    made.globals.update(static=versioned, AREAS=AREAS, PAGES=PAGES)
    made.filters.update(local=local, local_day=local_day, as_shown=as_shown)
    made.globals.update(sorted_out=sorted_out, happened=happened, zone=zone)
    return made


def shelf_of(request: Request) -> Shelf:
    """Return the builds that are served."""
    shelf: Shelf = request.app.state.shelf
    return shelf


def desk_of(request: Request) -> Desk:
    """Return the build that a request is about. Raises UsageError where there is none."""
    return shelf_of(request).desk(request.path_params["build"])


def memory_of(request: Request) -> Keeper:
    """Return the journal that readings and photos go into: of a side copy, the build's own.

    What was measured or photographed while something was tried is true either way.
    """
    own = request.path_params["build"].removesuffix(TRIED)
    return shelf_of(request).desk(own).keeper


def taste_of(request: Request) -> Taste:
    """Return the units that the reader likes."""
    wanted = request.cookies.get("units", "metric")
    return next((taste for taste in TASTES if taste == wanted), "metric")


def look_of(request: Request) -> str:
    """Return the look that the reader chose."""
    wanted = request.cookies.get("look", "auto")
    return wanted if wanted in LOOKS else "auto"


def wants_json(request: Request) -> bool:
    """Say whether a script asks rather than a page."""
    return "application/json" in request.headers.get("accept", "")


def base_of(desk: Desk) -> str:
    """Return where the pages of a build begin."""
    return f"/b/{quote(desk.name, safe='~')}"


def page(
    request: Request,
    template: str,
    title: str,
    desk: Desk | None = None,
    status: int = 200,
    **more: Any,
) -> Response:
    """Fill a template in."""
    view = desk.view() if desk is not None else None
    if view is not None:
        view.within(SHORT)
    frame: dict[str, Any] = {
        "title": title,
        "path": request.url.path,
        "here": here_of(request),
        "look": look_of(request),
        "taste": taste_of(request),
        "token": token_for(request),
        "who": name_of(request),
        "may_change": may_change(request),
        "may_look": may_look(request),
        "is_host": is_host(request),
        "is_device": is_device(request),
        "started": shelf_of(request).started,
        "desk": desk,
        "base": base_of(desk) if desk is not None else "",
        "view": view,
        "tally": tally(view.so_far) if view is not None and view.so_far else (),
        "mending": _mending(view, taste_of(request)),
        "rippled": _rippled(request, desk),
    }
    text = _environment().get_template(template).render({**frame, **more})
    return HTMLResponse(text, status)


def when_worked_out(handler: Callable[[Request], Response]) -> Callable[[Request], Response]:
    """Show a page that needs the assessment when there is one, and until then that it is begun.

    It is seldom long: only the first one of a new release takes more than a blink.
    """

    def shown(request: Request) -> Response:
        desk = desk_of(request)
        view = desk.view()
        if view.within(LONG):
            return handler(request)
        if view.stopped:
            return page(request, "stopped.html", "Not worked out", desk, back=base_of(desk))
        answer = page(request, "working.html", "Being worked out", desk, 503, back=base_of(desk))
        answer.headers["refresh"] = "1"
        answer.headers["retry-after"] = "1"
        return answer

    return shown


def when_readable(handler: Callable[[Request], Response]) -> Callable[[Request], Response]:
    """Show a page of what is written; where the file is no TOML, say so instead of nothing."""

    def shown(request: Request) -> Response:
        desk = desk_of(request)
        if desk.view().source is None:
            return page(request, "unreadable.html", "Nothing can be shown", desk)
        return handler(request)

    return shown


def fragment(template: str, **context: Any) -> Markup:
    """Fill in a piece of a page."""
    return Markup(_environment().get_template(template).render(context))  # noqa: S704


def tally(assessment: Assessment) -> tuple[tuple[str, int], ...]:
    """Count the verdicts, worst first."""
    return tuple((verdict.value, assessment.count(verdict)) for verdict in WORST_FIRST)


def tally_of_area(assessment: Assessment, area: str) -> tuple[tuple[str, int], ...]:
    """Count the verdicts of one area, worst first."""
    found = [each for each in assessment.findings if each.check.id.partition(".")[0] == area]
    return tuple(
        (verdict.value, sum(each.verdict is verdict for each in found)) for verdict in Verdict
    )


def came_from(request: Request) -> str:
    """Return the page of ours that a request came from, else the first one."""
    before = urlsplit(request.headers.get("referer", ""))
    ours = before.netloc == request.headers.get("host", "") and before.path.startswith("/")
    query = f"?{before.query}" if before.query else ""
    return f"{before.path}{query}" if ours else "/"


def here_of(request: Request) -> str:
    """Return the page that is shown; where a form is answered, the one that it was sent from."""
    if request.method == "POST":
        return came_from(request)
    query = f"?{request.url.query}" if request.url.query else ""
    return f"{request.url.path}{query}"


def _mending(view: View | None, taste: Taste) -> dict[str, str]:
    """Say on which page each value stands that keeps a file from being read."""
    if view is None or view.source is None:
        return {}
    written = written_of(view, taste)
    pages = {p.path: address_of(written, leaf_of(p.path)) for p in view.problems if p.path}
    return {path: to for path, to in pages.items() if to is not None}


def _rippled(request: Request, desk: Desk | None) -> Any:
    number = request.query_params.get("ripple", "")
    if desk is None or not number.isdecimal() or len(number) > 9:
        return None
    try:
        return desk.ripple(int(number), taste_of(request))
    except UsageError:
        return None


def see(url: str) -> Response:
    """Send the browser on after a change."""
    return RedirectResponse(url, 303)


def download(content: bytes, kind: str, name: str) -> Response:
    """Answer with a file to keep; of its name what is no plain letter, digit or mark is replaced.

    A file that cannot be read may hold any names at all, and those are shown, too.
    """
    plain = re.sub(r"[^A-Za-z0-9._~-]+", "-", name)
    head = {"content-disposition": f'attachment; filename="{plain}"'}
    return Response(content, media_type=kind, headers=head)


def back_to(form: Mapping[str, Any], fallback: str) -> str:
    """Return where a form was sent from, as long as that is one of our own pages."""
    wanted = str(form.get("back", ""))
    ours = wanted.startswith("/") and not wanted.startswith("//") and "\\" not in wanted
    plain = all(sign.isprintable() for sign in wanted)
    return wanted if ours and plain else fallback


def told(status: int, message: str, problems: Mapping[str, str] | None = None) -> Response:
    """Tell a program why nothing was done."""
    out = TroubleOut(message=message, problems=dict(problems or {}))
    return Response(out.model_dump_json(), status, media_type="application/json")


def status_of(error: Exception, method: str) -> int:
    """Return the status of an answer: who asked is told of their own errors alone."""
    if isinstance(error, JournalError | BusyError | StoppedError):
        # The disk, or another program: the same may well be possible in a moment.
        return NOT_NOW
    if isinstance(error, ClashError | ConflictError):
        return 409
    if isinstance(error, NoBuildError):
        return 404
    return 404 if isinstance(error, UsageError) and method == "GET" else 422


def reason_of(error: Exception) -> str:
    """Say for a person why something was not saved, without the places in the file."""
    if isinstance(error, NotSavedError):
        said = [each.what + (f". {each.do}" if each.do else "") for each in error.problems]
        return "; ".join(dict.fromkeys(said))
    return str(error)


def problems_of(error: Exception) -> dict[str, str]:
    """Say what is wrong at each path, or what stands there now, where an error knows that."""
    if isinstance(error, NotSavedError | BuildError):
        return dict(problems_by_path(error.problems))
    if isinstance(error, ClashError):
        return {dotted(each.path): f"there now: {each.now}" for each in error.clashes}
    return {}


def with_form(
    work: Callable[[Request, FormData], Response], file: str = "", **limits: int
) -> Callable[[Request], Awaitable[Response]]:
    """Make a handler that reads a form, works on another thread, and closes what was sent.

    ``file`` names the one field that may bring a file.
    """

    async def handler(request: Request) -> Response:
        async with request.form(**limits) as form:
            for name, sent in form.multi_items():
                if isinstance(sent, UploadFile) and name != file:
                    raise RefusedError(400, f"the form sends a file as {name[:40]!r}; send words")
            return await run_in_threadpool(work, request, form)

    return handler


def sent_file(form: FormData, name: str, most: int) -> tuple[str, bytes]:
    """Return name and content of a file that was sent. Raises UsageError where none was."""
    sent = form.get(name)
    if not isinstance(sent, UploadFile) or not sent.filename:
        raise UsageError("choose a file first")
    content = sent.file.read(most + 1)
    if len(content) > most:
        raise UsageError(f"{sent.filename[-60:]!r} is larger than {most // 1024} kB")
    return sent.filename, content


def every_meter(view: View) -> tuple[Meter, ...]:
    """List the instruments of a build and the usual ones; these alone while it cannot be read."""
    return meters(view.opened.build.instrument if view.opened is not None else {})


def readable(view: View) -> Opened:
    """Return a build as it was read. Raises BuildError while it cannot be."""
    if view.opened is None:
        raise BuildError(*view.problems)
    return view.opened


def assessed(view: View) -> Assessment:
    """Return what is said of a build. Raises BuildError while it cannot be read."""
    if view.assessment is None:
        raise BuildError(*view.problems)
    return view.assessment
