"""Pages as PDF, laid out from their HTML by a library that not every installation has."""

from __future__ import annotations

import logging
from importlib import import_module
from typing import TYPE_CHECKING

from barkwright.output.html import render as html

if TYPE_CHECKING:
    from types import ModuleType

    from barkwright.output.blocks import Page


class NoPdfError(Exception):
    """The library, or what it needs of the system, is not there."""


def library() -> ModuleType:
    """The library that lays out PDF. Raises NoPdfError where it cannot be used."""
    try:
        weasyprint = import_module("weasyprint")
    except ImportError:
        raise NoPdfError("PDF needs the extra barkwright[pdf], which is not installed") from None
    except OSError:
        raise NoPdfError("PDF needs the Pango library of the system, which cannot be loaded") from None
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)  # rules for screens that paper has no use for
    return weasyprint


def render(page: Page) -> bytes:
    """The page on paper: the same bytes for the same page and the same fonts."""
    weasyprint = library()
    nothing = weasyprint.URLFetcher(allowed_protocols=())  # all of a page is in its one file
    document: bytes = weasyprint.HTML(string=html(page), url_fetcher=nothing).write_pdf()
    return document
