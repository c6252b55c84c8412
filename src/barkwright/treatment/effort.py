"""What a way takes: its steps with their hours, hands and machines, in the order they are done."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import cache
from types import MappingProxyType

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Tree
from barkwright.spread import NOTHING, Spread
from barkwright.stem.pieces import Piece
from barkwright.treatment.bench import Bench
from barkwright.treatment.disposal import AFTERWORK
from barkwright.treatment.labour import WOODWORK, Effort, Job
from barkwright.treatment.limits import cure_days
from barkwright.treatment.parts import part_of
from barkwright.treatment.rulebook import templates
from barkwright.treatment.shop import shop_of
from barkwright.treatment.ways import Step, TemplateStep, Way, Window

LABOUR: Mapping[str, Callable[[Job], Effort | None]] = MappingProxyType({**WOODWORK, **AFTERWORK})
"""Hours of every word of the ways' vocabulary (`do` in data/treatment/ways.yaml)."""

END_OF_TIME = date(9999, 12, 31)
BY_BARK = frozenset(("peel", "peel-stump", "score", "stove"))  # steps that the condition of the bark decides
BY_END = frozenset(("load-haul", "haul-bark"))  # steps that the destination decides


class _Pad:
    """The steps of the piece last asked about: its ways share most of them, so each is figured once."""

    def __init__(self, bench: Bench, piece: Piece) -> None:
        self.bench = bench
        self.piece = piece
        self.steps: dict[tuple[int, str], Step | None] = {}


_last: list[_Pad] = []


@cache
def _recipe(template: str) -> tuple[tuple[TemplateStep, int, bool, bool, bool], ...]:
    """The steps of a template: each with its number among all unlike steps, and whether its wood waited to cure before.

    The last two: does the bark's condition decide it, does the destination?
    """
    found = []
    cured = False
    for one in templates()[template].steps:
        cured = cured or one.wait == "cure"
        dries = _dries(template, one)
        number = _numbers.setdefault((one, cured, dries), len(_numbers))
        found.append((one, number, cured, dries or one.do in BY_BARK, one.do in BY_END))
    return tuple(found)


_numbers: dict[tuple[TemplateStep, bool, bool], int] = {}


def steps_of(bench: Bench, tree: Tree, piece: Piece, brood: PieceBrood, way: Way, window: Window) -> tuple[Step, ...]:
    """The steps of a way for a piece, in one of the way's windows, in order.

    Hours are on-site hours of all hands together: rests, walking and waiting for each other are in them. A step that
    has nothing to do here (a piece shorter than the lengths it would be cut to), or that is done already, is left out.
    """
    if not _last or _last[0].piece is not piece or _last[0].bench is not bench:
        _last[:] = [_Pad(bench, piece)]
    known = _last[0].steps
    found: list[Step] = []
    begun = bench.begun.get(piece.id)
    for one, number, cured, by_bark, by_end in _recipe(bench.template(way.id).id):
        if begun is not None and one.do in begun.done:
            continue
        key = (number, window.bark if by_bark else way.id if by_end else "")
        try:
            step = known[key]
        except KeyError:
            step = known[key] = _step(bench, tree, piece, one, way, window.bark, cured)
        if step is not None:
            found.append(step)
    return tuple(found)


def _step(bench: Bench, tree: Tree, piece: Piece, one: TemplateStep, way: Way, bark: str, cured: bool) -> Step | None:
    part = part_of(piece, one.part, bench.chipper)
    shop = shop_of(bench.inventory)
    effort = LABOUR[one.do](Job(shop, piece, part, one.tool, bark, cured, bench.destination(way.id)))
    if effort is None:
        return None
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
        spans=_spans(bench, one, bark, _dries(bench.template(way.id).id, one)),
        completes=one.completes,
        do=one.do,
    )


def _wait_days(tree: Tree, piece: Piece, one: TemplateStep, on: date) -> int:
    """Days of curing still to come after piling: wood that has lain since it was felled has part of them behind it."""
    if one.wait != "cure":
        return 0
    down = tree.felled_on or tree.down_since
    lain = (on - down).days if down is not None else 0
    return max(0, cure_days(piece) - max(0, lain))


def _dries(template: str, one: TemplateStep) -> bool:
    """Is this the step after which the wood dries for a later one?"""
    return one.do == "split" and any(later.wait == "dry" for later in templates()[template].steps)


def _spans(bench: Bench, one: TemplateStep, bark: str, dries: bool) -> tuple[tuple[date, date], ...] | None:
    if (one.wait == "dry" or dries) and bark != "dried":
        split, burn = bench.drying.stove_split or (bench.on, END_OF_TIME)
        return ((bench.on, split),) if dries else ((burn, END_OF_TIME),)
    if one.in_windows and bench.inventory.site.burning.windows:
        return tuple((span.first, span.last) for span in bench.inventory.site.burning.windows)
    return None
