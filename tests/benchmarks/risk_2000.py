"""How long the study of a plan takes: draws by jobs, with and without weather. Arguments: jobs, draws."""

from __future__ import annotations

import resource
import sys
import time
from datetime import date, timedelta

from tabulate import tabulate

from barkwright.study.network import Node
from barkwright.study.onsets import Onsets
from barkwright.study.planned import Planned
from barkwright.study.risk import draws_for, run, spare_days
from barkwright.study.stakes import Deadline, Stake

FIRST = date(2026, 10, 26)
DAYS = 270
EACH = 5  # jobs of a tree: fell, limb, two on the logs, stump
HANDS = 20


def site(jobs: int, weather: bool) -> tuple[Planned, tuple[Stake, ...]]:
    """An invented plan: two crews, five jobs a tree, one of them with a machine, two that stop brood."""
    nodes, stakes = [], []
    scale = HANDS * 7 * 100 / (jobs * 2.2)  # about 100 working days for all
    for place in range(jobs):
        part, hours = place % EACH, scale * (1 + place * 7 % 11 / 5)
        preds = (place - 1,) if part else ()
        machines = (("chipper", 0.02),) if part == 3 else ()
        crew = (place // EACH) % 2
        nodes.append(Node(0.7 * hours, hours, 1.8 * hours, preds, crew, 0.5, 2 / HANDS, machines=machines))
        if part in (3, 4):
            stakes.append(Stake(f"J{place}", f"T{place // EACH}", Deadline(2027, 0, None), 40.0))
    week = tuple(7.0 if day % 7 < 5 else 0.0 for day in range(DAYS))
    names = tuple(f"J{place}" for place in range(jobs))
    return Planned(FIRST, DAYS, names, tuple(nodes), (week, week), (0.2,) * DAYS if weather else None), tuple(stakes)


def main(jobs: int, draws: int) -> None:
    rows = []
    for weather, years in ((False, 1), (True, 1), (True, 12), (True, 30)):
        for count in (draws, draws_for(jobs)):
            plan, stakes = site(jobs, weather)
            onset = [date(2027, 4, 20) + timedelta(days=3 * number % 40) for number in range(years)]
            clock, cpu = time.perf_counter(), time.process_time()
            score = run(plan, stakes, {2027: Onsets(tuple(sorted(onset)), years)}, count, 1)
            chance, spare = score.in_time(0), spare_days(score, 0.9, 2027)
            rows.append(
                (
                    jobs, count, "yes" if weather else "no", years, f"{time.perf_counter() - clock:.2f}",
                    f"{time.process_time() - cpu:.2f}", f"{chance:.3f}", spare,
                )
            )  # fmt: skip
    head = ("jobs", "draws", "weather", "years", "s", "s of CPU", "in time", "spare days")
    print(tabulate(rows, head, tablefmt="simple"))  # noqa: T201
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000, int(sys.argv[2]) if len(sys.argv) > 2 else 10_000)
