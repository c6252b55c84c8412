"""A place to sign for every piece that has work: the day and the initials of who did it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Para, Section, Table
from barkwright.output.names import tree_names
from barkwright.output.order_pieces import fates
from barkwright.output.words import day
from barkwright.record import dataclass

if TYPE_CHECKING:
    from datetime import date

    from barkwright.output.order_pieces import Fate
    from barkwright.output.view import View
    from barkwright.stem.pieces import Piece

BLANK = "_" * 6
TOGETHER = 100  # from so many trees on those with the same pieces share a row; ours


@dataclass(frozen=True, slots=True)
class Signed:
    """Pieces of one tree to which the same is done by the same day."""

    tree: str
    what: str
    by: date | None
    pieces: tuple[Piece, ...]


def to_sign(view: View) -> tuple[Signed, ...]:
    """Every piece that has work, once, tree by tree."""
    return tuple(
        Signed(tree, fate.what, fate.by, fate.pieces)
        for tree in view.trees
        for fate in fates(view, tree)
        if has_work(view, fate)
    )


def has_work(view: View, fate: Fate) -> bool:
    """Is anything done to these pieces, rather than only said of them?"""
    return fate.work and view.way(fate.pieces[0].id) is not None


def sign_line(fate: Fate) -> str:
    """Blanks for the pieces of a card: Done, day and initials: stump ______, log 1 ______."""
    return f"Done: {blanks(fate.pieces)}"


def blanks(pieces: Sequence[Piece]) -> str:
    """A blank per piece; log numbers alone."""
    return " ".join(f"{piece.number if piece.kind == 'log' else piece.kind}:{BLANK}" for piece in pieces)


def sign_off(view: View) -> Section | None:
    """A table for each kind of work and date, a row per tree; small sites sign on the cards."""
    signed = to_sign(view)
    if view.small or not signed:
        return None
    groups: dict[tuple[str, date | None], list[Signed]] = defaultdict(list)
    for one in signed:
        groups[one.what, one.by].append(one)
    together = len(view.trees) >= TOGETHER
    lead = "In each blank, when that piece is done: the day and your initials. Numbers are logs from the butt up."
    if together:
        lead += " Trees with the same pieces share a row: count what is done."
    return Section("Sign off each piece", (Para(lead), *(_card(*key, rows, together) for key, rows in groups.items())))


def _card(what: str, by: date | None, rows: Sequence[Signed], together: bool) -> Card:
    same: dict[tuple[str, str], list[str]] = defaultdict(list)
    for row in rows:
        cell = blanks(row.pieces)
        same[cell, "" if together else row.tree].append(row.tree)
    title = f"{what[0].upper()}{what[1:]}{f': by {day(by)}' if by else ''}"
    if max(len(row.pieces) for row in rows) == 1 and not together:
        return Card(title, (Para(" ".join(f"{row.tree}/{blanks(row.pieces)}" for row in rows)),))
    body = tuple((tree_names(trees), cell) for (cell, _), trees in same.items())
    return Card(title, (Table(("Tree", "Pieces"), body, "ll", 1),))
