"""The options sheet: what may be done with a tree, a piece or a site, side by side, for a client who has to choose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Items, Page, Para, Picture, Section, Table, plain
from barkwright.output.names import part_names, shown_name, spruce
from barkwright.output.options_cards import Telling, card, leaving, more, shut, wood_names
from barkwright.output.options_words import answer_words, name_words, saying, settle_words, wish_words
from barkwright.output.order_basis import cited_lines
from barkwright.output.order_cards import status_words
from barkwright.output.order_head import asked_items, flight_words, matters
from barkwright.output.order_risk import how_sure
from barkwright.output.order_ways import GRADES
from barkwright.output.own_words import local_lines
from barkwright.output.pictures.bars import Bar, bars_picture
from barkwright.output.tree_words import beetle_words, danger_words, felling_words, size_words
from barkwright.output.view import View
from barkwright.output.words import MONTHS, amount, day, hours, hours_between, listing, number
from barkwright.schedule.paying import price_names
from barkwright.study.courses import LEAVE, MIX
from barkwright.study.readings import readings
from barkwright.study.sides import STOPS

if TYPE_CHECKING:
    from barkwright.output.measures import Units
    from barkwright.plan import Plan
    from barkwright.study.readings import Reading
    from barkwright.study.sides import Side, Sides
    from barkwright.study.taken import Wood

FITS = ("fits", "fits with care")
ORDER = ("fits", "fits with care", "against a wish", "with means", "does not count")
DRAWN = 6  # so many ways are drawn as bars; all of them with --all
MIXED = 3  # so many of the ways that a plan mixes are named


def options_page(plan: Plan, sides: Sides, units: Units, made_from: str, whole: bool = False) -> Page:
    """The sheet as sections. `whole` adds every reason with its source, and what the questions behind it are."""
    view = View(plan, units, made_from)
    made = f"Made on {day(plan.on)} from {shown_name(made_from)}."
    return Page(f"Options: {_scope(view, sides)}", made, tuple(_sections(view, sides, whole)), tight=not whole)


def _sections(view: View, sides: Sides, whole: bool) -> Iterator[Section]:
    if not sides.woods:
        yield Section("In short", (Para("Nothing here holds beetles or draws the next flight: nothing needs doing."),))
        return
    shown = in_order(sides)
    wide = [one for one in shown if one.fit not in FITS and (one.missing or one.fit == "against a wish")]
    fits = [one for one in shown if one.fit in FITS]
    yield Section("What it is", (Facts(tuple(_about(view, sides))),))
    yield Section("In short", (plain(tuple(_short(view, sides, shown))),))
    asked = _asked(view, sides, whole)
    if asked is not None:
        yield asked
    picture = _bars(view, shown if whole else shown[:DRAWN], whole)
    yield Section(
        "Side by side", (_table(view, shown), Para(_notes(view, shown)), *([picture] if picture is not None else []))
    )
    tell = Telling(view, whole, set())
    if fits:
        yield Section("What fits", tuple(card(tell, one) for one in fits))
    if wide and whole:
        yield Section("With one thing more", tuple(card(tell, one) for one in wide))
    elif wide:
        yield from (section for section in (more(tell, wide),) if section is not None)
    barred = shut(
        view, [one for one in sides.sides if one.fit == "ruled out" or (one in shown and one not in fits + wide)]
    )
    left = leaving(view, [one for one in sides.sides if one.course.id == LEAVE and one.taken])
    yield from (one for one in (barred, left) if one is not None)
    if whole and len(sides.trees) == len(view.trees):
        yield from (section for section in (how_sure(view),) if section is not None)
    yield Section("What this rests on", (plain(tuple(_rests(view, sides, whole))),))


def _about(view: View, sides: Sides) -> Iterator[tuple[str, str]]:
    """One tree in a few words, or the flights and the infested bark of several."""
    if len(sides.trees) > 1:
        years = [one.year for one in view.plan.flights if matters(view, one.year)]
        yield from ((f"Flight {year}", flight_words(view, year).replace(": see the cards", "")) for year in years)
        yield "Trees", f"{amount(len(sides.trees), 'tree')}; at stake {amount(len(sides.woods), 'piece')} of them."
        return
    tree = sides.trees[0].tree
    size = size_words(view, tree)
    if size:
        yield "Size", f"{size[0].upper()}{size[1:]}, {status_words(tree)}."
    yield "Beetles", beetle_words(view, tree)
    yield from felling_words(view, tree)
    yield from danger_words(view, tree)


def _asked(view: View, sides: Sides, whole: bool) -> Section | None:
    """The open questions of the scope; how to find out with --all."""
    about = {"site", *(tree.tree.id for tree in sides.trees), *(wood.piece.id for wood in sides.woods)}
    asked = [one for one in view.asked if about.intersection(one.subjects)]
    if not asked:
        return None
    items = asked_items(asked, view.units)
    return Section(
        "Answer these first", (items if whole else Items(tuple((text, ()) for text, _ in items.entries), "1."),)
    )


def in_order(sides: Sides) -> list[Side]:
    """Courses that can be taken: as planned first, then what fits by how much it stops and its hours, then the rest."""
    shown = [one for one in sides.sides if one.fit != "ruled out" and one.course.id != LEAVE]
    return sorted(
        shown,
        key=lambda one: (not one.planned, ORDER.index(one.fit) // 2, STOPS.index(one.stops), one.hours.mean),
    )


def _scope(view: View, sides: Sides) -> str:
    if len(sides.trees) > 1 or not sides.woods:
        names = [tree.tree.id for tree in sides.trees]
        return view.plan.inventory.site.name if len(names) > 1 else listing(names)
    tree = sides.trees[0].tree
    where = f", {tree.where}" if tree.where else ""
    if len(sides.woods) == 1 and len(sides.trees[0].stem.pieces) > 1:
        return f"{tree.id} {part_names([sides.woods[0].piece.id.rpartition('/')[2]])}, {spruce(tree.species)}{where}"
    return f"{tree.id}, {spruce(tree.species)}{where}"


def _short(view: View, sides: Sides, shown: Sequence[Side]) -> Iterator[str]:
    if not view.plan.inventory.crew:
        yield "Nobody is named to do the work: without a crew in the file nobody can say what is done in time."
        return
    if not any(one.in_time(view.plan.on) for one in shown):
        yield "No way here can be finished before the beetles fly, with these hands and days."
        return
    planned = next((one for one in sides.sides if one.planned), None)
    if planned is not None and planned.course is not MIX:
        yield f"The plan: {planned.course.title}."
    elif sides.planned:
        mixed: dict[str, list[Wood]] = {}
        for taken in sides.planned.values():
            mixed.setdefault(view.units.sentence(taken.way.title), []).append(taken.wood)
        several = len(sides.trees) > 1
        said = [f"{wood_names(woods, several)}: {way}." for way, woods in mixed.items()]
        yield f"The plan takes each piece its own way. {' '.join(said[:MIXED])}"
    found = readings(sides, view.plan.on)
    answers: dict[str, list[Reading]] = {}
    for reading in found:
        answers.setdefault(reading.wish if reading.side is None else reading.side.course.id, []).append(reading)
    settled: set[str] = set()
    for same in answers.values():
        lead, side = wish_words([one.wish for one in same]), same[0].side
        if side is None:
            yield f"{lead}: {_unanswered(view, sides, same[0])}"
            continue
        first = settle_words(side)
        more = f" First {first}." if first and first not in settled else ""
        settled.add(first)
        yield f"{lead}: {answer_words(view, side, borrowed=same[0].wish != 'drawknife')}{more}"


def _unanswered(view: View, sides: Sides, reading: Reading) -> str:
    """That no way answers a wish, and why, where one thing rules out those that would."""
    text = "nothing here can be done within a month." if reading.wish == "gone" else "no way here answers that."
    shut_out = [one for one in sides.sides if one.fit in ("ruled out", "against a wish") and one.barred]
    wanted = [one for one in shut_out if reading.wish in one.course.wants]
    return f"{text} {view.say(wanted[0].barred[0].reason)}" if wanted else text


def _table(view: View, shown: Sequence[Side]) -> Table:
    head = ("Way", "Hours", "Days", f"To pay\n{view.currency}", "Begin by", "Beetles\nstopped")
    return Table(head, tuple(_row(view, one) for one in shown), "lrrrrl", wrap=0)


def _bars(view: View, shown: Sequence[Side], whole: bool) -> Picture | None:
    """What each costs as bars with their ranges; with --all the hours it takes, where little of the money is known."""
    known = [side for side in shown if side.bill is not None and side.bill.paid.high and not side.bill.unpriced]
    if len(known) * 2 > len(shown):
        rows = [_money_bar(side) for side in shown]
        return bars_picture("What each way costs", rows, f"money to pay, in {view.currency}", number)
    if not whole:
        return None
    rows = [Bar(name_words(side), side.hours.low, side.hours.mean, side.hours.high, "", side.planned) for side in shown]
    return bars_picture("Hours that each way takes", rows, "hours of work, all hands together", hours)


def _money_bar(side: Side) -> Bar:
    bill = side.bill
    if bill is None or bill.unpriced:
        return Bar(name_words(side), None, None, None, "no price yet", side.planned)
    rates = [word for word, names in (("published", bill.proxies), ("local", bill.local)) if names]
    note = f"at a {' and a '.join(rates)} rate" if rates else ""
    paid = bill.paid
    return Bar(name_words(side), float(paid.low), float(paid.likely), float(paid.high), note, side.planned)


def _row(view: View, side: Side) -> tuple[str, ...]:
    few, many = side.days
    name = f"{name_words(side)} (planned)" if side.planned and side.course is not MIX else name_words(side)
    return (
        f"{name} {'+' * bool(side.missing)}{'!' * (side.fit == 'against a wish')}".strip(),
        f"{hours(side.hours.mean)} ({hours_between(side.hours.low, side.hours.high)})",
        "-" if not many or not side.in_time(view.plan.on) else str(few) if few == many else f"{few}-{many}",
        _pay(side),
        _date(view, side),
        "does not count" if side.fit == "does not count" else side.stops,
    )


def _pay(side: Side) -> str:
    if side.bill is None:
        return "-"
    marks = "*" * bool(side.bill.unpriced) + "~" * bool(side.bill.proxies or side.bill.local)
    if side.bill.unpriced and not side.bill.paid.high:
        return f"?{marks}"
    return f"{number(side.bill.paid.likely)}{' + ?' * bool(side.bill.unpriced)}{marks}"


def _date(view: View, side: Side) -> str:
    on = view.plan.on
    if side.start_slow is not None and side.start_slow >= on:
        return _short_day(side.start_slow)
    if side.planned or not view.plan.inventory.crew:
        return "see order" if side.planned else "-"
    return "now" if side.start_usual is not None and side.start_usual >= on else "too late"


def _short_day(value: date) -> str:
    return f"{value.day} {MONTHS[value.month - 1]} {value.year}"


def _notes(view: View, shown: Sequence[Side]) -> str:
    bills = [one.bill for one in shown if one.bill is not None]
    unpriced = list(dict.fromkeys(name for bill in bills for name in bill.unpriced))
    notes = ["Hours are those of all hands together, with the spread from low to high."]
    if any(one.missing for one in shown):
        notes.append("+ takes something that is not on your list: see below.")
    if any(one.fit == "against a wish" for one in shown):
        notes.append("! is against a wish of yours: see below.")
    if unpriced:
        notes.append(f"* Not in it, for want of a price: {price_names(unpriced)}.")
    rates = [
        name
        for name in ("published", "local")
        if any(one.proxies if name == "published" else one.local for one in bills)
    ]
    if rates:
        notes.append(f"~ A machine at a {' or '.join(rates)} hourly rate, which is no price.")
    return view.units.sentence(" ".join(notes))


def _rests(view: View, sides: Sides, whole: bool) -> Iterator[str]:
    yield saying(view, "alone")
    yield saying(view, "felled" if sides.felled else "piece")
    yield GRADES
    yield "Local law, the fire authority, the utility and licensed practice come before this sheet."
    yield from map(view.units.sentence, local_lines(view, sides))
    lines = cited_lines(view.cited, whole=whole, places=whole)
    if whole:
        yield from lines
    else:
        yield f"Sources: {' '.join(lines)} 'barkwright options ... --all' shows every reason with its place in them."
