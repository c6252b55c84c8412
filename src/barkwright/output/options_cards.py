"""A card per course: what it takes, what it leaves, how well it works, what it asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Section, plain
from barkwright.output.names import part_names, tree_names
from barkwright.output.options_words import (
    STOPS,
    begin,
    left_over,
    pay_words,
    saying,
    tool_words,
    with_article,
    work_words,
)
from barkwright.output.view import View
from barkwright.output.words import listing
from barkwright.treatment.disposal import PICKUP_LB
from barkwright.treatment.lifting import LOAD_CONSTANT_LB

if TYPE_CHECKING:
    from barkwright.sources import Reason
    from barkwright.study.side_by_side import Side
    from barkwright.study.taken import Wood

SAID = 2  # so many reasons stand on the sheet; all of them with --all
NAMED = 6  # so many trees are named; of more, their number


def card(view: View, side: Side, whole: bool) -> Card:
    """One course that can be taken, with or without a tool more."""
    title = side.course.title[0].upper() + side.course.title[1:]
    if side.planned:
        title += " - as planned"
    elif side.missing:
        title += f" - with {with_article(side.missing)}"
    return Card(title, (Facts(tuple(_facts(view, side, whole))),))


def _facts(view: View, side: Side, whole: bool) -> Iterator[tuple[str, str]]:
    yield "Takes", f"{work_words(side)}. Tools: {tool_words(side)}."
    yield "Costs", f"{_costs(view, side)}"
    text = begin(view, side)
    yield "When", text[0].upper() + text[1:]
    if side.beside or side.left:
        yield "The rest", " ".join(_rest(view, side))
    left = list(left_over(view, side))
    if left:
        yield "Leaves", f"{listing(left)}."
    yield "Works", " ".join(_works(view, side, whole))
    care = list(_care(view, side, whole))
    if care:
        yield "Care", " ".join(care)
    yield "Smoke", _smoke(view, side)
    if side.heaviest_lb > 0:
        yield "Lifting", _lifting(view, side)
    yield "Afterwards", side.course.look


def _costs(view: View, side: Side) -> str:
    bill = side.bill
    text = pay_words(view, bill)
    text = f"{text[0].upper()}{text[1:]}."
    if bill is not None and bill.hires:
        text += f" Hire: {view.units.sentence('; '.join(bill.hires))}."
    if bill is not None and bill.proxies:
        text += f" {listing(bill.proxies)[0].upper()}{listing(bill.proxies)[1:]}: at a published rate, not a price."
    if bill is not None and bill.valued.likely:
        text += " Unpaid hours are not in it."
    return view.units.sentence(text)


def _rest(view: View, side: Side) -> Iterator[str]:
    if side.beside:
        titles = dict.fromkeys(one.way.title for one in side.beside)
        yield f"{wood_names([one.wood for one in side.beside])}: as planned, {listing(list(titles)[:SAID], 'or')}."
    if side.left:
        yield f"Not dealt with: {wood_names(side.left)}."


def wood_names(woods: list[Wood] | tuple[Wood, ...]) -> str:
    """Pieces by their parts on one tree, by their trees on several."""
    trees = list(dict.fromkeys(one.tree.tree.id for one in woods))
    parts = part_names(one.piece.id.rpartition("/")[2] for one in woods)
    if len(trees) == 1:
        return parts[0].upper() + parts[1:]
    return f"{len(woods)} pieces of {tree_names(trees) if len(trees) <= NAMED else f'{len(trees)} trees'}"


def _works(view: View, side: Side, whole: bool) -> Iterator[str]:
    if side.fit == "does not count":
        yield "It does not count as dealt with."
    else:
        yield f"Stops {STOPS[side.stops]}."
    yield from _said(view, _sorted(view, side, care=False), whole)


def _care(view: View, side: Side, whole: bool) -> Iterator[str]:
    yield from _said(view, _sorted(view, side, care=True), whole)


def _sorted(view: View, side: Side, care: bool) -> list[Reason]:
    """The reasons that call for care, or the others; the best evidence first."""
    rules = {rule.id: rule for rule in view.plan.bench.book.rules}
    found = [one for one in side.reasons if (rules[one.rule].verdict == "fits with care") == care]
    return sorted(found, key=lambda one: one.grade)


def _said(view: View, reasons: list[Reason], whole: bool) -> Iterator[str]:
    for reason in reasons if whole else reasons[:SAID]:
        yield f"{view.say(reason)} ({reason.grade})"


def _smoke(view: View, side: Side) -> str:
    if side.yields.pm25_lb > 0:
        return f"About {view.units.pounds(side.yields.pm25_lb)} of fine smoke (PM2.5), for a clean fire."
    return "None."


def _lifting(view: View, side: Side) -> str:
    pounds = view.units.pounds
    text = f"The heaviest log weighs {pounds(side.heaviest_lb)}"
    if side.heaviest_lb <= PICKUP_LB:
        return f"{text}: one person can lift it."
    if any(step.do == "buck-fuel" or step.do == "buck-short" for one in side.taken for step in one.steps):
        return f"{text}: cut it short first. Over {pounds(LOAD_CONSTANT_LB)} a piece is rolled, not lifted."
    return f"{text}: roll, winch or load it by machine. One person lifts {pounds(PICKUP_LB)} off the ground."


def shut(view: View, sides: list[Side]) -> Section | None:
    """Courses that do not fit here: what rules them out, and what would rule them in."""
    entries = []
    for side in sides:
        if not side.barred:
            continue
        first = side.barred[0]
        opens = f"It would take: {view.units.sentence(first.opens)}" if first.opens else ""
        title = side.course.title[0].upper() + side.course.title[1:]
        entries.append((f"{title}: {view.say(first.reason)}", tuple(one for one in (opens,) if one)))
    return Section("Does not fit here", (Items(tuple(entries)),)) if entries else None


def leaving(view: View, sides: list[Side]) -> Section | None:
    """What it means to do nothing."""
    if not sides:
        return None
    (side, *_) = sides
    said = [view.say(reason) for reason in side.reasons[:SAID]]
    standing = any(wood.wood.tree.tree.status == "standing" for wood in side.taken)
    return Section(
        "If it is left",
        (plain([*said, saying(view, "around"), *([saying(view, "dead")] if standing else []), saying(view, "watch")]),),
    )
