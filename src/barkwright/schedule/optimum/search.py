"""From the period model to a plan: its answer guides the dispatcher, and its bounds say how good the plan can be."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.record import dataclass
from barkwright.schedule.guide import Guide
from barkwright.schedule.levels import FLOWN, LAST, LATE, LIKED, MONEY, RENTAL, TROUBLE, stated
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.answer import Reading, bound_beside, by_levels
from barkwright.schedule.optimum.ideal import ideal_of
from barkwright.schedule.optimum.large import LargeProof, columns_of, large_bounds_at, prove_large, variants_of
from barkwright.schedule.optimum.least import earliest_end, least_trouble
from barkwright.schedule.optimum.like import like_trees
from barkwright.schedule.optimum.period import PeriodModel
from barkwright.schedule.optimum.program import SolverError
from barkwright.schedule.optimum.sharing import guide_of
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.watch import Watch

SAME = 1e-6


@dataclass(slots=True)
class Proof:
    """What the period model proves, and what it would do."""

    guide: Guide
    bounds: list[float | None]
    hired: dict[int, list[tuple[int, int, int]]]  # by machine: first day and end of a period, days of use in it
    period: PeriodModel
    every: list[TreeColumns]
    ideal: bool  # is the model of the ideal alone?


def prove(model: SiteModel, watch: Watch) -> Proof | LargeProof:
    """Solve the period model of a site. Raises SolverError when the solver gives no answer."""
    prices = stated(model)
    groups = like_trees(model)
    if len(model.trees) > SETTINGS["model_trees"] or columns_of(model, groups) > SETTINGS["model_columns"]:
        return prove_large(model, groups, watch)
    variants = variants_of(model)
    every = [TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle), False, one.trees) for one in groups]
    ideal = [ideal_of(model, one) for one in every]
    try:
        period = _period(model, [one for one, _ in ideal])
        known = tuple(
            sum(one.count * worth[level] for one, (_, worth) in zip(every, ideal, strict=True))
            for level in range(MONEY)
        )
        reading, whole = by_levels(period, prices, watch, known), True
    except SolverError:
        watch.tell("hands or days run short: weighing what to leave")
        period = _period(model, every)
        reading, whole = by_levels(period, prices, watch), False
    return Proof(guide_of(period, reading.values), reading.bounds, _hired(period, reading), period, every, whole)


def bounds_at(model: SiteModel, proof: Proof | LargeProof, values: Sequence[float], watch: Watch) -> list[float | None]:
    """The bound of each level where those before it are at a plan's own values."""
    if isinstance(proof, LargeProof):
        return large_bounds_at(model, proof, values, watch)
    bounds = list(proof.bounds)
    same = all(
        bound is not None and value <= bound + SAME * max(1.0, abs(bound))
        for value, bound in zip(values[:MONEY], bounds, strict=False)
    )
    if not same:
        bounds[MONEY:] = [None] * (len(bounds) - MONEY)
        period = proof.period if not proof.ideal else _period(model, proof.every)
        for level in range(FLOWN, MONEY + 1):
            if watch.stop:
                bounds[level:] = [None] * (len(bounds) - level)
                break
            if any(period.costs[level]):
                bounds[level] = bound_beside(period, level, values, watch)
    if same and values[MONEY] > (bounds[MONEY] or 0.0) + stated(model).of(MONEY, bounds[MONEY] or 0.0) + SAME:
        bounds[LIKED] = bounds[RENTAL] = None
    bounds[LATE] = 0.0
    known = same and proof.ideal
    end = earliest_end(model, proof.period.trees) if known else 0.0
    visits = least_trouble(model, proof.period.trees) if known else 0.0
    bounds[LAST], bounds[TROUBLE] = end, visits + SETTINGS["waiting_day"] * end
    return bounds


def _period(model: SiteModel, trees: Sequence[TreeColumns]) -> PeriodModel:
    columns = sum(len(piece.variants) for tree in trees for season in tree.seasons for piece in season.pieces)
    return PeriodModel(model, trees, columns <= SETTINGS["whole_columns"], True)


def _hired(period: PeriodModel, reading: Reading) -> dict[int, list[tuple[int, int, int]]]:
    found: dict[int, list[tuple[int, int, int]]] = {}
    for place, columns in period.hired.items():
        for number, use in columns.items():
            days = round(reading.values[use.column] + 0.49)
            if days > 0:
                found.setdefault(place, []).append((period.cuts[number], period.cuts[number + 1], days))
    return found
