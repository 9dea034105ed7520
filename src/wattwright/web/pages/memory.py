"""History: revisions with who, when and what; readings, photos and what was signed."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.errors import UsageError
from wattwright.journal.images import LARGEST as LARGEST_PHOTO
from wattwright.journal.photos import picture_of
from wattwright.web.answers import (
    back_to,
    base_of,
    desk_of,
    every_meter,
    memory_of,
    page,
    see,
    sent_file,
    taste_of,
    wants_json,
    with_form,
)
from wattwright.web.desk import Desk
from wattwright.web.pages.forms import changed
from wattwright.web.person import name_of

_AT_ONCE = 40
_NOTHING: Mapping[str, str] = MappingProxyType({})
_SIGNING = dict.fromkeys(("statement", "who", "problem"), "")


def history(request: Request) -> Response:
    """List the revisions, newest first, and what else the journal keeps."""
    desk = desk_of(request)
    desk.view()
    asked = request.query_params.get("before")
    before = None if asked is None else _number(asked)
    # One more than is shown tells whether there are any before these.
    found = desk.keeper.revisions(before=before, most=_AT_ONCE + 1)
    revisions = found[:_AT_ONCE]
    return page(
        request,
        "history.html",
        "History",
        desk,
        page_name="history",
        revisions=revisions,
        older=revisions[-1].number if len(found) > _AT_ONCE else 0,
        newest=before is None,
        readings=memory_of(request).readings(),
        photos=memory_of(request).photos(),
        sign_offs=memory_of(request).sign_offs(),
        about="",
        meters=every_meter(desk.view()),
    )


def revision(request: Request) -> Response:
    """Show what one revision changed."""
    return _revision_page(request, desk_of(request), _number(request.path_params["number"]))


def _revision_page(
    request: Request, desk: Desk, number: int, signing: Mapping[str, str] = _NOTHING
) -> Response:
    """Show a revision; ``signing`` is what was typed for a signature that could not be kept."""
    found = desk.keeper.revision(number)
    last = desk.view().revision.number
    earlier = desk.keeper.before(found.number)
    rippled = desk.ripple(found.number, taste_of(request)) if found.state == "done" else None
    return page(
        request,
        "revision.html",
        f"Revision {found.number}: {found.why}",
        desk,
        422 if signing else 200,
        page_name="history",
        # Also where the answer to a form is shown, which has no page of its own.
        here=f"{base_of(desk)}/history/{number}",
        signing={**_SIGNING, **signing},
        revision=found,
        before=earlier.number if earlier else 0,
        after=found.number + 1 if found.number < last else 0,
        changed=rippled.changes if rippled is not None else None,
        lines=_diff(desk, earlier.number, found.number) if earlier else [],
    )


def _number(text: object) -> int:
    words = str(text)
    if not words.isdecimal() or not words.isascii() or len(words) > 9:
        raise UsageError(f"{words[:40]!r} is no number of a revision")
    return int(words)


def _diff(desk: Desk, before: int, after: int) -> list[tuple[str, str]]:
    return list(_lines(desk.keeper.text(before), desk.keeper.text(after)))


def _lines(before: str, after: str) -> Iterator[tuple[str, str]]:
    diff = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=2)
    for place, line in enumerate(diff):
        if place > 1:
            yield line[:1], line


def _restore(request: Request, form: FormData) -> Response:
    """Bring a former revision back as a new one."""
    desk = desk_of(request)
    number = _number(form.get("number", ""))
    return changed(request, form, desk, desk.restore(number, name_of(request)))


restore = with_form(_restore)


def _sign(request: Request, form: FormData) -> Response:
    """Sign a revision."""
    desk = desk_of(request)
    statement, who = (str(form.get(key, "")).strip() for key in ("statement", "who"))
    number = _number(form.get("number", ""))
    lacking = [
        words for words, text in (("what you state", statement), ("your name", who)) if not text
    ]
    if lacking:
        problem = f"a signature needs {' and '.join(lacking)}"
        if wants_json(request):
            raise UsageError(problem)
        signing = {"statement": statement, "who": who, "problem": problem}
        return _revision_page(request, desk, number, signing)
    desk.keeper.sign_off(who, statement, number)
    return see(back_to(form, f"{base_of(desk)}/history"))


sign = with_form(_sign)


def _add_photo(request: Request, form: FormData) -> Response:
    """Keep a photo, cleaned of everything but the picture."""
    desk = desk_of(request)
    _, raw = sent_file(form, "photo", LARGEST_PHOTO)
    memory_of(request).add_photo(
        name_of(request),
        picture_of(raw),
        about=str(form.get("about", "")) or "the build",
        caption=str(form.get("caption", "")).strip(),
    )
    return see(back_to(form, f"{base_of(desk)}/history"))


add_photo = with_form(_add_photo, file="photo")


def photo(request: Request) -> Response:
    """Answer with a photo."""
    keeper = memory_of(request)
    found = keeper.photo(_number(request.path_params["id"]))
    data = keeper.photo_file(found).read_bytes()
    return Response(data, media_type=found.media_type)
