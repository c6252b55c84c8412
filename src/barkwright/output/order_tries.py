"""What if: the plan beside the plan with one thing changed, as asked for or as the order itself proposes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para, Section, Table
from barkwright.output.view import View
from barkwright.output.words import day, money, number
from barkwright.schedule.paying import price_names
from barkwright.study.compare import compared

if TYPE_CHECKING:
    from barkwright.study.outcome import Outcome, Tried

NONE = "-"


def what_if(view: View) -> Section | None:
    """Each change that was asked for, and those that would buy most, side by side with the plan as it stands."""
    plan = view.plan
    asked = {one.change.phrase for one in plan.tries}
    proposed = [one for one in plan.changes if one.change.phrase not in asked]
    blocks: list[Para | Table | Items] = []
    if plan.tries:
        blocks += _side_by_side(view, plan.tries)
    if proposed:
        one = "one change" if len(proposed) == 1 else "one of these changes"
        blocks.append(Para(f"{'Beside what you asked, ' if plan.tries else ''}{one} would buy much:".capitalize()))
        blocks += _side_by_side(view, proposed)
    return Section("What if", tuple(blocks)) if blocks else None


def _side_by_side(view: View, tries: Sequence[Tried]) -> list[Para | Table | Items]:
    sure = any(one.now.sure is not None for one in tries)
    head = ["Plan", "Bark left", "To pay", "Days", "Last day", *(["In time"] if sure else [])]
    rows = [_row(view, "as it stands", tries[0].now, sure)]
    rows += [_row(view, _name(one), one.then, sure) for one in tries]
    table = Table(tuple(head), tuple(rows), "lrrrl" + "r" * sure, wrap=0)
    entries = tuple(
        (_lead(view, one), tuple(view.units.sentence(text) for text in one.change.assumed)) for one in tries
    )
    notes = view.units.sentence(_notes(tries))
    return [table, Items(entries), *([Para(notes)] if notes else [])]


def _row(view: View, name: str, outcome: Outcome | None, sure: bool) -> tuple[str, ...]:
    if outcome is None:
        return (name, *[NONE] * (4 + sure))
    left = view.units.square_feet(outcome.left_ft2) if outcome.left_ft2 > 0 else "none"
    price = money(outcome.to_pay, view.currency) + ("*" if outcome.estimate else "")
    if outcome.unpriced and not outcome.to_pay:
        price = "no price yet"
    last = NONE if outcome.last is None else day(outcome.last)
    cells = (name, left, price, number(outcome.days), last)
    return (*cells, NONE if outcome.sure is None else f"{number(outcome.sure * 100)} %") if sure else cells


def _name(tried: Tried) -> str:
    return tried.change.phrase + (" (placeholder price)" if tried.change.placeholder else "")


def _lead(view: View, tried: Tried) -> str:
    return view.units.sentence(f"{tried.change.title}. {compared(tried, view.currency)}")


def _notes(tries: Sequence[Tried]) -> str:
    """What the figures of money leave out, and where they are no more than estimates."""
    told = [tries[0].now, *(one.then for one in tries if one.then is not None)]
    said = []
    if any(one.estimate and one.to_pay for one in told):
        said.append("* An estimate: it rests on published rates or placeholders.")
    unpriced = dict.fromkeys(what for one in told for what in one.unpriced)
    if unpriced:
        said.append(f"No price yet, and in none of these sums: {price_names(unpriced)}.")
    return " ".join(said)
