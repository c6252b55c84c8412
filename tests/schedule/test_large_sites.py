"""Large sites: prices from strata, the bound that they give, and guided trees written in together."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_sites import ON, site_text

from barkwright.costs.prices import Prices
from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order, plan_ways
from barkwright.schedule.levels import BARK, MONEY, values_of
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.optimum import large, search
from barkwright.schedule.optimum.guided_large import guided_large
from barkwright.schedule.optimum.ideal import ideal_of
from barkwright.schedule.optimum.kinds import UNEVEN, Kinds
from barkwright.schedule.optimum.large import BEFORE, large_bounds_at, priced, prove_large, variants_of
from barkwright.schedule.optimum.like import Group, like_trees, strata
from barkwright.schedule.optimum.narrowed import narrowed
from barkwright.schedule.optimum.priced import Pricer, bound_of
from barkwright.schedule.optimum.prices import Prices as HourPrices
from barkwright.schedule.optimum.sharing import shares
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.watch import Watch
from barkwright.treatment.felling import felling_of

SHORT = "calendar: {start: 2026-10-26, off: [{from: 2026-12-01, to: 2028-12-31}]}"
TWICE = "calendar: {start: 2026-10-26, off: [{from: 2026-12-24, to: 2027-01-02}]}"


def model_of(seed: int, trees: int, people: int, short: bool) -> SiteModel:
    text = site_text(seed, trees, people)
    inventory, faults = read_inventory(text.replace(TWICE, SHORT) if short else text, "made-up.yaml", ON)
    assert inventory is not None, faults
    found = plan_ways(inventory, ON)
    season, bench = found.flight.season, found.bench
    trees = tuple(
        TreeWork(
            tree,
            stem,
            brood,
            felling_of(tree, stem, brood, inventory, season, ON),
            tuple(bench.ways(tree, piece, one) for piece, one in zip(stem.pieces, brood.pieces, strict=True)),
        )
        for tree, stem, brood in zip(inventory.trees, found.flight.tally.stems, found.flight.broods, strict=True)
    )
    return site_model(SiteWork(inventory, ON, season, bench, Prices(inventory), trees))


@pytest.mark.parametrize(("seed", "short"), [(1, True), (2, True), (3, False)])
def test_the_bound_is_the_least_value_of_the_relaxed_model_where_every_tree_is_in_it(seed: int, short: bool) -> None:
    model = model_of(seed, 12, 2, short)
    groups = like_trees(model)
    variants = variants_of(model)
    every = [TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle)) for one in groups]
    found = priced(model, every, BEFORE)
    levels = list(found.prices)
    pricer = Pricer(model, variants_of(model), [found.prices[level] for level in levels], False)
    bests = [pricer.bests(one.middle) for one in groups]
    for number, level in enumerate(levels):
        bound = bound_of(found.prices[level], zip(groups, (best[number] for best in bests), strict=True))
        least = found.reached[level]
        assert bound <= least + 1e-4 * max(1.0, abs(least)) + hire_in_whole_days(found.prices[level])
        assert bound >= least - 1e-4 * max(1.0, abs(least))


def hire_in_whole_days(prices: HourPrices) -> float:
    """The bound may lie above the relaxed model by what whole days of hire cost more than parts of days."""
    return sum(hire.prices[1] for hire in prices.period.hires.values()) if prices.weights[MONEY] else 0.0


@pytest.mark.parametrize(("seed", "trees", "people", "short"), [(4, 40, 2, True), (5, 40, 8, False), (6, 25, 1, True)])
def test_no_plan_is_below_the_bounds_that_prices_of_strata_give(
    seed: int, trees: int, people: int, short: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    model = model_of(seed, trees, people, short)
    monkeypatch.setitem(SETTINGS._values, "priced_columns", 2000.0)  # fewer than all trees have
    monkeypatch.setitem(SETTINGS._values, "part_columns", 300.0)
    few: list[list[Group]] = []
    monkeypatch.setattr(large, "strata", lambda *asked: few.append(strata(*asked)) or few[-1])
    proof = prove_large(model, like_trees(model), Watch())
    assert len(few[0]) < trees
    assert proof.ideal != (people == 1)  # one person reaches for some trees only
    for plan in guided_large(model, proof, Watch()):
        values = values_of(model, plan)
        found = []
        for anew in (40.0, 0.0):  # proven anew at the plan's own values, or drawn on from the least bark
            monkeypatch.setitem(SETTINGS._values, "bounds_trees", anew)
            found.append(large_bounds_at(model, proof, values, Watch()))
            for value, bound in zip(values, found[-1], strict=True):
                assert bound is None or bound <= value + 0.01 + 1e-6 * abs(value)
        assert (found[1][MONEY] or 0.0) <= (found[0][MONEY] or 0.0) + 0.01 + hire_in_whole_days(proof.prices)


def test_trees_are_dealt_out_to_parts_that_each_stand_for_all_and_none_is_lost(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    model = model_of(5, 40, 8, False)
    monkeypatch.setitem(SETTINGS._values, "part_columns", 300.0)
    proof = prove_large(model, like_trees(model), Watch())
    assert proof.bounds[BARK] == 0.0  # eight people reach for all of it: every tree has something to do
    parts = proof.part[0].count
    assert parts > 1
    assert {one.count for one in proof.part} == {parts}
    assert abs(sum(one.count for one in proof.part) - 40) < parts
    for one in proof.guides:
        assert set(one.guide.seasons) == {tree.id for tree in model.trees}


@pytest.mark.parametrize(("seed", "people", "level"), [(4, 1, BARK), (5, 4, MONEY)])
def test_the_kept_variants_of_every_tree_are_hardly_worse_than_all_and_the_bound_of_a_sample_is_no_higher(
    seed: int, people: int, level: int
) -> None:
    """The least with all variants of all trees: what few variants reach is above it, the bound of prices below."""
    model = model_of(seed, 30, people, people == 1)
    groups, variants = like_trees(model), variants_of(model)
    ideal, levels = level == MONEY, (level,)

    def columns(some: list[Group]) -> list[TreeColumns]:
        made = [TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle), False, one.trees) for one in some]
        return [ideal_of(model, one)[0] for one in made] if ideal else made

    least = priced(model, columns(groups), levels).reached[level]
    sample = strata(model, groups, 12)
    assert len(sample) < len(groups)
    prices = priced(model, columns(sample), levels).prices[level]
    pricer = Pricer(model, variants_of(model), [prices], ideal, SETTINGS["kept_margin"])
    bests = [pricer.bests(one.middle) for one in groups]
    bound = bound_of(prices, ((one, best[0]) for one, best in zip(groups, bests, strict=True)))
    kept = [narrowed(variants, one, best, pricer.stays(one.middle)) for one, best in zip(groups, bests, strict=True)]
    assert count(kept) < count(columns(groups)) / 4
    reached = priced(model, kept, levels).reached[level]
    assert least > 0.0
    assert bound <= least + 0.01 + (hire_in_whole_days(prices) if ideal else 0.0)
    assert least - 0.01 <= reached <= 1.02 * least
    assert bound >= 0.95 * least  # and the sample tells enough to be of use


def count(trees: list[TreeColumns]) -> int:
    return sum(len(piece.variants) for one in trees for season in one.seasons for piece in season.pieces)


def test_prices_that_are_wrong_give_a_bound_all_the_same() -> None:
    model = model_of(7, 20, 2, True)
    groups = like_trees(model)
    variants = variants_of(model)
    every = [TreeColumns(one.middle, len(one.trees), variants.seasons(one.middle)) for one in groups]
    found = priced(model, every, (BARK,))
    good = found.prices[BARK]
    for times in (0.3, 3.0):
        duals = [-times * price for price in good._price]
        prices = HourPrices(found.period, BARK, duals)
        pricer = Pricer(model, variants_of(model), [prices], False)
        bound = bound_of(prices, ((one, pricer.bests(one.middle)[0]) for one in groups))
        assert bound <= found.reached[BARK] + 0.01


@pytest.mark.parametrize("seed", [1, 2])
def test_hours_of_a_piece_lie_between_those_of_the_least_and_the_greatest_of_its_kind(seed: int) -> None:
    model = model_of(seed, 40, 2, False)
    variants = variants_of(model)
    pricer = Pricer(model, variants, [], False)
    kinds: Kinds = pricer.kinds
    seen = 0
    for tree in model.trees:
        for piece in tree.pieces:
            least, greatest = kinds.ends_of(piece)
            for position, way in enumerate(piece.ways):
                if any(0.0 < one.short_butt_ft < greatest.piece.length_ft for one in piece.piece.cut_points):
                    continue
                low, own, high = (variants.steps(tree, one, position, 0) for one in (least, piece, greatest))
                if [step.people for step in low] != [step.people for step in high] or not way.windows:
                    continue
                for a, b, c in zip(low, own, high, strict=True):
                    if b.do in UNEVEN:
                        continue
                    seen += 1
                    assert a.person_hours.mean <= b.person_hours.mean + 1e-9 <= c.person_hours.mean + 2e-9
                    assert a.machine_hours.mean <= b.machine_hours.mean + 1e-9 <= c.machine_hours.mean + 2e-9
    assert seen > 1000


def test_like_trees_are_counted_together_and_planned_as_many_by_themselves() -> None:
    text = site_text(3, 1, 4)
    row = next(line for line in text.splitlines() if "id: T1," in line)
    many = text.replace(row, "\n".join(row.replace("id: T1,", f"id: T{number},") for number in range(1, 7)))
    inventory, faults = read_inventory(many, "made-up.yaml", ON)
    assert inventory is not None, faults
    plan = plan_order(inventory, ON)
    (group,) = like_trees(site_model(plan.work))
    assert len(group.trees) == 6
    proof = search.prove(site_model(plan.work), Watch())
    assert len(proof.guide.seasons) == 6
    assert plan.schedule.infested_left_ft2 == pytest.approx(0.0)


def test_a_tree_that_differs_in_one_measure_is_not_like_the_others() -> None:
    model = model_of(3, 2, 4, False)
    one, other = model.trees
    assert len(like_trees(replace(model, trees=(one, one, other)))) == 2


def test_strata_hold_every_tree_once_and_are_told_by_size() -> None:
    model = model_of(8, 30, 2, False)
    groups = like_trees(model)
    found: list[Group] = strata(model, groups, 6)
    assert sorted(tree.id for one in found for tree in one.trees) == sorted(tree.id for tree in model.trees)
    assert len(found) < 30
    assert all(one.middle in one.trees for one in found)


@pytest.mark.parametrize(
    ("values", "most", "parts"),
    [
        ([1.5, 1.5], 3, [2, 1]),
        ([0.4, 0.4, 0.2], 1, [1, 0, 0]),
        ([2.0, 0.0], 3, [2, 0]),
        ([0.2], 1, [0]),
        ([3.9], 3, [3]),
    ],
)
def test_shares_are_by_the_largest_remainder(values: list[float], most: int, parts: list[int]) -> None:
    assert shares(values, most) == parts
