"""The same for programs: JSON under /api, described by /api/openapi.json.

Answers have the forms of the commands' ``--json``; changes are lists of edits that may say what
they replace.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from wattwright.assessment import find
from wattwright.build.as_typed import as_toml
from wattwright.build.catalogue import entries
from wattwright.build.edits import ANY, Edit
from wattwright.declared_out import field_out, findings_out
from wattwright.errors import UsageError
from wattwright.journal.revisions import Revision
from wattwright.output import CompareOut, FieldsOut, HistoryOut, Out, RevisionOut
from wattwright.units import TASTES, Taste
from wattwright.web.answers import assessed, desk_of, shelf_of, told
from wattwright.web.desk import Desk, leaf_of
from wattwright.web.leaves import entry_at
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of
from wattwright.web.safety import RefusedError
from wattwright.written_out import change_out, check_out, explain_out, revision_out

_MOST_EDITS = 2_000
# Revisions in one answer, unless asked for more or fewer; and the highest number there may be.
LISTED, MOST_LISTED = 50, 500
MOST_REVISION = 999_999_999


class Change(BaseModel):
    """One value to change."""

    model_config = ConfigDict(extra="forbid")

    path: str = Field(min_length=1, max_length=400, examples=["donor.wheelbase"])
    text: str | None = Field(
        max_length=20_000, description="as a person types it; null deletes", examples=["2540 mm"]
    )
    was: str | None = Field(
        default=None,
        max_length=20_000,
        description="the value that is replaced, as TOML; left out: whatever it is",
    )


class Changes(BaseModel):
    """What to change, all of it or nothing."""

    model_config = ConfigDict(extra="forbid")

    edits: list[Change] = Field(min_length=1, max_length=_MOST_EDITS)
    why: str = Field(default="", max_length=1_000)


class BuildsOut(Out):
    """Names of the builds on this server."""

    builds: list[str]


class SavedOut(Out):
    """What a change did."""

    revision: RevisionOut
    ripple: CompareOut


def _json(out: Out, status: int = 200) -> Response:
    return Response(out.model_dump_json(), status, media_type="application/json")


def _taste(request: Request) -> Taste:
    wanted = request.query_params.get("units", "metric")
    found = next((taste for taste in TASTES if taste == wanted), None)
    if found is None:
        raise RefusedError(422, f"units are one of {', '.join(TASTES)}; {wanted[:40]!r} is none")
    return found


def builds(request: Request) -> Response:
    """List the builds."""
    return _json(BuildsOut(builds=list(shelf_of(request).names)))


def check(request: Request) -> Response:
    """Say everything that is said of a build."""
    view = desk_of(request).view()
    return _json(check_out(assessed(view), view.bundles, _taste(request)))


def explain(request: Request) -> Response:
    """Show the working behind one finding or figure."""
    assessment = assessed(desk_of(request).view())
    said = find(assessment, request.query_params.get("address", ""))
    return _json(explain_out(assessment, said, _taste(request)))


def history(request: Request) -> Response:
    """List revisions, newest first; the number of the last one leads to those before it."""
    desk = desk_of(request)
    desk.view()
    before = _whole(request, "before", None, MOST_REVISION)
    most = _whole(request, "most", LISTED, MOST_LISTED)
    found = desk.keeper.revisions(before, most or LISTED)
    return _json(HistoryOut(revisions=[revision_out(each) for each in found], difference=None))


def _whole(request: Request, name: str, otherwise: int | None, most: int) -> int | None:
    """Read a whole number from the address, from 1 to ``most``."""
    words = request.query_params.get(name)
    if words is None:
        return otherwise
    plain = words.isdecimal() and words.isascii() and len(words) <= len(str(most))
    if not plain or not 1 <= int(words) <= most:
        raise RefusedError(
            422, f"{name} is a whole number from 1 to {most}; {words[:40]!r} is none"
        )
    return int(words)


def fields(request: Request) -> Response:
    """List the fields that a build may have."""
    del request
    return _json(FieldsOut(fields=[field_out(entry) for entry in entries()]))


def findings(request: Request) -> Response:
    """List the findings and figures that may be stated."""
    del request
    return _json(findings_out())


async def edits(request: Request) -> Response:
    """Change values, all or none."""
    try:
        wanted = Changes.model_validate_json(await request.body())
    except ValidationError as error:
        problems = {
            ".".join(str(piece) for piece in fault["loc"]) or "body": fault["msg"]
            for fault in error.errors(include_url=False, include_context=False)
        }
        return told(422, "this is no list of changes", problems)
    return await run_in_threadpool(_edits, request, wanted)


def _edits(request: Request, wanted: Changes) -> Response:
    desk, taste = desk_of(request), _taste(request)
    written = written_of(desk.view(), "metric")
    made = []
    for each in wanted.edits:
        path = leaf_of(each.path)
        entry = entry_at(written, path)
        if entry is None and path[-1] != "origin":
            raise UsageError(f"there is no field {each.path}")
        new = None
        if each.text is not None and each.text != "":
            new = as_toml(entry.slot if entry else None, each.text)
        made.append(Edit(path, new, ANY if each.was is None else each.was))
    return _saved(desk, desk.change(made, name_of(request), wanted.why.strip()), taste)


def _saved(desk: Desk, revision: Revision, taste: Taste) -> Response:
    rippled = desk.ripple(revision.number, taste)
    name = desk.name
    changes = [change_out(each) for each in rippled.changes or ()]
    ripple = CompareOut(old=name, new=name, changes=changes)
    return _json(SavedOut(revision=revision_out(revision), ripple=ripple))


def undo(request: Request) -> Response:
    """Take the last change back."""
    desk, taste = desk_of(request), _taste(request)
    return _saved(desk, desk.step("undo", name_of(request)), taste)


def redo(request: Request) -> Response:
    """Make again what was taken back last."""
    desk, taste = desk_of(request), _taste(request)
    return _saved(desk, desk.step("redo", name_of(request)), taste)


def openapi(request: Request) -> Response:
    """Describe all of this."""
    from wattwright.web.api_description import described

    del request
    return JSONResponse(described())


_TABLE: tuple[tuple[str, str, Any], ...] = (
    ("GET", "/builds", builds),
    ("GET", "/fields", fields),
    ("GET", "/findings", findings),
    ("GET", "/builds/{build}/check", check),
    ("GET", "/builds/{build}/explain", explain),
    ("GET", "/builds/{build}/history", history),
    ("POST", "/builds/{build}/edits", edits),
    ("POST", "/builds/{build}/undo", undo),
    ("POST", "/builds/{build}/redo", redo),
    ("GET", "/openapi.json", openapi),
)
ROUTES: list[BaseRoute] = [Route(path, call, methods=[method]) for method, path, call in _TABLE]
