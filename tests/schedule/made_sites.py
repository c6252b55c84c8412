"""Invented sites of any size, the same for the same seed, and plans of them: for tests and benchmarks."""

from __future__ import annotations

import random
from datetime import date

from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order

ON = date(2026, 10, 20)


def site_text(
    seed: int,
    trees: int,
    people: int = 2,
    hired: bool = True,
    days: str = "[mon, tue, wed, thu, fri]",
    more: str = "",
    start: str = "2026-10-26",
    shuffled: bool = False,
    chippers: int = 1,
) -> str:
    """An inventory of unlike trees as YAML text."""
    dice = random.Random(seed)
    rows = [_tree(dice, number) for number in range(1, trees + 1)]
    if shuffled:
        random.Random(seed + 1).shuffle(rows)
    lines = [
        "barkwright: 1",
        "site: {name: Invented Ridge, units: imperial, latitude: 53.9, longitude: -123.0, elevation: 2400,",
        "  region: interior-plateau, nearest_live_spruce: 80, slope_percent: 6, machine_access: true,",
        "  ground: {diggable: true, services_located: true},",
        "  burning: {permit: held, windows: [{from: 2026-11-01, to: 2027-03-31}]}}",
        "trees:",
        *rows,
        f"crew: [{{name: ridge crew, people: {people}, hours_per_day: 7, days: {days},",
        "  skills: [saw, felling, machine], rate: 38}]",
        "equipment:",
        f"  - {{kind: chain-saw, owned: true, count: {max(2, people // 2)}}}",
        f"  - {{kind: drawknife, owned: true, count: {max(2, people)}}}",
        f"  - {{kind: maul, owned: true, count: {max(2, people)}}}",
    ]
    if hired:
        lines.append(
            f"  - {{kind: chipper, count: {chippers}, capacity: 15 in, feed: winch, rent_per_day: 420,"
            " rent_per_week: 1500, delivery: 120}"
        )
    lines.append(f"calendar: {{start: {start}, off: [{{from: 2026-12-24, to: 2027-01-02}}]}}")
    return "\n".join([*lines, more]) + "\n"


def planned(text: str, on: date = ON) -> Plan:
    """The whole path, on an invented site."""
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults[:3]
    return plan_order(inventory, on)


def shape(plan: Plan) -> list[tuple[object, ...]]:
    """A plan without ids."""
    return sorted(
        (
            (job.work, str(job.way), job.first, job.last, len(job.pieces)),
            (round(job.hours, 4), job.people, str(job.crew), job.equipment),
        )
        for job in plan.schedule.jobs
    )


def _tree(dice: random.Random, number: int) -> str:
    dbh = round(dice.lognormvariate(2.65, 0.3), 2)
    dbh = min(max(dbh, 5.0), 40.0)
    height = round(20 + 3.1 * dbh + dice.uniform(-6, 6), 1)
    attacked = dice.choice((2025, 2025, 2026))
    stage = "adults" if attacked == 2025 else "larvae"
    status = dice.choice(("standing", "standing", "standing", "felled"))
    extra = "" if status == "standing" else ", felled_on: 2026-10-01, stood_at_attack: true"
    looked = "[base, sunny]" if status == "standing" else "[top, bottom]"
    return (
        f"  - {{id: T{number}, species: white, status: {status}, dbh: {dbh}, height: {height}, "
        f"attacked: {attacked}, attack: mass{extra}, "
        f"found: {{insect: spruce-beetle, stages: [{stage}], looked: {looked}, exit_holes: none, seen: 2026-10-12}}, "
        "near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}"
    )
