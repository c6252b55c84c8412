"""Pages as HTML: one file for screen, phone and paper that needs no network and no script."""

from __future__ import annotations

from functools import lru_cache
from itertools import count

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from barkwright.output.blocks import Block, Card, Page, Picture
from barkwright.output.names import printable
from barkwright.output.pictures.svg import svg
from barkwright.sources import DATA


def render(page: Page) -> str:
    """The page as an HTML document; whatever a file says appears as text."""
    numbers = count(1)

    def drawn(picture: Picture) -> Markup:
        return Markup(svg(picture.drawing, f"picture-{next(numbers)}", picture.title, picture.alt))

    return _template().render(page=page, text=printable, kind_of=_kind, drawn=drawn) + "\n"


@lru_cache
def _template() -> Template:
    loader = FileSystemLoader(DATA / "output")
    return Environment(loader=loader, autoescape=True, undefined=StrictUndefined).get_template("page.html")


def _kind(block: Block | Card) -> str:
    return type(block).__name__
