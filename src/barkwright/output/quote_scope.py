"""What is done to each tree for the price, in the order's own words; like trees share a card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Para, Section, Table, plain
from barkwright.output.brood_words import brood_words
from barkwright.output.names import part_names, piece_names, spruce, tree_names
from barkwright.output.order_cards import STATUS
from barkwright.output.order_pieces import Fate, fates
from barkwright.output.view import View
from barkwright.output.words import day, listing, number
from barkwright.record import dataclass
from barkwright.treatment.outside import HAZARDS

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.quote.quotation import Quotation
    from barkwright.quote.scope import TreeScope
    from barkwright.stem.pieces import Piece

SAID_ELSEWHERE = frozenset(
    ("removal-entered", "own-crew-removal", "no-felling-crew", "no-saw-crew", "line-distance", "near-not-checked")
)
DONE = {"fell": "felled", "dismantle": "taken down in pieces", "aerial-lift": "taken down from a lift"}


@dataclass(frozen=True, slots=True)
class _Draft:
    tree: Tree
    facts: tuple[tuple[str, str], ...]
    fates: tuple[Fate, ...]


def scope(quote: Quotation, view: View) -> Section:
    """A card for each tree that something is done to; the others in a line."""
    groups: dict[object, list[_Draft]] = {}
    idle: dict[str, list[str]] = {}
    for one in quote.scope:
        tree, becomes = view.trees[one.tree], fates(view, one.tree)
        if not any(fate.work for fate in becomes) and not one.felled and not one.misses:
            idle.setdefault(_idle(view, one), []).append(one.tree)
            continue
        draft = _Draft(tree, tuple(_facts(view, one)), becomes)
        like = (tree.species, tree.status, draft.facts, frozenset(fate.shape for fate in becomes))
        groups.setdefault(like, []).append(draft)
    cards = tuple(_card(view, group) for group in groups.values())
    rest = plain([f"{tree_names(trees)}: {why}" for why, trees in idle.items()])
    return Section("What is done, tree by tree", (*cards, *([rest] if idle else [])))


def not_stopped(quote: Quotation, view: View) -> Section | None:
    """What the work does not stop, said plainly."""
    entries = [
        f"{piece_names(unmet.pieces)}: {view.units.square_feet(unmet.infested_ft2)} of infested bark. "
        f"{view.units.sentence(unmet.why)}"
        for unmet in view.plan.schedule.unmet
    ]
    if not entries:
        return None
    lead = Para("The beetles in this wood are not stopped in time by the work offered here:")
    return Section("What is NOT stopped", (lead, plain(entries)))


def saw_logs(quote: Quotation, view: View) -> Section | None:
    """Board feet of the logs that stay whole, by two rules."""
    kept = [log for one in quote.scope for log in one.saw_logs]
    if not kept:
        return None
    units = view.units
    rows = [
        (
            log.piece,
            units.inches(log.small_end_dib_in),
            units.feet(log.length_ft),
            number(log.international_bf),
            "-" if log.scribner_bf is None else number(log.scribner_bf),
        )
        for log in kept
    ]
    scribner = sum(log.scribner_bf or 0 for log in kept)
    rows.append(("all", "", "", number(sum(log.international_bf for log in kept)), number(scribner)))
    head = (
        "Log",
        "Small end,\ninside bark",
        "Length",
        "Board feet,\nInternational 1/4-inch",
        "Board feet,\nScribner Decimal C",
    )
    note = "They stay the client's. Board feet, by two log rules, are for sound, undamaged wood; a mill scales anew."
    return Section("Logs kept for sawing", (Table(head, tuple(rows), "lrrrr"), Para(note)))


def _idle(view: View, one: TreeScope) -> str:
    felling = view.plan.fellings.get(one.tree)
    reasons = [] if felling is None else [view.say(reason) for reason in felling.reasons]
    return " ".join(("nothing is done to it.", *reasons))


def _card(view: View, group: Sequence[_Draft]) -> Card:
    first = group[0].tree
    kind = f"{spruce(first.species)}, {STATUS[first.status]}"
    work: dict[object, tuple[Fate, list[Piece]]] = {}
    for draft in group:
        for fate in draft.fates:
            work.setdefault(fate.shape, (fate, []))[1].extend(fate.pieces)
    alone = len(group) == 1
    items = Items(tuple((_names(pieces, alone) + _what(fate), fate.remarks) for fate, pieces in work.values()))
    if alone:
        title = f"{_named(first)}: {kind}" + (f" - {first.where}" if first.where else "")
        size = _size(view, first)
        return Card(title, (Facts(((("Size", size),) if size else ()) + group[0].facts), items))
    rows = tuple((_named(draft.tree), draft.tree.where or "", *_sizes(view, draft.tree)) for draft in group)
    table = Table(("Tree", "Where", f"Across, {view.units.feet(4.5, 1)} up", "Tall"), rows, "llrr", 1)
    title = f"{tree_names(draft.tree.id for draft in group)}: {len(group)} trees, {kind}"
    return Card(title, (table, Facts(group[0].facts), items))


def _named(tree: Tree) -> str:
    return f"{tree.id} (tag {tree.tag})" if tree.tag else tree.id


def _names(pieces: Sequence[Piece], alone: bool) -> str:
    if not alone:
        return f"{piece_names(piece.id for piece in pieces)}: "
    name = part_names(piece.id.rpartition("/")[2] for piece in pieces)
    return f"{name[0].upper()}{name[1:]}: "


def _what(fate: Fate) -> str:
    parts = [f"{fate.what}."]
    if fate.work and fate.by and fate.done_on and fate.done_on > fate.by:
        parts.append(f"Planned for {day(fate.done_on)}, later than is wise: {day(fate.by)}.")
    elif fate.work and fate.by:
        parts.append(f"Finished by {day(fate.by)}.")
    return " ".join(part for part in (*parts, fate.then) if part)


def _facts(view: View, one: TreeScope) -> Iterator[tuple[str, str]]:
    tree, felling = view.trees[one.tree], view.plan.fellings.get(one.tree)
    if tree.note:
        yield "Note", tree.note
    found = sorted(
        (each for each in view.tree_broods[one.tree].pieces if each.brood != "none" or each.host),
        key=lambda each: ("likely", "possible", "none").index(each.brood),
    )
    state = [f"{brood_words(found[0]).capitalize()}." if found else "No beetles are expected."]
    state += [f"{HAZARDS[hazard]}." for hazard in tree.hazards]
    yield "Found", " ".join(state)
    if felling is None or tree.status in ("logs", "stump"):
        return
    yield "How", " ".join(_felling(view, one))


def _felling(view: View, one: TreeScope) -> Iterator[str]:
    tree, felling = view.trees[one.tree], view.plan.fellings[one.tree]
    down = tree.status == "standing"
    how = DONE[felling.how] if down else "cut up"
    if felling.who == "crew":
        yield f"{how[0].upper()}{how[1:]} by {listing(felling.crews, 'or') or 'the crew'}."
    elif felling.who == "professional":
        by = {"dismantle": "in pieces", "aerial-lift": "from a lift", "crane": "with a crane"}
        way = by.get(tree.removal.by, "") if tree.removal else ""
        yield " ".join(part for part in ("Taken down" if down else "Cut up", way, f"by a {felling.by}.") if part)
    else:
        yield "Not before an open question is answered."
    if down and not one.felled:
        yield "It stays standing in this plan."
    for reason in felling.reasons:
        if reason.rule not in SAID_ELSEWHERE and not reason.rule.startswith("hazard-"):
            yield view.say(reason)
    if one.stump_ft is not None:
        yield f"The stump is left {view.units.feet(one.stump_ft, 1)} high."


def _size(view: View, tree: Tree) -> str:
    stem, units = view.stems[tree.id], view.units
    parts = []
    if stem.dbh_in is not None:
        parts.append(f"{units.inches(stem.dbh_in)} across at breast height ({units.feet(4.5, 1)})")
    elif tree.diameter_in is not None:
        parts.append(f"{units.inches(tree.diameter_in)} across at the cut")
    if stem.height_ft is not None and tree.status != "stump":
        parts.append(f"{units.feet(stem.height_ft.likely)} tall" + " (estimated)" * stem.height_estimated)
    if tree.logs:
        parts.append(f"{sum(log.count for log in tree.logs)} logs, measured")
    return ", ".join(parts)


def _sizes(view: View, tree: Tree) -> tuple[str, str]:
    stem, units = view.stems[tree.id], view.units
    across = stem.dbh_in or tree.diameter_in
    tall = stem.height_ft if tree.status != "stump" else None
    return (
        units.inches(across) if across else "-",
        units.feet(tall.likely) + " (estimated)" * stem.height_estimated if tall else "-",
    )
