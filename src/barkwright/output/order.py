"""The work order: a sheet that one hands to a crew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Page
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.order_basis import basis, sources
from barkwright.output.order_best import how_good
from barkwright.output.order_briefing import briefing
from barkwright.output.order_cards import cards
from barkwright.output.order_care import after_flight, cautions, do_and_do_not
from barkwright.output.order_changes import since_last
from barkwright.output.order_crew import emergency, what_to_wear
from barkwright.output.order_days import day_by_day
from barkwright.output.order_head import glance, questions
from barkwright.output.order_late import may_wait, misses
from barkwright.output.order_money import costs
from barkwright.output.order_place import the_place
from barkwright.output.order_risk import how_sure
from barkwright.output.order_signoff import sign_off
from barkwright.output.order_supplies import supplies
from barkwright.output.order_tries import what_if
from barkwright.output.order_ways import how_it_is_done
from barkwright.output.view import View
from barkwright.output.words import day

if TYPE_CHECKING:
    from barkwright.plan import Plan

SECTIONS = (
    glance,
    since_last,
    questions,
    misses,
    how_sure,
    what_if,
    do_and_do_not,
    supplies,
    the_place,
    emergency,
    briefing,
    what_to_wear,
    day_by_day,
    cards,
    sign_off,
    how_it_is_done,
    may_wait,
    costs,
    how_good,
    cautions,
    after_flight,
    basis,
    sources,
)


def order_page(plan: Plan, units: Units, made_from: str) -> Page:
    """The work order as sections, before it is laid out for a format. `made_from` names the inventory's file."""
    view = View(plan, units, made_from)
    sections = (section(view) for section in SECTIONS)
    return Page(
        f"Work order: {plan.inventory.site.name}",
        f"Made on {day(plan.on)} from {made_from}.",
        tuple(section for section in sections if section is not None and section.blocks),
        view.small,
    )


def order_text(plan: Plan, units: Units, made_from: str) -> str:
    """The work order as text for 80 columns."""
    return render(order_page(plan, units, made_from))
