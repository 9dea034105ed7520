"""A template as SVG in millimetres, one to one: a viewer at 100 % shows it in its true size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from wattwright.paper import Box, Point, number
from wattwright.paper.svg import plain_text
from wattwright.paper.template import Arc, Circle, Layer, Line, Polyline, Shape, Template, Words

_MARGIN = 5.0


def template_svg(template: Template) -> str:
    """Write a template as an SVG file of its own size."""
    room = template.box.grown(_MARGIN)
    return document(
        template.title, room.width, room.height, grouped(template, (-room.left, room.bottom))
    )


def document(title: str, width: float, height: float, parts: Iterable[str]) -> str:
    """Wrap markup into a document that is so many mm wide and high."""
    size = f'width="{number(width)}mm" height="{number(height)}mm"'
    box = f'viewBox="0 0 {number(width)} {number(height)}"'
    body = "\n".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box} font-family="sans-serif">\n'
        f"<title>{escape(plain_text(title))}</title>\n{body}\n</svg>\n"
    )


def grouped(template: Template, moved: Point) -> Iterator[str]:
    """Yield one group for each layer; ``moved`` is where the origin stands, from the top left."""
    for layer in template.layers:
        yield from layer_group(layer, template.on(layer), moved)


def layer_group(layer: Layer, shapes: Iterable[Shape], moved: Point) -> Iterator[str]:
    """Write the shapes of one layer as a group that carries its name."""
    dash = f' stroke-dasharray="{" ".join(map(number, layer.dash))}"' if layer.dash else ""
    look = f'stroke="#000" stroke-width="{number(layer.weight)}"{dash} fill="none"'
    yield f"<g data-layer={quoteattr(layer.name)} {look}>"
    for shape in shapes:
        yield _markup(shape, moved)
    yield "</g>"


def clipped(parts: Iterable[str], window: Box) -> Iterator[str]:
    """Cut markup off at a window, given from the top left of the paper."""
    place = f'x="{number(window.left)}" y="{number(window.top)}"'
    size = f'width="{number(window.width)}" height="{number(window.height)}"'
    box = " ".join(map(number, (window.left, window.top, window.width, window.height)))
    yield f'<svg {place} {size} viewBox="{box}" overflow="hidden">'
    yield from parts
    yield "</svg>"


def _markup(shape: Shape, moved: Point) -> str:
    def at(point: Point) -> str:
        return f"{number(moved[0] + point[0])} {number(moved[1] - point[1])}"

    match shape:
        case Line(start=start, end=end):
            return f'<path d="M{at(start)}L{at(end)}"/>'
        case Polyline(points=points, closed=closed, filled=filled):
            steps = "L".join(map(at, points))
            look = ' fill="#000" stroke="none"' if filled else ""
            return f'<path d="M{steps}{"Z" if closed else ""}"{look}/>'
        case Circle(centre=centre, radius=radius):
            x, y = at(centre).split(" ")
            return f'<circle cx="{x}" cy="{y}" r="{number(radius)}"/>'
        case Arc():
            r = number(shape.radius)
            large = int(shape.sweep > 180.0)
            # Upwards is turned round on paper, and counter-clockwise with it.
            return (
                f'<path d="M{at(shape.at(shape.start))}A{r} {r} 0 {large} 0 '
                f'{at(shape.at(shape.end))}"/>'
            )
        case Words():
            return _words(shape, at(shape.at))


def _words(words: Words, at: str) -> str:
    x, y = at.split(" ")
    anchor = "" if words.anchor == "start" else f' text-anchor="{words.anchor}"'
    turn = f' transform="rotate({number(-words.turn)} {x} {y})"' if words.turn else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{number(words.height)}"{anchor}{turn} '
        f'fill="#000" stroke="none">{escape(plain_text(words.text))}</text>'
    )
