"""The user's own files of local knowledge, all rooms together: what is wrong in them, and what they hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.costs.proxies import rate_table
from barkwright.season.ownregions import region_book
from barkwright.stem.ownspecies import species_book
from barkwright.treatment.local import own_rules, rule_book
from barkwright.treatment.rates import rate_book

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic
    from barkwright.ownfiles import Own


def own_faults(local: tuple[str, ...]) -> tuple[Diagnostic, ...]:
    """What is wrong in the files, in their order; what is wrong with a file as a file comes from the rulebook."""
    books = (rule_book(local), rate_book(local), region_book(local), species_book(local), rate_table(local))
    order = {path: number for number, path in enumerate(local)}
    found = [one for book in books for one in book.diagnostics]
    return tuple(sorted(found, key=lambda one: _place(one, order)))


def own_entries(local: tuple[str, ...]) -> tuple[Own, ...]:
    """Every sound entry, in the order of the files."""
    books = (rate_book(local), region_book(local), species_book(local), rate_table(local))
    order = {path: number for number, path in enumerate(local)}
    found = [*own_rules(local), *(one for book in books for one in book.own)]
    return tuple(sorted(found, key=lambda one: (order.get(one.where.file, 0), one.where.line, one.where.column)))


def _place(one: Diagnostic, order: dict[str, int]) -> tuple[int, int, int]:
    where = one.where
    return (order.get(where.file, 0), where.line, where.column) if where else (0, 0, 0)
