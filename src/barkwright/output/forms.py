"""The forms that a page takes. Each is loaded where it is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barkwright.output.blocks import Page

PAGES = ("text", "markdown", "html")


def page_text(page: Page, form: str, every_letter: bool = True) -> str:
    """A page in one of the forms of PAGES; `every_letter` is False where text may only be ASCII outside names."""
    return {"text": _text, "markdown": _markdown, "html": _html}[form](page, every_letter)


def _text(page: Page, every_letter: bool) -> str:
    from barkwright.output.layout import render

    return render(page, every_letter)


def _markdown(page: Page, every_letter: bool) -> str:
    from barkwright.output.markdown import render

    return render(page)


def _html(page: Page, every_letter: bool) -> str:
    from barkwright.output.html import render

    return render(page)
