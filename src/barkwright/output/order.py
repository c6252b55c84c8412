"""The work order: a sheet that one hands to a crew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Page
from barkwright.output.layout import render
from barkwright.output.order_cards import cards
from barkwright.output.order_days import day_by_day
from barkwright.output.order_head import glance, questions
from barkwright.output.view import View
from barkwright.output.words import Units, day

if TYPE_CHECKING:
    from barkwright.plan import Plan


def order_page(plan: Plan, units: Units, made_from: str) -> Page:
    """The work order as sections, before it is laid out for a format."""
    view = View(plan, units, made_from)
    sections = (glance(view), questions(view), day_by_day(view), cards(view))
    return Page(
        f"Work order: {plan.inventory.site.name}",
        f"Made on {day(plan.on)} from {made_from}.",
        tuple(section for section in sections if section is not None),
    )


def order_text(plan: Plan, units: Units, made_from: str) -> str:
    """The work order as text for 80 columns."""
    return render(order_page(plan, units, made_from))
