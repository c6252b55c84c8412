"""A course with the tools that it misses: what it would take if they were there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from barkwright.costs.prices import Prices
from barkwright.inventory.model import Equipment, Kind
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.study.courses import Course, course_of
from barkwright.study.efforts import CHANGES
from barkwright.study.taken import Wood, by_course
from barkwright.treatment.bench import Bench
from barkwright.treatment.limits import LIMITS
from barkwright.treatment.offers import HAND_TOOLS, MACHINES
from barkwright.treatment.rulebook import templates


def with_tools(work: SiteWork, course: Course, woods: Sequence[Wood], scope: Sequence[TreeWork]) -> SiteWork | None:
    """The scope with the tools that a course misses, machines at their published rate; None: none is missing.

    Of several ways the first says which tools; a chipper comes as large as the wood asks, up to the largest there is.
    """
    there = {one.kind for one in work.inventory.equipment}
    kinds = {wood.piece.kind for wood in woods}
    known = [one for one in templates().values() if course_of()[one.id] is course and kinds.intersection(one.pieces)]
    tools = [kind for kind in known[0].tools if kind not in there] if known else []
    if "chipper" in (known[0].tools if known else ()) and "chipper" in there and _larger(work, woods):
        tools.append("chipper")
    if not tools:
        return None
    equipment = (*work.inventory.equipment, *(_tool(kind, woods) for kind in tools))
    inventory = work.inventory.model_copy(update={"equipment": equipment})
    bench = Bench(inventory, work.season, work.on, work.bench.horizon, work.bench.book)
    return replace(work, inventory=inventory, bench=bench, prices=Prices(inventory), trees=tuple(scope))


def _larger(work: SiteWork, woods: Sequence[Wood]) -> bool:
    """Is there a larger chipper to be had than the one that is listed, and wood that asks for it?"""
    held = work.bench.chipper
    most = CHANGES["largest_chipper"] * LIMITS["chipper_working_share"]
    return held is not None and held.working_in < min(most, thickest_in(woods))


def thickest_in(woods: Sequence[Wood]) -> float:
    """The thick end of the thickest log [in]; 0 without logs."""
    return max((wood.piece.butt_dob_in for wood in woods if wood.piece.kind == "log"), default=0.0)


def _tool(kind: str, woods: Sequence[Wood]) -> Equipment:
    named: Kind = kind  # type: ignore[assignment]
    if kind == "chipper":
        size = min(ceil(thickest_in(woods) / LIMITS["chipper_working_share"]), int(CHANGES["largest_chipper"]))
        return Equipment(kind="chipper", capacity=float(size) or None, feed="winch")
    return Equipment(kind=named, owned=kind in HAND_TOOLS or kind == "chain-saw", with_operator=kind in MACHINES)


def again(work: SiteWork, course: Course, woods: Sequence[Wood]) -> tuple[Wood, ...]:
    """The same pieces with the ways of a course on another bench."""
    only = frozenset(way for way, owner in course_of().items() if owner is course)
    return tuple(
        replace(one, ways=by_course(work, work.bench.ways(one.tree.tree, one.piece, one.brood, True, only)))
        for one in woods
    )
