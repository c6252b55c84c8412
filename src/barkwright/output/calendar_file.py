"""The plan as a calendar file (RFC 5545) that may be imported again and again.

Every entry has a number of its own (UID) by which a calendar knows it again. It is made of the site's name and place,
what the entry is one of (the days of a crew, the hires of a machine, the last days before a flight) and its place among
these, counted from the last. Dates, hours, pieces and ways do not go into it: they are what a new plan changes, and the
same work packed into other days would leave an old entry beside each new one. Counting from the last has two good ends.
A plan made when part of the work is done has fewer days, and what is over keeps its entries. And where a new plan has
fewer days than the old, those left behind are the earliest, the likeliest to be past.

A file cannot take an entry out of a calendar. SEQUENCE counts the days up to that of the plan, so that of two plans the
later one holds, in whatever order they are imported.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from icalendar import Alarm, Calendar, Event, vText

from barkwright.datafile import load
from barkwright.output.calendar_entries import BUSY, Entry, entries
from barkwright.output.names import printable, shown_name
from barkwright.output.view import View
from barkwright.output.words import day
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.inventory.model import Site
    from barkwright.output.measures import Units
    from barkwright.plan import Plan

OURS = UUID("c7b1e4de-0d0c-5f6a-9a57-3f8a5be0b6a1")  # the space of names that UIDs are made in
EPOCH = date(1970, 1, 1)
PLACES = 2  # decimals of a degree: sites of one name that are farther apart than about a kilometre are two


@dataclass(frozen=True, slots=True)
class Ring:
    """When an alarm rings."""

    days_before: int
    hour: int
    basis: str
    checked_on: str


@cache
def rings() -> dict[str, tuple[Ring, ...]]:
    """Alarms by kind of entry."""
    return load("output/alarms.yaml", dict[str, tuple[Ring, ...]])


def order_ics(plan: Plan, units: Units, made_from: str) -> bytes:
    """The calendar of a plan, with the line ends that the format asks for."""
    site, view = plan.inventory.site, View(plan, units, made_from)
    file = Calendar()
    file.add("prodid", "-//barkwright//work order//EN")
    file.add("version", "2.0")
    file.add("calscale", "GREGORIAN")
    file.add("method", "PUBLISH")
    for name in ("name", "x-wr-calname"):
        file.add(name, vText(printable(f"Work order: {site.name}")))  # the library takes neither for text
    found = entries(view)
    for entry, uid in zip(found, uids(site, found), strict=True):
        file.add_component(_event(entry, uid, view))
    content: bytes = file.to_ical()
    return content


def uids(site: Site, found: Sequence[Entry]) -> list[str]:
    """The number of each entry, in their order."""
    place = f"{site.name}\0{site.latitude:.{PLACES}f}\0{site.longitude:.{PLACES}f}"
    left: dict[tuple[str, ...], int] = defaultdict(int)
    for entry in found:
        left[entry.series] += 1
    numbers = []
    for entry in found:
        numbers.append(str(uuid5(OURS, "\0".join((place, *entry.series, str(left[entry.series]))))))
        left[entry.series] -= 1
    return numbers


def _event(entry: Entry, uid: str, view: View) -> Event:
    event, on, site = Event(), view.plan.on, view.plan.inventory.site
    event.add("uid", uid)
    event.add("dtstamp", datetime.combine(on, time(), UTC))
    event.add("sequence", (on - EPOCH).days)
    event.add("dtstart", entry.first)
    event.add("dtend", entry.last + timedelta(days=1))  # the format leaves the last day out
    event.add("summary", printable(entry.title))
    event.add("description", printable(_text(entry, view)))
    event.add("location", printable(site.name))
    event.add("geo", (site.latitude, site.longitude))
    event.add("status", "TENTATIVE" if entry.provisional else "CONFIRMED")
    event.add("transp", "OPAQUE" if entry.kind in BUSY else "TRANSPARENT")
    for ring in rings()[entry.kind]:
        event.add_component(_alarm(ring, entry))
    return event


def _text(entry: Entry, view: View) -> str:
    closing = f"From the work order made on {day(view.plan.on)} from {shown_name(view.made_from)}."
    if entry.kind in BUSY:
        closing += " Read its cautions before this day."
    return f"{entry.text}\n\n{closing}".lstrip("\n")


def _alarm(ring: Ring, entry: Entry) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", printable(entry.title))
    alarm.add("trigger", timedelta(hours=ring.hour) - timedelta(days=ring.days_before))
    return alarm
