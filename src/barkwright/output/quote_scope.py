"""What is done to each tree for the price, in the order's own words; like trees share a card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Para, Section, Table, plain
from barkwright.output.names import part_names, piece_names, spruce, tree_names
from barkwright.output.order_cards import status_words
from barkwright.output.order_late import of_these
from barkwright.output.order_pieces import THEN, Fate, fates
from barkwright.output.quote_found import found_in
from barkwright.output.tree_words import estimated, size_words
from barkwright.output.view import View
from barkwright.output.words import amount, day, listing, number
from barkwright.record import dataclass

if TYPE_CHECKING:
    from datetime import date

    from barkwright.inventory.model import Tree
    from barkwright.quote.quotation import Quotation
    from barkwright.quote.scope import TreeScope
    from barkwright.stem.pieces import Piece

SAID_ELSEWHERE = frozenset(
    ("removal-entered", "own-crew-removal", "no-felling-crew", "no-saw-crew", "line-distance", "near-not-checked")
)
LISTED = 6  # so many measured logs are named one by one
BUTT = "The thick butt of a log is its lower end, where that is too thick for the chipper."
TO_ARBORIST = "Look at it as a hazard, or ask an arborist to"  # said to a reader who is none
DONE = {"fell": "felled", "dismantle": "taken down in pieces", "aerial-lift": "taken down from a lift"}


@dataclass(frozen=True, slots=True)
class _Draft:
    tree: Tree
    facts: tuple[tuple[str, str], ...]
    fates: tuple[Fate, ...]


def scope(quote: Quotation, view: View) -> Section:
    """A card for each tree that something is done to; the others in a line."""
    groups: dict[object, list[_Draft]] = {}
    idle: dict[tuple[date | None, str], list[str]] = {}
    for one in quote.scope:
        tree, becomes = view.trees[one.tree], fates(view, one.tree)
        if not any(fate.work for fate in becomes) and not one.felled and not one.misses:
            idle.setdefault((one.look_on, _idle(view, one)), []).append(one.tree)
            continue
        draft = _Draft(tree, tuple(_facts(view, one)), becomes)
        like = (tree.species, tree.status, draft.facts, frozenset(fate.shape for fate in becomes))
        groups.setdefault(like, []).append(draft)
    cards = tuple(_card(view, group) for group in groups.values())
    rest = plain([_left_alone(trees, look, why) for (look, why), trees in idle.items()])
    butts = any("thick butt" in fate.what for group in groups.values() for draft in group for fate in draft.fates)
    return Section("What is done, tree by tree", (*cards, *([rest] if idle else []), *([Para(BUTT)] if butts else [])))


def not_stopped(quote: Quotation, view: View) -> Section | None:
    """What the work does not stop, said plainly."""
    groups: dict[str, tuple[list[str], list[float]]] = {}
    for unmet in view.plan.schedule.unmet:
        pieces, areas = groups.setdefault(of_these(unmet.why, unmet), ([], []))
        pieces.extend(unmet.pieces)
        areas.append(unmet.infested_ft2)
    if not groups:
        return None
    say, area = view.units.sentence, view.units.square_feet
    entries = [
        f"{piece_names(pieces)}: {area(sum(areas))} of infested bark. {say(why)}"
        for why, (pieces, areas) in groups.items()
    ]
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
    note = (
        "They stay the client's. The two log rules are customary ways of estimating what is sawn from sound, undamaged "
        "wood; a mill measures anew."
    )
    return Section("Logs kept for sawing", (Table(head, tuple(rows), "lrrrr"), Para(note)))


def _idle(view: View, one: TreeScope) -> str:
    felling = view.plan.fellings.get(one.tree)
    reasons = [] if felling is None else [view.say(reason) for reason in felling.reasons]
    reasons = [said.replace(TO_ARBORIST, "We can inspect it as a hazard, price on request") for said in reasons]
    return " ".join(reasons)


def _left_alone(trees: Sequence[str], look: date | None, why: str) -> str:
    """Trees to which nothing is done but, at most, a look under their bark, which is in the price."""
    names, them = tree_names(trees), "it" if len(trees) == 1 else "them"
    if look is None:
        return f"{names}: nothing is done to {them}. {why}".rstrip()
    return f"We look under the bark of {names} on {day(look)}; nothing else is done to {them}. {why}".rstrip()


def _card(view: View, group: Sequence[_Draft]) -> Card:
    first = group[0].tree
    kind = f"{spruce(first.species)}, {status_words(first)}"
    work: dict[object, tuple[Fate, list[Piece]]] = {}
    for draft in group:
        for fate in draft.fates:
            work.setdefault(fate.shape, (fate, []))[1].extend(fate.pieces)
    alone, by = len(group) == 1, _one_date(group)
    ready = f" - finished by {day(by)}" if by else ""
    items = Items(tuple((_names(pieces, alone) + _what(fate, by), fate.remarks) for fate, pieces in work.values()))
    if alone:
        title = f"{_named(first)}: {kind}" + (f" - {first.where}" if first.where else "") + ready
        size = _size(view, first)
        return Card(title, (Facts(((("Size", size),) if size else ()) + group[0].facts), items))
    table = _table(view, [draft.tree for draft in group])
    many = f"{len(group)} stumps, {spruce(first.species)}" if first.status == "stump" else f"{len(group)} trees, {kind}"
    title = f"{tree_names(draft.tree.id for draft in group)}: {many}{ready}"
    return Card(title, (table, Facts(group[0].facts), items))


def _table(view: View, trees: Sequence[Tree]) -> Table:
    """Like trees in rows; what none of them has is no column."""
    at = "at the cut" if trees[0].status == "stump" else f"{view.units.feet(4.5, 1)} up"
    head = ("Stump" if trees[0].status == "stump" else "Tree", "Where", f"Across, {at}", "Tall")
    rows = [(_named(tree), tree.where or "", *_sizes(view, tree)) for tree in trees]
    kept = [column for column in range(4) if any(row[column] not in ("", "-") for row in rows)]
    picked = tuple(tuple(row[column] for column in kept) for row in rows)
    align, flexible = "".join("llrr"[column] for column in kept), 1 if 1 in kept else 0
    return Table(tuple(head[column] for column in kept), picked, align, flexible)


def _named(tree: Tree) -> str:
    return f"{tree.id} (tag {tree.tag})" if tree.tag else tree.id


def _names(pieces: Sequence[Piece], alone: bool) -> str:
    if not alone:
        return f"{piece_names(piece.id for piece in pieces)}: "
    name = part_names(piece.id.rpartition("/")[2] for piece in pieces)
    return f"{name[0].upper()}{name[1:]}: "


def _one_date(group: Sequence[_Draft]) -> date | None:
    """The date that all the work of a card shares, so that its title says it once."""
    work = [fate for draft in group for fate in draft.fates if fate.work]
    dates = {fate.by for fate in work}
    late = any(fate.by and fate.done_on and fate.done_on > fate.by for fate in work)
    return dates.pop() if len(dates) == 1 and not late else None


def _what(fate: Fate, said: date | None) -> str:
    """What is done and by when, where the title does not say it; of chips and stumps nobody asks where they go."""
    parts = [f"{fate.what}."]
    if fate.work and fate.by and fate.done_on and fate.done_on > fate.by:
        parts.append(f"Planned for {day(fate.done_on)}, later than is wise: {day(fate.by)}.")
    elif fate.work and fate.by and fate.by != said:
        parts.append(f"Finished by {day(fate.by)}.")
    plainly = fate.then == THEN["chips"] or all(piece.kind == "stump" for piece in fate.pieces)
    return " ".join(part for part in (*parts, "" if plainly else fate.then) if part)


def _facts(view: View, one: TreeScope) -> Iterator[tuple[str, str]]:
    tree, felling = view.trees[one.tree], view.plan.fellings.get(one.tree)
    if tree.note:
        yield "Note", tree.note
    yield found_in(view, tree)
    if one.look_on is not None:
        yield "Look", f"We look under the bark on {day(one.look_on)}."
    if felling is None or tree.status in ("logs", "stump"):
        return
    yield "How", " ".join(_felling(view, one))


def _felling(view: View, one: TreeScope) -> Iterator[str]:
    tree, felling = view.trees[one.tree], view.plan.fellings[one.tree]
    down = tree.status == "standing"
    if down and not one.felled:
        yield "It stays standing in this plan."
        return
    how = DONE[felling.how] if down else "cut up"
    if felling.who == "crew":
        yield f"{how[0].upper()}{how[1:]} by {listing(felling.crews, 'or') or 'the crew'}."
    elif felling.who == "professional":
        by = {"dismantle": "in pieces", "aerial-lift": "from a lift", "crane": "with a crane"}
        way = by.get(tree.removal.by, "") if tree.removal else ""
        yield " ".join(part for part in ("Taken down" if down else "Cut up", way, f"by a {felling.by}.") if part)
    else:
        yield "Not before an open question is answered."
    for reason in felling.reasons:
        if reason.rule not in SAID_ELSEWHERE and not reason.rule.startswith("hazard-"):
            yield view.say(reason)
    if one.stump_ft is not None:
        high = view.units.feet(one.stump_ft, 1)
        level = high.startswith("0.0 ")
        yield "The stump is cut level with the ground." if level else f"The stump is left {high} high."


def _size(view: View, tree: Tree) -> str:
    size = size_words(view, tree, for_client=True)
    count = sum(log.count for log in tree.logs)
    logs = f"{amount(count, 'log')}, measured: {_logs(view, tree)}" if tree.logs else ""
    return ", ".join(part for part in (size, logs) if part)


def _logs(view: View, tree: Tree) -> str:
    """Both ends and the length of each log as it was measured; of many, how far they go."""
    units, logs = view.units, tree.logs
    if len(logs) <= LISTED:
        return "; ".join(
            f"{f'{log.count} of ' * (log.count > 1)}{units.ends(log.butt_in, log.top_in)}, {units.feet(log.length_ft)}"
            for log in logs
        )
    thin, thick = min(log.top_in for log in logs), max(log.butt_in for log in logs)
    lengths = [log.length_ft for log in logs]
    long = listing(list(dict.fromkeys((units.feet(min(lengths)), units.feet(max(lengths))))), "to")
    return f"{units.inches(thin)} to {units.inches(thick)} across, {long} long"


def _sizes(view: View, tree: Tree) -> tuple[str, str]:
    stem, units = view.stems[tree.id], view.units
    across = stem.dbh_in or tree.diameter_in
    tall = stem.height_ft if tree.status != "stump" else None
    return (
        units.inches(across) if across else "-",
        units.feet(tall.likely) + (estimated(stem) if stem.height_estimated else "") if tall else "-",
    )
