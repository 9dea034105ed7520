"""Records with names of their own: adding them, giving them other names, deleting them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.build.as_typed import as_toml
from wattwright.build.edits import Edit, follow, rename
from wattwright.build.sampled_files import LARGEST_ROUTE
from wattwright.build.text import Path, dotted, read_text
from wattwright.errors import EditError, Problem, UsageError
from wattwright.journal.revisions import Revision
from wattwright.web.answers import (
    base_of,
    desk_of,
    page,
    reason_of,
    sent_file,
    status_of,
    wants_json,
    with_form,
)
from wattwright.web.clash import written as as_written
from wattwright.web.desk import Desk, NotSavedError, leaf_of
from wattwright.web.leaves import (
    Group,
    Written,
    address_of,
    entry_at,
    group_at,
    named_at,
    place_of,
)
from wattwright.web.pages.forms import changed, record_page, unchanged
from wattwright.web.pages.tables import table_page
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of
from wattwright.web.put import new_file
from wattwright.web.records import choice_of
from wattwright.web.view import View

# The first of the stretches of a new use; others get names with higher numbers.
_FIRST_STRETCH = "10_first"
# So many revisions back it is looked for whether something came through before.
_AGAIN = 50
# So many times those who name a renamed record are looked for: what one finds may name others.
_ROUNDS = 5


def _add_one(request: Request, form: FormData) -> Response:
    """Add a named record, or a named quantity; where that cannot be, keep what was typed."""
    desk = desk_of(request)
    holder = leaf_of(str(form.get("path", "")))
    typed = {name: str(each).strip() for name, each in form.items() if isinstance(each, str)}
    path: Path = (*holder, typed.get("name", ""))
    why = f"{dotted(path)} added"
    there = written_of(desk.view(), "metric").raw(path) is not None
    if there and _done_before(request, form, desk, why):
        return unchanged(request, form, desk)
    try:
        edits, put = _added(desk, path, typed, form)
        try:
            revision = desk.change(edits, name_of(request), why)
        except EditError:
            if put:
                (desk.home / put).unlink(missing_ok=True)
            raise
    except (EditError, UsageError) as error:
        view = desk.view()
        if wants_json(request) or view.source is None:
            raise
        if place_of(written_of(view, "metric"), holder) is None:
            raise
        adding = {**typed, "problem": reason_of(error)}
        status = status_of(error, request.method)
        return table_page(request, desk, holder, adding=adding, status=status)
    base = base_of(desk)
    to = f"{base}/table/{dotted(holder)}" if typed.get("text") else f"{base}/in/{dotted(path)}"
    return changed(request, {"back": to}, desk, revision)


add_one = with_form(_add_one, file="file")


def _added(
    desk: Desk, path: Path, typed: Mapping[str, str], form: FormData
) -> tuple[list[Edit], str]:
    """Return the edits that add a record, and the file that was put beside the build for it."""
    written = written_of(desk.view(), "metric")
    if written.raw(path) is not None:
        raise UsageError(f"there is something called {dotted(path)} already; choose another name")
    if text := typed.get("text", ""):
        return [Edit(path, as_toml(None, text))], ""
    chosen = typed.get("choice", "")
    choice = choice_of(written, named_at(written, path[:-1]))
    if choice is not None and choice.name == "cycle":
        return _way(desk, path, typed, form)
    if choice is not None and (chosen or choice.required):
        return [Edit((*path, choice.name), as_toml(None, chosen or choice.words[0]))], ""
    return [_first(group_at(Written(written.data, {}, None), path))], ""


def _way(
    desk: Desk, path: Path, typed: Mapping[str, str], form: FormData
) -> tuple[list[Edit], str]:
    """Begin a use with what is driven, one of three ways, and write that alone."""
    way, speed = typed.get("way", ""), typed.get("speed", "")
    if chosen := typed.get("choice", ""):
        return [Edit((*path, "cycle"), as_toml(None, chosen))], ""
    if way == "stretches":
        first = (*path, "stretch", _FIRST_STRETCH)
        given = {"length": typed.get("length", ""), "speed": speed}
        return [
            Edit((*first, k), as_toml(None, text or "unknown")) for k, text in given.items()
        ], ""
    if way != "route":
        raise UsageError("say what is driven: a published cycle, a route file, or stretches")
    sent_name, raw = sent_file(form, "file", LARGEST_ROUTE)
    name, new = new_file(desk.home, sent_name, raw)
    edits = [Edit((*path, "route"), as_toml(None, name))]
    if speed:
        edits.append(Edit((*path, "speed"), as_toml(None, speed)))
    return edits, name if new else ""


def _first(group: Group) -> Edit:
    """Make a record: it is there as soon as one of its values is, be it unknown or its name."""
    for leaf in group.leaves:
        if leaf.may_be_unknown:
            return Edit(leaf.path, as_toml(leaf.slot, "unknown"))
    for leaf in group.leaves:
        if leaf.box in ("words", "long"):
            return Edit(leaf.path, as_toml(leaf.slot, group.path[-1].replace("_", " ")))
    raise UsageError(f"{group.name} holds nothing to begin with; write it in the file")


def _rename_one(request: Request, form: FormData) -> Response:
    """Give a named record another name; where that cannot be, keep what was typed."""
    desk = desk_of(request)
    path = leaf_of(str(form.get("path", "")))
    name = str(form.get("name", "")).strip()
    view = desk.view()
    if view.source is None:
        raise NotSavedError(view.problems)
    why = f"{dotted(path)} is called {name} now"
    if as_written(view.source, path) is None and _done_before(request, form, desk, why):
        return unchanged(request, form, desk)
    try:
        text = rename(view.source, path, name)
        revision = _saved_with_users(request, desk, view, text, path[-1], name, why)
    except EditError as error:
        if wants_json(request) or path not in view.source.places:
            raise
        status = status_of(error, request.method)
        return record_page(request, desk, path, name, reason_of(error), status)
    to = f"{base_of(desk)}/in/{dotted((*path[:-1], name))}"
    return changed(request, {"back": to}, desk, revision)


def _saved_with_users(
    request: Request, desk: Desk, view: View, text: str, old: str, new: str, why: str
) -> Revision:
    """Save a renamed record; who names it gets the new name too, as far as that makes it whole."""
    for _ in range(_ROUNDS):
        try:
            return desk.save(text, name_of(request), why, view)
        except NotSavedError as error:
            users = [leaf_of(problem.path) for problem in error.problems]
            followed = follow(read_text(text.encode("utf-8")), users, old, new)
            if followed == text:
                raise
            text = followed
    return desk.save(text, name_of(request), why, view)


rename_one = with_form(_rename_one)


def _delete_one(request: Request, form: FormData) -> Response:
    """Delete a named record with all in it; where others use it, say which."""
    desk = desk_of(request)
    path = leaf_of(str(form.get("path", "")))
    source = desk.view().source
    there = as_written(source, path) if source is not None else None
    if there is None:
        raise UsageError(f"there is nothing called {dotted(path)}")
    try:
        edits = [Edit(path, None, there)]
        revision = desk.change(edits, name_of(request), f"{dotted(path)} deleted")
    except NotSavedError as error:
        if wants_json(request):
            raise
        return _in_use(request, desk, path, error.problems)
    return changed(request, form, desk, revision)


delete_one = with_form(_delete_one)


def _done_before(request: Request, form: FormData, desk: Desk, why: str) -> bool:
    """Tell whether what waited in a browser came through before, and only its answer was lost."""
    if not form.get("again"):
        return False
    me = name_of(request)
    return any((each.who, each.why) == (me, why) for each in desk.keeper.revisions(most=_AGAIN))


def _in_use(request: Request, desk: Desk, path: Path, problems: tuple[Problem, ...]) -> Response:
    name = path[-1].replace("_", " ")
    written = written_of(desk.view(), "metric")
    return page(
        request,
        "in_use.html",
        f"{name[:1].upper()}{name[1:]} is in use",
        desk,
        422,
        page_name="areas",
        name=name,
        users=[_user(written, path[-1], each) for each in problems],
        to=f"{base_of(desk)}/{address_of(written, path) or 'areas'}",
    )


def _user(written: Written, name: str, problem: Problem) -> dict[str, Any]:
    """Say what keeps a record from being deleted: who names it, or what would be wrong then."""
    path = leaf_of(problem.path)
    entry = entry_at(written, path)
    names_it = path[-1] == name or written.raw(path) == name
    label = entry.slot.declared.label if entry is not None and path[-1] != name else ""
    holder = path[:-1] if label or path[-1] == name else path
    return {
        "who": " ".join(holder).replace("_", " "),
        "what": (label or "names it") if names_it else problem.what,
        "to": address_of(written, path) or "file",
    }
