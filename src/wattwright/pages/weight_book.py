"""The weight book: ledgers as they were written down, and what the assessment makes of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from wattwright.areas.vehicle import Vehicle
from wattwright.areas.vehicle.part_mass import mass_of
from wattwright.assessment import AreaReport, Assessment, shown, verdict_words
from wattwright.build.parts import Part, Place, Point
from wattwright.build.presence import said
from wattwright.build.reader import Opened
from wattwright.build.vehicle import Weighing
from wattwright.findings import Figure, FigureKind
from wattwright.kinds import MASS
from wattwright.units import Taste
from wattwright.values import Value
from wattwright.words import margin_words, origin_words

TITLE = "Weight book"
# So many columns of figures stand side by side.
_COLUMNS = 7
_WORDED = ("of", "verdict", "role", "how known", "state, how known")
_AT = ("back", "right", "up")
_SCALES = {
    "fl": "front left",
    "fr": "front right",
    "rl": "rear left",
    "rr": "rear right",
    "front": "front axle",
    "rear": "rear axle",
}


def weight_book(opened: Opened, assessment: Assessment, taste: Taste) -> dict[str, Any]:
    """Collect what the weight book prints."""
    report = next(each for each in assessment.reports if each.area.name == Vehicle.name)
    return {
        "cases": [*_cases(report, taste)],
        "limits": _limits(report, taste),
        "ledgers": [*_ledgers(opened, taste)],
    }


def _ledger(
    says: str, empty: str, heads: Sequence[str], columns: Sequence[float], rows: Iterable[Any]
) -> dict[str, Any]:
    """Lay out one table; ``columns`` are widths by share, ``empty`` is said where it has no row.

    Columns of words, those that say no value, stand to the left.
    """
    return {
        "says": says,
        "empty": empty,
        "heads": list(heads),
        "columns": list(columns),
        "left": [count for count, head in enumerate(heads) if not count or head in _WORDED],
        "rows": [list(row) for row in rows],
    }


def _cases(report: AreaReport, taste: Taste) -> Iterator[dict[str, Any]]:
    """Lay out the figures by loading case, in as many tables as their columns take."""
    for table in report.area.tables:
        ids = {kind.id for kind in table.figures}
        grid: dict[str, dict[str, Figure]] = {}
        for figure in report.figures:
            if figure.declared.id in ids:
                grid.setdefault(figure.about, {})[figure.declared.id] = figure
        known = {
            about: row for about, row in grid.items() if any(f.value.known for f in row.values())
        }
        for start in range(0, len(table.figures), _COLUMNS):
            kinds = table.figures[start : start + _COLUMNS]
            yield _ledger(
                table.says if not start else f"{table.says}, continued",
                "Nothing can be said yet: weigh the vehicle, wheel by wheel or axle by axle.",
                ["case", *(kind.head or kind.says for kind in kinds)],
                [1.1, *(1.0 for _ in kinds)],
                (
                    [about.replace("/", ", "), *_cells(row, kinds, taste)]
                    for about, row in known.items()
                ),
            )


def _cells(row: Mapping[str, Figure], kinds: Sequence[FigureKind], taste: Taste) -> Iterator[str]:
    for kind in kinds:
        figure = row.get(kind.id)
        yield _number(figure.value, taste) if figure is not None else ""


def _number(value: Value, taste: Taste) -> str:
    if value.known:
        # A band never stands alone in the next line.
        return shown(value, taste).replace(" ± ", "\u00a0±\u00a0")
    return "none" if value.absent else "?"


def _limits(report: AreaReport, taste: Taste) -> dict[str, Any]:
    masses = (each for each in report.findings if each.check.kind is MASS)
    return _ledger(
        "masses and loads against their limits",
        "Nothing is held against a limit yet.",
        ("what", "of", "value", "limit", "to spare", "verdict"),
        (1.5, 1.3, 1.1, 1.8, 1.2, 1.4),
        (
            (
                each.check.says,
                each.about.replace("/", ", "),
                _number(each.value, taste),
                f"{each.sense} {_number(each.limit, taste)}".replace(" ", "\u00a0"),
                margin_words(each, taste),
                verdict_words(each),
            )
            for each in masses
        ),
    )


def _ledgers(opened: Opened, taste: Taste) -> Iterator[dict[str, Any]]:
    build = opened.build
    heads = ("thing", "count", "mass of one", *_AT, "state, how known")
    widths = (1.7, 0.6, 1.1, 1.1, 1.1, 1.1, 1.7)
    kept = {name: part for name, part in build.part.items() if part.state != "removed"}
    yield _ledger(
        "put in",
        "Nothing is listed yet as [part.NAME].",
        heads,
        widths,
        (_part(name, part, part.state, taste) for name, part in kept.items()),
    )
    yield _ledger(
        "taken out of the donor",
        "Nothing is listed yet as [donor.removed.NAME].",
        heads,
        widths,
        (_part(name, part, "", taste) for name, part in build.donor.removed.items()),
    )
    yield _ledger(
        "seats, loads and tanks",
        "None is listed yet as [place.NAME].",
        ("place", "role", "when full", *_AT, "how known"),
        widths,
        (_place(name, place, taste) for name, place in build.place.items()),
    )
    weighings = {"the donor as found": build.donor.weighed, "the conversion": build.weigh_in}
    yield _ledger(
        "on the scales",
        "Nothing has been weighed yet.",
        ("weighing", *_SCALES.values(), "how known"),
        (1.4, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.1),
        (_weighing(name, each, taste) for name, each in weighings.items() if said(each)),
    )


def _at(point: Point, taste: Taste) -> tuple[str, ...]:
    return tuple(_number(value, taste) for value in (point.x, point.y, point.z))


def _origin(value: Value) -> str:
    return origin_words(value.given) if value.given is not None else ""


def _part(name: str, part: Part, state: str, taste: Taste) -> tuple[str, ...]:
    mass = mass_of(part)
    origin = "from its wire" if mass.step is not None else _origin(mass)
    known = ", ".join(each for each in (state, origin) if each)
    count = shown(part.count, taste, band=False)
    return (_words(name), count, _number(mass, taste), *_at(part.at, taste), known)


def _place(name: str, place: Place, taste: Taste) -> tuple[str, ...]:
    full = _number(place.full, taste) if place.role in ("load", "tank") else ""
    return _words(name), place.role, full, *_at(place.at, taste), _origin(place.at.x)


def _weighing(name: str, weighing: Weighing, taste: Taste) -> tuple[str, ...]:
    readings: list[Value] = [getattr(weighing, scale) for scale in _SCALES]
    known = next((_origin(each) for each in readings if each.given is not None), "")
    cells = (_number(each, taste) if each.given is not None else "" for each in readings)
    return (name, *cells, known)


def _words(name: str) -> str:
    return name.replace("_", " ")
