"""The pages of one build that show: tonight, its areas, what is said of it, where parts stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from wattwright.areas import AREAS, Area
from wattwright.areas.vehicle.part_mass import mass_of
from wattwright.assessment import WORST_FIRST, AreaReport, Assessment, shown
from wattwright.build.catalogue import NAMED, find
from wattwright.build.fields import Quantity, Sampled, Track
from wattwright.build.model import Build
from wattwright.build.shape import slots
from wattwright.drawings import OF_USE, drawing, of_area
from wattwright.errors import UsageError
from wattwright.findings import Verdict
from wattwright.paper.svg import render
from wattwright.units import Taste
from wattwright.web.answers import (
    assessed,
    base_of,
    desk_of,
    page,
    shelf_of,
    tally_of_area,
    taste_of,
)
from wattwright.web.desk import problems_by_path
from wattwright.web.leaves import Group, Written, group_at
from wattwright.web.pages.rows import cautions_of, figure_row, figures_of, grouped
from wattwright.web.pages.written import written_of
from wattwright.web.view import View

_WORST = 12
_LAST = 5
VIEWS = ("side", "plan", "rear")
_PLACEMENT_FIGURES = ("vehicle.mass", "vehicle.cg_x", "vehicle.cg_y", "vehicle.cg_z")
# Sections with a form of their own on the page of an area; the others are tables.
_OWN = frozenset({"record"})


def tonight(request: Request) -> Response:
    """Show where the build stands and what to do next."""
    desk = desk_of(request)
    view, taste = desk.view(), taste_of(request)
    more: dict[str, Any] = {"by_area": [], "worst": (), "next": ()}
    if view.assessment is not None:
        found = sorted(
            (each for each in view.assessment.findings if each.verdict is not Verdict.SOUND),
            key=lambda each: WORST_FIRST.index(each.verdict),
        )
        failing = [each for each in found if each.verdict is not Verdict.UNKNOWN]
        more = {
            "by_area": _by_area(view.assessment, base_of(desk)),
            "worst": grouped(failing[:_WORST], taste),
            "next": _next(view),
        }
    return page(
        request,
        "tonight.html",
        "Tonight",
        desk,
        page_name="tonight",
        last=desk.keeper.revisions(most=_LAST),
        tried=shelf_of(request).tried(desk.name),
        **more,
    )


def _next(view: View) -> list[tuple[str, list[dict[str, Any]]]]:
    heads = (
        ("settle", "Find out next", "settles"),
        ("confirm", "Then confirm", "makes firm"),
    )
    return [
        (
            head,
            [
                {
                    "minutes": each.minutes,
                    "verb": verb,
                    "settles": each.settles,
                    "of": each.of,
                    "readings": each.readings,
                }
                for each in view.bundles
                if each.purpose == purpose
            ],
        )
        for purpose, head, verb in heads
    ]


def _by_area(assessment: Assessment, base: str) -> list[dict[str, Any]]:
    return [
        {
            "area": report.area,
            "tally": tally_of_area(assessment, report.area.name),
            "untold": _untold(report.area),
            "first": [leaf for first in _begin(report, base) for leaf in first],
        }
        for report in assessment.reports
    ]


def _untold(area: Area) -> str:
    """Say why an area counts no findings."""
    if area.checks:
        return "nothing to judge yet"
    by = [other.title for other in AREAS if area.makes in other.reads]
    if not by:
        return "gives figures"
    *others, last = by
    listed = f"{', '.join(others)} and {last}" if others else last
    return f"gives figures for {listed} to judge by"


def _begin(report: AreaReport, base: str) -> list[list[dict[str, str]]]:
    """Fields to give first where nobody has begun an area."""
    return [[_to_begin(path, base) for path in first.fields] for first in report.tell_me_first]


def _to_begin(path: str, base: str) -> dict[str, str]:
    entry = find(path)
    declared = entry.slot.declared if entry else None
    how = declared.how if isinstance(declared, Quantity | Sampled | Track) else ""
    label = declared.label if declared else path
    if NAMED not in path:
        return {"label": label, "how": how, "to": f"{base}/field/{path}"}
    # Such a field can be written as soon as there is one of the things that have it.
    holder, _, _ = path.partition(f".{NAMED}")
    one = holder.rpartition(".")[2].replace("_", " ")
    if path.endswith(".kind"):
        return {
            "label": f"add a {one}",
            "how": f"with its {label}, such as motor or inverter",
            "to": f"{base}/table/{holder}",
        }
    return {"label": f"add a {one}", "how": f"{label}: {how}", "to": f"{base}/table/{holder}"}


def areas(request: Request) -> Response:
    """List the areas, and every section that can be written."""
    desk = desk_of(request)
    view = desk.view()
    names = tuple(slot.name for slot in slots(Build) if slot.name != "format")
    found = view.assessment
    return page(
        request,
        "areas.html",
        "Areas",
        desk,
        page_name="areas",
        by_area=[
            {
                "area": area,
                "tally": tally_of_area(found, area.name) if found else (),
                "untold": _untold(area) if found else "not worked out yet",
            }
            for area in AREAS
        ],
        sections=list(_sections(names, written_of(view, taste_of(request)), base_of(desk))),
    )


def _sections(names: tuple[str, ...], written: Written, base: str) -> Iterator[dict[str, str]]:
    for slot in slots(Build):
        if slot.name not in names:
            continue
        if slot.shape == "records":
            count = len(written.names((slot.name,)))
            yield {
                "label": slot.declared.label,
                "words": f"{count} written" if count else "none written yet",
                "to": f"{base}/table/{slot.name}",
            }
            continue
        leaves = list(group_at(written, (slot.name,)).every_leaf())
        given = sum(leaf.written is not None for leaf in leaves)
        unknown = sum(leaf.state == "unknown" for leaf in leaves)
        words = f"{given} of {len(leaves)} written" + (f", {unknown} unknown" if unknown else "")
        yield {
            "label": slot.declared.label,
            "words": words,
            "to": f"{base}/in/{slot.name}",
        }


def area(request: Request) -> Response:
    """Show one area: its inputs, findings, figures and drawings."""
    desk = desk_of(request)
    view, taste, base = desk.view(), taste_of(request), base_of(desk)
    wanted = _area(request.path_params["area"])
    written = written_of(view, taste)
    sections, forms = list(_sections(wanted.sections, written, base)), list(_forms(wanted, written))
    shown_here = {f"{base}/in/{each.name}" for each in forms}
    more: dict[str, Any] = dict.fromkeys(
        ("groups", "cautions", "tables", "others", "begin", "drawings"), ()
    )
    if view.assessment is not None:
        report = next(each for each in view.assessment.reports if each.area is wanted)
        tables, others = figures_of(report, taste)
        more = {
            "groups": grouped(report.findings, taste),
            "cautions": cautions_of(report.findings),
            "tables": tables,
            "others": others,
            "begin": _begin(report, base),
            "drawings": list(_drawings(view, _of_area(view, wanted), taste)),
        }
    return page(
        request,
        "area.html",
        wanted.title,
        desk,
        page_name="areas",
        uses=_uses(view, wanted),
        survey=bool(view.opened and view.opened.build.survey.point and "survey" in wanted.sections),
        sections=sections,
        forms=forms,
        # What stands on the page as a form needs no link besides.
        as_form={each["to"]: each["words"] for each in sections if each["to"] in shown_here},
        problems=problems_by_path(view.problems),
        **more,
    )


def _of_area(view: View, wanted: Area) -> tuple[str, ...]:
    return of_area(wanted.name, view.opened) if view.opened is not None else ()


def _uses(view: View, wanted: Area) -> tuple[str, ...]:
    return tuple(view.opened.build.use) if view.opened and "use" in wanted.sections else ()


def _forms(wanted: Area, written: Written) -> Iterator[Group]:
    for slot in slots(Build):
        if slot.name in wanted.sections and slot.shape in _OWN:
            yield group_at(written, (slot.name,))


def _area(name: str) -> Area:
    found = next((each for each in AREAS if each.name == name), None)
    if found is None:
        raise UsageError(f"there is no area {name!r}; there are {', '.join(a.name for a in AREAS)}")
    return found


def use(request: Request) -> Response:
    """Show what the vehicle does in one use: its drawings and all that is said of it."""
    desk = desk_of(request)
    view, taste = desk.view(), taste_of(request)
    name = request.path_params["use"]
    assessment = assessed(view)
    if view.opened is None or name not in view.opened.build.use:
        raise UsageError(f"there is no use {name!r}")
    about = [each for each in assessment.findings if name in each.about.split("/")]
    return page(
        request,
        "use.html",
        f"Use: {name.replace('_', ' ')}",
        desk,
        page_name="areas",
        use=name,
        drawings=list(_drawings(view, (f"{each}@{name}" for each in OF_USE), taste)),
        groups=grouped(about, taste),
        figures=[
            figure_row(each, taste)
            for each in assessment.figures
            if name in each.about.split("/") and each.value.known
        ],
    )


def _drawings(view: View, names: Iterable[str], taste: Taste) -> Iterator[dict[str, Any]]:
    for name in names:
        drawn = view.drawn(name, taste)
        if drawn is not None:
            title, picture = drawn
            # Our own drawing, whose words are escaped where it is written.
            yield {"name": name, "title": title, "svg": Markup(picture)}  # noqa: S704


def saids(request: Request) -> Response:
    """List findings over all areas, of one verdict or of all."""
    desk = desk_of(request)
    assessment, taste = assessed(desk.view()), taste_of(request)
    wanted = request.query_params.get("verdict", "")
    if wanted and wanted not in {verdict.value for verdict in Verdict}:
        raise UsageError(f"there is no verdict {wanted!r}")
    found = []
    for report in assessment.reports:
        chosen = [each for each in report.findings if not wanted or each.verdict.value == wanted]
        if chosen:
            found.append((report.area, grouped(chosen, taste)))
    title = f"All that is {wanted}" if wanted else "All findings"
    return page(request, "saids.html", title, desk, areas=found, wanted=wanted)


def placement(request: Request) -> Response:
    """Show where everything stands, from the side, from above and from behind."""
    desk = desk_of(request)
    view, taste = desk.view(), taste_of(request)
    figures = view.assessment.figures if view.assessment else ()
    return page(
        request,
        "placement.html",
        "Placement",
        desk,
        page_name="placement",
        drawings=list(_drawings(view, VIEWS, taste)),
        placed=list(_placed(view, taste)),
        figures=[
            figure_row(each, taste)
            for each in figures
            if each.declared.id in _PLACEMENT_FIGURES and "/" not in each.about
        ],
    )


def _placed(view: View, taste: Taste) -> Iterator[dict[str, str]]:
    parts = view.opened.build.part if view.opened else {}
    for name, part in parts.items():
        place = {"x": part.at.x, "y": part.at.y, "z": part.at.z}
        words = [f"{axis} {shown(each, taste, band=False)}" for axis, each in place.items()]
        placed = any(each.known for each in place.values())
        yield {
            "name": name,
            "label": name.replace("_", " "),
            "mass": shown(mass_of(part), taste),
            "at": ", ".join(words) if placed else "not placed yet",
        }


def drawing_file(request: Request) -> Response:
    """Answer with a drawing as a file."""
    desk = desk_of(request)
    view = desk.view()
    name = request.path_params["name"].removesuffix(".svg")
    if view.opened is None:
        raise UsageError("the build file cannot be read just now")
    made = drawing(name, view.opened, assessed(view), taste_of(request))
    return Response(render(made), media_type="image/svg+xml")
