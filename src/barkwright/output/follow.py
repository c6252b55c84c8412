"""The follow-up after a flight: which living spruce to look at, when, for which signs, and what of the wood is left."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.brood.stand import rate_stand
from barkwright.output.blocks import Page, Para, Section, plain
from barkwright.output.follow_facts import Gathered, gather
from barkwright.output.follow_signs import found_items, how_block, sign_items
from barkwright.output.follow_trees import evidence, tree_blocks
from barkwright.output.follow_when import look_items, status_blocks
from barkwright.output.follow_wood import wood_items
from barkwright.output.follow_words import FollowBook, Saying, follow_book
from barkwright.output.order_basis import cited_lines
from barkwright.output.stand_words import stand_blocks
from barkwright.output.words import day

if TYPE_CHECKING:
    from barkwright.output.measures import Units
    from barkwright.plan import FlightPlan
    from barkwright.sources import Citation

GRADES = "A tested on spruce beetle, B on a related insect or on wood in general, C common practice or our own rule."


def follow_page(plan: FlightPlan, units: Units, made_from: str) -> Page:
    """The follow-up as sections, once the recorded work is counted."""
    found = gather(plan)
    sections = tuple(section for section in _sections(found, units, made_from) if section.blocks)
    title = f"After the flight of {found.follow.year}: {plan.tally.inventory.site.name}"
    return Page(title, f"Made on {day(plan.tally.on)} from {made_from}.", sections, tight=True)


def _sections(found: Gathered, units: Units, made_from: str) -> Iterator[Section]:
    book, wood = follow_book(), wood_items(found, made_from)
    yield Section("From when this sheet is of use", status_blocks(found, units))
    yield Section("When to look", (look_items(found),))
    yield Section("Which living spruce to look at", tuple(tree_blocks(found, units)))
    yield Section("What to look for", (sign_items(found, units),))
    yield Section("How to look", (how_block(units),))
    yield Section("If you find one", (found_items(found, made_from, units),))
    yield Section("The wood of your list", (wood,) if wood else ())
    yield Section("Take care", (plain([one.text for one in book.care]),))
    yield Section("What is known about protecting living trees", (plain(_protect(book, units)),))
    yield Section("How this stand rates", stand_blocks(found.plan.tally.inventory, units))
    yield Section("What this rests on", tuple(_rests(found, book, units)))


def _protect(book: FollowBook, units: Units) -> list[str]:
    return [units.sentence(f"{one.text} ({evidence(one)})") for one in book.protect]


def _rests(found: Gathered, book: FollowBook, units: Units) -> Iterator[Para]:
    yield Para(f"Evidence: {GRADES} The days of the looks around a flight are ours.")
    yield Para(" ".join(dict.fromkeys(units.sentence(flight.basis) for flight in found.plan.flights)))
    yield Para(" ".join(cited_lines(cited_by(found, book), whole=False, places=False)))
    yield Para("* known through another publication; ** from memory, not seen.")


def cited_by(found: Gathered, book: FollowBook) -> tuple[Citation, ...]:
    """Every publication behind the sheet."""
    looks = (book.looks[look.kind] for look in found.follow.looks)
    said: tuple[Saying, ...] = (
        *looks, *book.around, book.no_safe_distance, *book.which, *book.signs, book.how, *book.protect, *book.care,
    )  # fmt: skip
    rating = rate_stand(found.plan.tally.inventory.site.stand)
    flights = (one for flight in found.plan.flights for one in flight.citations)
    more = rating.citations if rating else ()
    return tuple(dict.fromkeys((*(one for saying in said for one in saying.citations), *flights, *more)))
