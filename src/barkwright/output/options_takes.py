"""What a course takes and leaves, in words: money, days, hands, tools, what is left over."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.output.names import tools
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, listing, money, number
from barkwright.schedule.paying import price_names

if TYPE_CHECKING:
    from barkwright.study.reckoning import Bill
    from barkwright.study.sides import Side

LEAST = 0.05  # yd3 or cords: less is not worth a word


def pay_words(view: View, bill: Bill | None) -> str:
    """What has to be paid, with what has no price."""
    if bill is None or (not bill.paid.high and not bill.unpriced):
        return "Nothing to pay"
    if not bill.paid.high:
        return f"Not known: no price yet for {price_names(bill.unpriced)}"
    paid = money(bill.paid.likely, view.currency)
    if bill.paid.low != bill.paid.high:
        paid += f" ({number(bill.paid.low)}-{number(bill.paid.high)})"
    return f"{paid}, without {price_names(bill.unpriced)}" if bill.unpriced else paid


def begin(view: View, side: Side) -> str:
    """By when it has to begin, and whether a part of it has to wait."""
    on = view.plan.on
    slow, usual = side.start_slow, side.start_usual
    if slow is not None and slow >= on:
        text = f"Begin by {day(slow)}."
    elif side.planned:
        text = "Begin as the work order says; at a slow pace some of it is late."
    elif usual is not None and usual >= on:
        text = "Begin at once: at a slow pace it is not done in time."
    else:
        text = "Too late with these hands." if view.plan.inventory.crew else "Nobody is named to do it."
    if side.all_open is not None and side.all_open > on:
        some = "It" if side.opens == side.all_open else "Part of it"
        text += f" {some} cannot be finished before {day(side.all_open)}."
    return text


def left_over(view: View, side: Side) -> Iterator[str]:
    """What it leaves or gives: chips, cords, bark, ash, soil, what is hauled, boards."""
    units, got = view.units, side.yields
    if got.chips_yd3 >= LEAST:
        yield f"{units.yards(got.chips_yd3)} of chips"
    if got.cords >= LEAST:
        yield f"{units.cords(got.cords)} of firewood"
    if got.bark_yd3 >= LEAST:
        yield f"{units.yards(got.bark_yd3)} of loose bark"
    if got.ash_lb >= 1:
        yield f"{units.pounds(got.ash_lb)} of ash"
    if side.spoil_yd3 >= LEAST:
        yield f"{units.yards(side.spoil_yd3)} of dug soil to put back and mound"
    if got.haul_lb > 0:
        yield f"{units.pounds(got.haul_lb)} to haul"
    if got.sawlog_bf > 0:
        yield f"{number(got.sawlog_bf)} board feet (International 1/4-inch)"


def tool_words(side: Side) -> str:
    """Kinds of tools that its ways take."""
    kinds = dict.fromkeys(tool for one in side.taken for tool in one.way.tools)
    return listing(tools(kinds)) or "hands alone"


def hands_words(side: Side) -> str:
    """The fewest hands at once."""
    return f"{amount(max(side.people, 1), 'person', 'people')} at once at least"


def work_words(side: Side) -> str:
    """Hours, hands and days in a phrase."""
    spread = hours_between(side.hours.low, side.hours.high)
    few, many = side.days
    span = amount(few, "day") if few == many else f"{few} to {amount(many, 'day')}"
    days = f", on {span}" if many else ""
    return f"{hours(side.hours.mean)} all hands together ({spread}){days}; {hands_words(side)}"
