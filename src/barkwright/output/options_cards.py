"""A card per course: what it takes, what it leaves, how well it works, what it asks for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Literal

from barkwright.output.blocks import Card, Facts, Items, Section, plain
from barkwright.output.names import part_names, tree_names
from barkwright.output.options_takes import begin, hands_words, left_over, pay_words, tool_words, work_words
from barkwright.output.options_words import STOPS, missing_words, name_words, saying
from barkwright.output.order_ways import reason_words
from barkwright.output.view import View
from barkwright.output.words import listing
from barkwright.record import dataclass
from barkwright.study.courses import MIX
from barkwright.treatment.disposal import PICKUP_LB

if TYPE_CHECKING:
    from barkwright.sources import Reason
    from barkwright.study.sides import Side
    from barkwright.study.taken import Wood

LATE = "Too late with these hands."
NEVER = 9999  # a year after every flight
SAID = 2  # so many reasons stand on the sheet; all of them with --all
NAMED = 6  # so many trees are named; of more, their number


@dataclass(frozen=True, slots=True)
class Telling:
    """How much is told, and what has been told already."""

    view: View
    whole: bool  # every reason, and what the table of the sheet has already
    said: set[str]

    def fresh(self, texts: Iterable[str]) -> list[str]:
        """Those of some sentences that no card has said before."""
        found = [text for text in dict.fromkeys(texts) if text not in self.said]
        self.said.update(found)
        return found


def card(tell: Telling, side: Side) -> Card:
    """One course that can be taken, with or without a tool more."""
    title = name_words(side)[0].upper() + name_words(side)[1:]
    if side.planned and side.course is not MIX:
        title += " - as planned"
    elif side.missing:
        title += f" - with {missing_words(tell.view, side)}"
    elif side.fit == "against a wish":
        title += " - against your wish"
    return Card(title, (Facts(tuple(_facts(tell, side))),))


def _facts(tell: Telling, side: Side) -> Iterator[tuple[str, str]]:
    work = work_words(side) if tell.whole else hands_words(side)
    yield "Takes", f"{work[0].upper()}{work[1:]}, with {tool_words(side)}. {_lifting(tell.view, side)}"
    costs = " ".join(_costs(tell, side))
    if costs:
        yield "Costs", costs
    start = begin(tell.view, side)
    if tell.whole or start.count(".") > 1 or not start.startswith("Begin by"):
        yield "When", start
    if side.beside or side.left:
        yield "The rest", " ".join(_rest(tell.view, side))
    works = [*_said(tell, side, "works"), *_said(tell, side, "care"), *(_said(tell, side, "how") if tell.whole else ())]
    yield "Works", " ".join([_stops(side), *tell.fresh(works)])
    yield "Leaves", " ".join(_leaves(tell.view, side))


def _leaves(view: View, side: Side) -> Iterator[str]:
    left = list(left_over(view, side))
    if left:
        text = listing(left)
        yield f"{text[0].upper()}{text[1:]}."
    if side.course.look and any(one.wood.piece.kind == "log" for one in side.taken):
        yield side.course.look
    if side.yields.pm25_lb > 0:
        yield f"Smoke: about {view.units.pounds(side.yields.pm25_lb)} of fine particles (PM2.5) from a clean fire."
    else:
        yield "No smoke."


def _costs(tell: Telling, side: Side) -> Iterator[str]:
    bill = side.bill
    if tell.whole:
        yield f"{pay_words(tell.view, bill)}."
    if bill is not None and bill.hires:
        yield tell.view.units.sentence(f"Hire of the {'; '.join(bill.hires)}.")
    if bill is not None and bill.proxies:
        named = listing(bill.proxies)
        yield f"{named[0].upper()}{named[1:]}: at a published rate, which is no price."
    if bill is not None and bill.local:
        named = listing(bill.local)
        yield f"{named[0].upper()}{named[1:]}: at a local rate, which is no price."


def _rest(view: View, side: Side) -> Iterator[str]:
    if side.beside:
        titles = dict.fromkeys(one.way.title for one in side.beside)
        yield f"{wood_names([one.wood for one in side.beside])}: as planned, {listing(list(titles)[:SAID], 'or')}."
    if side.left:
        yield f"Not dealt with: {wood_names(side.left)}."


def wood_names(woods: list[Wood] | tuple[Wood, ...], named: bool = False) -> str:
    """Pieces by their parts on one tree, by their trees on several. named : say which tree it is."""
    trees = list(dict.fromkeys(one.tree.tree.id for one in woods))
    parts = part_names(one.piece.id.rpartition("/")[2] for one in woods)
    if len(trees) == 1:
        return parts[0].upper() + parts[1:] if not named else f"{trees[0]} {parts}"
    return f"{len(woods):,} pieces of {tree_names(trees) if len(trees) <= NAMED else f'{len(trees)} trees'}"


def _stops(side: Side) -> str:
    return "It does not count as dealt with." if side.fit == "does not count" else f"Stops {STOPS[side.stops]}."


def _said(tell: Telling, side: Side, part: Literal["works", "care", "how"]) -> list[str]:
    """Reasons that say how well it works, that call for care, or how it is done; the best evidence first."""
    rules = {rule.id: rule for rule in tell.view.plan.bench.book.rules}
    found = []
    for rule, reasons in side.reasons.items():
        of = "works" if rules[rule].effect else "care" if rules[rule].verdict == "fits with care" else "how"
        if of == part:
            found.append(reasons)
    found.sort(key=lambda one: (not rules[one[0].rule].needs, one[0].grade))
    asked = sum(bool(rules[one[0].rule].needs) for one in found)  # what must be settled first is always said
    shown = found if tell.whole else found[: SAID if part == "works" else max(asked, 1)]
    return [reason_words(tell.view, list(reasons)) for reasons in shown]


def _lifting(view: View, side: Side) -> str:
    pounds = view.units.pounds
    if side.heaviest_lb <= PICKUP_LB:
        return "Nothing that one person cannot lift."
    text = f"The heaviest log weighs {pounds(side.heaviest_lb)}"
    if any(step.do in ("buck-fuel", "buck-short") for one in side.taken for step in one.steps):
        return f"{text}: cut it short first."
    return f"{text}: roll or winch it, or load it by machine."


def more(tell: Telling, sides: Sequence[Side]) -> Section | None:
    """Courses that would fit with a tool more, each in a few lines."""
    entries = []
    for side in sides:
        lead = f"With {missing_words(tell.view, side)}: " if side.missing else ""
        if side.fit == "against a wish":
            lead = "If you let go of a wish: "
        title = f"{lead}{name_words(side)}."
        wish = [tell.view.say(one.reason) for one in side.barred[:1]] if side.fit == "against a wish" else []
        works = tell.fresh(_said(tell, side, "works")) if side.stops != "all" else []
        late = [] if side.in_time(tell.view.plan.on) or not tell.view.plan.inventory.crew else [LATE]
        entries.append((" ".join([f"{title[0].upper()}{title[1:]}", *wish, *(late or [_stops(side)]), *works]), ()))
    return Section("With one thing more", (Items(tuple(entries)),)) if entries else None


def shut(view: View, sides: list[Side]) -> Section | None:
    """Courses that do not fit here: what rules them out, and what would rule them in."""
    entries: list[tuple[str, tuple[str, ...]]] = []
    for side in sides:
        title = side.course.title[0].upper() + side.course.title[1:]
        if side.fit == "does not count":
            said = next(reason_words(view, list(reasons)) for reasons in _effects(view, side))
            entries.append((f"{title}: {said}", ()))
            continue
        if not side.barred:
            continue
        first = side.barred[0]
        opens = f"It would take: {view.units.sentence(first.opens)}" if first.opens else ""
        entries.append((f"{title}: {view.say(first.reason)}", tuple(one for one in (opens,) if one)))
    return Section("Does not fit here", (Items(tuple(entries)),)) if entries else None


def _effects(view: View, side: Side) -> Iterator[tuple[Reason, ...]]:
    """Reasons that say how well a course works, by rule."""
    rules = {rule.id: rule for rule in view.plan.bench.book.rules}
    return (reasons for rule, reasons in side.reasons.items() if rules[rule].effect)


def leaving(view: View, sides: list[Side]) -> Section | None:
    """What it means to do nothing."""
    if not sides:
        return None
    (side, *_) = sides
    flying: dict[str, list[str]] = {}
    for tree in dict.fromkeys(taken.wood.tree.tree.id for taken in side.taken):
        own = [taken for taken in side.taken if taken.wood.tree.tree.id == tree]
        soonest = min(own, key=lambda one: (one.wood.brood.flight_to_beat or NEVER, one.wood.piece.number))
        for reason in soonest.window.reasons:
            flying.setdefault(view.say(reason), []).append(tree)
    several = len({taken.wood.tree.tree.id for taken in side.taken}) > 1
    said = [f"{tree_names(dict.fromkeys(trees))}: {text}" if several else text for text, trees in list(flying.items())]
    if any(taken.wood.tree.brood.needs_inspection for taken in side.taken):
        said.append(saying(view, "unseen"))
    standing = any(wood.wood.tree.tree.status == "standing" for wood in side.taken)
    return Section(
        "If it is left",
        (plain([*said, saying(view, "around"), *([saying(view, "dead")] if standing else []), saying(view, "watch")]),),
    )
