"""Large sites: trees that stand for strata give prices, and every tree is then taken exactly at those prices."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import replace
from math import ceil

from barkwright.record import dataclass
from barkwright.schedule.guide import Guide
from barkwright.schedule.levels import BARK, MONEY, NAMES, stated
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.answer import CENTS, ORDER
from barkwright.schedule.optimum.ideal import ideal_of
from barkwright.schedule.optimum.like import Group, kind_of, size_of, strata
from barkwright.schedule.optimum.narrowed import narrowed
from barkwright.schedule.optimum.period import PeriodModel
from barkwright.schedule.optimum.priced import Pricer, bound_of
from barkwright.schedule.optimum.prices import Prices
from barkwright.schedule.optimum.program import Solver, SolverError
from barkwright.schedule.optimum.sharing import guide_of
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.optimum.variants import Variants
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.watch import Watch

LITTLE = 1e-6
Hired = dict[int, list[tuple[int, int, float]]]  # by machine: first day and end of a period, days of use in it
BEFORE = ORDER[: ORDER.index(MONEY) + 1]


@dataclass(slots=True)
class Guided:
    """What every tree is to do, and days of use of hired machines for it."""

    guide: Guide
    hired: Hired


@dataclass(slots=True)
class LargeProof:
    """What the prices prove, and what the trees do at them."""

    guides: list[Guided]  # with more and more hours left over
    bounds: list[float | None]
    prices: Prices | None  # of money
    groups: list[Group]
    part: list[TreeColumns]  # trees that stand for all, with the variants that are kept
    ideal: bool  # were the prices found with the ideal alone?


@dataclass(slots=True)
class Priced:
    """Prices of each level that was solved, what the sample reached, and its last answer."""

    prices: dict[int, Prices]
    reached: dict[int, float]
    values: list[float]
    period: PeriodModel


def columns_of(model: SiteModel, groups: Sequence[Group]) -> int:
    """About how many columns a period model of these trees has."""
    return sum(len(model.options(one.middle, piece)) for one in groups for piece in one.middle.pieces)


def prove_large(model: SiteModel, groups: list[Group], watch: Watch) -> LargeProof:
    """Prices from strata, and every tree at those prices. Raises SolverError when the solver gives no answer."""
    most = SETTINGS["priced_columns"] / max(1, columns_of(model, groups)) * len(groups)
    variants = variants_of(model)
    sample = [
        TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle), False, one.trees)
        for one in strata(model, groups, max(1, int(most)))
    ]
    watch.tell("pricing days, hands and hires")
    try:
        return _proven(model, groups, priced(model, [ideal_of(model, one)[0] for one in sample], (MONEY,)), True, watch)
    except SolverError:
        watch.tell("hands or days run short: weighing what to leave")
        return _proven(model, groups, priced(model, sample, BEFORE), False, watch)


def _proven(model: SiteModel, groups: list[Group], found: Priced, ideal: bool, watch: Watch) -> LargeProof:
    """Bounds from prices, and a guide for every tree. Raises SolverError where hands do not reach the ideal."""
    watch.tell("weighing every tree at those prices")
    variants = variants_of(model)
    levels = [level for level in (BARK, MONEY) if level in found.prices]
    pricer = Pricer(model, variants, [found.prices[level] for level in levels], ideal, SETTINGS["kept_margin"])
    bests = [pricer.bests(group.middle) for group in groups]
    bounds: list[float | None] = [None] * len(NAMES)
    for number, level in enumerate(levels):
        pairs = ((group, best[number]) for group, best in zip(groups, bests, strict=True))
        bounds[level] = bound_of(found.prices[level], pairs)
    if ideal:
        bounds[:MONEY] = [
            sum(len(group.trees) * best[-1].worth[level] for group, best in zip(groups, bests, strict=True))
            for level in range(MONEY)
        ]
    watch.tell("choosing ways, days and hires for every tree")
    every = [
        narrowed(variants, group, best, pricer.stays(group.middle)) for group, best in zip(groups, bests, strict=True)
    ]
    parts = _parts(model, every)
    tries = max(1, min(int(SETTINGS["rooms_tried"]), int(SETTINGS["room_trees"] / len(model.trees))))
    guides = [_guided(model, parts, ideal, SETTINGS["hours_left"] * number) for number in range(1, tries + 1)]
    return LargeProof(guides, bounds, found.prices.get(MONEY), groups, parts[0], ideal)


def _guided(model: SiteModel, parts: Sequence[Sequence[TreeColumns]], ideal: bool, left: float) -> Guided:
    """What every tree is to do where a share of the hours between any two days is left over."""
    guide, hired = Guide(), []
    for part in parts:
        chosen = _with_room(model, part, (MONEY,) if ideal else BEFORE, left)
        one = guide_of(chosen.period, chosen.values, len(parts))
        guide = Guide(guide.picks | one.picks, {}, guide.seasons | one.seasons, guide.ranks | one.ranks)
        hired.append(_hired(chosen))
    return Guided(guide, _mean(hired))


def _parts(model: SiteModel, every: Sequence[TreeColumns]) -> list[list[TreeColumns]]:
    """Trees dealt out to parts that are alike and small enough for the solver; in each they stand for all."""
    columns = sum(len(piece.variants) for one in every for season in one.seasons for piece in season.pieces)
    count = max(1, ceil(columns / SETTINGS["part_columns"]))
    kinds: dict[Hashable, int] = {}
    dealt = sorted(
        (kinds.setdefault(kind_of(model, one.tree), len(kinds)), round(size_of(one.tree), 9), one.tree.place, number)
        for number, one in enumerate(every)
    )
    parts = ([every[number] for *_, number in dealt[start::count]] for start in range(count))
    return [[replace(one, count=one.count * count) for one in part] for part in parts]


def _mean(hired: Sequence[Hired]) -> Hired:
    """Days of use as the parts have them in the mean, by machine and period."""
    found: dict[tuple[int, int, int], float] = {}
    for one in hired:
        for place, spans in one.items():
            for first, end, days in spans:
                found[place, first, end] = found.get((place, first, end), 0.0) + days / len(hired)
    mean: Hired = {}
    for (place, first, end), days in sorted(found.items()):
        mean.setdefault(place, []).append((first, end, days))
    return mean


def large_bounds_at(model: SiteModel, proof: LargeProof, values: Sequence[float], watch: Watch) -> list[float | None]:
    """The bound of each level where those before it are at a plan's own values."""
    bounds = list(proof.bounds)
    same = proof.ideal and all(
        bound is not None and value <= bound + LITTLE * max(1.0, abs(bound))
        for value, bound in zip(values[:MONEY], bounds, strict=False)
    )
    if same or watch.stop:
        return bounds
    if len(proof.groups) > SETTINGS["bounds_trees"]:
        known = bounds[MONEY]
        bounds[BARK + 1 :] = [0.0 if value <= LITTLE else None for value in values[BARK + 1 :]]
        if known is not None and proof.prices is not None:
            drawn = known + proof.prices.held_at(values)
            bounds[MONEY] = drawn if drawn > 0.0 else None
        return bounds
    watch.tell("proving how good the plan is")
    found = priced(model, proof.part, BEFORE, values)
    levels = [level for level in BEFORE if level != BARK and values[level] > LITTLE and level in found.prices]
    pricer = Pricer(model, variants_of(model), [found.prices[level] for level in levels], False)
    totals = [0.0] * len(levels)
    bests = [pricer.bests(group.middle) for group in proof.groups]
    for number, level in enumerate(levels):
        pairs = ((group, best[number]) for group, best in zip(proof.groups, bests, strict=True))
        totals[number] = bound_of(found.prices[level], pairs)
    after = dict(zip(levels, totals, strict=True))
    for level in range(BARK + 1, len(NAMES)):
        bounds[level] = max(0.0, after[level]) if level in after else 0.0 if values[level] <= LITTLE else None
    return bounds


