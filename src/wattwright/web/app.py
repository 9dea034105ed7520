"""The application: which address shows what. A new page is one line in ``_IN_A_BUILD``."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Mount, Route

from wattwright.errors import WattwrightError
from wattwright.web import api, events, static_files
from wattwright.web.answers import (
    NOT_NOW,
    base_of,
    came_from,
    page,
    problems_of,
    see,
    shelf_of,
    status_of,
    told,
    wants_json,
    when_readable,
    when_worked_out,
)
from wattwright.web.pages import (
    adjusting,
    building,
    forms,
    letting_in,
    memory,
    named,
    printing,
    quick,
    readings,
    reference,
    sheets,
    shelves,
    tables,
    working,
)
from wattwright.web.safety import RefusedError
from wattwright.web.shelf import Shelf

Handler = Callable[[Request], Any]

_GET, _POST = ["GET"], ["POST"]

# Address below /b/BUILD, handler, method.
_IN_A_BUILD: tuple[tuple[str, Handler, list[str]], ...] = (
    ("/", when_worked_out(building.tonight), _GET),
    ("/areas", when_readable(when_worked_out(building.areas)), _GET),
    ("/area/{area}", when_readable(when_worked_out(building.area)), _GET),
    ("/said", when_worked_out(building.saids), _GET),
    ("/said/{address:path}", when_worked_out(working.said), _GET),
    ("/use/{use}", when_worked_out(building.use), _GET),
    ("/stop", working.stop, _POST),
    ("/work", working.work_out, _POST),
    ("/placement", when_readable(when_worked_out(building.placement)), _GET),
    ("/drawing/{name:path}", building.drawing_file, _GET),
    ("/field/{path}", when_readable(forms.field), _GET),
    ("/in/{path}", when_readable(forms.record), _GET),
    ("/set", forms.set_one, _POST),
    ("/undo", forms.step, _POST),
    ("/rename", named.rename_one, _POST),
    ("/delete", named.delete_one, _POST),
    ("/add", named.add_one, _POST),
    ("/files", forms.put_file, _POST),
    ("/table/{path}", when_readable(tables.table), _GET),
    ("/table/{path}", tables.save_table, _POST),
    ("/csv/{path}", tables.csv_out, _GET),
    ("/csv/{path}", tables.csv_in, _POST),
    ("/sums", quick.all_sums, _GET),
    ("/sums/{name}", quick.one_sum, _GET),
    ("/history", memory.history, _GET),
    ("/history/{number}", memory.revision, _GET),
    ("/restore", memory.restore, _POST),
    ("/sign", memory.sign, _POST),
    ("/sheets", when_worked_out(sheets.all_sheets), _GET),
    ("/sheet/{sheet}", when_worked_out(sheets.one_sheet), _GET),
    ("/sheet/{sheet}/{line}", when_worked_out(sheets.one_line), _GET),
    ("/reading", sheets.keep, _POST),
    ("/reading/{id}", when_worked_out(readings.reading), _GET),
    ("/accept", readings.accept, _POST),
    ("/print/{name}", when_worked_out(printing.print_page), _GET),
    ("/adjust", when_readable(adjusting.adjust), _GET),
    ("/adjust", adjusting.keep, _POST),
    ("/photos", memory.add_photo, _POST),
    ("/photos/{id}", memory.photo, _GET),
    ("/export.zip", shelves.export_build, _GET),
    ("/try", shelves.begin_try, _POST),
    ("/compare", when_worked_out(shelves.compare_try), _GET),
    ("/keep", shelves.keep_try, _POST),
    ("/drop", shelves.drop_try, _POST),
    ("/file", shelves.file, _GET),
    ("/file", shelves.save_file, _POST),
    ("/events", events.events, _GET),
)
_BESIDE: tuple[tuple[str, Handler, list[str]], ...] = (
    ("/builds", shelves.builds, _GET),
    ("/builds/new", shelves.new_build, _POST),
    ("/builds/import", shelves.import_build, _POST),
    ("/sums", quick.all_sums, _GET),
    ("/sums/{name}", quick.one_sum, _GET),
    ("/reference", reference.reference, _GET),
    ("/reference/{which}", reference.reference, _GET),
    ("/look", shelves.look, _GET),
    ("/look", shelves.set_look, _POST),
    ("/static/{digest}/{name}", static_files.serve, _GET),
)


def _routes(table: tuple[tuple[str, Handler, list[str]], ...]) -> list[BaseRoute]:
    return [Route(path, handler, methods=methods) for path, handler, methods in table]


def made(shelf: Shelf) -> Starlette:
    """Make the application for some builds."""

    @asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        glancing = asyncio.create_task(events.glance(shelf))
        try:
            yield
        finally:
            glancing.cancel()
            with suppress(asyncio.CancelledError):
                await glancing
            shelf.close()

    app = Starlette(
        routes=[
            Route("/", first, methods=_GET),
            *_routes(_BESIDE),
            *letting_in.ROUTES,
            Mount("/api", routes=api.ROUTES),
            Mount("/b/{build}", routes=_routes(_IN_A_BUILD)),
        ],
        exception_handlers={
            RefusedError: _refused,
            WattwrightError: _trouble,
            HTTPException: _http,
        },
        lifespan=life,
    )
    app.state.shelf = shelf
    return app


def first(request: Request) -> Response:
    """Go to the build, or to the list where there are several."""
    shelf = shelf_of(request)
    if len(shelf.names) == 1:
        return see(f"{base_of(shelf.desk(shelf.names[0]))}/")
    return see("/builds")


def _trouble(request: Request, error: Exception) -> Response:
    """Say in words what a person can do something about."""
    status = status_of(error, request.method)
    if wants_json(request) or request.url.path.startswith("/api/"):
        answer = told(status, str(error), problems_of(error))
    else:
        title, back = "That did not work", came_from(request)
        answer = page(request, "trouble.html", title, status=status, message=str(error), back=back)
    if status == NOT_NOW:
        answer.headers["retry-after"] = "1"
    return answer


def _refused(_: Request, error: Exception) -> Response:
    """Leave it to the guard to say why a request is not served, with the status it has."""
    raise error


def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = {
        400: "what was sent cannot be read as a form, or one field of it is too long",
        404: "there is nothing at this address",
        405: "this address takes no such request",
    }
    message = words.get(status, "this cannot be answered")
    if wants_json(request) or request.url.path.startswith("/api/"):
        answer = told(status, message)
    else:
        answer = page(request, "trouble.html", "Not here", status=status, message=message, back="/")
    # They say which methods an address takes.
    answer.headers.update(getattr(error, "headers", None) or {})
    return answer
