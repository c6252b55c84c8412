"""Quotation or estimate: what a price has to rest on before anybody may sign for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from barkwright.plan import Plan
from barkwright.quote.settings import QUOTATION
from barkwright.record import dataclass
from barkwright.schedule.jobs import CostLine
from barkwright.schedule.paying import price_names, to_pay
from barkwright.season.year import in_words

Kind = Literal["quotation", "estimate", "nothing"]
DANGER_AND_BROOD = 2  # rank of questions whose answers change what is done to a tree
RESTS = {
    "published proxy": (
        "a published rate of what such a machine costs its owner, not on a price of yours",
        "Write `rent_per_day` or `cost_per_hour` for it.",
    ),
    "local rate": (
        "a local rate of what such a machine costs its owner, not on a price of yours",
        "Write `rent_per_day` or `cost_per_hour` for it.",
    ),
    "placeholder": ("a placeholder that nobody published", "Write your own figure for it."),
    "ours": ("an assumed figure of this program, not on one of yours", "Write a `rate` for these hands."),
}
REMOVE_HOW = "Ask for a price and write it as `price` under `removal` of the tree."
UNPRICED_HOW = "Write `rent_per_day` or `cost_per_hour` for it, or `owned: true` if it costs nothing."


@dataclass(frozen=True, slots=True)
class Shortfall:
    """One thing that keeps a price from being a quotation, and how to mend it."""

    code: Literal[
        "not-your-figure", "no-price", "open-question", "contractor-name", "client-name", "no-profit", "old-inspection"
    ]
    text: str
    how: str


def kind_of(plan: Plan, shortfalls: tuple[Shortfall, ...]) -> Kind:
    """Nothing where nothing has to be paid, a quotation where nothing is short, else an estimate."""
    paid = [line for line in plan.schedule.costs if line.paid]
    if not paid or (to_pay(paid) == 0 and all(line.basis == "yours" for line in paid)):
        return "nothing"
    return "estimate" if shortfalls else "quotation"


def shortfalls_of(plan: Plan) -> tuple[Shortfall, ...]:
    """All that keeps the price from being a quotation, what it rests on first."""
    return (*_figures(plan), *_questions(plan), *_inspection(plan), *_missing(plan))


def open_codes(plan: Plan) -> frozenset[str]:
    """Codes of the questions on which the scope rests: those of provisional jobs, of danger and of brood."""
    asked = {question.code for question in plan.questions if question.rank <= DANGER_AND_BROOD}
    return frozenset(asked | {job.question for job in plan.schedule.jobs if job.provisional and job.question})


def _figures(plan: Plan) -> Iterator[Shortfall]:
    """What has no price yet, what is mended alike together; then what rests on somebody else's figure."""
    short = [line for line in plan.schedule.costs if line.paid and line.basis != "yours"]
    unpriced: dict[str, list[str]] = {}
    for line in short:
        if _no_price(line):
            unpriced.setdefault(REMOVE_HOW if line.kind == "professional" else UNPRICED_HOW, []).append(_name(line))
    for how, names in unpriced.items():
        yield Shortfall("no-price", f"There is no price yet for {price_names(names)}; the sum is without it.", how)
    for line in short:
        if not _no_price(line):
            words, how = RESTS[line.basis]
            how = "Write the `capacity` of the truck or trailer." if line.kind == "disposal" else how
            yield Shortfall("not-your-figure", f"The price of {_name(line)} rests on {words}.", how)


def _no_price(line: CostLine) -> bool:
    return line.basis == "placeholder" and not line.amount


def _questions(plan: Plan) -> Iterator[Shortfall]:
    count = len(open_codes(plan))
    if count:
        text = "Questions are open whose answers change what has to be done; they are listed below."
        yield Shortfall("open-question", text, "Answer them in the site file and make this sheet again.")


def _inspection(plan: Plan) -> Iterator[Shortfall]:
    seen, most = plan.inventory.quote.inspected_on, int(QUOTATION["inspection_days"])
    if seen is not None and (plan.on - seen).days > most:
        text = f"The trees were inspected on {in_words(seen)}, more than {most} days before this sheet."
        yield Shortfall("old-inspection", text, "Inspect them again and write the day as `inspected_on` under `quote`.")


def _missing(plan: Plan) -> Iterator[Shortfall]:
    inventory, terms = plan.inventory, plan.inventory.quote
    if not (inventory.contractor.name or "").strip():
        yield Shortfall("contractor-name", "It is not said who does the work.", "Write `contractor: {name: ...}`.")
    if not (inventory.client.name or "").strip():
        yield Shortfall("client-name", "It is not said for whom the work is done.", "Write `client: {name: ...}`.")
    if terms.margin_percent is None and terms.markup_percent is None:
        how = "Write `margin_percent` (a share of the price) or `markup_percent` (a share of the cost) under `quote`."
        yield Shortfall("no-profit", "No profit is given.", how)


def _name(line: CostLine) -> str:
    return line.what.partition(", no ")[0].partition(", at ")[0]
