"""Invented sites of any size, the same for the same seed: for benchmarks and for tests of whole plans."""

from __future__ import annotations

import random


def site_text(
    seed: int, trees: int, people: int = 2, hired: bool = True, days: str = "[mon, tue, wed, thu, fri]"
) -> str:
    """An inventory of unlike trees as YAML text."""
    dice = random.Random(seed)
    lines = [
        "barkwright: 1",
        "site: {name: Invented Ridge, units: imperial, latitude: 53.9, longitude: -123.0, elevation: 2400,",
        "  region: interior-plateau, nearest_live_spruce: 80, slope_percent: 6, machine_access: true,",
        "  ground: {diggable: true, services_located: true},",
        "  burning: {permit: held, windows: [{from: 2026-11-01, to: 2027-03-31}]}}",
        "trees:",
    ]
    lines += [_tree(dice, number) for number in range(1, trees + 1)]
    lines += [
        f"crew: [{{name: ridge crew, people: {people}, hours_per_day: 7, days: {days}, skills: [saw, felling, machine], rate: 38}}]",
        "equipment:",
        f"  - {{kind: chain-saw, owned: true, count: {max(1, people // 2)}}}",
        f"  - {{kind: drawknife, owned: true, count: {people}}}",
        f"  - {{kind: maul, owned: true, count: {people}}}",
    ]
    if hired:
        lines.append(
            "  - {kind: chipper, capacity: 15 in, feed: winch, rent_per_day: 420, rent_per_week: 1500, delivery: 120}"
        )
    lines.append("calendar: {start: 2026-10-26, off: [{from: 2026-12-24, to: 2027-01-02}]}")
    return "\n".join(lines) + "\n"


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
        f"  - {{id: T{number}, species: white, status: {status}, dbh: {dbh}, height: {height}, attacked: {attacked}, attack: mass{extra}, "
        f"found: {{insect: spruce-beetle, stages: [{stage}], looked: {looked}, exit_holes: none, seen: 2026-10-12}}, "
        "near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}"
    )
