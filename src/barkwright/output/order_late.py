"""What misses its date and what would save it; what may wait and how long."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para, Section, plain
from barkwright.output.names import piece_names
from barkwright.output.view import View
from barkwright.output.words import day, listing

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Unmet


def misses(view: View) -> Section | None:
    """Pieces that are left infested, why, and the smallest change that would save them."""
    unmet = view.plan.schedule.unmet
    if not unmet:
        return None
    groups: dict[tuple[str, str], tuple[list[str], list[float]]] = {}
    for entry in unmet:
        said = (of_these(entry.why, entry), of_these(entry.change, entry))
        pieces, areas = groups.setdefault(said, ([], []))
        pieces.extend(entry.pieces)
        areas.append(entry.infested_ft2)
    say, area = view.units.sentence, view.units.square_feet
    entries = tuple(
        (
            f"{piece_names(pieces)}: {area(sum(areas))} of infested bark.",
            (
                f"Why: {say(why)}",
                *([f"What would save it: {say(change)}"] if change else []),
                *_asked_first(view, pieces),
            ),
        )
        for (why, change), (pieces, areas) in groups.items()
    )
    hazards = plain([say(one) for one in view.plan.schedule.unfinished])
    return Section("What misses its date", (Items(entries), hazards) if hazards.entries else (Items(entries),))


def _asked_first(view: View, pieces: Sequence[str]) -> Iterator[str]:
    """The question under whose answer this wood may have more time."""
    numbers = sorted({number for piece in pieces for number in view.open_numbers(piece.rpartition("/")[0])})
    if numbers:
        noun = "question" if len(numbers) == 1 else "questions"
        yield f"Answer {noun} {listing([str(number) for number in numbers])} first: this wood may have more time."


def of_these(text: str, unmet: Unmet) -> str:
    """A sentence about pieces named beside it already, without their names; a part of them is named shortly."""
    listed = ", ".join(unmet.pieces)
    text = text.replace(f"all the brood of {listed}", "all the brood in it").replace(listed, "it")
    one = rf"{re.escape(unmet.tree)}/\w+"
    return re.sub(rf"(?<!\S){one}(?:, {one})+", lambda found: piece_names(found[0].split(", ")), text)


def may_wait(view: View) -> Section | None:
    """Wood that is not urgent: its last safe date."""
    waiting: dict[date, list[str]] = defaultdict(list)
    for choice in view.plan.schedule.choices:
        if choice.wait_until is not None:
            waiting[choice.wait_until].append(choice.piece)
    if not waiting or view.small:
        return None  # on a small site each card says it
    entries = [f"Until {day(until)}: {piece_names(pieces)}." for until, pieces in sorted(waiting.items())]
    lead = Para("This wood is not urgent: if time runs short do it last, but by the day given here.")
    return Section("Wood that may wait", (lead, plain(entries)))
