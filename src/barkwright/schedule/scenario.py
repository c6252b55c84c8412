"""Scenarios: the same site with some of its machines, hands or days, and what the plan made from it comes to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.book import Book
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.guide import Guide
from barkwright.schedule.lying import done_day, down_from, lain_ft2, lain_share
from barkwright.schedule.machine_days import Run
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.money import Bill, bill_of, fee_shares, hire_shares
from barkwright.schedule.options import Taste
from barkwright.schedule.order import ordered
from barkwright.schedule.recipe import Pick
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.together import rest_tried, written_together
from barkwright.schedule.toil import toil

HALF_A_CENT = 0.005


@dataclass(frozen=True, slots=True)
class Scenario:
    """What a plan may use, and how it ranks trees and ways. Fewer hands or machines than there are is allowed."""

    machines: frozenset[int]
    people: tuple[int, ...]  # per crew
    taste: Taste
    cap: int | None = None  # a day by which everything must be done, as though the flight came earlier
    dense: bool = False  # most infested bark per hour first, whatever its stage
    spans: tuple[tuple[int, int, int], ...] = ()  # hired machines that are had on certain days only: place, first, last
    thrifty: bool = False  # the cheapest crew that is in time, not the one that ends first
    guide: Guide | None = None  # what to try first
    together: bool = False  # is all that is guided written in together, the earliest due first?
    had: tuple[Run, ...] = ()  # runs of days of hired machines that are filled before any other day


@dataclass(slots=True)
class Candidate:
    """A whole plan: trees written in, in their order, and trees that found no place."""

    scenario: Scenario
    plans: list[TreePlan]
    missed: list[TreeModel]
    bill: Bill
    score: tuple[float, ...] = ()
    dropped: list[TreeModel] = field(default_factory=list)  # for want of money
    together: int = 0  # trees that were written in together, as guided


def evaluate(model: SiteModel, scenario: Scenario) -> Candidate:
    """Dispatch every tree under a scenario, worst first, and keep within the budget."""
    dispatcher = dispatcher_of(model, scenario)
    plans: list[TreePlan] = []
    left = frozenset[str]() if scenario.guide is None else scenario.guide.left
    trees = [tree for tree in ordered(model, dispatcher, scenario.dense) if tree.id not in left]
    known = written_together(dispatcher, trees, scenario.had) if scenario.together else {}
    missed = _inserted(dispatcher, trees, known, plans)
    if scenario.together:
        rest_tried(dispatcher, plans)
    if scenario.had:
        dispatcher.begin_again()
        missed = _inserted(dispatcher, missed, {}, plans)
        rest_tried(dispatcher, plans)
    missed += [tree for tree in model.trees if tree.id in left]
    looks = {tree.place: plan for tree in missed if (plan := dispatcher.look(tree)) is not None}
    plans += looks.values()
    missed = [tree for tree in missed if tree.place not in looks]
    model.looked += dispatcher.book.looked
    return settle(model, Candidate(scenario, plans, missed, bill_of(model, plans), together=len(known)))


def _inserted(
    dispatcher: Dispatcher, trees: Iterable[TreeModel], known: Mapping[int, TreePlan], plans: list[TreePlan]
) -> list[TreeModel]:
    """Write trees in one after the other, but for those that are; those that find no place."""
    missed: list[TreeModel] = []
    for tree in trees:
        plan = known.get(tree.place) or dispatcher.insert(tree)
        if plan is None:
            missed.append(tree)
        else:
            plans.append(plan)
    return missed


def dispatcher_of(model: SiteModel, scenario: Scenario) -> Dispatcher:
    """An empty book with the hands and machines of a scenario, and somebody to write into it."""
    crews = tuple(crew.with_people(people) for crew, people in zip(model.days.crews, scenario.people, strict=True))
    days = replace(model.days, crews=crews)
    machines = list(model.machines)
    for place, first, last in scenario.spans:
        one = machines[place]
        machines[place] = replace(one, first=max(one.first, first), last=min(one.last, last))
    book = Book(days, machines, scenario.machines, SETTINGS["smallest_stint"])
    for machine in (one for one in machines if one.hired and scenario.had):
        book.withhold(machine.place, _on(scenario.had, machine.place, model.days.length))
    return Dispatcher(model, book, scenario.taste, scenario.cap, scenario.thrifty, scenario.guide)


def _on(runs: Iterable[Run], place: int, length: int) -> frozenset[int]:
    """Days of a machine: from its first run on all that may be needed; none where it has no run."""
    first = min((run.first for run in runs if run.place == place), default=length)
    return frozenset(range(first, length))


def settle(model: SiteModel, candidate: Candidate) -> Candidate:
    """Drop the work that saves least infested bark for its money until the budget holds, and score what is left."""
    budget = model.work.inventory.limits.budget
    while budget is not None and candidate.bill.paid > float(budget) + HALF_A_CENT and candidate.plans:
        over = candidate.bill.paid - float(budget)
        shares = zip(fee_shares(model, candidate.plans), hire_shares(model, candidate.plans), strict=True)
        costs = [
            max(bill_of(model, [plan]).direct + fee + hire, 0.0)
            for plan, (fee, hire) in zip(candidate.plans, shares, strict=True)
        ]
        ranked = sorted(zip(candidate.plans, costs, strict=True), key=lambda one: _worth_keeping(*one))
        gone: set[str] = set()
        for plan, cost in ranked:
            gone.add(plan.tree.id)
            candidate.dropped.append(plan.tree)
            over -= cost
            if over <= 0:
                break
        candidate.plans = [plan for plan in candidate.plans if plan.tree.id not in gone]
        candidate.bill = bill_of(model, candidate.plans)
    candidate.score = score(model, candidate)
    return candidate


def score(model: SiteModel, candidate: Candidate) -> tuple[float, ...]:
    """What plans are compared by, smaller first.

    Infested bark left, pieces treated against a wish, host left, lateness, money and toil, likes, last day.
    """
    left = host = late = liked = 0.0
    unwanted = disliked = 0
    taste = candidate.scenario.taste
    for tree in [*candidate.missed, *candidate.dropped]:
        left += tree.infested_ft2
        host += sum(piece.host_ft2 for piece in tree.pieces) + lain_ft2(model, tree, None)
    for plan in candidate.plans:
        host += host_left_ft2(model, plan.tree, plan)
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            share, tardy = left_share(plan, piece, pick)
            left += share * piece.infested_ft2
            late += piece.infested_ft2 if tardy else 0.0
            unwanted += pick is not None and piece.at_stake and pick.option.against_wish
            disliked += pick is not None and piece.at_stake and pick.option.method not in taste.prefer
            if pick is not None and pick.option.method in taste.prefer:
                liked += max(0.0, pick.option.money + pick.option.valued)
    counted = candidate.bill.counted + toil(model, candidate.plans) - taste.near_tie * liked
    last = max((placed.last for plan in candidate.plans for placed in plan.placed), default=0)
    return (round(left, 3), unwanted, round(host, 3), round(late, 3), round(counted, 2), disliked, last)


def left_share(plan: TreePlan, piece: PieceModel, pick: Pick | None) -> tuple[float, bool]:
    """Share of a piece's infested bark that counts as left at onset, and whether its finish-by is missed."""
    if pick is None:
        return 1.0, False
    day = done_day(plan, piece.piece.id)
    if piece.onset is not None and day >= piece.onset:
        return 1.0, True
    late = any(
        t.completes and t.finish_by is not None and day > t.finish_by for t in plan.tasks if piece.piece.id in t.pieces
    )
    return (0.0 if pick.option.end == "done" else SETTINGS["partial_share"]), late


def host_left_ft2(model: SiteModel, tree: TreeModel, plan: TreePlan | None) -> float:
    """Bark of a tree that lies for beetles from elsewhere to take [ft2]; what stands draws none."""
    down = down_from(model, tree, plan)
    if tree.standing and down is None:
        return 0.0
    left = lain_ft2(model, tree, plan)
    for piece in (one for one in tree.pieces if one.host_ft2 > 0.0):
        share = 1.0 if plan is None else left_share(plan, piece, plan.picks.get(piece.piece.id))[0]
        left += max(share, lain_share(model, down, plan, piece)) * piece.host_ft2
    return left


def _worth_keeping(plan: TreePlan, cost: float) -> tuple[float, str]:
    saved = sum(
        (1.0 - left_share(plan, piece, plan.picks.get(piece.piece.id))[0])
        * (piece.infested_ft2 + 0.001 * piece.host_ft2)
        for piece in plan.tree.pieces
    )
    return (saved / cost if cost > 0 else float("inf"), plan.tree.id)


def total_infested(trees: Iterable[TreeModel]) -> float:
    """Infested bark of trees [ft2]."""
    return sum(tree.infested_ft2 for tree in trees)
