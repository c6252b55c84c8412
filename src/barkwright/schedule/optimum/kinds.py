"""Which variants can be best for pieces of one kind at some prices: told from the least and the greatest such piece.

Hours of a step grow with the piece. So where one variant costs no more than another with the same end, whatever hours
between those of the least and the greatest piece each of their steps takes, the other is best for none. A fire of logs
is the exception, for thick logs lie closer in the pile: its hours may be less or more by that.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import fields, replace
from typing import Any

from barkwright.record import dataclass
from barkwright.schedule.lying import down_from
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.columns import Goal, Variant
from barkwright.schedule.optimum.ideal import untreated
from barkwright.schedule.optimum.lines import NOT_PLAIN, Line, line_of, steps_for, worth_of_line
from barkwright.schedule.optimum.prices import NEVER, Prices
from barkwright.schedule.optimum.variants import Variants
from barkwright.stem.pieces import Piece
from barkwright.treatment.shop import shop_of
from barkwright.treatment.ways import Step

UNEVEN = frozenset(("burn",))  # steps whose hours do not grow with every dimension
ANY = (0.0, float("inf"))
DIGITS = 6
ByStep = dict[tuple[int, int], float]  # prices by step and whether it is of the machine's hours
Hours = dict[tuple[int, int], tuple[float, float]]  # least and most, by step and whether it is the machine's


@dataclass(slots=True)
class Hopeful:
    """What can be best for pieces of one kind, in a tree of one kind, between two flights."""

    lines: tuple[Line, ...]
    last: int  # no variant begins later: the tree is down by then [day]; -1 where there is none


class Kinds:
    """The hopeful lines by kind of piece."""

    def __init__(
        self, model: SiteModel, variants: Variants, prices: Sequence[Prices], ideal: bool, margin: float
    ) -> None:
        """margin: share that a variant of other limits may cost more and still be kept; 0: only what may be best is."""
        self.model, self.variants, self.prices, self.ideal, self.margin = model, variants, prices, ideal, margin
        self.ends: dict[Hashable, list[PieceModel]] = {}
        self._keys: dict[str, Hashable] = {}
        for tree in model.trees:
            down = down_from(model, tree, None)
            for piece in tree.pieces:
                key = self._keys[piece.piece.id] = _key(variants, tree, piece, down)
                self._widen(key, piece)
        self._known: dict[Hashable, Hopeful] = {}
        size = shop_of(model.work.inventory).size
        self._packing = max(size["pack-large"] / size["pack-small"], size["pack-small"] / size["pack-large"])

    def ends_of(self, piece: PieceModel) -> list[PieceModel]:
        """The least and the greatest piece of a kind."""
        return self.ends[self._keys[piece.piece.id]]

    def hopeful(self, tree: TreeModel, piece: PieceModel, closes: int | None, opens: int) -> Hopeful:
        """What can be best for a piece."""
        key = self._keys[piece.piece.id]
        known = self._known.get((key, closes, opens))
        if known is None:
            known = self._known[key, closes, opens] = self._found(tree, self.ends[key], closes, opens)
        return known

    def _widen(self, key: Hashable, piece: PieceModel) -> None:
        held = self.ends.get(key)
        self.ends[key] = (
            [piece, piece] if held is None else [_between(held[0], piece, min), _between(held[1], piece, max)]
        )

    def _found(self, tree: TreeModel, ends: Sequence[PieceModel], closes: int | None, opens: int) -> Hopeful:
        made: list[dict[Goal, Variant]] = []
        taken: list[dict[Goal, tuple[Step, ...]]] = []
        for piece in ends:
            made.append(dict(self.variants.by_goal(tree, piece, closes, opens)))
            taken.append({goal: steps_for(self.variants, tree, piece, goal) for goal in made[-1]})
        starts = [chunk.last for one in made for variant in one.values() for chunk in variant.chunks[:1]]
        idle = any(not variant.chunks for one in made for variant in one.values())
        last = self.variants.length - 1 if idle else max(starts, default=-1)
        lines = [
            line_of(self.variants, tree, ends[0], goal, variant, taken[0][goal], self.prices, opens)
            for goal, variant in made[0].items()
            if any(each.variant(variant) < NEVER for each in self.prices)
        ]
        extra = [replace(NOT_PLAIN, goal=goal) for goal in made[1] if goal not in made[0]]
        plain = [line for line in lines if line.plain]
        if self.ideal and len(plain) == len(lines) and not extra:
            plain = self._ideal(tree, ends[0], plain)
        known = not _split(ends[0]) and not _split(ends[1])
        firm = {goal for goal, steps in taken[0].items() if _alike(steps, taken[1].get(goal, ()))}
        hours = _hours(taken[0], taken[1] if known else {}, self._packing)
        plain = self._undominated(plain, taken[0], hours, firm)
        return Hopeful((*plain, *(line for line in lines if not line.plain), *extra), last)

    def _ideal(self, tree: TreeModel, least: PieceModel, lines: Sequence[Line]) -> list[Line]:
        """The lines that are best at the levels before money, for one and so for all pieces."""
        nothing = [untreated(least, self.variants.lying_host(tree, least))]
        vital = self.variants.vital(tree, least)
        best = min([*(worth_of_line(one, least) for one in lines), *([] if vital else nothing)], default=None)
        return [one for one in lines if worth_of_line(one, least) == best]

    def _undominated(
        self, lines: Sequence[Line], steps: dict[Goal, tuple[Step, ...]], hours: Hours, firm: set[Goal]
    ) -> list[Line]:
        """The lines that no other is as cheap as for all pieces, at one set of prices at least.

        firm : goals whose steps are the same for all pieces
        """
        priced = [[_by_step(line, steps[line.goal], number) for number in range(len(self.prices))] for line in lines]
        likely = [[_cost(one, hours, 0) for one in sets] for sets in priced]
        order = sorted(
            range(len(lines)), key=lambda at: (round(sum(likely[at]), DIGITS), -lines[at].width, lines[at].due)
        )
        kept: list[int] = []
        for at in order:
            if not any(self._as_cheap(priced, other, at, lines, hours) for other in kept if lines[other].goal in firm):
                kept.append(at)
        return [lines[at] for at in kept]

    def _as_cheap(
        self, priced: Sequence[Sequence[ByStep]], one: int, other: int, lines: Sequence[Line], hours: Hours
    ) -> bool:
        """May one line begin as late, and is it as cheap for all, by the margin where its hours are of other limits?"""
        if lines[one].start < lines[other].start or not lines[one].ends_as_well(lines[other]):
            return False
        near = 0.0 if lines[one].limits == lines[other].limits else self.margin
        return all(
            _more(mine, theirs, hours) <= -near * _cost(mine, hours, 1)
            for mine, theirs in zip(priced[one], priced[other], strict=True)
        )


def _by_step(line: Line, steps: Sequence[Step], number: int) -> ByStep:
    """Prices of hours by step and whether it is the machine's."""
    found: ByStep = {}
    for step, (hand, machine) in zip(steps, line.prices[number], strict=True):
        for kind, price in enumerate((hand, machine)):
            if price > 0.0:
                found[id(step), kind] = found.get((id(step), kind), 0.0) + price
    return found


