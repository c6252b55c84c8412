"""What recorded work has achieved, by the rulebook that judges work to come; and what of it is still to be done."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood, TreeBrood
from barkwright.brood.judge import judge_tree
from barkwright.datafile import load
from barkwright.inventory.model import Inventory, Tree
from barkwright.inventory.progress import Finished
from barkwright.record import dataclass
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.site import Season
from barkwright.season.year import in_words
from barkwright.sources import Reason
from barkwright.stem.pieces import Piece, TreeStem
from barkwright.treatment.bench import Begun, Bench
from barkwright.treatment.rulebook import templates
from barkwright.treatment.ways import End, Template, TemplateStep

BROOD_RANK = 2
PUT_DOWN = frozenset(("stack", "pile", "gather-bark"))
ENDS: tuple[End, ...] = ("done", "partial", "not done")
GONE = frozenset(("hauled", "chips", "ash"))


@dataclass(frozen=True, slots=True)
class LeftWords:
    """Words that name steps."""

    words: tuple[str, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BegunBook:
    """The whole file, data/treatment/begun.yaml."""

    checked_on: date
    basis: str
    left: tuple[LeftWords, ...]
    bark: dict[str, str]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the recorded work on one piece comes to."""

    finished: Finished
    way: str  # the way as it was done, or the plainest of its method
    end: End
    begun: Begun | None  # what may follow it; None: everything, or nothing is left to do
    over: bool  # nothing more is to be planned for the piece
    reasons: tuple[Reason, ...]  # why it is not wholly done, the weightiest first


def outcomes_of(inventory: Inventory, season: Season, stems: Sequence[TreeStem]) -> dict[str, Outcome]:
    """What each piece with recorded work has come to, by piece id; pieces that are no more are left out.

    Where a piece was worked more than once, the work that did most counts, the last of what did as much.
    """
    if not inventory.finished:
        return {}
    trees = {tree.id: tree for tree in inventory.trees}
    known = {piece.id: (stem, piece) for stem in stems for piece in stem.pieces}
    benches: dict[date, Bench] = {}
    broods: dict[tuple[str, date], TreeBrood] = {}
    found: dict[str, Outcome] = {}
    for one in inventory.finished:
        if one.piece not in known:
            continue
        stem, piece = known[one.piece]
        tree = trees[stem.tree]
        bench = benches.setdefault(one.on, _bench(inventory, season, one.on))
        brood = broods.setdefault((tree.id, one.on), judge_tree(tree, stem, season, one.on))
        of_piece = next(each for each in brood.pieces if each.piece == one.piece)
        outcome = _outcome(one, bench, tree, piece, of_piece)
        before = found.get(one.piece)
        if outcome is not None and (before is None or ENDS.index(outcome.end) <= ENDS.index(before.end)):
            found[one.piece] = outcome
    return found


def settled(brood: TreeBrood, outcomes: Mapping[str, Outcome], partial_share: float) -> TreeBrood:
    """The brood of a tree once the recorded work on its pieces is counted.

    partial_share : share of a piece's infested bark that counts as left after work that is only partial [0 to 1]
    """
    if not any(piece.piece in outcomes for piece in brood.pieces):
        return brood
    pieces = tuple(_piece(piece, outcomes.get(piece.piece), partial_share) for piece in brood.pieces)
    holds = any(piece.brood != "none" for piece in pieces)
    at_stake = holds or any(piece.host for piece in pieces)
    return replace(
        brood,
        pieces=pieces,
        needs_inspection=brood.needs_inspection and at_stake,
        questions=tuple(one for one in brood.questions if at_stake or one.rank != BROOD_RANK),
    )


def room_left(inventory: Inventory, outcomes: Mapping[str, Outcome], stems: Sequence[TreeStem]) -> Inventory:
    """The inventory with the room for chips that the wood chipped so far has left."""
    room = inventory.limits.chips_site_takes_yd3
    if room is None or not outcomes:
        return inventory
    known = templates()
    chipped = {piece for piece, one in outcomes.items() if known[one.way].then == "chips"}
    taken = sum(piece.chips_yd3 for stem in stems for piece in stem.pieces if piece.id in chipped)
    limits = inventory.limits.model_copy(update={"chips_site_takes_yd3": max(0.0, room - taken)})
    return inventory.model_copy(update={"limits": limits})


def methods_of(kind: str) -> tuple[str, ...]:
    """The methods by which a piece of a kind can be treated."""
    return tuple(dict.fromkeys(one.method for one in templates().values() if kind in one.pieces and one.steps))


def left_step(text: str, method: str, kind: str) -> str | None:
    """The step that the words of what is left name, in some way of a method for a kind of piece; None if none does."""
    for template in templates().values():
        if template.method == method and kind in template.pieces:
            step = _named(text, template)
            if step is not None:
                return step
    return None


