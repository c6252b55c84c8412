"""What becomes of the pieces of one tree, like ones together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.order_done import what_was_done
from barkwright.output.order_late import of_these
from barkwright.output.view import View
from barkwright.output.words import day
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.stem.pieces import Piece
    from barkwright.treatment.ways import Way

THEN = {
    "fuel": "It becomes firewood.",
    "saw log": "It is kept as a saw log.",
    "chips": "It becomes chips.",
    "left on site": "The wood may stay where it is.",
    "hauled": "It leaves the site.",
    "ash": "",
    "buried": "It stays buried.",
}


SLASH = "leave on site, cut short and spread out, not in a heap"


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
    notes: tuple[str, ...] = ()  # about the time of it; said once for a tree

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
        what = SLASH if is_slash(view, piece) and not way.id.startswith("scatter") else what
        return Fate((), what, None, None, "", remarks, done_on is not None)
    notes = (*_waits(view, piece, way), *_lies(view, piece, way))
    return Fate(
        (), what, (choice.latest if choice else None) or way.finish_by, done_on, THEN[way.then], remarks, True, notes
    )


def is_slash(view: View, piece: Piece) -> bool:
    """Is it the top or the limbs of a tree that is felled in this plan or lies whole?"""
    down = piece.tree in view.felled or view.trees[piece.tree].status in ("windthrown", "felled")
    return piece.kind in ("top", "limbs") and down


def _waits(view: View, piece: Piece, way: Way) -> Iterator[str]:
    """Why it is not done at once: the bark comes off sooner once it slips."""
    held = view.window(piece.id)
    if held is None or held.bark != "slipping" or way.method != "debark" or piece.kind == "limbs":
        return
    before = [one for one in way.windows if one.last < held.first and one.verdict != "ruled out"]
    if before and before[0].bark != "slipping":
        yield f"Stripping waits because the bark slips from about {day(held.first)} and then comes off much faster."


def _lies(view: View, piece: Piece, way: Way) -> Iterator[str]:
    """Wood that may wait by its own brood, but not with its bark on when beetles from elsewhere fly."""
    done, coming = view.choices[piece.id].done_on, min(view.plan.flights, key=lambda one: one.year)
    down = view.trees[piece.tree].status != "standing" or piece.tree in view.felled
    if not down or piece.kind == "limbs" or way.finish_by is None or way.finish_by < coming.onset or done is None:
        return
    falls = [job.first for job in view.jobs_of.get(piece.tree, ()) if job.work == "fell"]
    if falls and min(falls) > coming.end:
        yield f"It is felled when no beetles fly: after {day(coming.end)}, and done before the next flight."
    elif done < coming.onset:
        lead = "Once it is down it" if view.trees[piece.tree].status == "standing" else "It lies, so it"
        yield f"{lead} is done before {day(coming.onset)}: beetles from elsewhere attack wood that lies."
    elif done > coming.onset:
        yield (
            f"It lies with its bark on while beetles fly from {day(coming.onset)}: look under its bark before you "
            "start, for grown beetles that came from elsewhere."
        )


def _nothing(view: View, piece: Piece, why: str) -> str:
    outcome = view.plan.outcomes.get(piece.id)
    if outcome is not None and (outcome.over or outcome.end == "done"):
        return f"{what_was_done(outcome)} on {day(outcome.finished.on)}"
    if not view.plan.inventory.crew and piece.id in view.unmet:
        return "nothing is planned, because nobody is named to do it"
    if why:
        return view.units.sentence(why).rstrip(".")
    if view.broods[piece.id].brood == "none" and not view.broods[piece.id].host:
        return "nothing to do against beetles"
    return "no way was found"
