"""What the tests of pictures share: reading an SVG, and measuring what stands in a drawing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from xml.etree.ElementTree import Element, fromstring

from barkwright.output.blocks import Picture
from barkwright.output.measures import Units
from barkwright.output.pictures.characters import ascii_lines
from barkwright.output.pictures.drawing import Label, Shape, Stroke
from barkwright.output.pictures.svg import svg
from barkwright.output.view import View
from planned_sites import planned

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
HOSTILE = (
    "<script>alert(1)</script>", "A & B", "\"'quoted'\"", "bell\x07 and \x1b[31m", "turned \u202e round", "x" * 200,
    "word " * 40, "Еловый лес у реки", "ᐊᒥᐢᑯ ᓵᑲᐦᐃᑲᐣ", "湖の家 " * 12, "two\nlines", "]]>", "\ufffe\ud800",
)  # fmt: skip
LOGS = """
trees:
  - id: D1
    species: white
    status: logs
    felled_on: 2026-10-03
    stood_at_attack: true
    attacked: 2025
    attack: mass
    logs: [{logs}]
"""


def site(text: str, metric: bool = False) -> View:
    """A planned site, from the text of its file."""
    return View(planned(text, ON), Units(metric), "a test")


def yard(*changes: tuple[str, str]) -> str:
    """The yard tree of the examples, changed."""
    text = (EXAMPLES / "yard-tree.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def pile(logs: str) -> str:
    """The yard of the examples with cut logs in place of its tree."""
    text = yard()
    return text[: text.index("trees:")] + LOGS.format(logs=logs).lstrip() + text[text.index("\ncutting:") :]


def parsed(picture: Picture, ident: str = "one") -> Element:
    """The picture as XML, by a reader that refuses what is not XML."""
    return fromstring(svg(picture.drawing, ident, picture.title, picture.alt))


def labels(picture: Picture) -> list[Label]:
    """All words of the drawing."""
    return [part for part in picture.drawing.parts if isinstance(part, Label)]


def shapes(picture: Picture, fill: str) -> list[Shape]:
    """All outlines with one fill."""
    return [part for part in picture.drawing.parts if isinstance(part, Shape) and part.fill == fill]


def uprights(picture: Picture, heavy: bool = False, dashed: bool = False) -> list[float]:
    """Where upright lines stand, from left to right."""
    return sorted(
        part.points[0][0]
        for part in picture.drawing.parts
        if isinstance(part, Stroke)
        and len(part.points) == 2
        and part.points[0][0] == part.points[1][0]
        and (part.heavy, part.dashed) == (heavy, dashed)
    )


def ends(label: Label) -> tuple[float, float]:
    """From where to where a label reaches, at 0.6 of 13 px a letter and twice as much for wide ones."""
    width = sum(15.6 if ord(char) >= 0x2E80 else 7.8 for char in label.text)
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return left, left + width


def holds_to_the_sheet(picture: Picture) -> None:
    """Nothing leaves the drawing, and no line of characters is too wide or without its like in ASCII."""
    for label in labels(picture):
        left, right = ends(label)
        assert -1 <= left < right <= picture.drawing.width + 1, label
        assert 0 < label.y <= picture.drawing.height
    for x, y in _points(picture):
        assert -0.01 <= x <= picture.drawing.width + 0.01
        assert -0.01 <= y <= picture.drawing.height + 0.01
    plain = ascii_lines(picture.lines)
    for line, other in zip(picture.lines, plain, strict=True):
        wide = sum(2 if ord(char) >= 0x2E80 else 1 for char in line)
        assert wide <= 76
        assert other.isascii()
        assert len(other) == wide


def _points(picture: Picture) -> Iterator[tuple[float, float]]:
    for part in picture.drawing.parts:
        if not isinstance(part, Label):
            yield from part.points
