"""A template as DXF for drawing programs and cutters: millimetres, layers by name.

Release R2010, the first of those in use that keeps the unit. The same template gives the same
bytes: no date of now and no random identifiers stand in it.
"""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

from wattwright.paper.svg import plain_text
from wattwright.paper.template import Arc, Circle, Line, Polyline, Shape, Template, Words

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

_RELEASE = "R2010"
_MILLIMETRES = 4
_METRIC = 1
# Dates and identifiers that the library draws anew each time, by the tag that announces them.
_DATES = re.compile(r"(\$TD(?:U?CREATE|U?UPDATE)\n *40\n)[^\n]*")
_IDENTIFIERS = re.compile(r"(\$(?:FINGERPRINT|VERSION)GUID\n *2\n)[^\n]*")
_WRITTEN_AT = re.compile(r"(\d+\.\d+\.\d+\S* @ )\d{4}-\d\d-\d\dT[^\n]*")
_NO_DATE = "2451544.5"
_NO_IDENTIFIER = "{00000000-0000-0000-0000-000000000000}"
# Weights that DXF knows, in hundredths of a millimetre.
_WEIGHTS = (13, 18, 25, 35, 50, 70)
_ALIGNED = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}


def template_dxf(template: Template) -> bytes:
    """Write a template as a DXF file."""
    from ezdxf.filemanagement import new

    made = new(_RELEASE)
    made.header["$INSUNITS"] = _MILLIMETRES
    made.header["$MEASUREMENT"] = _METRIC
    made.header["$LUNITS"] = 2
    _add_layers(made, template)
    space = made.modelspace()
    for shape in template.shapes:
        _add(space, shape)
    box = template.box
    made.header["$EXTMIN"] = (box.left, box.top, 0.0)
    made.header["$EXTMAX"] = (box.right, box.bottom, 0.0)
    written = io.StringIO()
    made.write(written)
    return _without_now(written.getvalue()).encode("utf-8")


def _add_layers(made: Drawing, template: Template) -> None:
    for layer in template.layers:
        line_type = "CONTINUOUS"
        if layer.dash:
            line_type = f"WW_{layer.name}".upper()
            made.linetypes.add(line_type, [sum(layer.dash), *_signed(layer.dash)])
        weight = min(_WEIGHTS, key=lambda known: abs(known - 100 * layer.weight))
        added = made.layers.add(layer.name, linetype=line_type, lineweight=weight)
        added.description = layer.says


def _signed(dashes: tuple[float, ...]) -> list[float]:
    """Write gaps, every second length, as below zero."""
    return [-length if place % 2 else length for place, length in enumerate(dashes)]


def _add(space: Modelspace, shape: Shape) -> None:
    look = {"layer": shape.layer.name}
    match shape:
        case Line(start=start, end=end):
            space.add_line(start, end, look)
        case Polyline(points=points, closed=closed):
            space.add_lwpolyline(points, close=closed, dxfattribs=look)
        case Circle(centre=centre, radius=radius):
            space.add_circle(centre, radius, look)
        case Arc(centre=centre, radius=radius, start=start, end=end):
            space.add_arc(centre, radius, start, end, dxfattribs=look)
        case Words():
            _add_words(space, shape)


def _add_words(space: Modelspace, words: Words) -> None:
    from ezdxf.enums import TextEntityAlignment

    text = space.add_text(
        _escaped(plain_text(words.text)),
        height=words.height,
        rotation=words.turn,
        dxfattribs={"layer": words.layer.name},
    )
    text.set_placement(words.at, align=TextEntityAlignment[_ALIGNED[words.anchor]])


def _escaped(text: str) -> str:
    """Keep what a drawing program would read as a sign of its own: %%d, ^J and the like."""
    return text.replace("%%", "% %").replace("^", "^ ")


def _without_now(text: str) -> str:
    text = _DATES.sub(rf"\g<1>{_NO_DATE}", text)
    text = _IDENTIFIERS.sub(rf"\g<1>{_NO_IDENTIFIER}", text)
    return _WRITTEN_AT.sub(r"\g<1>2000-01-01T00:00:00+00:00", text)
