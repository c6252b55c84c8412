"""One small site: its plan beside the exact optimum, level by level."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from as_plan import as_plan
from exact_model import LEVELS, least
from exact_work import FINE
from made_small_sites import small_site
from plan_values import money_parts, values
from site_facts import facts_of

from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order
from barkwright.schedule.verify import verify

NAMES = (
    "infested bark left at onset", "infested bark left to fly", "asked-for removals not done",
    "pieces treated in a way to avoid", "green bark left lying", "money",
)  # fmt: skip


@dataclass
class Found:
    """What a plan and the exact model say of one level."""

    plan: float  # told from the jobs
    said: float  # what the plan says of itself
    tolerance: float  # what it may give up here for the levels below
    shown: float | None  # the bound that the plan shows
    optimum: float | None  # the best found
    least: float  # proven
    proven: bool
    impossible: bool  # the model holds the plan to be impossible
    top: float | None  # what can be had for sure, hours rounded to the careful side; above this no bound is right


@dataclass
class Written:
    """The exact answer as a schedule."""

    broken: tuple[str, ...]
    money: float  # told from its jobs
    meant: float  # what the model says of it


@dataclass
class Comparison:
    """One site."""

    number: int
    pieces: int
    broken: tuple[str, ...]
    bark: Found
    money: Found
    others: dict[str, tuple[float, float]]  # levels between: told from the jobs, said
    parts: dict[str, tuple[float, float]]  # of money: plan and optimum
    written: Written | None

    def as_dict(self) -> dict[str, object]:
        """Plain values, as JSON takes them."""
        return asdict(self)


def compare(number: int, effort: float, write_out: bool = False) -> Comparison:
    """Plan a site and solve it exactly, with bark first and money at the plan's own values of all before it.

    write_out : bool    solve it again with hours rounded to the careful side, and have the checker judge that answer
    """
    text, on = small_site(number)
    inventory, faults = read_inventory(text, "small.yaml", on)
    assert inventory is not None, faults
    plan = plan_order(inventory, on)
    site = facts_of(plan.work)
    told = values(site, plan.schedule)
    levels = {level.name: level for level in plan.schedule.optimum.levels}
    own = {short: levels[name] for short, name in zip(LEVELS, NAMES, strict=True)}
    looked = frozenset(job.tree for job in plan.schedule.jobs if job.work == "inspect")
    limits = {name: told[name] for name in LEVELS if name != "money"}
    found: dict[str, Found] = {}
    parts: dict[str, tuple[float, float]] = {}
    for name in ("bark", "money"):
        common = (told[name], own[name].value, own[name].tolerance, own[name].bound)
        if name == "bark" and told[name] <= 0.0:
            found[name] = Found(*common, 0.0, 0.0, True, False, 0.0)
            continue
        ask = (site, name, {} if name == "bark" else limits, looked if name == "money" else frozenset[str](), effort)
        answer = least(*ask)
        top = answer.value
        if top is not None and (own[name].bound or 0.0) > top:
            top = least(*ask, tight=True).value
        found[name] = Found(*common, answer.value, answer.bound, answer.proven, answer.status == "INFEASIBLE", top)
        if name == "money" and answer.value is not None:
            planned = money_parts(site, plan.schedule)
            parts = {
                part: (planned.get(part, 0.0), answer.solver.value(sum(answer.model.parts[part])) / FINE)
                for part in ("labour", "machines", "hire", "professionals", "worth")
            }
            stated = told["money"] - sum(planned.values())
            parts["stated"] = (stated, answer.solver.value(sum(answer.model.parts["stated"])) / FINE)
    written: Written | None = None
    if write_out:
        careful = least(site, "money", limits, looked, effort, tight=True)
        if careful.value is not None:
            schedule = as_plan(careful)
            written = Written(verify(schedule, plan.work), values(site, schedule)["money"], careful.value)
    between = {name: (told[name], own[name].value) for name in LEVELS[1:-1]}
    pieces = sum(piece.at_stake for tree in site.trees for piece in tree.pieces)
    return Comparison(number, pieces, plan.broken, found["bark"], found["money"], between, parts, written)
