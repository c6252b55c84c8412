"""What comes from outside the site's own crews: calls, leads, removals by professionals, and their questions."""

from __future__ import annotations

from datetime import date

from barkwright.brood.finding import Question
from barkwright.inventory.model import Call, Inventory, Tree
from barkwright.season.year import in_words
from barkwright.spread import NOTHING, Spread
from barkwright.treatment.listing import listing
from barkwright.treatment.shop import Shop
from barkwright.treatment.ways import Step

PLACES = {"line": "power line", "building": "building", "road": "road", "neighbour": "neighbour's ground"}
HAZARDS = {
    "lean": "It leans", "hung-up": "It hangs in another tree", "dead-top": "Its top is dead and may break off",
    "split-stem": "Its stem is split and under load", "decay": "Its wood is decayed",
    "root-plate": "Its roots have lifted", "jackstraw": "It lies or leans in a tangle of others",
}  # fmt: skip
REMOVALS = {
    "dismantle": "take it down in pieces", "aerial-lift": "take it down from a lift",
    "crane": "take it down with a crane", "fell": "fell it",
    "take": "take it down",
}  # fmt: skip


def near_question(tree: Tree, unchecked: tuple[str, ...], reach_ft: float, shop: Shop) -> Question:
    """The question that stands first in the order: how far the four things are that a falling tree could hit."""
    names = [PLACES[name] for name in unchecked]
    listed = listing(names)
    line = reach_ft + shop.size["line-margin"]
    return Question(
        subject=tree.id,
        code="near-not-checked",
        text=f"How far from {tree.id} is the nearest {listed}?",
        how=(
            f"Measure along the ground from the stem. {tree.id} may be {reach_ft:.0f} ft tall, so anything farther "
            f"than {line:.0f} ft can be written as out-of-reach."
        ),
        then=(
            "Until it is answered nobody fells the tree. A power line within reach means a call to the utility and a "
            "line-clearance arborist; anything else within reach means that a professional fells it."
        ),
        rank=1,
    )


def quote_question(tree: Tree, by: str) -> Question:
    """Ask for the professional's own hours and price: they are never estimated."""
    return Question(
        subject=tree.id,
        code="removal-quote",
        text=f"On which day will a {by} take down {tree.id}, in how many hours, at what price?",
        how=f"Ask two or three of them to look at it. Write what they say under `removal` of {tree.id}.",
        then="Until then its date is provisional, and the price of taking it down is not in the cost.",
        rank=3,
    )


def removal_step(tree: Tree, by: str, lead_days: int, log_length_ft: float | None) -> Step:
    """The professional's own work: hours as entered, none where nobody has said them.

    log_length_ft : lengths that the professional is asked to cut the tree to [ft]; None where the own crew bucks it.
    """
    how = REMOVALS["take" if tree.removal is None else tree.removal.by]
    if log_length_ft is not None:
        how += f", limb it and cut it to lengths of {log_length_ft:g} ft"
    hours = NOTHING if tree.removal is None else Spread.exactly(tree.removal.hours)
    return Step("fell", f"have the {by} {how}", hours, 1, (), NOTHING, (), lead_days)


def calls_for(
    tree: Tree, inventory: Inventory, shop: Shop, line: float | None, by: str, on: date
) -> tuple[tuple[Step, ...], int]:
    """The calls still to be made before a tree comes down, and the days from the first call to the felling.

    A call in the inventory that names the tree counts as made until its date: that is then the earliest felling.
    """
    if appointment(tree, inventory, on) is not None:
        return (), 0
    calls: list[Step] = []
    lead = 0
    if line is not None:
        kind = tree.near.line_kind.replace("-", " ").replace("unknown", "power")
        calls.append(
            _call(
                shop,
                f"call the utility about the {kind} line {line:.0f} ft from {tree.id}: ask them to clear it or switch "
                "it off",
            )
        )
        lead = int(shop.size["lead-utility"])
    if by != "crew":
        calls.append(_call(shop, f"ask a {by} to look at {tree.id} and to name a day, the hours and a price"))
        lead = max(lead, int(shop.size["lead-professional"]))
    return tuple(calls), lead


def locate_call(shop: Shop) -> tuple[Step, int]:
    """The call before any digging or grinding, and the days until the marks are on the ground."""
    return _call(shop, "call the utility locating service (811 in the USA) before any digging"), int(
        shop.size["lead-locate"]
    )


def appointment(tree: Tree, inventory: Inventory, on: date) -> date | None:
    """The latest appointment that names the tree and has not passed, if there is one."""
    return max((call.on for call in _appointments(tree, inventory) if call.on >= on), default=None)


def earliest(tree: Tree, inventory: Inventory, on: date) -> date | None:
    """The first day on which the tree may come down: the user's own date or the appointment, whichever is later."""
    days = [day for day in (tree.not_before, appointment(tree, inventory, on)) if day is not None]
    return max(days, default=None)


def missed_question(tree: Tree, inventory: Inventory, on: date) -> Question | None:
    """Ask after the last appointment for a tree that still stands, where all have passed."""
    passed = max(_appointments(tree, inventory), key=lambda call: call.on, default=None)
    if passed is None or passed.on >= on:
        return None
    return Question(
        subject=tree.id,
        code="appointment-passed",
        text=f"The appointment of {in_words(passed.on)} for {tree.id} ({passed.what}) has passed: did it take place?",
        how=f"Ask those who came. If {tree.id} is down, record it as felled; else write the new date under `calls`.",
        then="It is taken as missed: the calls are planned again, and nobody fells the tree before a new appointment.",
        rank=1,
    )


def _appointments(tree: Tree, inventory: Inventory) -> list[Call]:
    base = tree.id.rpartition(".")[0]
    return [call for call in inventory.calls if tree.id in call.trees or (base and base in call.trees)]


def _call(shop: Shop, what: str) -> Step:
    return Step("call", what, shop.book.rates["call"].spread, 1, (), NOTHING, ())