def _bench(inventory: Inventory, season: Season, day: date) -> Bench:
    horizon = flight_year(season, coming_flight(season, day) + 1).half
    return Bench(inventory, season, day, horizon + timedelta(days=1))


def _outcome(one: Finished, bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood) -> Outcome | None:
    template = _template(one, piece.kind, bench)
    if template is None:
        return None
    done = _steps_done(one, template)
    end, reasons = _ended(template, done, bench, tree, piece, brood, one.on)
    whole = len(done) == len(template.steps)
    if whole and end == "done":
        return Outcome(one, template.id, end, None, True, reasons)
    ways = _following(template, done, piece.kind)
    if ways:
        return Outcome(one, template.id, end, Begun(ways, frozenset(done)), False, reasons)
    return Outcome(one, template.id, end, None, template.then in GONE or template.spoils, reasons)


def _ended(
    template: Template, done: Sequence[str], bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood, day: date
) -> tuple[End, tuple[Reason, ...]]:
    """What the steps that are done come to: the best of the ways that they by themselves are, or were part of."""
    completed = any(step.completes for step in template.steps[: len(done)])
    same = [template] if completed else []
    same += [one for one in templates().values() if _is(one, template, done, piece.kind)]
    found = [bench.result(tree, piece, brood, one.id, day) for one in same]
    return min(found, key=lambda one: ENDS.index(one[0]), default=("not done", ()))


def _is(one: Template, template: Template, done: Sequence[str], kind: str) -> bool:
    """Is a way of the same method nothing but these steps, with the same tools?"""
    steps = len(one.steps) == len(done) and all(map(_alike, one.steps, template.steps))
    return steps and kind in one.pieces and one.method == template.method


def _template(one: Finished, kind: str, bench: Bench) -> Template | None:
    """The way as it was done: as recorded, or the plainest of its method that fits the tools and what is said."""
    known = templates()
    own = known.get(one.way or "")
    if own is not None and kind in own.pieces:
        return own
    fit = [each for each in known.values() if each.method == one.method and kind in each.pieces and each.steps]
    bark = book().bark.get(one.bark or "")
    if bark is not None:
        fit = [each for each in fit if any(step.do == bark for step in each.steps)] or fit
    elif one.left:
        fit = [each for each in fit if _named(one.left, each) is not None] or fit
    return next((each for each in fit if bench.has_tools(each.id)), fit[0] if fit else None)


def _steps_done(one: Finished, template: Template) -> tuple[str, ...]:
    words = tuple(step.do for step in template.steps)
    step = _named(one.left, template) if one.left else None
    return words if step is None else words[: words.index(step)]


def _named(text: str | None, template: Template) -> str | None:
    said = set(re.findall(r"[a-z]+", (text or "").casefold()))
    words = [step.do for step in template.steps]
    for entry in book().left:
        if said.isdisjoint(entry.words):
            continue
        step = next((one for one in words if one in entry.steps), None)
        if step is not None:
            return step
    return None


def _following(template: Template, done: Sequence[str], kind: str) -> frozenset[str]:
    """The ways that go on from the steps that are done: they begin with them, and have more to do.

    What is only put down (stacked, piled, raked together) need not be a step of the way that goes on.
    """
    ways = set()
    for one in templates().values():
        same = 0
        while same < min(len(done), len(one.steps)) and _alike(one.steps[same], template.steps[same]):
            same += 1
        if kind in one.pieces and same and same < len(one.steps) and PUT_DOWN.issuperset(done[same:]):
            ways.add(one.id)
    return frozenset(ways)


def _alike(one: TemplateStep, other: TemplateStep) -> bool:
    return (one.do, one.tool, one.part) == (other.do, other.tool, other.part)


def _piece(brood: PieceBrood, outcome: Outcome | None, partial_share: float) -> PieceBrood:
    if outcome is None:
        return brood
    one = outcome.finished
    when = in_words(one.on)
    if outcome.end == "done":
        said = f"It was treated on {when} ({one.method}), as the journal says."
        return replace(
            brood, brood="none", stage=None, host=False, flight_to_beat=None, adults_from=None, weight=0.0,
            confidence="high", reasons=(_ours("done", said),),
        )  # fmt: skip
    weight = brood.weight * (partial_share if outcome.end == "partial" else 1.0)
    word = "only in part" if outcome.end == "partial" else "not yet"
    said = f"Work on it was recorded on {when} ({one.method}); its brood is {word} stopped by that."
    return replace(brood, weight=weight, reasons=(_ours("begun", said), *outcome.reasons, *brood.reasons))


def _ours(rule: str, because: str) -> Reason:
    return Reason(rule, because, "C", (), "ours")


def book() -> BegunBook:
    """Words of what is left, and of what became of bark."""
    return load("treatment/begun.yaml", BegunBook)
