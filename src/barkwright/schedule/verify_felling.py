"""The checker's part on who takes trees down: what a crew of the site may fell, derived again from the inventory."""

from __future__ import annotations

from collections.abc import Iterator

from barkwright.inventory.model import Crew
from barkwright.schedule.jobs import Job
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.treatment.rates import rate_book

SLACK = 1e-6
TAKES = {"dismantle": "climbing", "aerial-lift": "aerial-lift", "fell": "felling"}
REACHED = ("building", "road", "neighbour")


def broken_felling(tree: TreeWork, job: Job, crew: Crew, calls: bool, work: SiteWork) -> Iterator[str]:
    """What is wrong with a tree being taken down by a crew of the site.

    Near a power line only a crew with that skill, after the utility was called; near anything else, or with a hazard,
    only a paid crew with the skill for how it comes down, in the hours that were entered.
    `calls` : bool    is a call for this tree planned?
    """
    one, height = tree.tree, tree.stem.height_ft
    book = rate_book(work.inventory.local)
    tall = tree.felling.reach_ft or 0.0 if height is None else height.high
    line = _within(one.near.line, tall + book.value("line-margin"))
    needs = {"line-clearance"} if line else set()
    if line and not calls and not any(_names(one.id, call.trees) for call in work.inventory.calls):
        yield f"{job.id} fells {one.id} by a power line, and nobody calls the utility."
    professional = bool(line or one.hazards or any(_within(getattr(one.near, name), tall) for name in REACHED))
    if one.removal is None:
        if professional and not job.question:
            yield f"{job.id} is for professionals, and nobody has said in how many hours."
        needs |= set() if professional else {"felling"}
    elif one.removal.by == "crane":
        yield f"{job.id} takes a crane, which comes from outside."
    else:
        needs.add(TAKES[one.removal.by])
        if abs(job.hours - job.people * one.removal.hours) > SLACK:
            yield f"{job.id} does not take the hours entered for {one.id}."
        if one.removal.by == "aerial-lift" and "aerial-lift" not in job.equipment:
            yield f"{job.id} takes a lift."
    if not needs <= set(crew.skills):
        yield f"{crew.name} may not take down {one.id}: {', '.join(sorted(needs - set(crew.skills)))} is missing."
    if professional and crew.unpaid:
        yield f"{job.id} is for professionals, and {crew.name} are unpaid."


def _within(far: object, reach: float) -> bool:
    return isinstance(far, float | int) and far <= reach


def _names(tree: str, named: tuple[str, ...]) -> bool:
    return tree in named or tree.rpartition(".")[0] in named
