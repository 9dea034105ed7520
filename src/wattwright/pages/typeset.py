"""From data to a PDF: one call of the typesetter.

Fonts are those that come with it and are embedded; system fonts and packages are never used. There
is no date in the file but what the data print, so the same data give the same bytes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from wattwright.errors import WattwrightError

_HERE = Path(__file__).parent
# Controls and marks that turn the direction of writing: a name must not turn a page round.
_HARMFUL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")


class TypesetError(WattwrightError):
    """A page that could not be set."""


def pdf(template: str, data: Mapping[str, Any], *, tagged: bool = True) -> bytes:
    """Set a page by one of the templates beside this module.

    ``tagged`` lets a reading machine follow the page; it doubles the time of a long one.
    """
    import typst

    written = json.dumps(_harmless(data), ensure_ascii=False)
    try:
        made = typst.compile(
            str(_HERE / f"{template}.typ"),
            root=str(_HERE),
            sys_inputs={"data": written},
            ignore_system_fonts=True,
            format="pdf",
            pdf_tags=tagged,
        )
    except typst.TypstError as error:
        raise TypesetError(f"the page {template} cannot be set: {error}") from error
    if not isinstance(made, bytes):
        raise TypesetError(f"the page {template} came out as several files")
    return made


def _harmless(data: Any) -> Any:
    """Put a harmless sign where one would act on the page instead of being seen."""
    match data:
        case str():
            return _HARMFUL.sub("\ufffd", data)
        case Mapping():
            return {key: _harmless(each) for key, each in data.items()}
        case list() | tuple():
            return [_harmless(each) for each in data]
        case _:
            return data
