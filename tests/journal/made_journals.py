"""Journals made up: what a crew might have recorded of an order some time later, with weeks lost and looks taken."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from barkwright.journal.entries import Entry, Journal
from barkwright.journal.refusing import Known, refusals
from barkwright.plan import Plan
from barkwright.treatment.finished import methods_of
from barkwright.treatment.rulebook import templates

LEFT = {"debark": "bark not dealt with yet", "split": "not stacked yet", "burn": "the pile is not lit yet"}


def made_journal(seed: int, plan: Plan, later: date) -> Journal:
    """Entries that are possible, by a crew that did some of the plan's jobs, some things besides, and left others."""
    dice = random.Random(seed)
    kinds = {piece.id: piece.kind for stem in plan.stems for piece in stem.pieces}
    journal = Journal()
    for day, record in sorted(_drafts(dice, plan, later, kinds), key=lambda one: one[0]):
        entry = Entry(id=journal.next_id, recorded=str(day), on=day, **record)
        if not refusals(entry, Known(plan.inventory, kinds, journal, later)):
            journal = Journal((*journal.entries, entry))
    for entry in dice.sample(journal.entries, k=min(len(journal.entries), dice.choice((0, 0, 1)))):
        undone = Entry(id=journal.next_id, recorded=str(later), on=later, did="undone", undoes=entry.id)
        journal = Journal((*journal.entries, undone))
    return journal


def _drafts(
    dice: random.Random, plan: Plan, later: date, kinds: dict[str, Any]
) -> Iterator[tuple[date, dict[str, Any]]]:
    days = max(1, (later - plan.on).days)

    def some_day() -> date:
        return plan.on + timedelta(days=dice.randrange(days))

    kept = dice.choice((0.2, 0.6, 0.95))
    methods = {way.id: way.method for way in templates().values()}
    for job in plan.schedule.jobs:
        if job.last >= later or dice.random() > kept:
            continue
        if job.work == "fell":
            yield job.last, {"did": "felled", "pieces": (job.tree,)}
        elif job.work == "limb and buck":
            yield job.last, {"did": "cut up", "pieces": (job.tree,)}
        elif job.way in methods and job.completes:
            yield job.last, {"did": "treated", "pieces": job.pieces, "method": methods[job.way], "way": job.way}
    for _ in range(dice.randrange(5)):
        piece = dice.choice(list(kinds))
        method = dice.choice(methods_of(kinds[piece]))
        left = LEFT.get(method) if dice.random() < 0.5 and kinds[piece] == "log" else None
        yield some_day(), {"did": "treated", "pieces": (piece,), "method": method, "left": left}
    for _ in range(dice.randrange(4)):
        tree = dice.choice(plan.inventory.trees)
        looked = ("top", "bottom") if tree.status != "standing" else ("base", "sunny", "shaded")
        stages = (dice.choice(("larvae", "adults", "none")),)
        yield some_day(), {"did": "looked", "pieces": (tree.id,), "stages": stages, "looked": looked}
