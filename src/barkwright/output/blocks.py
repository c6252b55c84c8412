"""A page before it is laid out: sections made of paragraphs, lists, tables and cards. Every format renders these."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.output.pictures.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Para:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list; `mark` opens each entry: '-', '[ ]' for something to tick off, or '1.' for a numbered list."""

    entries: tuple[tuple[str, tuple[str, ...]], ...]  # text, and lines that belong under it
    mark: str = "-"


@dataclass(frozen=True, slots=True)
class Facts:
    """Short labels with what they hold."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head. `align` has one letter per column: l, r or c; `wrap` is the column that takes what is left.

    A line break in a cell of the head puts a unit under its name.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: str
    wrap: int | None = None


@dataclass(frozen=True, slots=True)
class Columns:
    """Lines whose letters stand in columns: never wrapped, so at most a page wide."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing; `alt` says in words all that it shows, `lines` draw it with characters, at most 76 columns wide.

    Forms without drawings leave out what is `screen_only`.
    """

    title: str
    alt: str
    drawing: Drawing
    lines: tuple[str, ...]
    screen_only: bool = False


Block = Para | Items | Facts | Table | Columns | Picture


@dataclass(frozen=True, slots=True)
class Card:
    """A block with its own title that stays together."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

    heading: str
    blocks: tuple[Block | Card, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A whole document."""

    title: str
    subtitle: str
    sections: tuple[Section, ...]
    tight: bool = False  # no empty lines between sections and cards


def plain(entries: list[str] | tuple[str, ...], mark: str = "-") -> Items:
    """A list whose entries have nothing under them."""
    return Items(tuple((entry, ()) for entry in entries), mark)
