"""The wood of the list after the flight: what was treated and is looked at again, what is still due, what may wait."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, plain
from barkwright.output.names import piece_names, tree_names
from barkwright.output.view import site_word
from barkwright.output.words import day
from barkwright.season.flight import finish_by, flight_year

if TYPE_CHECKING:
    from barkwright.output.follow_facts import Gathered, Treated

SPLIT = (
    "Split wood: turn over some pieces of each stack and look under the bark. Dry wood is no proof that nothing lives."
)
PEELED = "Peeled logs: strips of bark that were left, on the underside and round knots, can still hold beetles."


def wood_items(found: Gathered, made_from: str) -> Items | None:
    """What to do about the wood of the list; None where nothing on it holds beetles or was treated."""
    lines = list(_lines(found, made_from))
    return plain(lines) if lines else None


def _lines(found: Gathered, made_from: str) -> Iterator[str]:
    again = [one for one in found.treated if one.partial or one.left]
    done = [one for one in found.treated if not one.partial]
    if found.stumps:
        yield (
            f"Look under what bark is left on {piece_names(found.stumps)}, down to the root collar: where the tree was "
            "cut, this is where its beetles spend the winter."
        )
    for one, pieces in _alike(again).items():
        yield _again(one, pieces)
    methods = {one.method for one in found.treated}
    if "split" in methods or (found.infested and not found.treated):
        yield SPLIT
    if "debark" in methods:
        yield PEELED
    if done:
        yield f"Recorded as done: {piece_names(one.piece for one in done)}."
    yield from _due(found)
    yield from _down(found)
    if found.due and not found.treated:
        command = f"'barkwright done {site_word(made_from)} PIECE'"
        yield f"No treatment is recorded yet: {command} takes off what is finished."


def _down(found: Gathered) -> Iterator[str]:
    trees = found.plan.tally.inventory.trees
    cut = [tree.id for tree in trees if tree.cut_up is not None]
    felled = [tree.id for tree in trees if tree.felled_on is not None and tree.cut_up is None]
    if cut:
        yield f"Recorded as felled and cut up: {tree_names(cut)}."
    if felled:
        yield f"Recorded as felled: {tree_names(felled)}."


def _alike(treated: Sequence[Treated]) -> dict[Treated, list[str]]:
    """Pieces on which the same was done and left, by what it was."""
    found: dict[Treated, list[str]] = {}
    for one in treated:
        found.setdefault(replace(one, piece=""), []).append(one.piece)
    return found


def _again(work: Treated, pieces: Sequence[str]) -> str:
    what = f"{work.method}, {day(work.done_on)}"
    left = f" Left, as you wrote: {work.left}." if work.left else ""
    if work.partial:
        return f"Look again at {piece_names(pieces)} ({what}): that stops only a part of the beetles, or none.{left}"
    return f"Look again at {piece_names(pieces)} ({what}).{left}"


def _due(found: Gathered) -> Iterator[str]:
    season, on = found.plan.season, found.plan.tally.on
    first = finish_by(flight_year(season, found.follow.ended + 1))
    for by, pieces in found.due.items():
        names = piece_names(pieces)
        if by < on:
            yield f"Overdue since {day(by)}, if it is not done: {names}."
        elif by <= first:
            yield f"To be done by {day(by)}: {names}."
        else:
            yield f"May wait, but no longer than {day(by)}: {names}."
