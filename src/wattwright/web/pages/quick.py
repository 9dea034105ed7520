"""Quick sums: the formulas as pocket calculators, beside a build or without one."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from wattwright.quick_sums import Sum, find, search, sums
from wattwright.web.answers import base_of, desk_of, page, taste_of
from wattwright.web.desk import Desk

_LONGEST = 400


def _desk(request: Request) -> Desk | None:
    return desk_of(request) if "build" in request.path_params else None


def _sums_base(desk: Desk | None) -> str:
    return f"{base_of(desk)}/sums" if desk is not None else "/sums"


def all_sums(request: Request) -> Response:
    """List the sums, or those that some words find."""
    desk = _desk(request)
    words = request.query_params.get("q", "")[:_LONGEST].strip()
    topics: dict[str, list[Sum]] = {}
    for each in search(words) if words else sums():
        topics.setdefault(each.topic, []).append(each)
    return page(
        request,
        "sums.html",
        "Quick sums",
        desk,
        page_name="sums",
        topics=list(topics.items()),
        words=words,
        sums_base=_sums_base(desk),
    )


def one_sum(request: Request) -> Response:
    """Show one sum, worked out where something was typed."""
    desk, taste = _desk(request), taste_of(request)
    wanted = find(request.path_params["name"])
    asked = request.query_params
    texts = (
        wanted.examples
        if "example" in asked
        else {blank.name: asked.get(blank.name, "")[:_LONGEST] for blank in wanted.arguments}
    )
    typed = any(text.strip() for text in texts.values())
    return page(
        request,
        "sum.html",
        wanted.says[:1].upper() + wanted.says[1:].rstrip("."),
        desk,
        page_name="sums",
        sum=wanted,
        texts=texts,
        answer=wanted.work(texts, taste) if typed else None,
        sums_base=_sums_base(desk),
    )
