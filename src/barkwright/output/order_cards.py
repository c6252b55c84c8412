"""A card per tree: what it is, what lives in it, how it comes down, and what becomes of each piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Section, Table
from barkwright.output.flight import brood_words
from barkwright.output.order_pieces import Fate, fates
from barkwright.output.view import View, sentences
from barkwright.output.words import day, listing, number, part_names, tree_names
from barkwright.units import FT_PER_M

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.stem.pieces import Piece

STATUS = {
    "standing": "standing",
    "windthrown": "blown down",
    "felled": "felled, not cut up",
    "logs": "cut into logs",
    "stump": "a stump",
}
BIG_SITE = 12  # from this many trees on, the logs of a tree are summed up in a line; ours


@dataclass(frozen=True, slots=True)
class _Draft:
    """A card before like ones are put together: what must agree, and what may differ from tree to tree."""

    tree: Tree
    title: str
    facts: tuple[tuple[str, str], ...]
    fates: tuple[Fate, ...]


def cards(view: View) -> Section:
    """All trees in the order of the file; on a big site like trees share a card."""
    drafts = [_draft(view, tree) for tree in view.trees.values()]
    if len(drafts) < BIG_SITE:
        return Section("Tree by tree", tuple(_single(view, draft) for draft in drafts))
    groups: dict[tuple[object, ...], list[_Draft]] = {}
    for draft in drafts:
        groups.setdefault((draft.title, draft.facts, tuple(fate.shape for fate in draft.fates)), []).append(draft)
    return Section("Tree by tree", tuple(_shared(view, group) for group in groups.values()))


def _draft(view: View, tree: Tree) -> _Draft:
    title = f"{tree.species} spruce, {STATUS[tree.status]}" + (f" - {tree.where}" if tree.where else "")
    facts = (
        *([("Note", tree.note)] if tree.note else []),
        ("Beetles", _beetles(view, tree)),
        *_felling(view, tree),
    )
    return _Draft(tree, title, facts, fates(view, tree.id))


def _single(view: View, draft: _Draft) -> Card:
    tree = draft.tree
    size = _size(view, tree)
    facts = (*([("Size", size)] if size else []), *draft.facts, *_keep_out(view, tree))
    items = [_fate_item(view, fate, len(view.trees) < BIG_SITE) for fate in draft.fates]
    tag = f" (tag {tree.tag})" if tree.tag else ""
    return Card(f"{tree.id}{tag}: {draft.title}", (Facts(facts), Items(tuple(items), "[ ]")))


def _shared(view: View, group: Sequence[_Draft]) -> Card:
    if len(group) == 1:
        return _single(view, group[0])
    rows = tuple(_row(view, draft.tree) for draft in group)
    title = f"{tree_names(draft.tree.id for draft in group)}: {len(group)} trees, {group[0].title}"
    sizes: Facts | Table
    if len({row[1:] for row in rows}) == 1:
        sizes = Facts((("Size", f"each {_size(view, group[0].tree)}"),))
    else:
        sizes = Table(("Tree", "Across", "Tall", "Logs", "Heaviest log", "Keep out"), rows, "lrrrrr")
    items = tuple(_fate_item(view, fate, False, len(group) > 1) for fate in group[0].fates)
    return Card(title, (Facts(group[0].facts), sizes, Items(items, "[ ]")))


def _row(view: View, tree: Tree) -> tuple[str, ...]:
    stem, units = view.stems[tree.id], view.units
    logs = [piece for piece in stem.pieces if piece.kind == "log"]
    clear = keep_out_ft(view, tree)
    return (
        tree.id,
        units.inches(stem.dbh_in) if stem.dbh_in else "-",
        units.feet(stem.height_ft.likely) if stem.height_ft else "-",
        str(len(logs)),
        units.pounds(max(piece.lift_lb for piece in logs)) if logs else "-",
        units.feet(clear) if clear else "-",
    )


def _size(view: View, tree: Tree) -> str:
    stem, units = view.stems[tree.id], view.units
    parts = []
    if stem.dbh_in is not None:
        parts.append(f"{units.inches(stem.dbh_in)} across at breast height")
    elif tree.diameter_in is not None:
        parts.append(f"{units.inches(tree.diameter_in)} across at the cut")
    if stem.height_ft is not None and tree.status != "stump":
        height = f"{units.feet(stem.height_ft.likely)} tall"
        if stem.height_estimated:
            height += f" (estimated; between {units.feet(stem.height_ft.low)} and {units.feet(stem.height_ft.high)})"
        parts.append(height)
    return ", ".join(parts)


def _beetles(view: View, tree: Tree) -> str:
    brood = view.tree_broods[tree.id]
    groups: dict[str, list[str]] = {}
    for found in brood.pieces:
        if found.brood != "none" or found.host:
            groups.setdefault(brood_words(found), []).append(found.piece.rpartition("/")[2])
    said = [f"{part_names(parts)}: {words}.".capitalize() for words, parts in groups.items()]
    first = (found.reasons[0] for found in brood.pieces if found.reasons and (found.brood != "none" or found.host))
    said.extend(sentences(view.say(reason) for reason in first))
    if brood.may_stay_standing:
        said.append(view.units.sentence(brood.may_stay_standing))
    if not said:
        said.extend(sentences(view.say(found.reasons[0]) for found in brood.pieces[:1] if found.reasons))
    return " ".join(said) or "No beetles are expected."


def _felling(view: View, tree: Tree) -> list[tuple[str, str]]:
    felling = view.plan.fellings.get(tree.id)
    if felling is None or tree.status in ("logs", "stump"):
        return []
    verb = "felled" if tree.status == "standing" else "cut up"
    who = {
        "crew": f"To be {verb} by the crew.",
        "professional": f"To be {verb} by a {felling.by}, not by the crew.",
        "provisional": f"Not to be {verb} before an open question is answered.",
        "not allowed": f"Not to be {verb} now.",
        "not needed": f"Need not be {verb}.",
    }[felling.who]
    said = sentences(view.say(reason) for reason in felling.reasons)
    return [("Felling" if tree.status == "standing" else "Cutting up", " ".join((who, *said)))]


def keep_out_ft(view: View, tree: Tree) -> float | None:
    """Radius that is kept clear while the tree is felled [ft], rounded up; None if it is not felled."""
    felling = view.plan.fellings.get(tree.id)
    if tree.id not in view.felled or felling is None or felling.drop_zone_ft is None:
        return None
    return math.ceil(felling.drop_zone_ft)


def _keep_out(view: View, tree: Tree) -> list[tuple[str, str]]:
    feet = keep_out_ft(view, tree)
    if feet is None:
        return []
    metres = math.ceil(feet / FT_PER_M)
    return [("Keep out", f"{number(feet)} ft ({metres} m) all round while it is felled: two tree lengths.")]


def _fate_item(view: View, fate: Fate, each: bool, shared: bool = False) -> tuple[str, tuple[str, ...]]:
    name = fate.kinds if shared else part_names(piece.id.rpartition("/")[2] for piece in fate.pieces)
    parts = [f"{name[0].upper()}{name[1:]}: {fate.what}."]
    planned = day(fate.done_on) if fate.done_on is not None and not shared else None
    latest = day(fate.by) if fate.by is not None else None
    if planned and latest:
        parts.append(f"Planned for {planned}, latest {latest}.")
    elif planned or latest:
        parts.append(f"Planned for {planned}." if planned else f"Latest {latest}.")
    if fate.then:
        parts.append(fate.then)
    under = () if shared or not fate.work else _sizes(view, fate, each)
    return " ".join(parts), (*under, *fate.remarks)


def _sizes(view: View, fate: Fate, each: bool) -> Sequence[str]:
    pieces = [piece for piece in fate.pieces if piece.kind != "limbs"]
    logs = [piece for piece in pieces if piece.kind == "log"]
    if each or len(logs) < 2:
        return [_one_size(view, piece) for piece in pieces]
    units = view.units
    ends = units.ends(max(piece.butt_dob_in for piece in logs), min(piece.top_dob_in for piece in logs))
    lengths = sorted({units.feet(piece.length_ft) for piece in logs})
    heavy, light = (units.pounds(pick(piece.lift_lb for piece in logs)) for pick in (max, min))
    weight = heavy if heavy == light else f"{heavy} down to {light}"
    return [f"logs: {ends}, {listing(lengths, 'or')} long, {weight}"]


def _one_size(view: View, piece: Piece) -> str:
    units, name = view.units, part_names([piece.id.rpartition("/")[2]])
    long = units.feet(piece.length_ft, 1 if piece.length_ft < 3 else 0)
    if piece.kind == "stump":
        return f"{name}: {units.inches(piece.butt_dob_in)} across, {long} high"
    weight = units.pounds(piece.lift_lb)
    if piece.kind == "top":
        return f"{name}: {units.inches(piece.butt_dob_in)} across at its lower end, {long} long, {weight}"
    return f"{name}: {units.ends(piece.butt_dob_in, piece.top_dob_in)}, {long} long, {weight}"
