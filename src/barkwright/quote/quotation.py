"""The quotation of a plan: its price and what that is made of, for which work, on which terms."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from barkwright.plan import Plan
from barkwright.quote.buildup import BuildUp, build_up
from barkwright.quote.kind import Kind, Shortfall, kind_of, open_codes, shortfalls_of
from barkwright.quote.lines import PriceLine, price_lines
from barkwright.quote.look import PricedLook, look_of
from barkwright.quote.scope import TreeScope, scope_of, window_of
from barkwright.quote.settings import QUOTATION
from barkwright.quote.terms import Given, Said, clauses_of
from barkwright.record import dataclass
from barkwright.study.outcome import Tried


@dataclass(frozen=True, slots=True)
class Alternative:
    """The work with one thing changed, priced the same way."""

    phrase: str
    title: str
    price: Decimal | None  # before tax; None where no plan came of it
    total: Decimal | None
    estimate: bool  # rests on a figure that is not the contractor's own
    left_ft2: float | None  # infested bark left when the beetles fly
    last: date | None  # last day of work
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Quotation:
    """All that a quotation says beside the plan it is made from."""

    plan: Plan
    kind: Kind
    shortfalls: tuple[Shortfall, ...]  # why it is an estimate; empty for a quotation
    open: frozenset[str]  # codes of the questions that the scope rests on
    built: BuildUp
    lines: tuple[PriceLine, ...]  # add up to the price
    scope: tuple[TreeScope, ...]
    clauses: tuple[Said, ...]
    alternatives: tuple[Alternative, ...]
    valid_until: date
    window: tuple[date, date] | None  # first and last planned day of work
    crews: tuple[tuple[str, int], ...]  # who comes, and how many they are
    look: PricedLook | None  # the look after the flight, which is not in the price

    @property
    def at_least(self) -> bool:
        """Is there work that has no price yet, so that the sum is too low?"""
        return any(line.unpriced for line in self.lines) or any(one.code == "no-price" for one in self.shortfalls)


def quotation_of(plan: Plan) -> Quotation:
    """The quotation, or the estimate, of a plan."""
    built, shortfalls = build_up(plan.work, plan.schedule), shortfalls_of(plan)
    kind, scope, look = kind_of(plan, shortfalls), scope_of(plan), look_of(plan)
    valid, why = _validity(plan, scope)
    come = {job.crew for job in plan.schedule.jobs}
    return Quotation(
        plan,
        kind,
        shortfalls if kind == "estimate" else (),
        open_codes(plan),
        built,
        price_lines(plan.work, plan.schedule, built),
        scope,
        clauses_of(plan, kind, built, scope, Given(why, look is not None)),
        tuple(_alternative(one) for one in plan.tries),
        valid,
        window_of(plan.schedule.jobs),
        tuple((crew.name, crew.people) for crew in plan.inventory.crew if crew.name in come),
        look,
    )


def _validity(plan: Plan, scope: tuple[TreeScope, ...]) -> tuple[date, str]:
    """The last day of the price, never after the first day by which work has to be finished; and why that day."""
    given = plan.inventory.quote.valid_days
    usual = int(QUOTATION["valid_days"])
    until = plan.on + timedelta(days=usual if given is None else given)
    first = min((one.latest for one in scope if one.latest is not None and one.latest >= plan.on), default=until)
    if first < until:
        return first, ", which is the first day by which work has to be finished"
    return until, f", {usual} days as is common" if given is None else ""


def _alternative(tried: Tried) -> Alternative:
    change = tried.change
    if tried.plan is None or tried.then is None:
        return Alternative(change.phrase, change.title, None, None, False, None, None, change.assumed)
    work, schedule = tried.plan
    built = build_up(work, schedule)
    rests = any(line.paid and line.basis != "yours" for line in schedule.costs)
    left = schedule.infested_left_ft2
    return Alternative(
        change.phrase, change.title, built.price, built.total, rests, left, tried.then.last, change.assumed
    )
