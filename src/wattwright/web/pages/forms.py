"""Fields, records and the changes that their forms send."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from wattwright.assessment import Assessment
from wattwright.build.as_typed import as_toml
from wattwright.build.edits import Edit
from wattwright.build.fields import Sampled
from wattwright.build.sampled_files import LARGEST_ROUTE
from wattwright.build.text import Path, dotted
from wattwright.errors import UsageError
from wattwright.findings import Finding
from wattwright.journal.revisions import Revision, happened
from wattwright.kinds import COUNT, RATIO
from wattwright.units import Taste, examples
from wattwright.web.answers import (
    back_to,
    base_of,
    desk_of,
    every_meter,
    fragment,
    memory_of,
    page,
    see,
    sent_file,
    taste_of,
    wants_json,
    with_form,
)
from wattwright.web.clash import Clash
from wattwright.web.clash import written as as_written
from wattwright.web.desk import (
    ClashError,
    Desk,
    NotSavedError,
    leaf_of,
    problems_by_path,
)
from wattwright.web.leaves import (
    Group,
    Leaf,
    group_at,
    leaf_at,
    place_of,
)
from wattwright.web.pages.rows import grouped
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of, token_for
from wattwright.web.put import new_file
from wattwright.web.typed_leaf import Typed, taken_apart
from wattwright.web.view import View

# So many findings that rest on a field are listed.
_USED = 12


def field(request: Request) -> Response:
    """Show one field: its form, how to measure it, and what rests on it."""
    desk = desk_of(request)
    path = leaf_of(request.path_params["path"])
    written = written_of(desk.view(), taste_of(request))
    try:
        return _field_page(request, desk, leaf_at(written, path))
    except UsageError:
        # What is lacking may be a whole section, a rule, or records of which there are none yet.
        to = place_of(written, path)
        if to is None:
            raise
        return see(f"{base_of(desk)}/{to}")


def _field_page(
    request: Request,
    desk: Desk,
    leaf: Leaf,
    problem: str = "",
    clash: Clash | None = None,
    status: int = 200,
) -> Response:
    view, taste = desk.view(), taste_of(request)
    declared = leaf.slot.declared if leaf.slot else None
    standing = problems_by_path(view.problems).get(leaf.name, "")
    return page(
        request,
        "field.html",
        leaf.label[:1].upper() + leaf.label[1:],
        desk,
        status,
        page_name="areas",
        # Also where the answer to a form is shown, which has no page of its own.
        here=f"{base_of(desk)}/field/{leaf.name}",
        leaf=leaf,
        up=place_of(written_of(view, taste), leaf.path[:-1]) if len(leaf.path) > 1 else None,
        problem=problem or standing,
        clash=clash,
        units=", ".join(examples(leaf.quantity.kind)) if leaf.quantity else "",
        bare=leaf.quantity is not None and leaf.quantity.kind in (COUNT, RATIO),
        head=declared.head if isinstance(declared, Sampled) else "",
        used=grouped(_resting(view.so_far, leaf.name), taste),
        readings=memory_of(request).readings(about=leaf.name),
        meters=every_meter(view),
        photos=memory_of(request).photos(about=leaf.name),
        about=leaf.name,
    )


def _resting(assessment: Assessment | None, path: str) -> Sequence[Finding]:
    """Findings that rest on a field or lack it, the most moved first."""
    if assessment is None:
        return ()
    lacking = [f for f in assessment.findings if any(lack.path == path for lack in f.lacks)]
    moved = [
        (abs(effect), f)
        for f in assessment.findings
        for given, effect in f.rests_on
        if given.path == path
    ]
    moved.sort(key=lambda each: -each[0])
    return [*lacking, *(finding for _, finding in moved)][:_USED]


def record(request: Request) -> Response:
    """Show one record with all its fields."""
    return record_page(request, desk_of(request), leaf_of(request.path_params["path"]))


def record_page(
    request: Request, desk: Desk, path: Path, name: str = "", problem: str = "", status: int = 200
) -> Response:
    """Show a record; ``name`` is one that it could not be given, because of ``problem``."""
    view, base = desk.view(), base_of(desk)
    group = group_at(written_of(view, taste_of(request)), path)
    up, words, named = _up(group, view, base)
    return page(
        request,
        "record.html",
        group.label[:1].upper() + group.label[1:],
        desk,
        status,
        page_name="areas",
        # Also where the answer to a form is shown, which has no page of its own.
        here=f"{base}/in/{group.name}",
        new_name=name,
        name_problem=problem,
        group=group,
        up=up,
        up_words=words,
        named=named,
        problems=problems_by_path(view.problems),
    )


def _up(group: Group, view: View, base: str) -> tuple[str, str, bool]:
    """Where a record belongs: the table it stands in, or the record around it."""
    above = group.path[:-1]
    if not above:
        return f"{base}/areas", "everything that can be written", False
    words = " ".join(above).replace("_", " ")
    try:
        group_at(written_of(view, "metric"), above)
    except UsageError:
        return f"{base}/table/{dotted(above)}", f"all of {words}", True
    return f"{base}/in/{dotted(above)}", words, False


# ------------------------------------------------------------------------------------ changing


def _set_one(request: Request, form: FormData) -> Response:
    """Write one field as a form or a script sends it."""
    desk = desk_of(request)
    path = leaf_of(str(form.get("path", "")))
    leaf = leaf_at(written_of(desk.view(), taste_of(request)), path)
    typed = typed_in(form, leaf)
    new = None if typed == "" else as_toml(leaf.slot, typed)
    was = form.get("was")
    edit = Edit(path, new, str(was) if was is not None else None)
    why = f"{dotted(path)}: {leaf.typed.whole or 'nothing'} → {typed or 'deleted'}"
    if new is None and leaf.written is None and was is None:
        return unchanged(request, form, desk)
    if new is not None and new == leaf.written:
        return unchanged(request, form, desk)
    try:
        revision = desk.change([edit], name_of(request), why)
    except NotSavedError as error:
        found = problems_by_path(error.problems)
        words = found.get(dotted(path)) or " ".join(found.values())
        return _kept(request, desk, leaf, typed, words, None, 422)
    except ClashError as error:
        return _kept(request, desk, leaf, typed, "", error.clashes[0], 409)
    return changed(request, form, desk, revision)


set_one = with_form(_set_one)


def typed_in(form: Mapping[str, Any], leaf: Leaf) -> str:
    """Put together what a form says of a field; a button may say it in one word."""
    word = str(form.get("word", ""))
    if word in ("unknown", "none"):
        return word
    if "text" in form:
        return str(form["text"]).strip()
    quantity = str(form.get("quantity", "")).replace("\r\n", "\n")
    if leaf.box in ("quantity", "file"):
        return Typed(quantity, str(form.get("origin", "")), str(form.get("detail", ""))).whole
    return quantity.strip()


def unchanged(request: Request, form: FormData, desk: Desk) -> Response:
    """Answer a form that says what stands there already."""
    if wants_json(request):
        return JSONResponse({"message": "as it was", "revision": desk.view().revision.number})
    return see(back_to(form, base_of(desk) + "/"))


def _kept(
    request: Request,
    desk: Desk,
    leaf: Leaf,
    typed: str,
    problem: str,
    clash: Clash | None,
    status: int,
) -> Response:
    """Give a text back that was not saved, with the reason beside it."""
    if wants_json(request):
        body: dict[str, Any] = {"message": problem, "path": leaf.name, "typed": typed}
        if clash is not None:
            body["message"] = "somebody else changed this meanwhile"
            body["clash"] = {
                "now": clash.now,
                "now_says": clash.now_says,
                "meant_says": clash.meant_says,
            }
        return JSONResponse(body, status)
    parts = taken_apart(typed) if leaf.box in ("quantity", "file") else Typed(typed)
    now = clash.now if clash is not None else leaf.written
    shown = replace(leaf, written=now, typed=parts)
    return _field_page(request, desk, shown, problem, clash, status)


def changed(request: Request, form: Mapping[str, Any], desk: Desk, revision: Revision) -> Response:
    """Answer a change that was saved with its ripple."""
    base = base_of(desk)
    to = _with_ripple(back_to(form, base + "/"), revision)
    if wants_json(request):
        taste: Taste = taste_of(request)
        rippled = desk.ripple(revision.number, taste)
        told = fragment(
            "rippled.html",
            rippled=rippled,
            base=base,
            token=token_for(request),
            here=back_to(form, base + "/"),
        )
        turned = sum(each.turned for each in rippled.changes or ())
        did = happened(revision)
        return JSONResponse(
            {
                "message": did[:1].lower() + did[1:],
                "revision": revision.number,
                "turned": turned,
                "ripple": told,
                "now": _now(form, desk, revision),
                "to": to,
            }
        )
    return see(to)


def _with_ripple(address: str, revision: Revision) -> str:
    """Return the address of a page that also says what a revision changed."""
    to, _, place = address.partition("#")
    plain = "&".join(
        piece
        for piece in to.partition("?")[2].split("&")
        if piece and not piece.startswith("ripple=")
    )
    query = f"{plain}&" if plain else ""
    mark = f"#{place}" if place else ""
    return f"{to.partition('?')[0]}?{query}ripple={revision.number}{mark}"


def _now(form: Mapping[str, Any], desk: Desk, revision: Revision) -> dict[str, str | None]:
    """Say how the field that a form was about is written now."""
    path = str(form.get("path", ""))
    source = desk.at(revision.number).source
    return {path: as_written(source, leaf_of(path))} if path and source is not None else {}


def _step(request: Request, form: FormData) -> Response:
    """Undo or redo; with ``base``, only while the build is as the page says it is."""
    desk = desk_of(request)
    which = str(form.get("step", "undo"))
    if which not in ("undo", "redo"):
        raise UsageError("only undo or redo")
    # "Undo this" means what its page showed, and nothing that came after.
    base = str(form.get("base", "")) or None
    return changed(request, form, desk, desk.step(which, name_of(request), base))


step = with_form(_step)


def _put_file(request: Request, form: FormData) -> Response:
    """Put a file that a field names into the folder of the build, and name it there."""
    desk = desk_of(request)
    leaf = leaf_at(written_of(desk.view(), taste_of(request)), leaf_of(str(form.get("path", ""))))
    if leaf.box != "file":
        raise UsageError(f"{leaf.name} names no file")
    sent_name, raw = sent_file(form, "file", LARGEST_ROUTE)
    name, new = new_file(desk.home, sent_name, raw)
    typed = Typed(name, leaf.typed.origin, leaf.typed.detail).whole
    edit = Edit(leaf.path, as_toml(leaf.slot, typed), leaf.written)
    try:
        revision = desk.change([edit], name_of(request), f"{leaf.name}: {typed}")
    except (NotSavedError, ClashError):
        if new:
            (desk.home / name).unlink(missing_ok=True)
        raise
    return changed(request, form, desk, revision)


put_file = with_form(_put_file, file="file")
