"""The bench keeps pace with a large site."""

from datetime import date, timedelta
from time import perf_counter

import pytest
from bench_site import ADULTS, HOST, LARVAE, MILL, bench, brood, piece, site

LIVES = [ADULTS, LARVAE, HOST, brood("possible", "unknown"), brood("none")]


@pytest.mark.slow
def test_fourteen_thousand_unlike_pieces_are_judged_in_five_seconds():
    table = bench(site(site={"destinations": (MILL,)}))
    tree = table.inventory.trees[0]
    logs = [piece(butt=6 + number % 2900 / 100, number=number, lift_lb=50.0 + number) for number in range(14_000)]
    start = perf_counter()
    listed = sum(len(table.ways(tree, log, LIVES[number % 5])) for number, log in enumerate(logs))
    assert listed > 14_000 * 12
    assert perf_counter() - start < 5.0


@pytest.mark.slow
def test_logs_felled_on_many_days_do_not_slow_it_down():
    made = site({"status": "felled", "felled_on": date(2026, 11, 1)})
    table = bench(made)
    start = perf_counter()
    for number in range(2000):
        tree = made.trees[0].model_copy(update={"felled_on": date(2026, 6, 1) + timedelta(days=number % 170)})
        table.ways(tree, piece(butt=6 + number / 100), LIVES[number % 5])
    assert perf_counter() - start < 5.0
