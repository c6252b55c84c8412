"""The forms that a page takes. Each is loaded where it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barkwright.output.blocks import Page

PAGES = ("text", "markdown", "html", "pdf")


def page_form(page: Page, form: str, every_letter: bool = True) -> str | bytes:
    """A page in one of the forms of PAGES; `every_letter` is False where text may only be ASCII outside names."""
    forms: dict[str, Callable[[Page, bool], str | bytes]]
    forms = {"text": _text, "markdown": _markdown, "html": _html, "pdf": _pdf}
    return forms[form](page, every_letter)


def _text(page: Page, every_letter: bool) -> str:
    from barkwright.output.layout import render

    return render(page, every_letter)


def _markdown(page: Page, every_letter: bool) -> str:
    from barkwright.output.markdown import render

    return render(page)


def _html(page: Page, every_letter: bool) -> str:
    from barkwright.output.html import render

    return render(page)


def _pdf(page: Page, every_letter: bool) -> bytes:
    from barkwright.output.pdf import render

    return render(page)
