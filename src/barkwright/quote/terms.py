"""The clauses that belong to a plan: each is printed only where what it is about occurs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal

from barkwright.datafile import load
from barkwright.plan import Plan
from barkwright.quote.buildup import BuildUp
from barkwright.quote.kind import Kind
from barkwright.quote.scope import TreeScope
from barkwright.record import dataclass
from barkwright.season.year import in_words
from barkwright.sources import Basis
from barkwright.treatment.listing import listing

Group = Literal["work", "out", "terms", "rests"]
SAW_WORK = ("fell", "limb and buck")
SHAPES = {"stump": "stump", "logs": "logs"}  # a tree in every other status is measured as a tree
ACROSS = {
    "tree": "at 4.5 ft above the ground where the tree stands",
    "stump": "of stumps at the cut",
    "logs": "of logs at both ends",
}
PERMITS = {
    "held": "the client says that it is held",
    "not-needed": "the client says that none is needed",
    "refused": "refused",
    "unknown": "not answered yet",
}


@dataclass(frozen=True, slots=True)
class Clause:
    """One general clause; `when` lists what has to occur for it to belong, one of them is enough."""

    group: Group
    when: tuple[str, ...]
    text: str
    basis: Basis
    checked_on: date


@dataclass(frozen=True, slots=True)
class Said:
    """A clause as it is printed."""

    id: str
    group: Group
    text: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Given:
    """What clauses take from the rest of the sheet."""

    valid_why: str  # follows the last day of the price
    look_priced: bool  # the look after the flight is offered as an option


def clauses() -> dict[str, Clause]:
    """Every clause by its id."""
    return load("output/quotation.yaml", dict[str, Clause])


def clauses_of(plan: Plan, kind: Kind, built: BuildUp, scope: tuple[TreeScope, ...], given: Given) -> tuple[Said, ...]:
    """The clauses that belong to a plan, filled in."""
    occurs = frozenset((*_work(plan, given), *_terms(plan, kind, built), *_trees(plan, scope)))
    terms = plan.inventory.quote
    filled = {
        "boundary_trees": listing([one.tree for one in scope if one.boundary_ft is not None]),
        "burn_permit": PERMITS[plan.inventory.site.burning.permit],
        "valid_why": given.valid_why,
        "sizes_at": _across(plan),
        "sizes_by": _measured(plan),
        "due_days": _days(terms.payment_due_days or 0),
    }
    return tuple(
        Said(name, clause.group, clause.text.format_map(filled), clause.basis)
        for name, clause in clauses().items()
        if occurs.intersection(clause.when)
    )


def _days(count: int) -> str:
    return "at once" if count == 0 else f"{count} day{'s' if count > 1 else ''}"


def _measured(plan: Plan) -> str:
    """Whose the diameters are: the contractor's own where he says who inspected the trees and when."""
    seen = plan.inventory.quote.inspected_on
    by = (plan.inventory.contractor.inspected_by or "").strip()
    return f"as measured on {in_words(seen)}" if seen is not None and by else "as given to us"


def _across(plan: Plan) -> str:
    """Where the trees, stumps and logs of the site are measured across."""
    there = {SHAPES.get(tree.status, "tree") for tree in plan.inventory.trees}
    return ", ".join(where for shape, where in ACROSS.items() if shape in there)


def _work(plan: Plan, given: Given) -> Iterator[str]:
    """What is done on the site."""
    yield "always"
    jobs, schedule = plan.schedule.jobs, plan.schedule
    chosen = [choice.way for choice in schedule.choices if choice.way is not None]
    if any(job.work == "fell" for job in jobs):
        yield "fells"
    if any(job.work in SAW_WORK or "chain-saw" in job.equipment for job in jobs):
        yield "saws"
    if any("bury" in way or "cover" in way for way in chosen):
        yield "digs"
    if any("burn" in way for way in chosen):
        yield "burns"
    if any(job.work == "haul" for job in jobs) or any("haul" in way for way in chosen):
        yield "hauls"
    if any(job.what.startswith("spread") and "chips" in job.what for job in jobs):
        yield "chips"
    if any(job.work == "look again" for job in jobs):
        yield "looks-priced" if given.look_priced else "looks"
    if schedule.infested_before_ft2 > 0:
        yield "brood"


def _terms(plan: Plan, kind: Kind, built: BuildUp) -> Iterator[str]:
    """What has been agreed and what has not."""
    terms = plan.inventory.quote
    yield kind
    yield "contingency" if built.contingency.amount else "no-contingency"
    if terms.permits_by is None and any(job.work == "fell" for job in plan.schedule.jobs):
        yield "permits-open"
    if kind == "quotation":
        yield "terms-open" if terms.payment_due_days is None else "payment"
        if built.deposit.amount:
            yield "deposit"


def _trees(plan: Plan, scope: tuple[TreeScope, ...]) -> Iterator[str]:
    """What the trees are like."""
    if any(one.boundary_ft is not None for one in scope):
        yield "boundary"
    if any(one.line_ft is not None for one in scope):
        yield "line"
    if any(stem.height_estimated for stem in plan.stems):
        yield "estimated"
    if any(not piece.measured for stem in plan.stems for piece in stem.pieces):
        yield "modelled"
