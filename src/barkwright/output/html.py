"""Pages as HTML: one file for screen, phone and paper that needs no network and no script."""

from __future__ import annotations

from functools import lru_cache
from itertools import count

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from barkwright.output.blocks import Block, Card, Columns, Facts, Items, Page, Picture, Section, Table
from barkwright.output.names import printable
from barkwright.output.pictures.svg import svg
from barkwright.sources import DATA

COLUMNS = 4  # of a table that still fits half a page; ours
TOGETHER = 22  # lines of a card that are kept on one page; ours


def render(page: Page) -> str:
    """The page as an HTML document; whatever a file says appears as text."""
    numbers = count(1)

    def drawn(picture: Picture) -> Markup:
        return Markup(svg(picture.drawing, f"picture-{next(numbers)}", picture.title, picture.alt))

    asked = {"text": printable, "kind_of": _kind, "drawn": drawn, "breaks": _breaks, "wide": _wide}
    return _template().render(page=page, **asked) + "\n"


def _wide(section: Section) -> bool:
    """Does a section hold a table of so many columns that it takes the whole width of the paper?"""
    return any(isinstance(block, Table) and len(block.head) > COLUMNS for block in section.blocks)


def _breaks(card: Card) -> bool:
    """Is a card so long that on paper it may run on to the next page?"""
    return sum(_lines(block) for block in card.blocks) > TOGETHER


def _lines(block: Block) -> int:
    if isinstance(block, Items):
        return sum(1 + len(under) for _, under in block.entries)
    if isinstance(block, Table):
        return len(block.rows)
    if isinstance(block, Facts):
        return len(block.pairs)
    return len(block.lines) if isinstance(block, Columns) else 1


@lru_cache
def _template() -> Template:
    loader = FileSystemLoader(DATA / "output")
    return Environment(loader=loader, autoescape=True, undefined=StrictUndefined).get_template("page.html")


def _kind(block: Block | Card) -> str:
    return type(block).__name__
