"""The flight page: by when each tree must be done and why, the season, the years on record, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.brood.stand import rate_stand
from barkwright.output.asking import group_questions
from barkwright.output.blocks import Page, Section, plain
from barkwright.output.flight_dates import flight_blocks
from barkwright.output.flight_first import due_blocks
from barkwright.output.flight_json import flight_data
from barkwright.output.flight_left import days_left
from barkwright.output.flight_place import place_blocks
from barkwright.output.flight_rests import better_lines, rests_lines
from barkwright.output.flight_season import legend, strip_columns
from barkwright.output.flight_trees import tree_cards
from barkwright.output.flight_years import year_blocks
from barkwright.output.json_results import FlightResult
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.names import shown_name
from barkwright.output.order_basis import cited_lines
from barkwright.output.order_head import asked_items
from barkwright.output.stand_words import stand_blocks
from barkwright.output.words import day
from barkwright.season.strip import strip_of

if TYPE_CHECKING:
    from barkwright.plan import FlightPlan
    from barkwright.sources import Citation


def flight_text(plan: FlightPlan, units: Units, made_from: str) -> str:
    """The flight page as text for 80 columns."""
    return render(flight_page(plan, units, made_from))


def flight_page(plan: FlightPlan, units: Units, made_from: str) -> Page:
    """The flight page as sections; those with nothing in them are left out."""
    sections = tuple(section for section in _sections(plan, units) if section.blocks)
    title = f"Brood and flight: {plan.tally.inventory.site.name}"
    return Page(title, f"Made on {day(plan.tally.on)} from {shown_name(made_from)}.", sections)


def flight_result(plan: FlightPlan) -> FlightResult:
    """The flight page as plain data."""
    return flight_data(plan, strip_of(plan.season, plan.flights, to_beat(plan)), days_left(plan, to_beat(plan)))


def to_beat(plan: FlightPlan) -> frozenset[int]:
    """Years of the flights that some piece must beat."""
    years = {found.flight_to_beat for brood in plan.broods for found in brood.pieces}
    return frozenset(year for year in years if year is not None)


def _sections(plan: FlightPlan, units: Units) -> Iterator[Section]:
    season, left = plan.season, days_left(plan, to_beat(plan))
    asked = group_questions(question for brood in plan.broods for question in brood.questions)
    strip = strip_of(season, plan.flights, to_beat(plan))
    better, cited = better_lines(plan, asked, units), cited_lines(_cited(plan))
    yield Section("By when, why, and how sure", due_blocks(plan, units))
    yield Section("Look and answer first", (asked_items(asked, units),) if asked else ())
    yield Section("The season, week by week", (*strip_columns(strip, left), legend(season, strip, left)))
    yield Section("When beetles fly here", tuple(flight_blocks(season, plan.flights, to_beat(plan), units)))
    yield Section("The years on record", tuple(year_blocks(season)))
    yield Section("The place's year", tuple(place_blocks(season, plan.flights, units)))
    yield Section("Tree by tree", tree_cards(plan.broods, units))
    yield Section("How this stand rates", stand_blocks(plan.tally.inventory, units))
    yield Section("What this rests on", (plain(rests_lines(plan, units)),))
    yield Section("What to look at to know better", (plain(better),) if better else ())
    yield Section("Sources", (plain(cited),) if cited else ())


def _cited(plan: FlightPlan) -> list[Citation]:
    rating = rate_stand(plan.tally.inventory.site.stand)
    cited = [*rating.citations] if rating else []
    cited += [citation for flight in plan.flights for citation in flight.citations]
    for brood in plan.broods:
        for found in brood.pieces:
            for reason in found.reasons:
                cited.extend(reason.citations)
    return cited
