"""Planning again after days in which nothing was done, with and without the order that was given out.

For each site: jobs of the order, those whose day has passed, and of the rest those that move or change and pieces with
another way; what the plan costs; and processor seconds. All arguments have defaults:

    python tests/benchmarks/replan.py --trees 3,6,9,12,20,40 --days 7
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "schedule"))

from made_sites import ON, site_text
from tabulate import tabulate

import barkwright.plan as path
from barkwright.cli.site import known_names
from barkwright.inventory.reading import read_inventory
from barkwright.schedule.best import best_plan
from barkwright.schedule.digest import given_out
from barkwright.schedule.earlier import Earlier
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.levels import BARK, CHANGES, MONEY, NAMES
from barkwright.schedule.sitework import SiteWork

ROOT = Path(__file__).parents[2]
HEAD = (
    "site",
    "jobs",
    "day passed",
    "earlier order",
    "moved",
    "days",
    "ways",
    "changes",
    "bark left",
    "cost",
    "s",
    "by",
)


class EnoughError(Exception):
    """The site is prepared; no plan is wanted yet."""


def main() -> None:
    """Plan the examples and some made-up sites, lose some days, plan again both ways, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "--trees", type=lambda text: [int(one) for one in text.split(",")], default=[3, 6, 9, 12, 20, 40]
    )
    parser.add_argument("--days", type=int, default=7)
    asked = parser.parse_args()
    rows: list[tuple[str, ...]] = []
    for name, text, on in _sites(asked.trees):
        rows += _measured(name, text, on, asked.days)
    align = ("left", "right", "right", "left", *["right"] * 7, "left")
    sys.stdout.write(f"{tabulate(rows, HEAD, disable_numparse=True, colalign=align)}\n")


def _sites(sizes: list[int]) -> Iterator[tuple[str, str, date]]:
    for name in ("yard-tree", "quote-three-trees", "removal-24"):
        yield name, (ROOT / "examples" / f"{name}.yaml").read_text(encoding="utf-8"), date(2026, 11, 25)
    for size in sizes:
        yield f"made up, {size} trees", site_text(size, size), ON + timedelta(days=7)


def _measured(name: str, text: str, on: date, days: int) -> Iterator[tuple[str, ...]]:
    work = _work(text, on)
    first = best_plan(work)
    later = _work(text, on + timedelta(days=days))
    record = given_out(first, work)
    passed = sum(job.first < later.on for job in first.jobs)
    for earlier in (None, record):
        began = time.process_time()
        plan = best_plan(later, earlier=earlier)
        spent = time.process_time() - began
        yield _row(name, first, passed, plan, later, earlier, spent)


def _row(
    name: str, first: Schedule, passed: int, plan: Schedule, work: SiteWork, earlier: Earlier | None, spent: float
) -> tuple[str, ...]:
    old, new = _dates(first), _dates(plan)
    kept = {key: days for key, days in old.items() if days[0] >= work.on}
    moved = sum(new.get(key) != days for key, days in kept.items())
    by = sum(abs((new[key][0] - days[0]).days) for key, days in kept.items() if key in new)
    was = {choice.piece: choice.way for choice in first.choices}
    other = sum(was.get(choice.piece) != choice.way for choice in plan.choices)
    return (
        name, str(len(first.jobs)), str(passed), "yes" if earlier else "no", str(moved), str(by), str(other),
        _level(plan, CHANGES), _level(plan, BARK), _level(plan, MONEY), f"{spent:.2f}",
        plan.broken[0] if plan.broken else plan.optimum.by,
    )  # fmt: skip


def _dates(plan: Schedule) -> dict[tuple[object, ...], tuple[date, date, str | None]]:
    return {(job.tree, job.pieces, job.way, job.what): (job.first, job.last, job.crew) for job in plan.jobs}


def _level(plan: Schedule, which: int) -> str:
    return next((f"{one.value:,.2f}" for one in plan.optimum.levels if one.name == NAMES[which]), "-")


def _work(text: str, on: date) -> SiteWork:
    """A site as far as `plan_order` prepares it, without its plan."""
    found: list[SiteWork] = []

    def kept(work: SiteWork, *_: object) -> Schedule:
        found.append(work)
        raise EnoughError

    inventory, faults = read_inventory(text, "site.yaml", on, known_names())
    assert inventory is not None, faults[:3]
    real, path.best_plan = path.best_plan, kept  # type: ignore[attr-defined, assignment]
    try:
        path.plan_order(inventory, on)
    except EnoughError:
        pass
    finally:
        path.best_plan = real  # type: ignore[attr-defined]
    return found[0]


if __name__ == "__main__":
    main()
