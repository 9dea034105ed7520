"""Sheets, one line at a time, and writing down what was read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from wattwright.bench.accepting import Place, place, what_it_tells
from wattwright.bench.instruments import Meter
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import SHEETS, is_sheet, sheet, stale
from wattwright.build.typed import checked_date
from wattwright.errors import ImageError, UnitsError, UsageError
from wattwright.journal.images import LARGEST as LARGEST_PHOTO
from wattwright.journal.photos import Picture, picture_of
from wattwright.journal.readings import Reading, Taken
from wattwright.kinds import Kind
from wattwright.units import Taste
from wattwright.web.answers import (
    assessed,
    back_to,
    base_of,
    desk_of,
    every_meter,
    memory_of,
    page,
    readable,
    see,
    sent_file,
    taste_of,
    with_form,
)
from wattwright.web.desk import Desk
from wattwright.web.pages.printing import papers
from wattwright.web.pages.readings import Shown, every_reading
from wattwright.web.person import name_of

# Written for a line that is only done.
DONE = "done"
_WORDS = ("about", "text", "instrument", "date", "initials", "note")


def all_sheets(request: Request) -> Response:
    """List the sheets, and the readings that wait to be accepted."""
    desk = desk_of(request)
    view = desk.view()
    opened, assessment, taste = readable(view), assessed(view), taste_of(request)
    readings = every_reading(request, view)
    every = [sheet(name, opened.build, assessment, taste) for name in SHEETS]
    return page(
        request,
        "sheets.html",
        "Sheets and readings",
        desk,
        page_name="sheets",
        sheets=[(each, _done(each, readings), len(each.lines)) for each in every],
        readings=readings,
        meters=every_meter(view),
        papers=papers(view),
        about="",
    )


def _done(each: Sheet, readings: Sequence[Shown]) -> int:
    names = {shown_.reading.about for shown_ in readings if shown_.reading.replaced_by is None}
    return sum(f"{each.name}/{line.name}" in names for line in each.lines)


def one_sheet(request: Request) -> Response:
    """Show a whole sheet, and whether the paper in somebody's hand still holds."""
    desk = desk_of(request)
    view = desk.view()
    opened, assessment, taste = readable(view), assessed(view), taste_of(request)
    found = sheet(request.path_params["sheet"], opened.build, assessment, taste)
    readings = every_reading(request, view)
    by_line = {
        line.name: [x for x in readings if x.reading.about == f"{found.name}/{line.name}"]
        for line in found.lines
    }
    first = next((line for line in found.lines if not by_line[line.name]), found.lines[0])
    return page(
        request,
        "sheet.html",
        found.title,
        desk,
        page_name="sheets",
        sheet=found,
        lines=[(line, line.expects(taste), by_line[line.name]) for line in found.lines],
        first=first.name,
        begun=any(by_line.values()),
        stale=_stale(request, desk, found, taste),
    )


def _stale(request: Request, desk: Desk, now: Sheet, taste: Taste) -> tuple[str, ...]:
    """What changed since the revision that a printed sheet names; it stands in its square code."""
    number = request.query_params.get("as", "")
    if not number.isdecimal() or len(number) > 9:
        return ()
    try:
        then = desk.at(int(number))
    except UsageError:
        return (f"this build has no revision {number}: the sheet was printed from another one",)
    if then.opened is None or then.assessment is None:
        return (f"revision {number} cannot be read",)
    return stale(sheet(now.name, then.opened.build, then.assessment, taste), now, taste)


def one_line(request: Request) -> Response:
    """Show one line of a sheet, to read by and to write down."""
    return _line_page(request, {}, 200)


def _line_page(
    request: Request,
    typed: dict[str, str],
    status: int,
    problem: str = "",
    questions: Sequence[str] = (),
    about: str = "",
) -> Response:
    desk = desk_of(request)
    view = desk.view()
    opened, assessment, taste = readable(view), assessed(view), taste_of(request)
    about = about or "/".join(request.path_params[key] for key in ("sheet", "line"))
    name, _, word = about.partition("/")
    found = sheet(name, opened.build, assessment, taste)
    where = place(about, opened, assessment, taste)
    names = [line.name for line in found.lines]
    at = names.index(word)
    return page(
        request,
        "sheet_line.html",
        f"{found.title}: {at + 1} of {len(names)}",
        desk,
        status,
        page_name="sheets",
        sheet=found,
        line=where.line,
        expects=found.lines[at].expects(taste),
        before=names[at - 1] if at else "",
        after=names[at + 1] if at + 1 < len(names) else "",
        about=about,
        readings=[each for each in every_reading(request, view) if each.reading.about == about],
        meters=_fitting(every_meter(view), where.kind),
        typed=_typed(request, typed),
        problem=problem,
        questions=questions,
        done=DONE,
        here=f"{base_of(desk)}/sheet/{about}",
    )


