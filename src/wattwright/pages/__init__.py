"""The build on paper: pages by name, each a view of the assessment.

    register        every finding with all that leads to it
    weight_book     what was weighed, taken out and put in, and what it comes to
    side plan rear  what stands where
    a sheet         a procedure of the bench, with blanks and initials; of a fault hunt SHEET@OUTLET
    adaptor         the adaptor plate for the machinist
    template@NAME   the outline of a part at full size; template@check: bars to test a printer;
                    template@pattern.NAME: the holes of a pattern

The same build, state and paper give the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal, get_args

from wattwright.areas import AREAS, Area
from wattwright.assessment import Assessment
from wattwright.bench import sheets
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import OF_OUTLET, SHEETS, is_sheet
from wattwright.build.reader import Opened
from wattwright.descriptions.charging import ChargingDescription
from wattwright.descriptions.mounts import MountsDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.drawings import OF_CABLE, OF_LEDGER, OF_SIDE, cables, drawing
from wattwright.drawings import OF_OUTLET as CHAINS
from wattwright.errors import UsageError
from wattwright.pages import pattern_template, register, sheet, templates, views, weight_book
from wattwright.pages.about import PAPER_NAMES, PAPERS, PageAbout, Printed, frame, state_words
from wattwright.pages.typeset import pdf
from wattwright.paper.svg import render
from wattwright.paper.template_tiles import Paper, tile_svg, tiling
from wattwright.units import Taste

__all__ = ["FORMATS", "PageAbout", "Printed", "areas_for", "names", "printed"]

Format = Literal["pdf", "svg", "dxf"]
FORMATS: tuple[Format, ...] = get_args(Format)
_MEDIA = {"pdf": "application/pdf", "svg": "image/svg+xml", "dxf": "image/vnd.dxf"}
_REGISTER, _WEIGHT_BOOK = "register", "weight_book"
# What a view is called on a list.
_VIEWS = {
    "side": "side view",
    "plan": "plan view, from above",
    "rear": "view from behind",
    "mounts@side": "unit on its mounts, from the left side",
    "mounts@plan": "unit on its mounts, from above",
    "mounts@rear": "unit on its mounts, from behind",
    "mount_loads@side": "what each mount carries at worst, from the left side",
    "mount_loads@rear": "what each mount carries at worst, from behind",
    "survey@plan": "readings of the survey, from above",
    "survey@side": "readings of the survey, from the left side",
}
# What is drawn of an outlet.
_CHAINS = {
    "charging_chain": "from the wall to the pack, link by link",
    "charging_power": "a charge over its time",
}
# Pages that speak of the vehicle alone.
_OF_VEHICLE = (_WEIGHT_BOOK, "weigh_donor", "weigh_in")
_ADAPTOR = "adaptor"
_DRAWN = (*OF_LEDGER, *OF_SIDE, *OF_CABLE, *CHAINS, _ADAPTOR)


def names(opened: Opened, assessment: Assessment) -> Mapping[str, str]:
    """List the pages that this build has, by name, with what each is."""
    plate = opened.build.coupling.adaptor.begun
    return {
        _REGISTER: "findings register: every finding with its working",
        _WEIGHT_BOOK: "weight book: ledgers and what stands on the wheels",
        **_VIEWS,
        **({_ADAPTOR: "adaptor plate for the machinist"} if plate else {}),
        **{name: _made(name, opened, assessment, "metric").title for name in SHEETS},
        **{
            f"{page}@{name}": f"{name.replace('_', ' ')} against its fuse"
            for page in OF_CABLE
            for name in cables(opened.build)
        },
        **{
            f"{page}@{name}": f"{says}: {outlet.label or name.replace('_', ' ')}"
            for page, says in _CHAINS.items()
            for name, outlet in opened.build.outlet.items()
        },
        f"{templates.TEMPLATE}@{templates.CHECK}": "bars to test a printer with",
        **{
            f"{templates.TEMPLATE}@{name}": f"{name.replace('_', ' ')} from above, full size"
            for name in templates.parts(opened)
        },
        **{
            f"{templates.TEMPLATE}@{templates.PATTERN}{name}": f"{found.label or name}: holes, "
            "full size"
            for name, found in pattern_template.patterns(assessment).items()
        },
    }


def areas_for(name: str) -> tuple[Area, ...]:
    """List the areas that a page speaks of, or the list of pages: most need no use driven.

    Views draw what the drive knows of the wheels, too; loads follow from its torque, what is heard
    from its gears. A fault is hunted through all of the vehicle.
    """
    page, _, of = name.partition("@")
    of_all = (*OF_LEDGER, *OF_CABLE, *OF_OUTLET, "mount_loads", "first_drive")
    if name == _REGISTER or page in of_all:
        return AREAS
    of_part = page == templates.TEMPLATE and not of.startswith(templates.PATTERN)
    # What has to do with the mounts, or may: the list of all pages too.
    wanted: set[type] = {VehicleDescription}
    if not (of_part or name in _OF_VEHICLE):
        wanted |= {ChargingDescription, PackDescription} if page in CHAINS else {MountsDescription}
    return tuple(area for area in AREAS if area.makes in wanted)


def printed(
    name: str,
    opened: Opened,
    assessment: Assessment,
    taste: Taste,
    paper: str,
    about: PageAbout,
    kind: Format = "pdf",
) -> Printed:
    """Print the page of a name. Raises UsageError where there is none, or not in that format."""
    if paper not in PAPERS:
        raise UsageError(f"there is no paper {paper!r}; there are {', '.join(PAPER_NAMES)}")
    page, _, of = name.partition("@")
    if kind != "pdf" and page not in (*_DRAWN, templates.TEMPLATE):
        raise UsageError(f"{name} is printed as pdf alone; templates and views as {kind} too")
    arguments = (opened, assessment, taste, PAPERS[paper], about)
    if page == templates.TEMPLATE and of:
        content = _template(of, kind, *arguments)
    elif page in _DRAWN:
        content = _view(name, kind, *arguments)
    elif is_sheet(name):
        content = _sheet(name, *arguments)
    elif name == _REGISTER:
        content = _register(*arguments)
    elif name == _WEIGHT_BOOK:
        content = _weight_book(*arguments)
    else:
        raise UsageError(
            f"there is no page {name!r}; there are {', '.join(names(opened, assessment))}"
        )
    return Printed(content, _MEDIA[kind], f"{_file_name(assessment.name, name)}.{kind}")


def _file_name(build: str, page: str) -> str:
    """Name a file by build and page in signs that every system takes."""
    pieces = (re.sub(r"[^a-z0-9]+", "-", each.lower()).strip("-")[:60] for each in (build, page))
    return "-".join(piece for piece in pieces if piece)


def _register(
    opened: Opened, assessment: Assessment, taste: Taste, paper: Paper, about: PageAbout
) -> bytes:
    del opened
    head = frame(register.TITLE, assessment, paper, about)
    data = register.register(assessment, taste)
    return pdf("register", {"frame": head, **data}, tagged=False)


def _weight_book(
    opened: Opened, assessment: Assessment, taste: Taste, paper: Paper, about: PageAbout
) -> bytes:
    head = frame(weight_book.TITLE, assessment, paper, about)
    return pdf("weight_book", {"frame": head, **weight_book.weight_book(opened, assessment, taste)})


def _made(name: str, opened: Opened, assessment: Assessment, taste: Taste) -> Sheet:
    return sheets.sheet(name, opened.build, assessment, taste)


def _sheet(
    name: str,
    opened: Opened,
    assessment: Assessment,
    taste: Taste,
    paper: Paper,
    about: PageAbout,
) -> bytes:
    made = _made(name, opened, assessment, taste)
    head = frame(made.title, assessment, paper, about)
    return pdf("sheet", {"frame": head, **sheet.sheet(made, taste, about.address)})


def _view(
    name: str,
    kind: Format,
    opened: Opened,
    assessment: Assessment,
    taste: Taste,
    paper: Paper,
    about: PageAbout,
) -> bytes:
    if kind == "svg":
        return render(drawing(name, opened, assessment, taste)).encode("utf-8")
    if kind == "dxf":
        raise UsageError(f"{name} is a picture and not to scale; only templates are written as dxf")
    title, data = views.view(name, opened, assessment, taste)
    return pdf("view", {"frame": frame(title, assessment, paper, about), **data})


def _template(
    of: str,
    kind: Format,
    opened: Opened,
    assessment: Assessment,
    taste: Taste,
    paper: Paper,
    about: PageAbout,
) -> bytes:
    if of.startswith(templates.PATTERN):
        pattern = of.removeprefix(templates.PATTERN)
        made = pattern_template.pattern_template(pattern, assessment, taste)
    else:
        made = templates.template(of, opened, taste)
    if kind == "svg":
        from wattwright.paper.template_svg import template_svg

        return template_svg(made).encode("utf-8")
    if kind == "dxf":
        from wattwright.paper.template_dxf import template_dxf

        return template_dxf(made)
    laid = tiling(made, paper)
    state, count = state_words(assessment, about), len(laid.tiles)
    sheets = [
        {
            "name": f"Sheet {tile.name}",
            "picture": tile_svg(laid, tile, f"{assessment.name} · page {number} of {count}", state),
        }
        for number, tile in enumerate(laid.tiles, 1)
    ]
    return pdf("tiles", {"frame": frame(made.title, assessment, paper, about), "sheets": sheets})
