"""Named records as tables: edited in place, pasted into, written to and read from CSV."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from wattwright.build.edits import Edit
from wattwright.build.text import dotted
from wattwright.errors import UsageError
from wattwright.web.answers import (
    base_of,
    desk_of,
    download,
    page,
    sent_file,
    taste_of,
    wants_json,
    with_form,
)
from wattwright.web.desk import ClashError, Desk, NotSavedError, leaf_of, problems_by_path
from wattwright.web.leaves import leaf_at
from wattwright.web.limits import TABLE_FIELDS
from wattwright.web.pages.forms import changed
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of
from wattwright.web.records import LARGEST, edit_of, from_csv, table_at, to_csv

_CELL = "cell:"
_WAS = "was:"


def table(request: Request) -> Response:
    """Show named records as a table."""
    desk = desk_of(request)
    return _table_page(request, desk, {}, {}, 200)


def _table_page(
    request: Request,
    desk: Desk,
    typed: dict[str, str],
    problems: dict[str, str],
    status: int,
) -> Response:
    view, base = desk.view(), base_of(desk)
    path = leaf_of(request.path_params["path"])
    only = [each for each in request.query_params.get("only", "").split(",") if each]
    every = bool(request.query_params.get("all"))
    standing = {**problems_by_path(view.problems), **problems}
    found = table_at(written_of(view, taste_of(request)), path, only, every, standing)
    if typed:
        found = found.with_typed(typed)
    above = path[:-1]
    return page(
        request,
        "table.html",
        found.label[:1].upper() + found.label[1:],
        desk,
        status,
        page_name="areas",
        table=found,
        all=every,
        up=f"{base}/in/{dotted(above)}" if above else f"{base}/areas",
        up_words=" ".join(above).replace("_", " ") if above else "everything that can be written",
    )


def _save_table(request: Request, form: FormData) -> Response:
    """Write all cells that were changed, as one revision."""
    desk = desk_of(request)
    edits = _edits(request, desk, form)
    if not edits:
        if wants_json(request):
            return JSONResponse({"message": "as it was"})
        return _table_page(request, desk, {}, {}, 200)
    typed = {
        name.removeprefix(_CELL): str(text) for name, text in form.items() if name.startswith(_CELL)
    }
    try:
        revision = desk.change(edits, name_of(request))
    except NotSavedError as error:
        problems = dict(problems_by_path(error.problems))
        return _not_saved(request, desk, typed, problems, 422, {})
    except ClashError as error:
        said = {
            dotted(each.path): f"somebody else changed this meanwhile; there now: {each.now}"
            for each in error.clashes
        }
        now = {dotted(each.path): each.now for each in error.clashes}
        return _not_saved(request, desk, typed, said, 409, now)
    return changed(request, form, desk, revision)


save_table = with_form(_save_table, max_fields=TABLE_FIELDS)


def _not_saved(
    request: Request,
    desk: Desk,
    typed: dict[str, str],
    problems: dict[str, str],
    status: int,
    now: dict[str, str | None],
) -> Response:
    if wants_json(request):
        body = {"message": "nothing was saved", "problems": problems, "now": now}
        return JSONResponse(body, status)
    return _table_page(request, desk, typed, problems, status)


def _edits(request: Request, desk: Desk, form: FormData) -> list[Edit]:
    written = written_of(desk.view(), taste_of(request))
    edits = []
    for name, text in form.items():
        if not name.startswith(_CELL):
            continue
        path = leaf_of(name.removeprefix(_CELL))
        leaf = leaf_at(written, path)
        was = str(form.get(_WAS + dotted(path), "")) or None
        edit = edit_of(leaf, str(text), was)
        # A cell that was not touched says what stood there when the page was made.
        if edit is not None and edit.new != was:
            edits.append(edit)
    return edits


def csv_out(request: Request) -> Response:
    """Answer with a table as CSV."""
    desk = desk_of(request)
    name = request.path_params["path"].removesuffix(".csv")
    found = table_at(written_of(desk.view(), "metric"), leaf_of(name), every=True)
    return download(to_csv(found).encode("utf-8-sig"), "text/csv", f"{desk.name}-{name}.csv")


def _csv_in(request: Request, form: FormData) -> Response:
    """Read a CSV and write what it says."""
    desk = desk_of(request)
    path = leaf_of(request.path_params["path"])
    _, raw = sent_file(form, "file", LARGEST)
    edits = from_csv(written_of(desk.view(), "metric"), path, raw)
    if not edits:
        raise UsageError("the CSV changes nothing: every cell holds what the build says already")
    why = f"{dotted(path)}: {len(edits)} values from a CSV"
    revision = desk.change(edits, name_of(request), why)
    return changed(request, form, desk, revision)


csv_in = with_form(_csv_in, file="file")
