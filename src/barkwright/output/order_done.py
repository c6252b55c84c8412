"""What is done at a site already, as the journal says, and what of it does not yet stop the brood."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Section
from barkwright.output.json_done import DoneRecord
from barkwright.output.names import piece_names, tree_names
from barkwright.output.view import View
from barkwright.output.words import day

if TYPE_CHECKING:
    from barkwright.treatment.finished import Outcome

DID = {
    "chip": "chipped", "debark": "bark stripped", "score": "bark scored", "burn": "burned", "bury": "buried",
    "split": "split", "haul": "hauled away", "leave": "cut short and scattered",
}  # fmt: skip
BARK = {
    "lying": "the bark lies where it fell", "burnt": "the bark burnt", "buried": "the bark buried",
    "chipped": "the bark chipped", "hauled": "the bark hauled away",
}  # fmt: skip
STOPPED = "Its brood is stopped all the same: what is left need not be done for the beetles' sake."
PARTIAL = "That stops only part of the brood."
NOT_DONE = "Its brood is not stopped yet."


def done_so_far(view: View) -> Section | None:
    """Work on record, by day and kind; what it leaves to do stands with it."""
    entries = [*_down(view), *_treated(view)]
    return Section("Done so far", (Items(tuple(entries)),)) if entries else None


def done_records(outcomes: Mapping[str, Outcome]) -> list[DoneRecord]:
    """The same as plain data, a record for each piece."""
    return [
        {
            "piece": piece, "method": one.finished.method, "way": one.way, "date": one.finished.on.isoformat(),
            "by": one.finished.by, "bark": one.finished.bark, "left": one.finished.left, "end": one.end,
            "status": "under way" if one.begun is not None or one.finished.left else "done",
            "entry": one.finished.entry,
        }
        for piece, one in outcomes.items()
    ]  # fmt: skip


def what_was_done(outcome: Outcome) -> str:
    """bark stripped, the bark burnt."""
    one = outcome.finished
    return ", ".join([DID.get(one.method, one.method), *([BARK[one.bark]] if one.bark else [])])


def _down(view: View) -> list[tuple[str, tuple[str, ...]]]:
    """Trees that came down since the inventory was written, by the day."""
    treated = {piece.partition("/")[0] for piece in view.plan.outcomes}
    days = defaultdict(list)
    for tree in view.trees.values():
        if tree.cut_up is not None and tree.id not in treated:
            days[tree.cut_up, "limbed and cut up"].append(tree.id)
    return [(f"{day(on)}: {tree_names(names)} {did}.", ()) for (on, did), names in sorted(days.items())]


def _treated(view: View) -> list[tuple[str, tuple[str, ...]]]:
    groups: dict[tuple[object, ...], list[str]] = defaultdict(list)
    firsts: dict[tuple[object, ...], Outcome] = {}
    for piece, outcome in view.plan.outcomes.items():
        one = outcome.finished
        key: tuple[object, ...] = (
            one.on,
            what_was_done(outcome),
            one.by,
            one.left,
            outcome.end,
            tuple(r.rule for r in outcome.reasons),
        )
        groups[key].append(piece)
        firsts[key] = outcome
    entries = []
    for same, pieces in groups.items():
        outcome = firsts[same]
        one = outcome.finished
        by = f" (by {one.by})" if one.by else ""
        under = []
        if one.left:
            under.append(f"Left: {one.left}.")
        if outcome.end == "done" and one.left and outcome.begun is not None:
            under.append(STOPPED)
        if outcome.end != "done":
            under.append(PARTIAL if outcome.end == "partial" else NOT_DONE)
            under += [view.say(reason) for reason in outcome.reasons]
        entries.append((f"{day(one.on)}: {piece_names(pieces)}: {what_was_done(outcome)}{by}.", tuple(under)))
    return entries
