"""How many small sites are compared, and the table of what was found: `pytest tests/oracle -m slow --sites 300`."""

from __future__ import annotations

import json
from collections.abc import Iterable

LESS, FREE = 0.005, 0.5  # currency and ft2 below which nothing differs; currency below which nothing matters


def pytest_addoption(parser):
    parser.addoption("--sites", type=int, default=300, help="how many made-up sites are solved exactly")
    parser.addoption("--effort", type=float, default=20.0, help="deterministic time of the exact solver for one answer")
    parser.addoption("--compared", metavar="FILE", help="write every comparison to FILE, a line of JSON each")


def pytest_terminal_summary(terminalreporter, config):
    found = [
        json.loads(value)
        for report in (one for group in ("passed", "failed") for one in terminalreporter.stats.get(group, []))
        for name, value in report.user_properties
        if name == "compared" and report.when == "call"
    ]
    if not found:
        return
    found.sort(key=lambda one: one["number"])
    if config.getoption("--compared"):
        with open(config.getoption("--compared"), "w", encoding="utf-8") as file:
            file.writelines(json.dumps(one) + "\n" for one in found)
    terminalreporter.section("plans beside the exact optimum")
    for line in table(found):
        terminalreporter.line(line)


def table(found: list[dict]) -> Iterable[str]:
    """Counts and spreads over all sites."""
    sizes = sorted(one["pieces"] for one in found)
    yield f"{len(found)} sites, {sizes[0]} to {sizes[-1]} pieces at stake"
    for level, unit in (("bark", "ft2"), ("money", "currency")):
        proven = [one for one in found if one[level]["proven"]]
        over = {one["number"]: one[level]["plan"] - one[level]["optimum"] for one in proven}
        open_ones = [one["number"] for one in found if not one[level]["proven"]]
        yield f"{level}: optimum proven on {len(proven)}; not on {open_ones}"
        yield f"  plan less optimum [{unit}]: {_spread(over.values())}"
        shares = [over[one["number"]] / one[level]["optimum"] for one in proven if one[level]["optimum"] > FREE]
        yield f"  in per cent of the optimum: {_spread(100 * share for share in shares)}"
        equal = sum(each <= LESS for each in over.values())
        given = sum(over[one["number"]] <= one[level]["tolerance"] + LESS for one in proven)
        yield f"  equal on {equal} sites, within the stated tolerance on {given}"
        shown = [one for one in proven if one[level]["shown"] is not None]
        gaps = [one[level]["optimum"] - one[level]["shown"] for one in shown]
        yield f"  optimum less bound [{unit}], where one is shown: {_spread(gaps)}"


def _spread(values: Iterable[float]) -> str:
    each = sorted(values)
    if not each:
        return "none"
    marks = (("min", 0), ("median", len(each) // 2), ("p90", int(0.9 * (len(each) - 1))), ("max", len(each) - 1))
    return f"n {len(each)}, " + ", ".join(f"{name} {each[place]:.2f}" for name, place in marks)
