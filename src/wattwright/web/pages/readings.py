"""Readings: what each tells, what accepting one would change, and putting it into the build."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.assessment import Assessment
from wattwright.bench.accepting import (
    acceptance,
    accepted,
    meter_of,
    place,
    reason,
    tried,
    what_it_tells,
)
from wattwright.bench.told import Told
from wattwright.build.reader import Opened
from wattwright.errors import BuildError, UnitsError, UsageError
from wattwright.journal.readings import Reading
from wattwright.units import Taste
from wattwright.web.answers import (
    assessed,
    desk_of,
    every_meter,
    memory_of,
    page,
    readable,
    taste_of,
    with_form,
)
from wattwright.web.pages.forms import changed
from wattwright.web.person import name_of
from wattwright.web.view import View


@dataclass(frozen=True, slots=True)
class Shown:
    """A reading with what it tells, and the field it stands in where it was accepted."""

    reading: Reading
    told: Told | None
    trouble: str
    stands_in: str
    path: str
    says: str


def every_reading(request: Request, view: View) -> list[Shown]:
    """Every reading, newest first, with what each tells on the build as it is."""
    opened, assessment, taste = readable(view), assessed(view), taste_of(request)
    readings = memory_of(request).readings()
    stand = accepted(readings, opened)
    return [_shown(each, opened, assessment, stand, taste) for each in readings]


def _shown(
    reading: Reading,
    opened: Opened,
    assessment: Assessment,
    stand: dict[int, str],
    taste: Taste,
) -> Shown:
    told, trouble, path, says = None, "", "", reading.about
    try:
        where = place(reading.about, opened, assessment, taste)
        path, says = where.path, where.says
        told = what_it_tells(reading, where, opened, taste)
    except (UnitsError, UsageError) as error:
        # Written down with an earlier state of the build: it stays as it was written.
        trouble = str(error)
    return Shown(reading, told, trouble, stand.get(reading.id, ""), path, says)


def _found(request: Request, number: object) -> Reading:
    words = str(number)
    if not words.isdecimal() or not words.isascii() or len(words) > 9:
        raise UsageError(f"{words[:40]!r} is no number of a reading")
    return memory_of(request).reading(int(words))


def reading(request: Request) -> Response:
    """Show a reading, what it tells, and what accepting it would change."""
    desk = desk_of(request)
    view = desk.view()
    opened, assessment, taste = readable(view), assessed(view), taste_of(request)
    found = _found(request, request.path_params["id"])
    stand = accepted([found], opened)
    told = _shown(found, opened, assessment, stand, taste)
    would, meter, trouble = None, None, told.trouble
    if told.path and not told.stands_in and found.replaced_by is None:
        try:
            where = place(found.about, opened, assessment, taste)
            would = tried(found, where, opened, assessment, desk.home, taste)
            meter = meter_of(found, opened)
        except (BuildError, UnitsError, UsageError) as error:
            trouble = str(error)
    return page(
        request,
        "reading.html",
        f"Reading {found.id}",
        desk,
        page_name="sheets",
        each=told,
        trouble=trouble,
        would=would,
        meter=meter,
        photos=memory_of(request).photos(about=f"reading {found.id}"),
        meters=every_meter(view),
    )


def _accept(request: Request, form: FormData) -> Response:
    """Put a reading into the build."""
    desk = desk_of(request)
    view = desk.view()
    opened, assessment = readable(view), assessed(view)
    found = _found(request, form.get("number", ""))
    where = place(found.about, opened, assessment, taste_of(request))
    edit = acceptance(found, where, opened)
    revision = desk.change([edit], name_of(request), reason(found, where))
    return changed(request, form, desk, revision)


accept = with_form(_accept)
