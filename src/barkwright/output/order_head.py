"""The head of the work order: where it stands, and what has to be answered before anything else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from barkwright.brood.look import look_book
from barkwright.output.asking import Asked
from barkwright.output.blocks import Facts, Items, Section
from barkwright.output.measures import Units
from barkwright.output.names import tree_names
from barkwright.output.own_words import CALENDAR
from barkwright.output.pictures.season import season_picture
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, money, span
from barkwright.schedule.paying import is_estimate, price_names, to_pay, unpriced

REMOVAL = "removal-quote"  # code of the question when, how long and for how much somebody takes a tree down
BLANKS = f"Answer: day {'_' * 12} hours {'_' * 6} price {'_' * 10}"
LOOK = "look-under-bark"  # code of the question what lives under the bark
NAMED = 6  # so many late trees are named at a glance; of more, their number


def glance(view: View) -> Section:
    """The job in a few lines."""
    schedule = view.plan.schedule
    pairs = [
        (f"Flight {flight.year}", flight_words(view, flight.year))
        for flight in view.plan.flights
        if matters(view, flight.year)
    ]
    pairs.append(("Infested bark", _bark(view)))
    if schedule.jobs:
        pairs.append(("Work", _work(view)))
    if schedule.costs:
        pairs.append(("To pay", _price(view)))
    pairs.append(("State", state(view)))
    season = season_picture(view)
    return Section("At a glance", (Facts(tuple(pairs)), *([season] if season else [])))


def state(view: View) -> str:
    """In one or two sentences: does it finish in time, and on what does that rest?"""
    schedule = view.plan.schedule
    if schedule.unmet:
        late = list(dict.fromkeys(unmet.tree for unmet in schedule.unmet))
        which = tree_names(late) if len(late) <= NAMED else f"{len(late)} of {amount(len(view.trees), 'tree')}"
        text = f"Not everything finishes in time: see what misses its date ({which})."
    elif schedule.host_left_ft2 > 0:
        text = (
            "Fresh wood lies while beetles fly: look under its bark after the flight and treat it before its own fly."
        )
    elif not schedule.infested_before_ft2 and not schedule.jobs:
        text = "No beetles have to be stopped here."
    else:
        text = f"Everything is done before {'its' if schedule.infested_before_ft2 else 'the'} beetles fly."
    behind = [piece for piece in view.choices if _behind(view, piece)]
    if behind:
        trees = list(dict.fromkeys(piece.rpartition("/")[0] for piece in behind))
        which = tree_names(trees) if len(trees) <= NAMED else amount(len(trees), "tree")
        text += f" {amount(len(behind), 'piece')} of {which} will be done later than is wise, with less than the"
        text += " usual margin."
    if view.asked:
        count = len(view.asked)
        text += f" This rests on {amount(count, 'open question')}: read {'it' if count == 1 else 'them'} first."
    return text


def _behind(view: View, piece: str) -> bool:
    way, done_on = view.way(piece), view.choices[piece].done_on
    return way is not None and way.finish_by is not None and done_on is not None and done_on > way.finish_by


def questions(view: View) -> Section | None:
    """Open questions, the dangerous ones first."""
    if not view.asked:
        return None
    return Section("Answer these first", (asked_items(view.asked, view.units, view.small),))


def asked_items(asked: Sequence[Asked], units: Units, blanks: bool = False) -> Items:
    """Questions as a numbered list: what is asked, how to find out, what the answers change.

    blanks : room to write in what one hears on the telephone
    """
    said: dict[str, int] = {}
    entries = [_asked(entry, units, said) for entry in asked]
    if blanks:
        entries = [
            (text, (*under, BLANKS) if one.code == REMOVAL else under)
            for (text, under), one in zip(entries, asked, strict=True)
        ]
    return Items(tuple(entries), "1.")


def _asked(asked: Asked, units: Units, said: dict[str, int]) -> tuple[str, tuple[str, ...]]:
    names = tree_names(asked.subjects)
    lead = "" if asked.subjects == ("site",) or names in asked.text else f"{names}: "
    under = tuple(
        f"{label}: {units.sentence(text) if (before := said.setdefault(text, asked.number)) == asked.number else ''}"
        + (f"as under question {before}." if before != asked.number else "")
        for label, text in (("How to find out", asked.how), ("What it changes", asked.then))
    )
    if asked.code == LOOK and LOOK not in said:
        said[LOOK] = asked.number
        under = (under[0], f"What you may see: {units.sentence(' '.join(_seen()))}", *under[1:])
    return lead + units.sentence(asked.text), under


def _seen() -> Iterator[str]:
    """What lies under the bark, told to somebody who has not seen it."""
    looks = look_book().looks
    return (looks[kind] for kind in ("larva", "adult", "dead"))


def matters(view: View, year: int) -> bool:
    """Does any piece here have to beat this flight?"""
    return any(found.flight_to_beat == year for found in view.broods.values())


def flight_words(view: View, year: int) -> str:
    """By when to finish before one flight, and when it is."""
    flight = next(flight for flight in view.plan.flights if flight.year == year)
    general = flight.onset - timedelta(days=flight.margin_days)
    if flight.onset <= view.plan.on:
        return f"Under way: the first beetles flew about {day(flight.onset)}, half are out by {day(flight.half)}."
    text = f"Finish by {day(general)}: the first beetles fly about {day(flight.onset)}"
    text += CALENDAR if flight.local else ""
    text += "." if view.small else f", half are out by {day(flight.half)}."
    dates = view.due_dates(year)
    if dates and min(dates) < general:
        part = "All" if max(dates) < general else "Some"
        text += f" {part} work against it is due sooner, the first by {day(min(dates))}: see the cards."
    return text


def _bark(view: View) -> str:
    schedule, area = view.plan.schedule, view.units.square_feet
    left = area(schedule.infested_left_ft2) if schedule.infested_left_ft2 > 0 else "none"
    text = f"{area(schedule.infested_before_ft2)} now, {left} left when the beetles fly."
    if not schedule.infested_before_ft2:
        text = "None."
    elif counted := _counted(view):
        text += f" {counted}"
    if schedule.host_left_ft2 > 0:
        text += f" {area(schedule.host_left_ft2)} of green bark is left for the next flight to attack."
    return text


def _counted(view: View) -> str:
    """Why the bark to treat is more than the infested bark: what may or may not hold beetles counts in part."""
    held = [view.pieces[piece].bark_ft2 for piece, found in view.broods.items() if found.weight > 0]
    if sum(held) - view.plan.schedule.infested_before_ft2 < 1.0:
        return ""
    return f"It is {view.units.square_feet(sum(held))} of bark, counted less where beetles are less sure."


def _work(view: View) -> str:
    jobs = view.plan.schedule.jobs
    total, low, high = (
        sum(values) for values in zip(*((job.hours, job.hours_low, job.hours_high) for job in jobs), strict=True)
    )
    days = len({when for job in jobs for when, _ in job.day_hours})
    first, last = min(job.first for job in jobs), max(job.last for job in jobs)
    taken = f"{hours(total)} of work, all hands together ({hours_between(low, high)})"
    return f"{taken}, on {amount(days, 'day')}, {span(first, last)}."


def _price(view: View) -> str:
    lines = view.plan.schedule.costs
    price = money(to_pay(lines), view.currency)
    missing = unpriced(lines)
    if not missing and not any(line.paid for line in lines):
        return "Nothing."
    if missing and not to_pay(lines):
        return f"Not known: there is no price yet for {view.units.sentence(price_names(missing))}."
    if missing:
        return f"{price}, without what has no price yet: {view.units.sentence(price_names(missing))}."
    return f"{price}, an estimate: see the costs." if is_estimate(lines) else f"{price}, on your own figures."
