"""The reference inside the workbench: fields, findings, formulas, from the same declarations."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from wattwright.build.catalogue import entries
from wattwright.declared_out import field_out, findings_out
from wattwright.errors import UsageError
from wattwright.output import DeclaredOut, FieldOut
from wattwright.quick_sums import left_out, sums
from wattwright.web.answers import page

_LONGEST = 100


@dataclass(frozen=True, slots=True)
class Article:
    """One thing that is explained."""

    id: str
    title: str
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        """All its words, for finding."""
        return " ".join((self.id, self.title, *self.lines)).casefold()


def reference(request: Request) -> Response:
    """Explain everything of one sort, or what some words find among it."""
    which = request.path_params.get("which", "fields")
    if which not in _SORTS:
        raise UsageError(f"there is no reference of {which!r}; there are {', '.join(_SORTS)}")
    words = request.query_params.get("q", "")[:_LONGEST].strip()
    wanted = words.casefold().split()
    found = [each for each in _SORTS[which]() if all(word in each.text for word in wanted)]
    return page(request, "reference.html", "Reference", which=which, words=words, found=found)


def _fields() -> Iterator[Article]:
    for entry in entries():
        out = field_out(entry)
        yield Article(out.path, out.label, tuple(_field_lines(out)))


def _field_lines(out: FieldOut) -> Iterator[str]:
    example = f", such as {out.example}" if out.example else ""
    allowed = (", ".join if out.kind == "choice" else " to ".join)(out.allowed)
    yield f"{out.kind}{example}" + (f"; {allowed}" if allowed else "")
    if out.kinds:
        yield f"only for kind = {', '.join(out.kinds)}"
    if out.help:
        yield out.help
    if out.how:
        yield f"How: {out.how} ({out.minutes:g} min)"
    if out.default:
        yield f"When left out: {out.default}" + (f" ({out.basis})" if out.basis else "")


def _findings() -> Iterator[Article]:
    out = findings_out()
    for each in (*out.checks, *out.figures):
        yield Article(each.id, each.says, tuple(_declared_lines(each)))


def _declared_lines(out: DeclaredOut) -> Iterator[str]:
    yield out.meaning
    if out.limit:
        yield f"Limit: {out.limit}; marginal within {out.near}"
    if out.source:
        yield f"Source: {out.source}"
    if out.caution:
        yield f"Caution: {out.caution}"


def _formulas() -> Iterator[Article]:
    for each in sums():
        lines = [f"{each.symbol} = {each.text}", f"Source: {each.source}"]
        if each.method:
            lines.append(f"Method: {each.method}")
        yield Article(each.name, each.says, tuple(lines))
    for left in left_out():
        yield Article(left.name, left.says, (f"No quick sum: {left.why}",))


_SORTS: dict[str, Callable[[], Iterator[Article]]] = {
    "fields": _fields,
    "findings": _findings,
    "formulas": _formulas,
}
