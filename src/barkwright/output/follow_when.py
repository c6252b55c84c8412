"""From when the follow-up is of use, and on which days to look, each with why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para
from barkwright.output.follow_words import follow_book
from barkwright.output.names import tree_names
from barkwright.output.words import day, span
from barkwright.season.flight import flight_year
from barkwright.season.sure import sure_of_dates

if TYPE_CHECKING:
    from barkwright.brood.looks import Look
    from barkwright.output.follow_facts import Gathered
    from barkwright.output.measures import Units

TITLES = {
    "now": "for the flight of {year}",
    "flight-over": "when the flight of {year} is over",
    "late-summer": "in late summer, under the bark",
    "spring": "in spring, before the flight of {next}",
    "year-after": "the year after, when the flight of {year} is over",
}


def status_blocks(found: Gathered, units: Units) -> tuple[Para, ...]:
    """Is the sheet of use now or is it a preview, what does the list hold, and how sure are the dates?"""
    sure = sure_of_dates(found.plan.season)
    dates = f"The dates are {sure.level}: {sure.why}."
    return Para(_status(found)), Para(_holds(found)), Para(units.sentence(dates))


def _status(found: Gathered) -> str:
    follow, season, on = found.follow, found.plan.season, found.plan.tally.on
    if follow.of_use_from is None:
        over = flight_year(season, follow.year).end + timedelta(days=1)
        return f"The flight of {follow.year} is over: about {day(over)} was the first day to look. Use this sheet now."
    preview = (
        f"This is a preview, made on {day(on)}. The sheet is of use from about {day(follow.of_use_from)}, when the "
        f"flight of {follow.year} is over: print it again then, for the dates may move."
    )
    if follow.under_way:
        return f"{preview} Beetles fly now, and fresh dust on living trees can be seen already."
    return f"{preview} What the flight of {follow.ended} attacked can be found before that: look now as well."


def _holds(found: Gathered) -> str:
    other = (
        f"In {tree_names(found.other_insect)} another insect was found, not spruce beetle. "
        if found.other_insect
        else ""
    )
    if found.infested:
        return (
            f"Beetles may be in {tree_names(found.infested)} on the list as it stands. {other}The flight may also "
            "bring them from elsewhere, so look whatever was done."
        )
    none = "No tree on the list is expected to hold spruce beetle now."
    return f"{none} {other}Look all the same: they come from elsewhere."


def look_items(found: Gathered) -> Items:
    """The looks to tick off, in order, each with its days and why it falls then."""
    return Items(tuple((entry, ()) for entry in _entries(found)), "[ ]")


def _entries(found: Gathered) -> Iterator[str]:
    book = follow_book()
    for look in found.follow.looks:
        years = {"year": look.flight, "next": look.flight + 1}
        why = book.looks[look.kind].text.format(**years)
        yield f"{look_days(look)}, {TITLES[look.kind].format(**years)}. {why}"


def look_days(look: Look) -> str:
    """The days of a look as a phrase."""
    return f"From now to {day(look.last)}" if look.kind == "now" else span(look.first, look.last)
