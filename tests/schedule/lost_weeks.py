"""Invented sites that are planned, lose some days, and are planned again: for tests and benchmarks."""

from __future__ import annotations

import random
from datetime import date, timedelta

from made_sites import ON, site_text

from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order, since_earlier
from barkwright.schedule.digest import given_out


def inventory_of(text: str, on: date) -> Inventory:
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults[:3]
    return inventory


def again(text: str, on: date, days: int, then: str | None = None) -> tuple[Plan, Plan]:
    """A plan, and the plan made some days later, with nothing done, from the same text or another one."""
    first = plan_order(inventory_of(text, on), on)
    later = on + timedelta(days=days)
    earlier = given_out(first.schedule, first.work)
    return first, since_earlier(plan_order(inventory_of(then or text, later), later, earlier=earlier))


def lost_week(seed: int) -> tuple[str, str, date, int]:
    """A site, the same with something changed on some of them, the first date, and the days that are lost."""
    dice = random.Random(seed)
    trees = dice.choice((1, 2, 3, 4, 6))
    text = site_text(seed, trees, people=dice.choice((2, 3)), hired=dice.random() < 0.7)
    lines = text.split("\n")
    then = {
        "nothing": text,
        "shorter days": text.replace("hours_per_day: 7", "hours_per_day: 5"),
        "adults": text.replace("stages: [larvae]", "stages: [adults]", 1),
        "a tree gone": "\n".join(line for line in lines if "{id: T2," not in line),
        "burning ends": text.replace("2027-03-31", "2026-12-20"),
        "cheap chipper": text.replace("rent_per_day: 420", "rent_per_day: 90"),
        "budget": text.replace("calendar:", "limits: {budget: 300}\ncalendar:"),
        "no drawknife": "\n".join(line for line in lines if "drawknife" not in line),
        "other days off": text.replace("from: 2026-12-24", "from: 2026-11-20"),
    }
    kind = dice.choice(("nothing", "nothing", "nothing", *then))
    return text, then[kind], ON + timedelta(days=7 * dice.choice((0, 1, 2))), dice.choice((0, 3, 7, 7, 7, 14, 21, 100))
