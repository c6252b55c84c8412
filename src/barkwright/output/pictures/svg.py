"""Drawings as inline SVG: one element, no script, nothing from outside; dark on white, so that any paper takes it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, SubElement, tostring

from barkwright.output.pictures.drawing import Label, Shape, Stroke
from barkwright.output.pictures.letters import FONT_PX, clean

if TYPE_CHECKING:
    from barkwright.output.pictures.drawing import Drawing

WIDEST_PX = 520  # wider, the letters of a picture would dwarf the page's; ours
_STYLE = f"display:block;width:100%;max-width:{WIDEST_PX}px;height:auto;color:#111;background:#fff"
_LINES = {  # strokes of each pattern on a tile: its width, and what is drawn on it
    "lines": (6.0, ("M0 6 6 0M-1.5 1.5 1.5 -1.5M4.5 7.5 7.5 4.5",)),
    "cross": (5.0, ("M0 5 5 0M-1 1 1 -1M4 6 6 4", "M0 0 5 5M-1 4 1 6M4 -1 6 1")),
}
_DOT_TILE = 7.0
_PAINTS = {"none": "none", "paper": "#fff", "plain": "#d9d9d9", "solid": "currentColor"}


def svg(drawing: Drawing, ident: str, title: str, alt: str) -> str:
    """A drawing as one SVG element. `ident` sets its ids apart from those of other pictures on the page."""
    name = _name(ident)
    width, height = _number(drawing.width), _number(drawing.height)
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {width} {height}",
            "width": width,
            "height": height,
            "style": _STYLE,
            "role": "img",
            "aria-labelledby": f"{name}-title {name}-desc",
            "font-family": "sans-serif",
            "font-size": _number(FONT_PX),
        },
    )
    SubElement(root, "title", {"id": f"{name}-title"}).text = clean(title)
    SubElement(root, "desc", {"id": f"{name}-desc"}).text = clean(alt)
    used = sorted({part.fill for part in drawing.parts if isinstance(part, Shape)} - set(_PAINTS))
    if used:
        defs = SubElement(root, "defs")
        for fill in used:
            _pattern(defs, f"{name}-{fill}", fill)
    for part in drawing.parts:
        _draw(root, part, name)
    return tostring(root, encoding="unicode")


def _name(ident: str) -> str:
    """An id of letters and digits alone; unlike idents give unlike ids."""
    return "p" + re.sub(r"[^A-Za-z0-9-]", lambda found: f"_{ord(found[0]):x}_", ident)


def _number(value: float) -> str:
    return f"{round(value, 2):g}"


def _path(points: tuple[tuple[float, float], ...], closed: bool) -> str:
    return "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in points) + "Z" * closed


def _pattern(defs: Element, ident: str, fill: str) -> None:
    side, strokes = _LINES.get(fill, (_DOT_TILE, ()))
    size = _number(side)
    tile = SubElement(defs, "pattern", {"id": ident, "width": size, "height": size, "patternUnits": "userSpaceOnUse"})
    SubElement(tile, "rect", {"width": size, "height": size, "fill": "#fff"})
    for stroke in strokes:
        SubElement(tile, "path", {"d": stroke, "stroke": "currentColor", "stroke-width": "1.1", "fill": "none"})
    if not strokes:
        for at in (side * 0.25, side * 0.75):
            place = _number(at)
            SubElement(tile, "circle", {"cx": place, "cy": place, "r": "0.95", "fill": "currentColor"})


def _draw(root: Element, part: Shape | Stroke | Label, name: str) -> None:
    if isinstance(part, Label):
        named = {"x": _number(part.x), "y": _number(part.y), "fill": "currentColor"}
        if part.anchor != "start":
            named["text-anchor"] = part.anchor
        if part.strong:
            named["font-weight"] = "bold"
        SubElement(root, "text", named).text = clean(part.text)
        return
    closed = isinstance(part, Shape)
    named = {"d": _path(part.points, closed), "fill": "none"}
    if isinstance(part, Shape):
        named["fill"] = _PAINTS.get(part.fill) or f"url(#{name}-{part.fill})"
    if not (isinstance(part, Shape) and part.bare):
        named |= {"stroke": "currentColor", "stroke-width": "2" if part.heavy else "1"}
    if isinstance(part, Stroke) and part.dashed:
        named["stroke-dasharray"] = "4 3"
    SubElement(root, "path", named)