def _with_room(model: SiteModel, trees: Sequence[TreeColumns], levels: Sequence[int], left: float) -> Priced:
    """Solve with a little less than the hours there are, for work does not fill days to the minute; or with all."""
    try:
        return priced(model, trees, levels, left=left)
    except SolverError:
        return priced(model, trees, levels)


def priced(
    model: SiteModel,
    trees: Sequence[TreeColumns],
    levels: Sequence[int],
    values: Sequence[float] | None = None,
    left: float = 0.0,
) -> Priced:
    """Solve level after level over some trees, each with those before it held near what they reached.

    values : what the levels are held at; none: near what the trees reach
    left : share of the hours between two days that is left over; of those of all days, a part of that
    """
    period = PeriodModel(model, trees, False, False)
    longest = max((one.end - one.first for one in period.limits if one.size), default=0)
    for limit in (one for one in period.limits if one.size and one.hours > 0.0 and left > 0.0):
        share = left if limit.end - limit.first < longest else left * SETTINGS["hours_left_in_all"]
        period.program.high[limit.row] = limit.hours * (1.0 - share)
    solver = Solver(period.program)
    budget, paid, purse = model.work.inventory.limits.budget, period.paid(), None
    if paid is not None and budget is not None:
        purse = (solver.rows, float(budget) + CENTS)
        solver.cap(paid, purse[1])
    found = Priced({}, {}, [0.0] * solver.columns, period)
    caps: list[tuple[int, int, float]] = []
    for level in levels:
        costs = period.costs[level]
        if not any(costs):
            continue
        answer = solver.solve(costs)
        found.values = answer.values
        found.prices[level] = Prices(period, level, answer.duals, caps, purse)
        value = sum(cost * each for cost, each in zip(costs, answer.values, strict=True) if cost)
        found.reached[level] = value + period.fixed[level]
        reached = found.reached[level]
        room = SETTINGS["level_room"] * max(1.0, reached) + stated(model).of(level, reached)
        if values is not None:
            room = max(LITTLE * max(1.0, abs(value)), values[level] - reached)
        most = value + room
        caps = [*caps, (level, solver.rows, most + period.fixed[level] if values is None else values[level])]
        solver.cap(costs, most)
    return found


def variants_of(model: SiteModel) -> Variants:
    """A maker of variants, with the prices that the site states."""
    prices = stated(model)
    return Variants(model, prices.partial, prices.late)


def _hired(found: Priced) -> Hired:
    """Days of use of each hired machine by period."""
    hired: Hired = {}
    cuts = found.period.cuts
    for place, uses in found.period.hired.items():
        for number, use in uses.items():
            days = found.values[use.column]
            if days > LITTLE:
                hired.setdefault(place, []).append((cuts[number], cuts[number + 1], days))
    return hired
