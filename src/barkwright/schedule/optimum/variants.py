"""Variants: an option with the goal it is taken for, as a column of the period model: hours between days, and levels.

Every number here is exact for the one piece or tree. What joins pieces (waits between jobs of a group, days without
fire inside a burning season, the one day for which bark may lie) is left out: what is built from this is a relaxation.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barkwright.schedule.bark import DESTROYS, PEELS, destroyed_by
from barkwright.schedule.levels import removal_asked
from barkwright.schedule.lying import clear_by, down_from
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.columns import Chunk, Goal, Hands, PieceColumns, SeasonColumns, Variant, undominated
from barkwright.schedule.options import Option
from barkwright.schedule.recipe import LOCATE, Pick, base_tasks, completing
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import CHIPS, STOVE, uses
from barkwright.treatment.ways import Step, Way


class Variants:
    """Makes the variants of a site's trees."""

    def __init__(self, model: SiteModel, partial_price: float, late_price: float) -> None:
        self.model = model
        self.partial_price, self.late_price = partial_price, late_price
        self.length = model.days.length
        self.prefer = frozenset(model.work.inventory.wishes.prefer)
        self.steps = model.steps
        crews = model.days.crews
        self.working = [any(crew.hours[day] > 0.0 for crew in crews) for day in range(self.length)]
        self._lies: dict[int, int] = {}
        self._fit: dict[tuple[object, ...], tuple[int, ...]] = {}
        self._hand: dict[tuple[object, ...], Hands | None] = {}
        self._there: dict[tuple[str, float, float], tuple[int, ...]] = {}

    def seasons(self, tree: TreeModel) -> tuple[SeasonColumns, ...]:
        """The spans between flights in which a tree may be taken, each with the variants of its pieces."""
        if tree.standing and tree.work.felling.who == "not needed":
            return ()
        found: list[SeasonColumns] = []
        for closes, opens in self.spans(tree):
            pieces: list[PieceColumns] = []
            for piece in tree.pieces:
                variants = tuple(undominated(one for _, one in self.by_goal(tree, piece, closes, opens)))
                vital = self.vital(tree, piece)
                if vital and not variants:
                    break
                pieces.append(PieceColumns(piece, vital, variants, self.lying_host(tree, piece)))
            else:
                last = (
                    min(
                        (max((one.last for v in p.variants for one in v.chunks[:1]), default=self.length - 1))
                        for p in pieces
                        if p.vital
                    )
                    if any(p.vital for p in pieces)
                    else self.length - 1
                )
                chunks = self.base(tree, opens, last)
                if chunks is not None:
                    found.append(SeasonColumns(closes, opens, chunks, self.removal(tree), tuple(pieces)))
        return tuple(found)

    def spans(self, tree: TreeModel) -> list[tuple[int | None, int]]:
        """The last day and the first of each time between flights in which a tree may be taken.

        None after its brood has flown, where nobody asked for its removal and its wood is worth nothing.
        """
        if not tree.standing:
            down = down_from(self.model, tree, None)
            dates = [clear_by(self.model, down, piece) for piece in tree.pieces]
            return [(min((self.model.days.index(one) for one in dates if one is not None), default=None), 0)]
        onsets = [onset - 1 for onset, _ in self.model.flights]
        opens = [0, *(end + 1 for _, end in self.model.flights)]
        every = zip([*onsets, self.length], opens, strict=True)
        if self.model.work.valued or removal_asked(tree):
            return list(every)
        flying = [piece.half for piece in tree.pieces if piece.brooding and piece.half is not None]
        return [(closes, first) for closes, first in every if first <= max(flying, default=0)]

    def removal(self, tree: TreeModel) -> float:
        """What a professional asks for a tree [currency]."""
        removal = tree.work.tree.removal
        outside = tree.work.felling.by != "crew" and any(step.work == "fell" for step in tree.work.felling.steps)
        return float(removal.price) if removal is not None and removal.price is not None and outside else 0.0

    def lying_host(self, tree: TreeModel, piece: PieceModel) -> float:
        """Green bark of a piece that lies when nothing is done to it though its tree is worked on [ft2]."""
        lain = 0.0 if tree.standing else self._lain(tree, piece, None)
        return max(piece.host_ft2, lain)

    def _lain(self, tree: TreeModel, piece: PieceModel, day: int | None) -> float:
        """Bark that lies through a flight before its own when it is done only on `day` [ft2]."""
        clear = clear_by(self.model, down_from(self.model, tree, None), piece)
        if clear is None or (day is not None and day <= self.model.days.index(clear)):
            return 0.0
        return piece.piece.bark_ft2

    def by_goal(
        self, tree: TreeModel, piece: PieceModel, closes: int | None, opens: int
    ) -> Iterator[tuple[Goal, Variant]]:
        """Every variant of a piece with its goal, also those that others are as good as."""
        for option in self.model.options(tree, piece):
            for goal in self._goals(tree, piece, option, closes):
                variant = self.variant(tree, piece, goal, opens)
                if variant is not None:
                    yield goal, variant

    def vital(self, tree: TreeModel, piece: PieceModel) -> bool:
        """Is the tree not felled without a variant of this piece?"""
        return tree.standing and piece.piece.kind == "log" and piece.at_stake and not tree.hazard

    def _goals(self, tree: TreeModel, piece: PieceModel, option: Option, closes: int | None) -> Iterator[Goal]:
        """Picks with the day by which they must be done; is it after finish-by, and after the onset?"""
        if not piece.at_stake or piece.onset is None or piece.half is None:
            yield Pick(option, None, 0), False, False
            return
        whole = tree.standing and piece.piece.kind == "log" and piece.brooding and not tree.hazard
        soft = not tree.standing or tree.hazard
        own = piece.onset - 1
        clear = own if closes is None else min(own, closes)
        rest = piece.piece.kind != "log" and piece.brooding  # it may be left, so late is better
        half = piece.half if soft or rest or closes is None else min(piece.half, closes)
        if not soft and not piece.brooding:
            half = clear
        more = 4 if option.against_wish else 0
        ends = [clear, own] if soft and clear < own else [clear]
        if option.end == "done":
            finish = piece.ways[option.position].finish_by
            by = None if finish is None else self.model.days.index(finish)
            for number, end in enumerate(ends):
                tardy = by is not None and by < end
                if tardy:
                    yield Pick(option, by, more + 2 * number), False, False
                yield Pick(option, end, more + 2 * number + tardy), tardy, False
            if not whole and half > ends[-1]:
                yield Pick(option, half, 9), True, True
        elif not whole:
            yield Pick(option, ends[-1] if soft else clear, 8), False, False
            if half > ends[-1]:
                yield Pick(option, half, 10), True, True

    def variant(self, tree: TreeModel, piece: PieceModel, goal: Goal, opens: int) -> Variant | None:
        """A piece's variant for a goal; None when some step finds no day or no hands."""
        pick, late, flown = goal
        option = pick.option
        if pick.due is not None and option.first > pick.due:
            return None
        steps = self.steps(tree, piece, option.position, option.window)
        chunks = self._chunks(tree, piece, pick, steps, opens)
        if chunks is None:
            return None
        share = SETTINGS["partial_share"]
        kept = 0.0 if option.end == "done" else share
        left = 1.0 if flown else kept
        way = piece.ways[option.position]
        drawn = uses(way)
        hauls = self.model.work.bench.destination(way.id)
        yields = self.model.work.yields(tree.work.tree, piece.piece, way) if drawn or hauls is not None else None
        clear = piece.host_ft2 * left
        if not tree.standing and piece.brooding:
            clear = self._lain(tree, piece, pick.due) or (kept * self._lain(tree, piece, None))
        return Variant(
            pick,
            left * piece.infested_ft2,
            (1.0 - (1.0 - kept) * (1.0 - share) if flown else kept) * piece.infested_ft2,
            int(option.against_wish and piece.at_stake),
            clear,
            int(bool(self.prefer) and piece.at_stake and option.method not in self.prefer),
            piece.infested_ft2 if late else 0.0,
            -self.model.work.worth(tree.work.tree, piece.piece, way)
            + (self.partial_price * piece.infested_ft2 if option.end == "partial" and piece.at_stake else 0.0)
            + (self.late_price * piece.infested_ft2 if late else 0.0),
            chunks,
            yields.chips_yd3 if yields is not None and CHIPS in drawn else 0.0,
            yields.cords if yields is not None and STOVE in drawn else 0.0,
            (hauls, _hauler(way), yields.haul_lb)
            if yields is not None and hauls is not None and hauls.fee_per_load
            else None,
        )

    def spans_of(
        self, tree: TreeModel, piece: PieceModel, pick: Pick, steps: Sequence[Step], opens: int
    ) -> list[tuple[int, int]] | None:
        """The first and the last day on which each step may be done; None when one has no day."""
        option, done = pick.option, completing(steps)
        waits = any(step.wait_days > 0 or step.spans is not None for step in steps[: done + 1])
        gate = max(tree.opens, opens, self.model.marked if LOCATE in option.needs else 0, 0)
        firsts: list[int] = []
        for number, step in enumerate(steps):
            first = gate if number == 0 else max(gate, firsts[-1] + step.wait_days)
            if number >= done or not waits:
                first = max(first, option.first)
            if step.spans is not None:
                ends = [self.model.days.index(end) for _, end in step.spans]
                starts = [self.model.days.index(start) for start, _ in step.spans]
                first = min(
                    (max(first, s) for s, e in zip(starts, ends, strict=True) if e >= first), default=self.length
                )
            firsts.append(first)
            if step.do in DESTROYS and piece.brooding and piece.brood.adults_from is not None:
                self._strip_late(steps, firsts, self.model.days.index(piece.brood.adults_from))
        last, found = self.length - 1, []
        for number in range(len(steps) - 1, -1, -1):
            step = steps[number]
            if number <= done:
                last = min(last, option.last, last if pick.due is None else pick.due)
            if step.spans is not None:
                last = min(last, max(self.model.days.index(end) for _, end in step.spans))
            if firsts[number] > last:
                return None
            found.append((firsts[number], last))
            last -= step.wait_days
        return found[::-1]

    def _strip_late(self, steps: Sequence[Step], firsts: list[int], adults: int) -> None:
        """Strip bark with grown beetles no sooner than it may lie until the first day on which it can be destroyed."""
        peel = next((at for at, step in enumerate(steps[: len(firsts)]) if step.do in PEELS), None)
        if peel is None:
            return
        day = firsts[peel]
        while day < min(firsts[-1], self.length - 1) and day >= adults and self._kept(day) < firsts[-1]:
            day += 1
        firsts[peel:] = [max(day, first) for first in firsts[peel:]]

    def _kept(self, day: int) -> int:
        """The last day on which bark that is stripped on a day may be destroyed."""
        if day not in self._lies:
            self._lies[day] = destroyed_by(self.model.warm, self.working, day)
        return self._lies[day]

    def _chunks(
        self, tree: TreeModel, piece: PieceModel, pick: Pick, steps: Sequence[Step], opens: int
    ) -> tuple[Chunk, ...] | None:
        """Hours of each step between the first and the last day on which it may be done; None when one has no day."""
        spans = self.spans_of(tree, piece, pick, steps, opens)
        if spans is None:
            return None
        found: list[Chunk] = []
        for step, (first, last) in zip(steps, spans, strict=True):
            need = step.person_hours.mean
            if need > 0.0 or step.machine_hours.mean > 0.0:
                hands = self.hands(step, piece.piece.butt_dob_in)
                if hands is None:
                    return None
                found.append(Chunk(hands, first, last, need, step.machine_hours.mean))
        return tuple(found)

    def fit(self, thickest: float) -> tuple[bool, ...]:
        """Which machines take wood that thick."""
        return tuple(machine.takes(thickest, 0.0) for machine in self.model.machines)

    def hands(self, step: Step, thickest: float) -> Hands | None:
        """Who may do a step, and with which machines; None where nobody may."""
        key = (step.people, step.skills, step.equipment, thickest if step.equipment else 0.0)
        if key not in self._hand:
            crews = self._crews(step.people, frozenset(step.skills), ())
            machines = tuple(self._machines(kind, thickest, 0.0) for kind in step.equipment)
            self._hand[key] = (crews, step.people, machines) if crews and all(machines) else None
        return self._hand[key]

    def _crews(self, people: int, skills: frozenset[str], names: tuple[str, ...]) -> tuple[int, ...]:
        key = (people, skills, names)
        if key not in self._fit:
            self._fit[key] = tuple(
                place
                for place, crew in enumerate(self.model.days.crews)
                if crew.people >= people and skills <= crew.skills and (not names or crew.name in names)
            )
        return self._fit[key]

    def _machines(self, kind: str, thickest: float, height: float) -> tuple[int, ...]:
        key = (kind, thickest, height)
        if key not in self._there:
            self._there[key] = tuple(m.place for m in self.model.machines if m.kind == kind and m.takes(*key[1:]))
        return self._there[key]

    def base(self, tree: TreeModel, opens: int, last: int) -> tuple[Chunk, ...] | None:
        """Hours of looking, calling, felling, limbing and bucking; None when one has no day or no hands."""
        found: list[Chunk] = []
        at = 0
        for task in base_tasks(self.model, tree, opens):
            at = max(at + (task.wait if task.preds else 0), task.first, 0)
            if at > min(last, task.last):
                return None
            if task.outside is not None or task.need <= 0.0:
                continue
            crews = self._crews(task.people, task.skills, task.crews)
            machines = tuple(self._machines(kind, task.thickest_in, task.height_ft) for kind in task.equipment)
            if not crews or not all(machines):
                return None
            found.append(Chunk((crews, task.people, machines), at, last, task.need, task.machine_need))
        return tuple(found)


def _hauler(way: Way) -> str:
    return next(tool for tool in ("truck", "trailer", "chip-truck") if tool in way.tools)
