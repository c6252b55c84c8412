"""What a way takes: its steps with their hours, hands and machines, in the order they are done."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Tree
from barkwright.spread import NOTHING, Spread
from barkwright.stem.pieces import Piece
from barkwright.treatment.bench import Bench
from barkwright.treatment.disposal import AFTERWORK
from barkwright.treatment.facts import cure_days, dry_from
from barkwright.treatment.labour import WOODWORK, Effort, Job
from barkwright.treatment.parts import part_of
from barkwright.treatment.shop import shop_of
from barkwright.treatment.ways import Step, TemplateStep, Way, Window

LABOUR: Mapping[str, Callable[[Job], Effort | None]] = MappingProxyType({**WOODWORK, **AFTERWORK})
"""Hours of every word of the ways' vocabulary (`do` in data/treatment/ways.yaml)."""

END_OF_TIME = date(9999, 12, 31)


def steps_of(bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood, way: Way, window: Window) -> tuple[Step, ...]:
    """The steps of a way for a piece, in one of the way's windows, in order.

    Hours are on-site hours of all hands together: rests, walking and waiting for each other are in them. A step that
    has nothing to do here (a piece shorter than the lengths it would be cut to) is left out.
    """
    shop = shop_of(bench.inventory)
    end = bench.destination(way.id)
    whole = part_of(piece, "whole", None)
    cured = False
    steps: list[Step] = []
    for one in bench.template(way.id).steps:
        cured = cured or one.wait == "cure"
        part = whole if one.part in ("whole", "bark") else part_of(piece, one.part, bench.chipper)
        effort = LABOUR[one.do](Job(shop, piece, part, one.tool, window.bark, cured, end))
        if effort is not None:
            steps.append(_step(bench, tree, piece, one, window.bark, effort))
    return tuple(steps)


def _step(bench: Bench, tree: Tree, piece: Piece, one: TemplateStep, bark: str, effort: Effort) -> Step:
    low, likely, high = effort.elapsed
    people = effort.people
    return Step(
        work=one.work,
        what=effort.what,
        person_hours=Spread(low * people, likely * people, high * people),
        people=people,
        equipment=effort.equipment,
        machine_hours=Spread(low, likely, high) if effort.equipment else NOTHING,
        skills=effort.skills,
        wait_days=_wait_days(tree, piece, one, bench.on),
        spans=_spans(bench, one, bark),
        completes=one.completes,
    )


def _wait_days(tree: Tree, piece: Piece, one: TemplateStep, on: date) -> int:
    """Days of curing still to come after piling: wood that has lain since it was felled has part of them behind it."""
    if one.wait != "cure":
        return 0
    down = tree.felled_on or tree.down_since
    lain = (on - down).days if down is not None else 0
    return max(0, cure_days(piece) - max(0, lain))


def _spans(bench: Bench, one: TemplateStep, bark: str) -> tuple[tuple[date, date], ...] | None:
    if one.wait == "dry" and bark != "dried":
        return ((dry_from(bench.on), END_OF_TIME),)
    if one.in_windows and bench.inventory.site.burning.windows:
        return tuple((span.first, span.last) for span in bench.inventory.site.burning.windows)
    return None
