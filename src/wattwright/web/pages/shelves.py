"""Several builds on one server: which there are, new ones, copies, zips; the file itself; tries."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from wattwright.assessment import compare
from wattwright.build.edits import ANY, Edit, quote, splice
from wattwright.build.reader import open_build
from wattwright.build.save import save
from wattwright.errors import UsageError, WattwrightError
from wattwright.journal.archive import pack, unpack
from wattwright.journal.starting import example_names, start
from wattwright.units import TASTES
from wattwright.web import answers
from wattwright.web.answers import (
    LOOKS,
    assessed,
    back_to,
    base_of,
    desk_of,
    download,
    page,
    see,
    shelf_of,
    tally,
    taste_of,
    with_form,
)
from wattwright.web.clash import clashes, difference
from wattwright.web.desk import Desk, NotSavedError
from wattwright.web.limits import FILE_SIZE
from wattwright.web.pages.forms import changed
from wattwright.web.person import name_of
from wattwright.web.shelf import TRIED, Shelf

_WORKING = "being worked out"
_YEAR = 365 * 24 * 3600
# So many lines are shown before and after one where something is wrong.
_AROUND = 2


def builds(request: Request) -> Response:
    """List the builds: their names at once, and their counts where these are there or asked for."""
    shelf = shelf_of(request)
    counted = bool(request.query_params.get("counts"))
    found = [_build(shelf, name, counted) for name in shelf.names]
    answer = page(
        request,
        "builds.html",
        "Builds" if found else "The first build",
        builds=found,
        uncounted=any(not each["tally"] and not each["words"] for each in found),
        home=shelf.home is not None,
        examples=example_names(),
    )
    if counted and any(each["words"] == _WORKING for each in found):
        answer.headers["refresh"] = "2"
    return answer


def _build(shelf: Shelf, name: str, counted: bool) -> dict[str, Any]:
    """Say how a build stands; one that cannot be opened keeps nobody from the others."""
    told: dict[str, Any] = {"name": name, "to": f"/b/{name}/", "tally": (), "words": ""}
    told["title"] = shelf.title(name)
    desk = shelf.opened(name)
    if desk is None and not counted:
        return told
    try:
        view = (desk or shelf.desk(name)).view()
    except WattwrightError as error:
        return {**told, "words": str(error)}
    if view.opened is None:
        return {**told, "words": "the file cannot be read"}
    if counted:
        view.within(answers.SHORT)
    if view.so_far:
        return {**told, "tally": tally(view.so_far)}
    return {**told, "words": _WORKING if view.begun and not view.stopped else ""}


def _new_build(request: Request, form: FormData) -> Response:
    """Make a build: empty, like an example, or a copy of one that is here."""
    shelf = shelf_of(request)
    folder = shelf.free_folder(str(form.get("name", "")).strip())
    like, _, name = str(form.get("like", "")).partition(":")
    if like == "build":
        copy = io.BytesIO()
        pack(shelf.folder(name), copy, with_journal=False)
        copy.seek(0)
        unpack(copy, folder)
    else:
        start(folder, name or None)
    _called(folder)
    return see(f"/b/{shelf.add(folder)}/")


new_build = with_form(_new_build)


def _called(folder: Path) -> None:
    """Call a new build by the name of its folder, so that two can be told apart in the list."""
    opened = open_build(folder)
    name = folder.name.replace("_", " ").replace("-", " ")
    edit = Edit(("build", "name"), quote(name[:1].upper() + name[1:]), ANY)
    save(folder, splice(opened.source, [edit]), opened.source.digest)


def _import_build(request: Request, form: FormData) -> Response:
    """Bring a build in from a zip."""
    shelf = shelf_of(request)
    folder = shelf.free_folder(str(form.get("name", "")).strip())
    sent = form.get("file")
    if not isinstance(sent, UploadFile):
        raise UsageError("choose a zip first")
    unpack(sent.file, folder, plain=True)
    return see(f"/b/{shelf.add(folder)}/")


import_build = with_form(_import_build, file="file")


def export_build(request: Request) -> Response:
    """Answer with the whole build, journal included, as a zip."""
    desk = desk_of(request)
    out = io.BytesIO()
    pack(desk.home, out, with_journal=True)
    return download(out.getvalue(), "application/zip", f"{desk.name}.zip")


# --------------------------------------------------------------------------------- side copies


async def begin_try(request: Request) -> Response:
    """Begin, or go on, trying something on a side copy."""
    desk = desk_of(request)
    side = await run_in_threadpool(shelf_of(request).begin_try, desk.name)
    return see(f"{base_of(side)}/")


def _own(request: Request) -> tuple[Desk, Desk]:
    """Return a side copy and the build that it is of."""
    side = desk_of(request)
    if not side.name.endswith(TRIED):
        raise UsageError("this is the build itself, not a side copy")
    return side, shelf_of(request).desk(side.name.removesuffix(TRIED))


def compare_try(request: Request) -> Response:
    """Compare a side copy with the build."""
    side, own = _own(request)
    here, there = side.view(), own.view()
    changes = None
    if here.assessment is not None and there.assessment is not None:
        changes = compare(assessed(there), assessed(here), taste_of(request))
    start_of = side.at(1).source
    edits = difference(start_of, here.source) if start_of and here.source else ()
    return page(
        request,
        "compare.html",
        "What the side copy changes",
        side,
        changes=changes,
        edits=edits,
        clashes=clashes(there.source, edits) if there.source else (),
    )


async def keep_try(request: Request) -> Response:
    """Make the changes of a side copy in the build itself."""
    return await run_in_threadpool(_keep_try, request)


def _keep_try(request: Request) -> Response:
    side, own = _own(request)
    first, here = side.at(1), side.view()
    if first.source is None or here.source is None:
        raise UsageError("a side copy that cannot be read cannot be kept; mend it first")
    to = {"back": f"{base_of(own)}/"}
    there = own.view()
    if here.text == first.text:
        raise UsageError("nothing was changed on the side copy; go on trying, or throw it away")
    if there.text == first.text:
        # Nobody changed the build meanwhile: the text is kept as it was written, comments too.
        revision = own.save(here.text, name_of(request), "kept what was tried", there)
    else:
        edits = difference(first.source, here.source)
        if not edits:
            raise UsageError("the side copy differs from the build in nothing; throw it away")
        revision = own.change(edits, name_of(request), "kept what was tried")
    shelf_of(request).end_try(own.name)
    return changed(request, to, own, revision)


async def drop_try(request: Request) -> Response:
    """Throw a side copy away."""
    _, own = _own(request)
    await run_in_threadpool(shelf_of(request).end_try, own.name)
    return see(f"{base_of(own)}/")


# ----------------------------------------------------------------------------- the file itself


def file(request: Request) -> Response:
    """Show the build file as it stands."""
    desk = desk_of(request)
    view = desk.view()
    return _file_page(request, desk, view.text, view.revision.digest, view.problems, False)


def _file_page(
    request: Request,
    desk: Desk,
    text: str,
    digest: str,
    problems: Any,
    refused: bool,
    stale: bool = False,
) -> Response:
    status = 409 if stale else 422 if refused else 200
    return page(
        request,
        "file.html",
        "The file itself",
        desk,
        status,
        text=text,
        digest=digest,
        problems=problems,
        excerpts=list(_excerpts(text, {each.line for each in problems if each.line})),
        refused=refused,
        stale=stale,
    )


def _excerpts(text: str, wrong: set[int]) -> Iterator[list[tuple[int, str, bool]]]:
    """Give the lines around those where something is wrong, with their numbers."""
    lines = text.splitlines() or [""]
    # What is wrong at the end of a file may be said of the line after its last one.
    wrong = {min(number, len(lines)) for number in wrong}
    near = (range(number - _AROUND, number + _AROUND + 1) for number in wrong)
    shown = sorted({n for each in near for n in each if 1 <= n <= len(lines)})
    run: list[tuple[int, str, bool]] = []
    for number in shown:
        if run and run[-1][0] != number - 1:
            yield run
            run = []
        run.append((number, lines[number - 1], number in wrong))
    if run:
        yield run


def _save_file(request: Request, form: FormData) -> Response:
    """Write the whole file."""
    desk = desk_of(request)
    view = desk.view()
    text = str(form.get("text", "")).replace("\r\n", "\n")
    if "\r\n" in view.text:
        text = text.replace("\n", "\r\n")
    if text == view.text:
        return see(f"{base_of(desk)}/file")
    if str(form.get("digest", "")) != view.revision.digest:
        return _file_page(request, desk, text, view.revision.digest, (), False, stale=True)
    why = str(form.get("why", "")).strip() or "the file itself was edited"
    try:
        revision = desk.save(text, name_of(request), why, view)
    except NotSavedError as error:
        return _file_page(request, desk, text, view.revision.digest, error.problems, True)
    return changed(request, {"back": f"{base_of(desk)}/file"}, desk, revision)


save_file = with_form(_save_file, max_part_size=FILE_SIZE)


# --------------------------------------------------------------------------------------- look


def look(request: Request) -> Response:
    """Ask for look and units."""
    return page(request, "look.html", "Look and units", back=back_to(request.query_params, "/"))


def _set_look(_: Request, form: FormData) -> Response:
    """Keep look and units in this browser."""
    answer = see(back_to(form, "/"))
    for key, allowed in (("look", LOOKS), ("units", TASTES)):
        wanted = str(form.get(key, ""))
        if wanted in allowed:
            answer.set_cookie(key, wanted, max_age=_YEAR, samesite="strict", httponly=True)
    return answer


set_look = with_form(_set_look)
