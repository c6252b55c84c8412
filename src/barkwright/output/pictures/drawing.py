"""A drawing before it is SVG: shapes at places, with fills told apart by pattern, never by colour alone."""

from __future__ import annotations

from typing import Literal

from barkwright.record import dataclass

Fill = Literal["none", "plain", "solid", "lines", "dots", "cross", "paper"]
Anchor = Literal["start", "middle", "end"]
WIDTH_PX = 400.0  # of every picture: a phone shows it a little smaller, a page a little larger


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed outline through points [px]."""

    points: tuple[tuple[float, float], ...]
    fill: Fill = "none"
    heavy: bool = False
    bare: bool = False  # no outline


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open line through points [px]."""

    points: tuple[tuple[float, float], ...]
    dashed: bool = False
    heavy: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place [px]; the anchor says which end of them stands there."""

    x: float
    y: float
    text: str
    anchor: Anchor = "start"
    strong: bool = False


Part = Shape | Stroke | Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes on a sheet of a width and a height [px]; drawn in order."""

    width: float
    height: float
    parts: tuple[Part, ...]


def box(left: float, top: float, right: float, bottom: float, fill: Fill = "none", bare: bool = False) -> Shape:
    """A rectangle."""
    return Shape(((left, top), (right, top), (right, bottom), (left, bottom)), fill, bare=bare)


def ground(left: float, top: float, right: float, bottom: float) -> Shape:
    """White behind words, no further than the sheet."""
    return box(max(left, 0.0), top, min(right, WIDTH_PX), bottom, "paper", bare=True)
