"""The order in which trees are written in: the earliest flight first, then the worst."""

from __future__ import annotations

from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.model import SiteModel, TreeModel
from barkwright.schedule.recipe import base_tasks


def ordered(model: SiteModel, dispatcher: Dispatcher, dense: bool) -> list[TreeModel]:
    """Trees in the order in which they are written in: the earliest flight first, then the worst."""

    def key(tree: TreeModel) -> tuple[object, ...]:
        flights = [piece.onset for piece in tree.pieces if piece.at_stake and piece.onset is not None]
        brood = [piece.brood for piece in tree.pieces if piece.brooding]
        likely = any(found.brood == "likely" for found in brood)
        adults = any(found.brood == "likely" and found.stage == "adults" for found in brood)
        rate = round(tree.infested_ft2 / max(hours_of(model, dispatcher, tree), 0.1), 6)
        first = (min(flights, default=model.days.length), 0 if brood else 1)
        stage = (0, 0) if dense else (0 if adults else 1, 0 if likely else 1)
        size = sum(piece.piece.wood_ft3 for piece in tree.pieces)
        return (*first, *stage, -rate, -round(size, 6), natural(tree.id))

    guide = dispatcher.guide
    if guide is not None:
        last = float("inf")
        return sorted(model.trees, key=lambda tree: (guide.ranks.get(tree.id, last), key(tree)))
    return sorted(model.trees, key=key)


def hours_of(model: SiteModel, dispatcher: Dispatcher, tree: TreeModel) -> float:
    """Person-hours that the tree takes with the best-ranked way of each piece [h]."""
    hours = sum(task.need for task in base_tasks(model, tree))
    for piece in tree.pieces:
        picks = dispatcher.candidates(tree, piece)
        hours += picks[0].option.hours if picks else 0.0
    return hours


def natural(text: str) -> tuple[tuple[int, str], ...]:
    """Ids in the order a person would give them: T2 before T10."""
    parts: list[tuple[int, str]] = []
    digits = word = ""
    for char in text + "\0":
        if char.isdigit():
            digits += char
            continue
        if digits:
            parts.append((int(digits), word))
            digits = word = ""
        word += char
    return (*parts, (-1, word))
