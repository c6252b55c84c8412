"""A card per tree: what it is, what lives in it, how it comes down, and what becomes of each piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Items, Para, Picture, Section, Table
from barkwright.output.hazards import both
from barkwright.output.names import part_names, runs, spruce, tree_names
from barkwright.output.order_briefing import RETREAT_FT
from barkwright.output.order_keep_out import in_pieces, keep_out, keep_out_ft, keep_out_together
from barkwright.output.order_pieces import Fate, fates
from barkwright.output.order_signoff import has_work, sign_line
from barkwright.output.pictures.stem import stem_picture
from barkwright.output.tree_words import beetle_words, danger_words, felling_words, size_words
from barkwright.output.view import View, sentences
from barkwright.output.words import day, listing
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.output.pictures.drawing import Drawing
    from barkwright.stem.pieces import Piece

STATUS = {
    "standing": "standing",
    "windthrown": "blown down",
    "felled": "felled, not cut up",
    "logs": "cut into logs",
    "stump": "stump",
}
CUT_UP = "felled and cut up"
BLANK = "_" * 8
LISTED = 3  # so many logs have a line each even on a small site
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
    big = len(view.trees) >= BIG_SITE
    drafts = [_draft(view, tree, big) for tree in view.trees.values()]
    groups: dict[tuple[object, ...], list[_Draft]] = {}
    for draft in drafts:
        like = (draft.title, draft.facts, frozenset(fate.shape for fate in draft.fates)) if big else (draft.tree.id,)
        groups.setdefault(like, []).append(draft)
    return Section(
        "Tree by tree",
        tuple(
            _single(view, group[0], not big) if len(group) == 1 else _shared(view, group) for group in groups.values()
        ),
    )


def status_words(tree: Tree) -> str:
    """How a tree stands or lies: as the inventory says, or the journal since."""
    return STATUS[tree.status] if tree.cut_up is None else CUT_UP


def _draft(view: View, tree: Tree, big: bool) -> _Draft:
    title = f"{spruce(tree.species)}, {status_words(tree)}" + (f" - {tree.where}" if tree.where else "")
    becomes = fates(view, tree.id)
    notes = sentences(note for fate in becomes for note in fate.notes)
    facts = (
        *([("Note", tree.note)] if tree.note else []),
        ("Beetles", beetle_words(view, tree, big)),
        *felling_words(view, tree),
        *danger_words(view, tree),
        *([("When", " ".join(notes))] if notes else []),
    )
    return _Draft(tree, title, facts, becomes)


def _single(view: View, draft: _Draft, each: bool) -> Card:
    tree = draft.tree
    size = size_words(view, tree)
    falls = f"toward {BLANK} Way out {BLANK} (45 degrees back, {both(view, RETREAT_FT, 1)})."
    facts = (
        *([("Size", size)] if size else []),
        *draft.facts,
        *([("Falls", falls)] if _crew_fells(view, tree) else []),
        *keep_out(view, tree),
    )
    work = Items(tuple(_fate_item(view, fate, each) for fate in draft.fates if fate.work), "[ ]")
    rest = Items(tuple(_fate_item(view, fate, each) for fate in draft.fates if not fate.work))
    tag = f" (tag {tree.tag})" if tree.tag else ""
    return Card(f"{tree.id}{tag}: {draft.title}", (Facts(facts), *_pictures(view, [tree.id]), work, rest))


def _shared(view: View, group: Sequence[_Draft]) -> Card:
    """Like trees: what is done once, under a letter, and a row per tree with its pieces under the letters."""
    shapes = {fate.shape: fate for draft in group for fate in draft.fates}
    work = [fate for fate in shapes.values() if fate.work]
    letters = [chr(ord("A") + position) for position in range(len(work))]
    said = [(letter, _what(fate, None)) for letter, fate in zip(letters, work, strict=True)]
    rest = sentences(fate.what for fate in shapes.values() if not fate.work)
    if rest:
        said.append(("Rest" if work else "All", f"{'; '.join(rest)}."))
    same: dict[tuple[str, ...], list[str]] = {}
    for draft in group:
        same.setdefault(_row(view, draft, work), []).append(draft.tree.id)
    alone = any(len(trees) == 1 for trees in same.values())
    last = ("Falls\ntoward",) if alone and any(_crew_fells(view, draft.tree) for draft in group) else ()
    rows = tuple(
        (tree_names(trees), *row, *("______" * (len(trees) == 1) for _ in last)) for row, trees in same.items()
    )
    head = ("Tree", "Across", "Tall", "Keep out", "Heaviest", *letters, *last)
    noun = "stumps" if group[0].tree.status == "stump" else "trees"
    title = f"{tree_names(draft.tree.id for draft in group)}: {len(group)} {noun}, {group[0].title}"
    table = Table(head, rows, "lrrrr" + "l" * len((*letters, *last)), 5 if letters else None)
    guessed = any(view.stems[draft.tree.id].height_estimated for draft in group)
    note = (Para("* height estimated from the diameter: measure it before anybody fells."),) if guessed else ()
    clear = keep_out_together(view, [draft.tree for draft in group])
    pictures = _pictures(view, [draft.tree.id for draft in group])
    return Card(title, (Facts((*group[0].facts, *clear, *said)), *pictures, table, *note))


def _pictures(view: View, trees: Sequence[str]) -> tuple[Picture, ...]:
    """The stems of the trees, each drawing once; as text only where few trees leave room for it."""
    shown: dict[Drawing, Picture] = {}
    for tree in trees:
        picture = stem_picture(view, tree)
        if picture is not None:
            shown.setdefault(picture.drawing, replace(picture, screen_only=not view.small))
    return tuple(shown.values())


def _row(view: View, draft: _Draft, work: Sequence[Fate]) -> tuple[str, ...]:
    stem, units, clear = view.stems[draft.tree.id], view.units, keep_out_ft(view, draft.tree)
    logs = [piece for piece in stem.pieces if piece.kind == "log"]
    pieces = {fate.shape: fate.pieces for fate in draft.fates}
    across = stem.dbh_in or draft.tree.diameter_in
    return (
        units.inches(across) if across else "-",
        units.feet(stem.height_ft.likely) + "*" * stem.height_estimated
        if stem.height_ft and draft.tree.status != "stump"
        else "-",
        "in pieces" if in_pieces(view, draft.tree) else both(view, clear) if clear else "-",
        units.pounds(max(piece.lift_lb for piece in logs)) if logs else "-",
        *(_numbers(pieces.get(fate.shape, ())) for fate in work),
    )


def _numbers(pieces: Sequence[Piece]) -> str:
    """Pieces in few letters: 1-4, stump."""
    logs = [runs(piece.number for piece in pieces if piece.kind == "log")]
    return ", ".join([*(part for part in logs if part), *(piece.kind for piece in pieces if piece.kind != "log")])


def _crew_fells(view: View, tree: Tree) -> bool:
    felling = view.plan.fellings.get(tree.id)
    return tree.id in view.felled and felling is not None and felling.by == "crew" and felling.how == "fell"


def _fate_item(view: View, fate: Fate, each: bool) -> tuple[str, tuple[str, ...]]:
    name = part_names(piece.id.rpartition("/")[2] for piece in fate.pieces)
    if not fate.work and len(fate.pieces) == len(view.stems[fate.pieces[0].tree].pieces) > 1:
        name = "all of it"
    text = f"{name[0].upper()}{name[1:]}: {_what(fate, fate.done_on)}"
    signed = (sign_line(fate),) if view.small and has_work(view, fate) else ()
    return text, (*(_sizes(view, fate, each) if fate.work else ()), *fate.remarks, *signed)


def _what(fate: Fate, planned: date | None) -> str:
    parts = [f"{fate.what}."]
    if planned and fate.by and planned > fate.by:
        parts.append(f"Planned for {day(planned)}, later than is wise: it should be done by {day(fate.by)}.")
    elif planned and fate.by:
        parts.append(f"Planned for {day(planned)}, latest {day(fate.by)}.")
    elif planned or fate.by:
        parts.append(f"Planned for {day(planned)}." if planned else f"Latest {day(fate.by)}." if fate.by else "")
    return " ".join(part for part in (*parts, fate.then) if part)


def _sizes(view: View, fate: Fate, each: bool) -> Sequence[str]:
    pieces = [piece for piece in fate.pieces if piece.kind != "limbs"]
    logs = [piece for piece in pieces if piece.kind == "log"]
    units = view.units
    if view.small and len(logs) > LISTED and all(one.number + 1 == two.number for one, two in pairwise(logs)):
        return [_in_a_row(view, logs), *(_one_size(view, piece) for piece in pieces if piece.kind != "log")]
    if each or len(logs) < 2:
        return [_one_size(view, piece) for piece in pieces]
    ends = units.ends(max(piece.butt_dob_in for piece in logs), min(piece.top_dob_in for piece in logs))
    lengths = sorted({units.feet(piece.length_ft) for piece in logs})
    heavy, light = (units.pounds(pick(piece.lift_lb for piece in logs)) for pick in (max, min))
    weight = heavy if heavy == light else f"{heavy} down to {light}"
    return [f"logs: {ends}, {listing(lengths, 'or')} long, {weight}"]


def _in_a_row(view: View, logs: Sequence[Piece]) -> str:
    """Logs that follow each other up the stem: across where one cuts, lengths, weights."""
    units = view.units
    cuts = [units.inches(piece.butt_dob_in) for piece in logs] + [units.inches(logs[-1].top_dob_in)]
    across = listing([cut.partition(" ")[0] for cut in cuts])
    lengths = Counter(units.feet(piece.length_ft) for piece in logs)
    long = listing([f"{count} of {length}" for length, count in lengths.items()])
    weights = [units.pounds(piece.lift_lb).partition(" ") for piece in logs]
    heavy = listing([weight for weight, _, _ in weights])
    unit = cuts[0].partition(" ")[2]
    return f"From the thick end up: {across} {unit} across at the cuts; {long} long; {heavy} {weights[0][2]}."


def _one_size(view: View, piece: Piece) -> str:
    units, name = view.units, part_names([piece.id.rpartition("/")[2]])
    long = units.feet(piece.length_ft, 1 if piece.length_ft < 3 else 0)
    if piece.kind == "stump":
        return f"{name}: {units.inches(piece.butt_dob_in)} across, {long} high"
    weight = units.pounds(piece.lift_lb)
    if piece.kind == "top":
        return f"{name}: {units.inches(piece.butt_dob_in)} across at its lower end, {long} long, {weight}"
    return f"{name}: {units.ends(piece.butt_dob_in, piece.top_dob_in)}, {long} long, {weight}"
