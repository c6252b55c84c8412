"""How good plans of made-up sites are, how long they take and the memory: gap per level, seconds by stage.

Cases are piece groups x like or unlike trees x crew load, each in a process of its own. The priority rule's excess over
the same bounds is measured in the same run; on large sites it may be left out. Seconds are those of the processor: on
an idle machine that is the time. All arguments have defaults:

    python tests/benchmarks/best_plan.py --groups 3,83,865 --trees unlike --load 0.75 --rule-up-to 1000
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from itertools import product
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from plan_sites import ON, site_text
from tabulate import tabulate

GROUPS = (3, 9, 83, 865, 4375, 17519)
NOISE = 1e-3
STAGES = ("read", "ways", "plan", "verify", "page")


def main() -> None:
    """Run the cases that were asked for, and print a table of each case's levels and one of the times."""
    asked = _arguments()
    if asked.case:
        sys.stdout.write(json.dumps(_measured(Path(asked.case), asked.rule)))
        return
    times: list[tuple[str, ...]] = []
    for groups, trees, load in product(asked.groups, asked.trees, asked.load):
        name = f"{groups:,} {trees} {load:g}"
        found = _in_its_own_process(groups, trees == "like", load, groups <= asked.rule_up_to)
        times.append((name, *_times(found)))
        head = f"{name}: {found['trees']:,} trees, {found['pieces']:,} pieces, {found['jobs']:,} jobs; by the"
        sys.stdout.write(f"\n{head} {found['by']} ({found['solver']})\n{found['stopped']}\n")
        levels = tabulate(_levels(found), ("level", "unit", "value", "bound", "gap", "rule", "rule over bound"),
                          disable_numparse=True, colalign=("left", "left", *["right"] * 5))  # fmt: skip
        sys.stdout.write(f"{levels}\n{_nothing(found)}\n")
        for fault in found["broken"]:
            sys.stdout.write(f"BROKEN: {fault}\n")
        sys.stdout.flush()
    head = ("groups, trees, load", *STAGES, "whole", "MB", "rule")
    sys.stdout.write(f"\n{tabulate(times, head, disable_numparse=True, colalign=('left', *['right'] * 8))}\n")


def _arguments() -> argparse.Namespace:
    def numbers(text: str) -> list[int]:
        return [int(one) for one in text.split(",")]

    def shares(text: str) -> list[float]:
        return [float(one) for one in text.split(",")]

    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--groups", type=numbers, default=list(GROUPS))
    parser.add_argument("--trees", type=lambda text: text.split(","), default=["like", "unlike"])
    parser.add_argument("--load", type=shares, default=[0.75, 1.3])
    parser.add_argument("--rule-up-to", type=int, default=865, help="piece groups of the largest site planned by rule")
    parser.add_argument("--case", help=argparse.SUPPRESS)
    parser.add_argument("--rule", action="store_true", help=argparse.SUPPRESS)
    return parser.parse_args()


def _in_its_own_process(groups: int, like: bool, load: float, rule: bool) -> dict[str, Any]:
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder, "made-up.yaml")
        site.write_text(site_text(groups, like, load), encoding="utf-8")
        words = [sys.executable, __file__, "--case", str(site), *(["--rule"] if rule else [])]
        return dict(json.loads(subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True).stdout))


def _measured(site: Path, rule: bool) -> dict[str, Any]:
    """One case: what the plan is, and what each stage took."""
    import barkwright.plan as path
    import barkwright.schedule.best as best
    from barkwright.inventory.reading import read_inventory
    from barkwright.output.measures import Units
    from barkwright.output.order import order_text

    seconds: dict[str, float] = {}

    def timed(stage: str, run: Callable[..., Any]) -> Callable[..., Any]:
        def ran(*given: Any) -> Any:
            began = time.process_time()
            made = run(*given)
            seconds[stage] = seconds.get(stage, 0.0) + time.process_time() - began
            return made

        return ran

    inventory, faults = timed("read", read_inventory)(site.read_text(encoding="utf-8"), site.name, ON)
    assert inventory is not None, faults[:3]
    path.best_plan = timed("plan", path.best_plan)  # type: ignore[attr-defined]
    best.verify = timed("verify", best.verify)  # type: ignore[attr-defined]
    plan = timed("ways", path.plan_order)(inventory, ON)
    seconds["ways"] -= seconds["plan"]
    seconds["plan"] -= seconds["verify"]
    timed("page", order_text)(plan, Units(metric=False), site.name)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    by_rule = timed("rule", _by_rule)(plan.work) if rule else [None] * len(plan.schedule.optimum.levels)
    optimum = plan.schedule.optimum
    return {
        "trees": len(inventory.trees),
        "pieces": len(plan.schedule.choices),
        "jobs": len(plan.schedule.jobs),
        "by": optimum.by,
        "solver": optimum.solver or "no solver",
        "stopped": optimum.stopped,
        "levels": [
            (one.name, one.unit, one.value, one.bound, value)
            for one, value in zip(optimum.levels, by_rule, strict=True)
        ],
        "broken": plan.schedule.broken[:5],
        "seconds": seconds,
        "memory": memory,
    }


def _by_rule(work: Any) -> list[float]:
    """The values of the priority rule's own plan, at the levels that matter on the site."""
    from barkwright.schedule.levels import levels_of, values_of
    from barkwright.schedule.model import site_model
    from barkwright.schedule.rule import rule_candidate

    model = site_model(work)
    return [level.value for level in levels_of(model, values_of(model, rule_candidate(model)))]


def _levels(found: dict[str, Any]) -> Iterator[tuple[str, ...]]:
    """A row per level. What the rule exceeds is in brackets once it differs at a level above: no bound holds then."""
    worse = False
    for name, unit, value, bound, rule in found["levels"]:
        if value == bound == 0 and not rule:
            continue
        over = _gap(rule, bound)
        yield name, unit, f"{value:,.1f}", _said(bound), _gap(value, bound), _said(rule), f"({over})" if worse else over
        worse = worse or (rule is not None and abs(rule - value) > NOISE)


def _nothing(found: dict[str, Any]) -> str:
    """The levels at which the plan is at 0 and cannot be bettered."""
    names = [name for name, _, value, bound, rule in found["levels"] if value == bound == 0 and not rule]
    return f"0, which is the least: {', '.join(names)}." if names else ""


def _said(value: float | None) -> str:
    return "-" if value is None else f"{value:,.1f}"


def _gap(value: float | None, bound: float | None) -> str:
    """What lies between a value and its bound, in per cent of the bound; in the level's unit above a bound of 0."""
    if value is None or bound is None:
        return "-"
    if bound > NOISE:
        return f"{(value - bound) / bound:.2%}"
    return "0" if value - bound <= NOISE else f"{value - bound:,.1f}"


def _times(found: dict[str, Any]) -> tuple[str, ...]:
    spent = found["seconds"]
    whole = sum(spent[stage] for stage in STAGES)
    rule = f"{spent['rule']:.2f}" if "rule" in spent else "-"
    return (*(f"{spent[stage]:.2f}" for stage in STAGES), f"{whole:.2f}", f"{found['memory']:.0f}", rule)


if __name__ == "__main__":
    main()