def _fitting(every: tuple[Meter, ...], kind: Kind | None) -> list[Meter]:
    return [each for each in every if kind is None or each.kind.si == kind.si]


def _typed(request: Request, typed: dict[str, str]) -> dict[str, str]:
    """What stands in the form: what was typed, else today and what was said last."""
    if typed:
        return typed
    mine = [x for x in memory_of(request).readings() if x.who == name_of(request)]
    last = mine[0] if mine else None
    return {
        "text": "",
        "instrument": last.instrument if last is not None else "",
        "date": date.today().isoformat(),
        "initials": last.initials if last is not None else "",
        "note": "",
    }


# -------------------------------------------------------------------------------- writing down


def _keep(request: Request, form: FormData) -> Response:
    """Keep a reading; ask where it looks like a slip, and lose nothing that was typed."""
    desk = desk_of(request)
    typed = {key: str(form.get(key, "")).strip() for key in _WORDS}
    corrects = str(form.get("replaces", ""))
    view = desk.view()
    try:
        opened, assessment = readable(view), assessed(view)
        where = place(typed["about"] or "the build", opened, assessment, taste_of(request))
        taken = _taken(typed, corrects)
        found = what_it_tells(taken, where, opened, taste_of(request))
        if found is not None and found.questions and not form.get("sure"):
            return _again(request, form, typed, "", found.questions)
        picture = _photo(form)
        reading = memory_of(request).add_reading(name_of(request), taken)
    except (ImageError, UnitsError, UsageError) as error:
        return _again(request, form, typed, str(error), ())
    if picture is not None:
        memory_of(request).add_photo(
            name_of(request),
            picture,
            about=f"reading {reading.id}",
        )
    return see(_next(desk, form, reading, where))


keep = with_form(_keep, "photo")


def _taken(typed: dict[str, str], corrects: str) -> Taken:
    if not typed["text"]:
        raise UsageError("a reading needs a number with its unit, or words")
    return Taken(
        about=typed["about"] or "the build",
        text=typed["text"],
        instrument=typed["instrument"],
        date=checked_date(typed["date"]) if typed["date"] else date.today().isoformat(),
        initials=typed["initials"],
        note=typed["note"],
        replaces=int(corrects) if corrects.isdecimal() and len(corrects) < 10 else None,
    )


def _photo(form: FormData) -> Picture | None:
    sent = form.get("photo")
    if not getattr(sent, "filename", ""):
        return None
    _, raw = sent_file(form, "photo", LARGEST_PHOTO)
    return picture_of(raw)


def _again(
    request: Request,
    form: FormData,
    typed: dict[str, str],
    problem: str,
    questions: Sequence[str],
) -> Response:
    """Show the form again with everything that was typed."""
    about, desk = typed["about"], desk_of(request)
    name, slash, word = about.partition("/")
    view = desk.view()
    # A correction has its own form: the sheet goes on from line to line.
    if slash and is_sheet(name) and not form.get("replaces"):
        found = sheet(name, readable(view).build, assessed(view), taste_of(request))
        if found.line(word) is not None:
            return _line_page(request, typed, 422, problem, questions, about)
    return page(
        request,
        "reading_again.html",
        f"Reading of {about or 'the build'}",
        desk,
        422,
        page_name="sheets",
        about=about,
        typed=typed,
        problem=problem,
        questions=questions,
        replaces=str(form.get("replaces", "")),
        meters=every_meter(view),
        here=back_to(form, f"{base_of(desk)}/sheets"),
    )


def _next(desk: Desk, form: FormData, reading: Reading, where: Place) -> str:
    """Go on with the next line, or show what the reading tells."""
    if where.line is None or form.get("then") == "stay":
        return f"{base_of(desk)}/reading/{reading.id}"
    after = str(form.get("after", ""))
    name = reading.about.partition("/")[0]
    return f"{base_of(desk)}/sheet/{name}/{after}" if after else f"{base_of(desk)}/sheet/{name}"
