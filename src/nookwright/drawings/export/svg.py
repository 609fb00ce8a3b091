"""A page as SVG: millimetres, plain lines and real words."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape

from nookwright.drawings.hatching import hatch_lines
from nookwright.drawings.lettering import FAMILY, font_size_mm
from nookwright.drawings.page import PEN_MM, Area, Circle, Dash, Fill, Ink, Item, Items, Line, Page, Pen, Shape, Text
from nookwright.geometry.frame import Point2

_INK: dict[Ink, str] = {"black": "#000000", "grey": "#808080"}
_FILL: dict[Fill, str] = {
    "none": "none", "white": "#ffffff", "tint": "#ececec", "grey": "#c4c4c4", "black": "#000000",
    "hatch": "none", "counter-hatch": "none",
}  # fmt: skip
_HATCH_DEG: dict[Fill, float] = {"hatch": 45.0, "counter-hatch": 135.0}
_DASH_MM: dict[Dash, str] = {"solid": "", "dashed": "3 1.5", "chain": "8 1.5 0.8 1.5"}


def svg(page: Page) -> bytes:
    """Return the page as an SVG document; the same page gives the same bytes.

    Args:
        page: what to write.

    Returns:
        UTF-8 text; one user unit is one millimetre.
    """
    whole = Area(x=0.0, y=0.0, width=page.width_mm, height=page.height_mm)
    return svg_of(page.items, whole, page.name).encode("utf-8")


def svg_of(items: Items, area: Area, name: str) -> str:
    """Return what lies in an area as an SVG document.

    Args:
        items: what is drawn.
        area: the piece of paper shown. [mm]
        name: what it is, for those who cannot see it.

    Returns:
        The text; one user unit is one millimetre.
    """
    x, y, width, height = (_number(value) for value in (area.x, area.y, area.width, area.height))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="{x} {y} {width} {height}" fill="none" stroke-linecap="round" stroke-linejoin="round">'
    )
    lines = [head, f"<title>{escape(name)}</title>"]
    for item in items:
        lines.extend(_drawn(item))
    lines.append("</svg>\n")
    return "\n".join(lines)


def _number(value: float) -> str:
    """Return a number to a thousandth, without needless noughts or a negative nought."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _stroke(pen: Pen | None, dash: Dash, ink: Ink) -> str:
    if pen is None:
        return ""
    dashes = f' stroke-dasharray="{_DASH_MM[dash]}" stroke-linecap="butt"' if dash != "solid" else ""
    return f' stroke="{_INK[ink]}" stroke-width="{PEN_MM[pen]}"{dashes}'


def _path(points: Iterable[Point2], closed: bool) -> str:
    places = " L".join(f"{_number(x)} {_number(y)}" for x, y in points)
    return f"M{places}{' Z' if closed else ''}"


def _drawn(item: Item) -> list[str]:
    """Return the SVG elements of one item."""
    if isinstance(item, Line):
        return [f'<path d="{_path((item.start, item.end), False)}"{_stroke(item.pen, item.dash, item.ink)}/>']
    if isinstance(item, Shape):
        return _drawn_shape(item)
    if isinstance(item, Circle):
        x, y = item.centre
        fill = f' fill="{_FILL[item.fill]}"' if item.fill != "none" else ""
        place = f'cx="{_number(x)}" cy="{_number(y)}" r="{_number(item.radius)}"'
        return [f"<circle {place}{fill}{_stroke(item.pen, 'solid', item.ink)}/>"]
    return [_drawn_text(item)]


def _drawn_shape(shape: Shape) -> list[str]:
    fill = f' fill="{_FILL[shape.fill]}"' if _FILL[shape.fill] != "none" else ""
    elements: list[str] = []
    if shape.fill in _HATCH_DEG:
        strokes = "".join(_path(line, False) for line in hatch_lines(shape.points, angle_deg=_HATCH_DEG[shape.fill]))
        if strokes:
            elements.append(f'<path d="{strokes}" stroke="{_INK[shape.ink]}" stroke-width="0.18"/>')
    if fill or shape.pen is not None:
        outline = _path(shape.points, shape.closed)
        elements.append(f'<path d="{outline}"{fill}{_stroke(shape.pen, shape.dash, shape.ink)}/>')
    return elements


def _drawn_text(text: Text) -> str:
    x, y = (_number(value) for value in text.at)
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    weight = ' font-weight="bold"' if text.bold else ""
    turn = f' transform="rotate({_number(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    return (
        f'<text x="{x}" y="{y}" font-family="{FAMILY}" font-size="{_number(font_size_mm(text.height_mm))}" '
        f'fill="{_INK[text.ink]}"{anchor}{weight}{turn}>{escape(text.text)}</text>'
    )
