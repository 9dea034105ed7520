"""Named records as tables: edited in place, pasted into, written to and read from CSV."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from wattwright.build.edits import Edit
from wattwright.build.text import Path, dotted
from wattwright.errors import Problem, UsageError
from wattwright.web.answers import (
    base_of,
    desk_of,
    download,
    here_of,
    page,
    sent_file,
    taste_of,
    wants_json,
    with_form,
)
from wattwright.web.desk import ClashError, Desk, NotSavedError, leaf_of, problems_by_path
from wattwright.web.leaves import leaf_at
from wattwright.web.limits import CSV_SIZE, TABLE_FIELDS
from wattwright.web.pages.forms import changed
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of
from wattwright.web.records import edit_of, table_at
from wattwright.web.spreadsheet import LARGEST, FromCsv, from_csv, to_csv

_CELL = "cell:"
_WAS = "was:"
_NOTHING: Mapping[str, str] = MappingProxyType({})
# What the forms for a new record ask, and what may be wrong with it.
_ADDING = dict.fromkeys(("name", "choice", "text", "way", "length", "speed", "problem"), "")


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
    path = leaf_of(request.path_params["path"])
    return table_page(request, desk, path, typed, problems, status=status)


def table_page(
    request: Request,
    desk: Desk,
    path: Path,
    typed: Mapping[str, str] = _NOTHING,
    problems: Mapping[str, str] = _NOTHING,
    adding: Mapping[str, str] = _NOTHING,
    status: int = 200,
) -> Response:
    """Show a table; ``adding`` is what was typed for a new record that could not be added."""
    view, base = desk.view(), base_of(desk)
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
        here=f"{base}/table/{dotted(path)}" if adding else here_of(request),
        table=found,
        adding={**_ADDING, **adding},
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
            dotted(each.path): f"somebody else changed this meanwhile; there now: {each.now_says}"
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
    """Read a CSV and write what it says; of one with strange columns, ask first."""
    desk = desk_of(request)
    path = leaf_of(request.path_params["path"])
    raw = str(form["known"]).encode("utf-8", "replace") if "known" in form else None
    if raw is None:
        _, raw = sent_file(form, "file", LARGEST)
    read = from_csv(written_of(desk.view(), "metric"), path, raw)
    if read.strange:
        return _csv_refused(request, desk, read, [])
    if not read.edits:
        raise UsageError("the CSV changes nothing: every cell holds what the build says already")
    why = f"{dotted(path)}: {len(read.edits)} values from a CSV"
    try:
        revision = desk.change(read.edits, name_of(request), why)
    except NotSavedError as error:
        return _csv_refused(request, desk, read, [_in_csv(read, x) for x in error.problems])
    return changed(request, {"back": f"{base_of(desk)}/table/{dotted(path)}"}, desk, revision)


csv_in = with_form(_csv_in, file="file", max_part_size=CSV_SIZE)


def _in_csv(read: FromCsv, problem: Problem) -> str:
    """Say what is wrong by row and column; the line of the build file is none the reader knows."""
    path = leaf_of(problem.path)
    place = read.places.get(path)
    # What is wrong with a whole record, or inside one cell, is said of the nearest cell.
    if place is None:
        near = (words for at, words in read.places.items() if at[: len(path)] == path)
        place = next(near, problem.path)
    got = f"; found {problem.got}" if problem.got else ""
    return f"{place}: {problem.what}{got}{f'. {problem.do}' if problem.do else ''}"


def _csv_refused(request: Request, desk: Desk, read: FromCsv, wrong: list[str]) -> Response:
    path = request.path_params["path"]
    if wants_json(request):
        said = [*read.strange, *wrong]
        return JSONResponse({"message": f"nothing was taken: {'; '.join(said)}"}, 422)
    return page(
        request,
        "csv_refused.html",
        "Nothing was taken from the CSV",
        desk,
        422,
        page_name="areas",
        path=path,
        strange=read.strange,
        known=read.known if read.strange and read.edits else "",
        count=len(read.edits),
        wrong=wrong,
        to=f"{base_of(desk)}/table/{path}",
    )