def _hours(low: dict[Goal, tuple[Step, ...]], high: dict[Goal, tuple[Step, ...]], packing: float) -> Hours:
    """Least and most hours by step of the least piece; any where the greatest piece is done in other steps."""
    found: Hours = {}
    for goal, steps in low.items():
        others = high.get(goal, ())
        alike = _alike(steps, others)
        for number, step in enumerate(steps):
            if not alike:
                found[id(step), 0] = found[id(step), 1] = ANY
            elif (id(step), 0) not in found:
                other, wide = others[number], packing if step.do in UNEVEN else 1.0
                found[id(step), 0] = (step.person_hours.mean / wide, other.person_hours.mean * wide)
                found[id(step), 1] = (step.machine_hours.mean / wide, other.machine_hours.mean * wide)
    return found


def _alike(steps: Sequence[Step], others: Sequence[Step]) -> bool:
    return [(one.do, one.people) for one in steps] == [(one.do, one.people) for one in others]


def _cost(prices: ByStep, hours: Hours, end: int) -> float:
    return sum(price * hours[key][end] for key, price in prices.items() if hours[key] is not ANY)


def _more(one: ByStep, other: ByStep, hours: Hours) -> float:
    """What one costs more than the other at most, for any piece."""
    total = 0.0
    for key in one.keys() | other.keys():
        each = one.get(key, 0.0) - other.get(key, 0.0)
        if each:
            total += each * hours[key][each > 0.0]
    return total


def _key(variants: Variants, tree: TreeModel, piece: PieceModel, down: object) -> Hashable:
    wood, own = tree.work.tree, piece.piece
    cut = tuple((one.equipment, one.short_butt_ft > 0.0, one.short_butt_ft < own.length_ft) for one in own.cut_points)
    return (
        *(piece.kind, tree.standing, tree.hazard, tree.opens, piece.onset, piece.half, piece.brooding),
        piece.brood.adults_from,
        *(piece.at_stake, down, wood.felled_on or wood.down_since, cut, variants.fit(own.butt_dob_in)),
    )


def _split(piece: PieceModel) -> bool:
    """Does a machine take a part of the piece alone? Then more of one part is less of another."""
    return any(0.0 < one.short_butt_ft < piece.piece.length_ft for one in piece.piece.cut_points)


def _between(held: PieceModel, piece: PieceModel, pick: Callable[[float, float], float]) -> PieceModel:
    """A piece that is at most, or at least, as large as both in every dimension."""
    sizes: dict[str, Any] = {one: pick(getattr(held.piece, one), getattr(piece.piece, one)) for one in SIZES}
    return replace(
        held,
        piece=replace(held.piece, **sizes),
        infested_ft2=pick(held.infested_ft2, piece.infested_ft2),
        host_ft2=pick(held.host_ft2, piece.host_ft2),
    )


SIZES = tuple(one.name for one in fields(Piece) if one.type == "float")
