"""Invented small sites, 1 to 12 pieces at stake, as inventory text: the same for the same number, on fixed dates.

Short and long calendars, with crews that are too small for the wood on about every third of them.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date, timedelta

STARTS = (
    date(2026, 10, 20),
    date(2026, 12, 1),
    date(2027, 3, 1),
    date(2027, 3, 29),
    date(2027, 4, 19),
    date(2027, 5, 3),
)
FAR = "near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}"
WEEKS = ("[sat, sun]", "[sat]", "[mon, wed, fri]", "[mon, tue, wed, thu, fri]", "[tue, thu]")


def small_site(number: int) -> tuple[str, date]:
    """The inventory of one small site, and the day for which it is planned."""
    dice = random.Random(7_000_000 + number)
    on = dice.choice(STARTS)
    lines = [
        "barkwright: 1",
        f"site: {{name: Small place {number}, units: imperial, latitude: 53.9, longitude: -123.0, elevation: 2400,",
        "  region: interior-plateau, nearest_live_spruce: 80, slope_percent: 6, machine_access: true,",
        "  ground: {diggable: true, services_located: true},",
        f"  burning: {{permit: held, windows: [{_burning(dice, on)}]}}{_mill(dice)}}}",
        f"cutting: {{log_length: {dice.choice((16, 16, 24, 33))}, treat_over: {dice.choice((5, 6, 7))}}}",
        "trees:",
        *_trees(dice, on),
        "crew:",
        *_crews(dice),
        "equipment:",
        *_machines(dice, on),
        f"calendar: {{start: {on + timedelta(days=dice.choice((0, 3, 6, 11)))}, off: [{_off(dice, on)}]}}",
        *_wishes(dice),
    ]
    return "\n".join(lines) + "\n", on


def _burning(dice: random.Random, on: date) -> str:
    spans = []
    for _ in range(dice.choice((1, 1, 2))):
        first = on + timedelta(days=dice.randint(-5, 60))
        spans.append((first, first + timedelta(days=dice.choice((4, 12, 30, 70)))))
    spans.sort()
    if len(spans) == 2 and spans[1][0] <= spans[0][1]:
        spans = [(spans[0][0], max(spans[0][1], spans[1][1]))]
    return ", ".join(f"{{from: {first}, to: {last}}}" for first, last in spans)


def _mill(dice: random.Random) -> str:
    if dice.random() > 0.3:
        return ""
    return (
        f",\n  destinations: [{{kind: mill, name: The mill, miles: {dice.choice((8, 25))}, takes: [logs], "
        "processes_by: 2027-04-30, live_spruce_within: 5 mi}]"
    )


def _off(dice: random.Random, on: date) -> str:
    """Days without work: the holidays, most of a long winter, and all that comes after the coming flight."""
    spans = [(date(2027, 6, 20), date(2028, 4, 20) if dice.random() < 0.5 else date(2028, 6, 30))]
    if on < date(2027, 1, 1):
        first = on + timedelta(days=dice.choice((12, 25, 40)))
        spans.append((first, date(2027, dice.choice((3, 4, 5)), dice.randint(2, 9))))
    elif dice.random() < 0.4:
        first = on + timedelta(days=dice.choice((8, 15)))
        spans.append((first, first + timedelta(days=dice.choice((5, 12)))))
    return ", ".join(f"{{from: {first}, to: {last}}}" for first, last in sorted(spans))


def _trees(dice: random.Random, on: date) -> list[str]:
    """Unlike trees with up to twelve pieces at stake between them, as far as that can be told beforehand."""
    left, rows = dice.randint(1, 12), []
    while left > 0:
        number = len(rows) + 1
        kinds = ("stump", "logs", "logs", "yard", "standing", "standing", "windthrown", "felled")
        kind = dice.choice(kinds if left >= 5 else ("stump", "logs"))
        found, pieces = _tree(dice, f"T{number}", kind, left, on)
        rows.append(found)
        left -= pieces
    return rows


def _tree(dice: random.Random, name: str, kind: str, left: int, on: date) -> tuple[str, int]:
    attacked = dice.choice((2025, 2025, 2025, 2026))
    stage = "adults" if attacked == 2025 else dice.choice(("larvae", "adults"))
    seen = "" if dice.random() < 0.1 else f"stages: [{stage}], "
    down = "[base, sunny]" if kind in ("yard", "standing") else "[top, bottom]"
    found = f"found: {{insect: spruce-beetle, {seen}looked: {down}, exit_holes: none, seen: 2026-10-12}}"
    head = f"  - {{id: {name}, species: white, attacked: {attacked}, attack: mass, "
    if kind == "stump":
        return f"{head}status: stump, diameter: {dice.uniform(9, 26):.1f}, height: {dice.uniform(0.7, 2):.1f}}}", 1
    if kind == "logs":
        count = dice.randint(1, min(left, 4))
        butts = [dice.uniform(6.5, 19) for _ in range(count)]
        logs = ", ".join(
            f"{{butt: {butt:.1f}, top: {butt * dice.uniform(0.75, 0.92):.1f}, length: {dice.choice((6, 8, 12, 16))}}}"
            for butt in butts
        )
        bark = "" if dice.random() < 0.8 else ", bark: {left_percent: 60, condition: loosened}"
        return (
            f"{head}status: logs, felled_on: 2026-09-20, stood_at_attack: true, {found}{bark}, logs: [{logs}]}}",
            count,
        )
    dbh = round(dice.uniform(8, 19), 1)
    size = f"dbh: {dbh}, height: {22 + 2.7 * dbh + dice.uniform(-6, 6):.0f}"
    if kind == "yard" and dice.random() < 0.4:  # green, and asked to come down
        green = f"  - {{id: {name}, species: white, attacked: never, status: standing, {size}, {FAR}, "
        hours = dice.choice((2, 3, 5))
        return f"{green}hazards: [lean], removal: {{by: fell, hours: {hours}, price: {dice.choice((250, 420))}}}}}", 5
    if kind in ("yard", "standing"):
        gate = f", not_before: {on + timedelta(days=dice.randint(3, 30))}" if dice.random() < 0.2 else ""
        pro = ""
        if kind == "yard":
            pro = f", removal: {{by: dismantle, hours: {dice.choice((3, 6, 10))}, price: {dice.choice((380, 700))}}}"
            pro += ", hazards: [lean]" if dice.random() < 0.5 else ""
        return f"{head}status: standing, {size}, {found}, {FAR}{gate}{pro}}}", 5
    since = "felled_on: 2026-10-01" if kind == "felled" else "down_since: 2026-04-12"
    stood = "false" if kind == "windthrown" and attacked == 2026 else "true"
    return f"{head}status: {kind}, {size}, {since}, stood_at_attack: {stood}, {found}}}", 5


def _crews(dice: random.Random) -> list[str]:
    rows = []
    for name in ("the owners", "the hired two")[: dice.choice((1, 1, 1, 2))]:
        people = dice.choice((2, 2, 2, 3, 4)) if not rows else 2
        pay = dice.choice(("unpaid: true", "unpaid: true, worth: 15", "rate: 38", "rate: 52"))
        skills = dice.choice(("[saw, felling]", "[saw, felling, machine]", "[saw, felling, machine]"))
        hours = dice.choice((2, 3, 4, 6, 8))
        rows.append(
            f"  - {{name: {name}, people: {people}, hours_per_day: {hours}, days: {dice.choice(WEEKS)}, "
            f"skills: {skills}, {pay}}}"
        )
    return rows


def _machines(dice: random.Random, on: date) -> list[str]:
    def rent(day: int, week: bool = True) -> str:
        days = f"rent_per_day: {day}"
        weekly = f", rent_per_week: {round(day * dice.choice((2.5, 3.6, 4.5)))}" if week and dice.random() < 0.7 else ""
        brought = f", delivery: {dice.choice((30, 90, 150))}" if dice.random() < 0.7 else ""
        first = f", from: {on + timedelta(days=dice.randint(4, 30))}" if dice.random() < 0.25 else ""
        until = f", to: {on + timedelta(days=dice.randint(31, 90))}" if dice.random() < 0.15 else ""
        return days + weekly + brought + first + until

    rows = ["{kind: chain-saw, owned: true, count: 2}"]
    rows += [
        f"{{kind: {kind}, owned: true, count: {dice.choice((1, 2))}}}"
        for kind, often in (("drawknife", 0.55), ("bark-spud", 0.35), ("maul", 0.5), ("axe", 0.3), ("cant-hook", 0.4))
        if dice.random() < often
    ]
    if dice.random() < 0.75:
        feed = dice.choice(("hand", "winch"))
        rows.append(
            f"{{kind: chipper, capacity: {dice.choice((7, 9, 12, 15))} in, feed: {feed}, "
            f"{rent(dice.choice((90, 210, 380)))}}}"
        )
    elif dice.random() < 0.3:
        rows.append("{kind: chipper, capacity: 6 in, feed: hand, owned: true, cost_per_hour: 9}")
    if dice.random() < 0.3:
        rows.append(f"{{kind: splitter, {rent(75)}}}")
    if dice.random() < 0.25:
        rows.append(f"{{kind: saw-debarker, {rent(45)}}}")
    if dice.random() < 0.25:
        rows.append(f"{{kind: excavator, capacity: 9 ft, {rent(340)}}}")
    if dice.random() < 0.4:
        rows.append("{kind: truck, capacity: 4000 lb, owned: true, cost_per_hour: 14}")
    if dice.random() < 0.15:
        rows.append(f"{{kind: stump-grinder, {rent(160, False)}}}")
    return [f"  - {row}" for row in rows]


def _wishes(dice: random.Random) -> Sequence[str]:
    rows = []
    limits = []
    if dice.random() < 0.12:
        limits.append(f"budget: {dice.choice((150, 400, 900))}")
    if dice.random() < 0.08:
        limits.append(f"chips_site_takes: {dice.choice((1, 3))} yd3")
    if dice.random() < 0.1:
        limits.append("firewood_cords_per_week: 0.1")
    if limits:
        rows.append(f"limits: {{{', '.join(limits)}}}")
    if dice.random() < 0.2:
        rows.append(f"wishes: {{avoid: [{dice.choice(('chip', 'burn', 'debark', 'haul'))}]}}")
    elif dice.random() < 0.15:
        rows.append(f"wishes: {{prefer: [{dice.choice(('chip', 'burn', 'debark', 'split'))}]}}")
    if dice.random() < 0.15:
        rows.append("worth: {firewood_per_cord: 120}")
    return rows
