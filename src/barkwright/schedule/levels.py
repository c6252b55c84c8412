"""What "best" means: the levels that plans are compared by, in their order, each with its value for a plan."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.record import dataclass
from barkwright.schedule.changes import changes_of
from barkwright.schedule.hires import used_days
from barkwright.schedule.jobs import Level
from barkwright.schedule.lying import done_day
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.recipe import Pick
from barkwright.schedule.scenario import Candidate, host_left_ft2, left_share
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.toil import trouble

BARK, FLOWN, REMOVALS, AVOIDED, HOST, MONEY, LIKED, CHANGES, RENTAL, TROUBLE, LAST, LATE = range(12)
NAMES = (
    "infested bark left at onset", "infested bark left to fly", "asked-for removals not done",
    "pieces treated in a way to avoid", "green bark left lying", "money", "pieces not treated as preferred",
    "changes to the order that was given out", "rental days", "trouble of ways, fires, visits and waiting",
    "last day of work", "infested bark done after its finish-by",
)  # fmt: skip
UNITS = ("ft2", "ft2", "trees", "pieces", "ft2", "", "pieces", "changes", "days", "person-hours", "day", "ft2")


@dataclass(frozen=True, slots=True)
class Stated:
    """Prices and tolerances that the user has stated, or the data in his place."""

    bark_tolerance: float | None  # [ft2]; None: the usual share of what must be left
    money_tolerance: float | None  # [currency]; None: the usual share of the least cost
    partial: float  # for each ft2 of infested bark that a partial way leaves [currency/ft2]
    late: float  # for each ft2 of infested bark done after its finish-by [currency/ft2]

    def of(self, level: int, least: float) -> float:
        """The tolerance of a level whose least value is so much, in its unit."""
        if level == MONEY:
            usual = SETTINGS["money_tolerance_share"] * max(0.0, least)
            return usual if self.money_tolerance is None else self.money_tolerance
        if level == BARK:
            usual = SETTINGS["bark_tolerance_share"] * max(0.0, least)
            return usual if self.bark_tolerance is None else self.bark_tolerance
        return 0.0


def stated(model: SiteModel) -> Stated:
    """What this site states."""
    own = model.work.inventory.best

    def said(value: float | None, name: str) -> float:
        return SETTINGS[name] if value is None else value

    return Stated(
        own.bark_tolerance_ft2,
        own.money_tolerance,
        said(own.partial_per_ft2, "partial_per_ft2"),
        said(own.late_per_ft2, "late_per_ft2"),
    )


def values_of(model: SiteModel, candidate: Candidate) -> tuple[float, ...]:
    """The value of a plan at every level, smaller is better."""
    found = [0.0] * len(NAMES)
    for tree in [*candidate.missed, *candidate.dropped]:
        found[BARK] += tree.infested_ft2
        found[FLOWN] += tree.infested_ft2
        found[HOST] += host_left_ft2(model, tree, None)
        found[REMOVALS] += removal_asked(tree)
    prefer = model.work.inventory.wishes.prefer
    partial = 0.0
    for plan in candidate.plans:
        found[HOST] += host_left_ft2(model, plan.tree, plan)
        found[REMOVALS] += removal_asked(plan.tree) and not any(task.work == "fell" for task in plan.tasks)
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            share, tardy = left_share(plan, piece, pick)
            found[BARK] += share * piece.infested_ft2
            found[FLOWN] += flown_share(model, plan, piece, pick) * piece.infested_ft2
            found[LATE] += piece.infested_ft2 if tardy else 0.0
            if pick is None or not piece.at_stake:
                continue
            found[AVOIDED] += pick.option.against_wish
            found[LIKED] += bool(prefer) and pick.option.method not in prefer
            partial += piece.infested_ft2 if pick.option.end == "partial" else 0.0
    prices = stated(model)
    found[MONEY] = candidate.bill.counted + prices.partial * partial + prices.late * found[LATE]
    if model.before is not None:
        found[CHANGES] = changes_of(model.before, model.days.crews, candidate.plans)
    found[RENTAL] = float(sum(len(days) for days in used_days(model, candidate.plans).values()))
    found[LAST] = float(max((placed.last for plan in candidate.plans for placed in plan.placed), default=0))
    found[TROUBLE] = trouble(candidate.plans) + SETTINGS["waiting_day"] * found[LAST]
    return tuple(round(value, 6) for value in found)


def flown_share(model: SiteModel, plan: TreePlan, piece: PieceModel, pick: Pick | None) -> float:
    """Share of a piece's infested bark that is still there when half its beetles have flown, or has flown by then."""
    if pick is None:
        return 1.0
    half = SETTINGS["partial_share"]
    kept = 0.0 if pick.option.end == "done" else half
    day = done_day(plan, piece.piece.id)
    if piece.onset is None or day < piece.onset:
        return kept
    return 1.0 - (1.0 - kept) * (1.0 - half)


def removal_asked(tree: TreeModel) -> bool:
    """Does the tree come down whatever lives in it?"""
    return tree.standing and tree.work.felling.who != "not needed" and (tree.hazard or not tree.infested_ft2 > 0.0)


def levels_of(
    model: SiteModel, values: Sequence[float], bounds: Sequence[float | None] = (None,) * len(NAMES)
) -> tuple[Level, ...]:
    """The levels that matter on a site, with values, bounds and tolerances."""
    prices = stated(model)
    idle = set() if model.work.inventory.wishes.prefer else {LIKED}
    idle |= {CHANGES} if model.before is None else set()
    currency = model.work.inventory.currency
    return tuple(
        Level(name, unit or currency, value, bound, prices.of(number, value if bound is None else bound))
        for number, (name, unit, value, bound) in enumerate(zip(NAMES, UNITS, values, bounds, strict=True))
        if number not in idle
    )


def better(one: Sequence[float], other: Sequence[float]) -> bool:
    """Is a plan better than another at the first level at which they differ? Tolerances are not looked at."""
    return tuple(round(value, 3) for value in one) < tuple(round(value, 3) for value in other)
