"""A sheet of the bench on paper: lines with what to expect, a blank to write on, and initials."""

from __future__ import annotations

import io
from typing import Any

from wattwright.bench.sheet import Line, Sheet
from wattwright.units import Taste, unit_of

_NO_EXPECTATION = "nothing said before"


def sheet(made: Sheet, taste: Taste, address: str) -> dict[str, Any]:
    """Collect what a sheet prints; ``address`` is where its readings are taken in."""
    return {
        "title": made.title,
        "purpose": made.purpose,
        "cautions": list(made.cautions),
        "tools": list(made.tools),
        "lines": [_line(count, each, taste) for count, each in enumerate(made.lines, 1)],
        "answers": [[each.says, each.then] for each in made.answers],
        "answers_from": made.answers_from,
        "code": code(address) if address else None,
        "address": address,
    }


def _line(count: int, line: Line, taste: Taste) -> dict[str, Any]:
    return {
        "number": str(count),
        "act": line.act,
        "where": line.where,
        "instrument": line.instrument,
        "path": line.path,
        "stop_if": line.stop_if,
        "care": line.care,
        "tells": list(line.tells),
        "read": line.read,
        "expected": _expected(line, taste),
        "unit": unit_of(line.kind, taste) if line.kind is not None else "",
    }


def _expected(line: Line, taste: Taste) -> str:
    # A band never stands alone in the next line.
    said = line.expects(taste).replace(" ± ", "\u00a0±\u00a0")
    return said or (_NO_EXPECTATION if line.read else "")


def code(address: str) -> str:
    """Draw an address as a code that a phone reads."""
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=4, xmldecl=False)
    return drawn.getvalue().decode("utf-8")
