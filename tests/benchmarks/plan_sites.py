"""Invented sites of a given number of piece groups, with a crew that has a given load of work; the same every time.

A piece group is what one tree has in one class of diameter, up to four a tree, from 4 inches up. All trees were
attacked in 2025, so that all work is against one flight and what does not fit before it is left. The crew's calendar
ends and its days are cut where its load would be less than asked for, down to one half day.
"""

from __future__ import annotations

import math
import random
from datetime import date, timedelta
from itertools import accumulate

from barkwright.costs.prices import Prices
from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_ways
from barkwright.schedule.model import SiteModel, TreeModel, site_model
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.treatment.felling import felling_of

ON = date(2026, 10, 20)
START = date(2026, 10, 26)
SAMPLE = 200  # so many trees tell how much work there is in all
CLASSES = 4
TYPES = 12  # unlike trees on a site of like ones
DAY, HALF = 7.0, 3.5  # hours of a crew's day, and the least
ROUNDS = 3

Tree = tuple[float, float, str]  # DBH [in], height [ft], status


def trees_of(groups: int, like: bool, seed: int = 1) -> list[Tree]:
    """Trees that have so many piece groups between them."""
    dice = random.Random(seed)
    types = [_tree(dice) for _ in range(TYPES)]
    trees: list[Tree] = []
    left = groups
    while left > 0:
        tree = dice.choice(types) if like and left > CLASSES else _tree(dice)
        if groups_of(tree) <= left:
            trees.append(tree)
            left -= groups_of(tree)
    return trees


def groups_of(tree: Tree) -> int:
    """Classes of diameter that the pieces of a tree fall into."""
    return max(1, min(CLASSES, int((tree[0] - 1.0) / 4.0)))


def site_text(groups: int, like: bool, load: float, seed: int = 1) -> str:
    """An inventory as YAML text, with a crew for which its work is `load` times what it can do in time."""
    trees = trees_of(groups, like, seed)
    part = trees[:: max(1, len(trees) // SAMPLE)]
    model = _model(_text(part, 2, DAY, None))
    hours, last, rounds = _hours(model), 0, 0
    while rounds < ROUNDS:  # fewer ways are open in fewer days
        needed = sum(work_hours(model, tree, last) for tree in model.trees) * len(trees) / len(part) / load
        people = max(2, math.ceil(0.98 * needed / sum(hours)))
        free = list(accumulate(hours))
        last = next((day for day, so_far in enumerate(free) if so_far >= needed / people), len(hours) - 1)
        rounds += 1
    day = max(HALF, round(DAY * needed / people / free[last], 3))
    return _text(trees, people, day, model.days.day(last) if last < len(hours) - 1 else None)


def work_hours(model: SiteModel, tree: TreeModel, last: int) -> float:
    """Person-hours of bringing a tree down and of the cheapest way of each of its pieces that opens by a day [h]."""
    hours = sum(step.person_hours.mean for step in tree.work.felling.steps)
    for piece in tree.pieces:
        ways = [one for one in model.options(tree, piece) if one.end == "done"] if piece.at_stake else []
        ways = [one for one in ways if one.first <= last] or ways
        if ways:
            hours += min(ways, key=lambda one: (one.money + one.valued, one.hours)).hours
    return hours


def _hours(model: SiteModel) -> list[float]:
    """Hours of each hand by day, until the coming flight begins."""
    return list(model.days.crews[0].hours[: model.flights[0][0]])


def _model(text: str) -> SiteModel:
    inventory, faults = read_inventory(text, "made-up.yaml", ON)
    assert inventory is not None, faults[:3]
    found = plan_ways(inventory, ON)
    season, bench = found.flight.season, found.bench
    trees = tuple(
        TreeWork(
            tree, stem, brood, felling_of(tree, stem, brood, inventory, season, ON),
            tuple(bench.ways(tree, piece, one) for piece, one in zip(stem.pieces, brood.pieces, strict=True)),
        )
        for tree, stem, brood in zip(inventory.trees, found.flight.tally.stems, found.flight.broods, strict=True)
    )  # fmt: skip
    return site_model(SiteWork(inventory, ON, season, bench, Prices(inventory), trees))


def _tree(dice: random.Random) -> Tree:
    dbh = round(min(max(dice.lognormvariate(2.65, 0.3), 5.0), 40.0), 2)
    height = round(20 + 3.1 * dbh + dice.uniform(-6, 6), 1)
    return dbh, height, dice.choice(("standing", "standing", "standing", "felled"))


def _text(trees: list[Tree], people: int, hours: float, last: date | None) -> str:
    off = ["{from: 2026-12-24, to: 2027-01-02}"]
    if last is not None:
        off.append(f"{{from: {last + timedelta(days=1)}, to: {date(2028, 12, 31)}}}")
    tools = max(2, people)
    crowd = math.ceil(people / 4)  # machines of a kind that can be had
    return (
        "\n".join(
            [
                "barkwright: 1",
                "site: {name: Invented Ridge, units: imperial, latitude: 53.9, longitude: -123.0, elevation: 2400,",
                "  region: interior-plateau, nearest_live_spruce: 80, slope_percent: 6, machine_access: true,",
                "  ground: {diggable: true, services_located: true},",
                "  burning: {permit: held, windows: [{from: 2026-11-01, to: 2027-03-31}]}}",
                "trees:",
                *(_row(number, tree) for number, tree in enumerate(trees, 1)),
                f"crew: [{{name: ridge crew, people: {people}, hours_per_day: {hours:g},",
                "  days: [mon, tue, wed, thu, fri], skills: [saw, felling, machine], rate: 38}]",
                "equipment:",
                *(f"  - {{kind: {kind}, owned: true, count: {tools}}}" for kind in ("chain-saw", "drawknife", "maul")),
                f"  - {{kind: chipper, count: {crowd}, capacity: 9 in, feed: hand, rent_per_day: 310,"
                " rent_per_week: 1100, delivery: 90}",
                f"  - {{kind: chipper, count: {crowd}, capacity: 15 in, feed: winch, rent_per_day: 420,"
                " rent_per_week: 1500, rent_per_month: 4500, delivery: 120}",
                f"  - {{kind: saw-debarker, count: {crowd}, rent_per_day: 45, rent_per_week: 160}}",
                f"calendar: {{start: {START}, off: [{', '.join(off)}]}}",
            ]
        )
        + "\n"
    )


def _row(number: int, tree: Tree) -> str:
    dbh, height, status = tree
    extra = "" if status == "standing" else ", felled_on: 2026-10-01, stood_at_attack: true"
    looked = "[base, sunny]" if status == "standing" else "[top, bottom]"
    return (
        f"  - {{id: T{number}, species: white, status: {status}, dbh: {dbh}, height: {height}, "
        f"attacked: 2025, attack: mass{extra}, "
        f"found: {{insect: spruce-beetle, stages: [adults], looked: {looked}, exit_holes: none, seen: 2026-10-12}}, "
        "near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}"
    )
