"""How long single rooms take for a large site: cutting trees on paper, and judging every way of every piece."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1] / "stem"))
sys.path.insert(0, str(Path(__file__).parents[1] / "treatment"))

from bench_site import ADULTS, HOST, LARVAE, MILL, bench, brood, piece, site
from tabulate import tabulate
from trees import inventory

from barkwright.stem.bucking import cut_tree

SPECIES = ("white", "engelmann", "sitka", "lutz", "black", "red", "blue", "norway")
LIVES = [ADULTS, LARVAE, HOST, brood("possible", "unknown"), brood("none")]


def cut() -> int:
    """2,000 unlike trees, with two chippers to cut for."""
    trees = [
        {"id": f"T{n}", "species": SPECIES[n % 8], "dbh": 4 + n % 360 / 10, "height": 30 + n % 90 + 0.5}
        for n in range(2000)
    ]
    whole = inventory(*trees, equipment=({"kind": "chipper", "capacity": 9.0}, {"kind": "chipper", "capacity": 15.0}))
    return sum(len(cut_tree(tree, whole).pieces) for tree in whole.trees)


def judge() -> int:
    """14,000 unlike logs of one site."""
    table = bench(site(site={"destinations": (MILL,)}))
    tree = table.inventory.trees[0]
    logs = [piece(butt=6 + number % 2900 / 100, number=number, lift_lb=50.0 + number) for number in range(14_000)]
    return sum(len(table.ways(tree, log, LIVES[number % 5])) for number, log in enumerate(logs))


def felled() -> int:
    """2,000 logs felled on 170 different days."""
    made = site({"status": "felled", "felled_on": date(2026, 11, 1)})
    table, found = bench(made), 0
    for number in range(2000):
        tree = made.trees[0].model_copy(update={"felled_on": date(2026, 6, 1) + timedelta(days=number % 170)})
        found += len(table.ways(tree, piece(butt=6 + number / 100), LIVES[number % 5]))
    return found


def main() -> None:
    """Print a line for each."""
    rows = []
    jobs: tuple[Callable[[], int], ...] = (cut, judge, felled)
    for job in jobs:
        began = perf_counter()
        made = job()
        rows.append((job.__doc__, made, f"{perf_counter() - began:.2f}"))
    sys.stdout.write(tabulate(rows, ("what", "pieces or ways", "seconds")) + "\n")


if __name__ == "__main__":
    main()
