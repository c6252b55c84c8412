"""How long a plan of many unlike trees takes, by stage, and its memory. Arguments: trees, people."""

from __future__ import annotations

import resource
import sys
import time
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "schedule"))

from made_sites import site_text
from tabulate import tabulate

from barkwright.costs.prices import Prices
from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_flight
from barkwright.schedule.rule import plan_by_rule
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.verify import verify
from barkwright.treatment.bench import Bench
from barkwright.treatment.felling import felling_of

ON = date(2026, 10, 20)


def main(trees: int, people: int) -> None:
    rows: list[tuple[str, str]] = []
    clock = time.perf_counter()

    def lap(name: str) -> None:
        nonlocal clock
        rows.append((name, f"{time.perf_counter() - clock:.2f} s"))
        clock = time.perf_counter()

    inventory, faults = read_inventory(site_text(1, trees, people), "made-up.yaml", ON)
    assert inventory is not None, faults[:3]
    lap("read")
    flight = plan_flight(inventory, ON)
    lap("stems, brood, flights")
    bench = Bench(inventory, flight.season, ON, flight.horizon + timedelta(days=1))
    work = SiteWork(
        inventory, ON, flight.season, bench, Prices(inventory),
        tuple(
            TreeWork(
                tree, stem, brood, felling_of(tree, stem, brood, inventory, flight.season, ON),
                tuple(bench.ways(tree, piece, found) for piece, found in zip(stem.pieces, brood.pieces, strict=True)),
            )
            for tree, stem, brood in zip(inventory.trees, flight.tally.stems, flight.broods, strict=True)
        ),
    )  # fmt: skip
    lap("ways, fellings")
    schedule = plan_by_rule(work)
    lap("schedule")
    broken = verify(schedule, work)
    lap("verify")
    rows.append(("trees, pieces, jobs", f"{trees}, {len(schedule.choices)}, {len(schedule.jobs)}"))
    rows.append(
        ("infested bark before, left", f"{schedule.infested_before_ft2:.0f}, {schedule.infested_left_ft2:.0f} ft2")
    )
    rows.append(("broken constraints", str(len(broken))))
    rows.append(("peak memory", f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB"))
    print(tabulate(rows, tablefmt="plain"), *broken[:5], sep="\n")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000, int(sys.argv[2]) if len(sys.argv) > 2 else 40)
