"""What becomes of the pieces of one tree, like ones together."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.order_late import of_these
from barkwright.output.view import View

if TYPE_CHECKING:
    from barkwright.stem.pieces import Piece

THEN = {
    "fuel": "It becomes firewood.",
    "saw log": "It is kept as a saw log.",
    "chips": "It becomes chips.",
    "left on site": "The wood may stay where it is.",
    "hauled": "It leaves the site.",
    "ash": "",
    "buried": "It stays buried.",
}


@dataclass(frozen=True, slots=True)
class Fate:
    """Pieces of one tree to which the same thing happens."""

    pieces: tuple[Piece, ...]
    what: str
    by: date | None
    done_on: date | None
    then: str
    remarks: tuple[str, ...]
    work: bool  # is anything done to them at all?

    @property
    def shape(self) -> tuple[object, ...]:
        """What must agree for two trees to share a card: everything but the pieces and the day."""
        return self.what, self.by, self.then, self.remarks, self.work


def fates(view: View, tree: str) -> tuple[Fate, ...]:
    """The pieces of a tree from the butt up, grouped by what happens to them."""
    felling, pieces = view.plan.fellings.get(tree), view.stems[tree].pieces
    if view.trees[tree].status == "standing" and felling is not None and felling.who == "not needed":
        return (Fate(pieces, "stays standing", None, None, "", (), False),)
    groups: dict[Fate, list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(_fate(view, piece), []).append(piece)
    return tuple(replace(fate, pieces=tuple(same)) for fate, same in groups.items())


def _fate(view: View, piece: Piece) -> Fate:
    way, choice, unmet = view.way(piece.id), view.choices.get(piece.id), view.unmet.get(piece.id)
    remarks = (f"Misses its date: {view.units.sentence(of_these(unmet.why, unmet))}",) if unmet else ()
    if way is None:
        return Fate((), _nothing(view, piece, choice.why if choice else ""), None, None, "", remarks, unmet is not None)
    what = view.units.sentence(way.title).rstrip(".")
    done_on = choice.done_on if choice else None
    if way.method == "leave":
        return Fate((), what, None, None, "", remarks, done_on is not None)
    return Fate((), what, way.finish_by, done_on, THEN[way.then], remarks, True)


def _nothing(view: View, piece: Piece, why: str) -> str:
    if why:
        return view.units.sentence(why).rstrip(".")
    if view.broods[piece.id].brood == "none" and not view.broods[piece.id].host:
        return "nothing to do against beetles"
    return "no way was found"
