"""What stands beside the work on an order: do, do not, cautions, what to look at after the flight.

The sentences are data; a plan has tags, and an entry is printed when one of its tags holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, Literal

from barkwright.datafile import load
from barkwright.output.order_pieces import is_slash
from barkwright.output.view import View
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree

Kind = Literal["do", "do not", "caution", "after flight"]
Basis = Literal["published", "common practice, no source", "ours", "from memory"]


@dataclass(frozen=True, slots=True)
class Advice:
    """One sentence or two, and when they belong on an order: one of `when`, all of `only_with`, none of `unless`."""

    id: str
    kind: Kind
    when: tuple[str, ...]
    text: str
    basis: Basis
    topic: str = ""
    unless: tuple[str, ...] = ()
    only_with: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


@cache
def all_advice() -> tuple[Advice, ...]:
    """Every entry of the data file, in its order. Raises TypeError for an entry with an unknown or a missing key."""
    entries = load("output/advice.yaml", tuple[dict[str, Any], ...])
    return tuple(Advice(**{key: _tuple(value) for key, value in entry.items()}) for entry in entries)


def _tuple(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def advice_for(view: View, kind: Kind) -> tuple[Advice, ...]:
    """The entries of one kind that belong to the work on this order."""
    tags = tags_of(view)
    return tuple(
        entry
        for entry in all_advice()
        if entry.kind == kind
        and any(tag in tags for tag in entry.when)
        and not any(tag in tags for tag in entry.unless)
        and tags.issuperset(entry.only_with)
    )


@lru_cache(maxsize=1)  # one order asks for every kind of advice in turn
def tags_of(view: View) -> frozenset[str]:
    """The tags of a plan: what work is on it, with what, on which trees."""
    return frozenset(_tags(view))


def _tags(view: View) -> Iterator[str]:
    yield "always"
    jobs = view.plan.schedule.jobs
    for job in jobs:
        yield f"work:{job.work}"
        yield from (f"tool:{kind}" for kind in job.equipment)
    worked = {
        tree for tree, found in view.jobs_of.items() if any(job.work not in ("inspect", "look again") for job in found)
    }
    for tree in view.trees.values():
        if tree.id in worked:
            yield from _tree_tags(view, tree)
        if tree.attacked == "never" and tree.id in view.felled:
            yield "green-felling"
    yield from _way_tags(view)
    yield from (f"have:{entry.kind}" for entry in view.plan.inventory.equipment)
    if any(f"tool:{kind}" in _tools(view) for kind in ("winch", "tractor", "skid-steer", "loader")) and any(
        job.work == "fell" for job in jobs
    ):
        yield "machine-and-felling"


def _tools(view: View) -> frozenset[str]:
    return frozenset(f"tool:{kind}" for job in view.plan.schedule.jobs for kind in job.equipment)


def _tree_tags(view: View, tree: Tree) -> Iterator[str]:
    yield f"status:{tree.status}"
    yield from (f"hazard:{hazard}" for hazard in tree.hazards)
    felling = view.plan.fellings.get(tree.id)
    if felling is not None:
        yield f"felling:{felling.who.replace(' ', '-')}"
        yield from (f"caution:{code}" for code in felling.cautions)
        if felling.by == "crew" and felling.how == "fell" and tree.id in view.felled:
            yield "felling:by-crew"
    crown = tree.found.crown if tree.found else None
    if tree.status == "standing" and crown in ("dropping", "bare"):
        yield "dead-standing"


def _way_tags(view: View) -> Iterator[str]:
    for piece in view.plan.schedule.choices:
        way, window = view.way(piece.piece), view.window(piece.piece)
        if way is None:
            continue
        yield f"method:{way.method}"
        brood = view.broods[piece.piece]
        if way.id == "leave" and is_slash(view, view.pieces[piece.piece]):
            yield "slash-left"
        if brood.stage is not None:
            yield f"brood:{brood.stage}"
        if brood.host:
            yield "brood:host"
            yield "green-felling"
        if "burn" in way.id.split("-"):
            yield "burning"
            yield f"permit:{view.plan.inventory.site.burning.permit}"
        if way.method == "bury" or "bury" in way.id.split("-") or "stump-grinder" in way.tools:
            yield "digging"
        if window is not None:
            yield f"bark:{window.bark}"
        if view.pieces[piece.piece].kind == "log" and way.method != "leave":
            yield "log-work"
