"""Named records come into being, get another name, and go."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.build.as_typed import as_toml
from wattwright.build.edits import Edit, rename
from wattwright.build.text import Path, dotted
from wattwright.errors import UsageError
from wattwright.web.answers import base_of, desk_of, with_form
from wattwright.web.clash import written as as_written
from wattwright.web.desk import Desk, NotSavedError, leaf_of
from wattwright.web.leaves import Group, Written, group_at, named_at
from wattwright.web.pages.forms import changed, unchanged
from wattwright.web.pages.written import written_of
from wattwright.web.person import name_of
from wattwright.web.records import choice_of

# So many revisions back it is looked for whether something came through before.
_AGAIN = 50


def _rename_one(request: Request, form: FormData) -> Response:
    """Give a named record another name."""
    desk = desk_of(request)
    path = leaf_of(str(form.get("path", "")))
    name = str(form.get("name", "")).strip()
    view = desk.view()
    if view.source is None:
        raise NotSavedError(view.problems)
    why = f"{dotted(path)} is called {name} now"
    if as_written(view.source, path) is None and _done_before(request, form, desk, why):
        return unchanged(request, form, desk)
    text = rename(view.source, path, name)
    revision = desk.save(text, name_of(request), why, view)
    to = f"{base_of(desk)}/in/{dotted((*path[:-1], name))}"
    return changed(request, {"back": to}, desk, revision)


rename_one = with_form(_rename_one)


def _delete_one(request: Request, form: FormData) -> Response:
    """Delete a named record with all in it."""
    desk = desk_of(request)
    path = leaf_of(str(form.get("path", "")))
    source = desk.view().source
    there = as_written(source, path) if source is not None else None
    if there is None:
        raise UsageError(f"there is nothing called {dotted(path)}")
    why = f"{dotted(path)} deleted"
    revision = desk.change([Edit(path, None, there)], name_of(request), why)
    return changed(request, form, desk, revision)


delete_one = with_form(_delete_one)


def _add_one(request: Request, form: FormData) -> Response:
    """Add a named record, or a named quantity."""
    desk = desk_of(request)
    holder = leaf_of(str(form.get("path", "")))
    path: Path = (*holder, str(form.get("name", "")).strip())
    text = str(form.get("text", "")).strip()
    why = f"{dotted(path)} added"
    if written_of(desk.view(), "metric").raw(path) is not None:
        if _done_before(request, form, desk, why):
            return unchanged(request, form, desk)
        raise UsageError(f"there is something called {dotted(path)} already; choose another name")
    edit = _added(desk, path, text, str(form.get("choice", "")).strip())
    revision = desk.change([edit], name_of(request), why)
    to = f"{base_of(desk)}/table/{dotted(holder)}" if text else f"{base_of(desk)}/in/{dotted(path)}"
    return changed(request, {"back": to}, desk, revision)


add_one = with_form(_add_one)


def _added(desk: Desk, path: Path, text: str, chosen: str) -> Edit:
    written = written_of(desk.view(), "metric")
    if text:
        return Edit(path, as_toml(None, text))
    choice = choice_of(written, named_at(written, path[:-1]))
    if choice is not None and (chosen or choice.required):
        return Edit((*path, choice.name), as_toml(None, chosen or choice.words[0]))
    return _first(group_at(Written(written.data, {}, None), path))


def _first(group: Group) -> Edit:
    """Make a record: it is there as soon as one of its values is, be it unknown or its name."""
    for leaf in group.leaves:
        if leaf.may_be_unknown:
            return Edit(leaf.path, as_toml(leaf.slot, "unknown"))
    for leaf in group.leaves:
        if leaf.box in ("words", "long"):
            return Edit(leaf.path, as_toml(leaf.slot, group.path[-1].replace("_", " ")))
    raise UsageError(f"{group.name} holds nothing to begin with; write it in the file")


def _done_before(request: Request, form: FormData, desk: Desk, why: str) -> bool:
    """Tell whether what waited in a browser came through before, and only its answer was lost."""
    if not form.get("again"):
        return False
    me = name_of(request)
    return any((each.who, each.why) == (me, why) for each in desk.keeper.revisions(most=_AGAIN))
