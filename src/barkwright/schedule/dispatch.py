"""Dispatch: trees one after the other, worst first; each is written into the book whole, or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from barkwright.schedule.bark import destroyed_by
from barkwright.schedule.book import NEARLY, Book, Placed, Stint
from barkwright.schedule.gather import gathered
from barkwright.schedule.guide import Guide
from barkwright.schedule.lying import clear_by, down_from
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.options import Option, Taste, ranked
from barkwright.schedule.recipe import Pick, base_tasks, question_of, shape, way_tasks
from barkwright.schedule.serial import Row, earliest_place, in_order, start_after
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import BANS, Tally, TreePlan, uses
from barkwright.schedule.tasks import Task


class Dispatcher:
    """Writes trees into a book, with the machines and the taste of one scenario."""

    def __init__(
        self,
        model: SiteModel,
        book: Book,
        taste: Taste,
        cap: int | None,
        thrifty: bool,
        guide: Guide | None = None,
    ) -> None:
        self.model = model
        self.book = book
        self.taste = taste
        self.cap = cap
        self.thrifty = thrifty
        self.guide = guide
        self.kinds = frozenset(book.by_kind)
        self.tally = Tally(model)
        self.working = [hours > 0.0 for hours in book.longest]
        self.banned: frozenset[str] = frozenset()
        self.strict = True  # is a green tree felled only if its wood is dealt with before beetles fly?
        large = len(model.trees) >= SETTINGS["patience_from"]
        self.patience = SETTINGS["patience"] if large else float("inf")
        self.most, self.rounds = int(SETTINGS["options_tried"]), int(SETTINGS["tree_rounds"])
        self._failures: dict[tuple[str, int, int | None], int] = {}
        self._ranked: dict[int, tuple[Option, ...]] = {}
        self._picks: dict[tuple[object, ...], list[Pick]] = {}

    def begin_again(self) -> None:
        """From now on machines may be had on all days, and ways that found no place may find one."""
        self.book.release()
        self._failures.clear()

    def insert(self, tree: TreeModel) -> TreePlan | None:
        """Write a whole tree into the book; None, and nothing written, when it cannot be finished in time.

        Wood of a tree that is felled lies as fresh host wood in the next flight, whichever flight its own brood waits
        for: so it is all done before that flight, or the tree is felled after it.
        """
        mark = self.book.mark()
        felled = tree.standing and tree.work.felling.who != "not needed"
        if tree.standing and not felled:
            plan = TreePlan(tree, base_tasks(self.model, tree))
            return plan if self.place_all(plan) else TreePlan(tree)
        green = tree.standing and any(piece.host_ft2 > 0.0 for piece in tree.pieces)
        for self.strict in (True, False) if green and tree.hazard else (True,):
            for closes, opens in self._seasons(tree, felled):
                for self.banned in BANS:
                    plan = TreePlan(tree, base_tasks(self.model, tree, opens))
                    if self.place_all(plan) and self._treat(plan, closes) and self.tally.takes(plan):
                        self.tally.add(plan)
                        hold(plan)
                        return plan
                    self.book.undo(mark)
                    if not self.tally.limited:
                        break
        return None

    def look(self, tree: TreeModel) -> TreePlan | None:
        """Only the look under the bark, of a tree that finds no place: with larvae only it has a year more."""
        plan = TreePlan(tree, [task for task in base_tasks(self.model, tree) if task.work == "inspect"])
        return plan if plan.tasks and self.place_all(plan) else None

    def _seasons(self, tree: TreeModel, felled: bool) -> list[tuple[int | None, int]]:
        """Spans between flights in which a tree may be felled and done: the last day, and the first."""
        if not felled:
            down = down_from(self.model, tree, None)
            dates = {clear_by(self.model, down, piece) for piece in tree.pieces} - {None}
            return [(min((self.model.days.index(one) for one in dates if one is not None), default=None), 0)]
        onsets = [onset - 1 for onset, _ in self.model.flights]
        opens = [0, *(end + 1 for _, end in self.model.flights)]
        seasons: list[tuple[int | None, int]] = list(zip([*onsets, self.model.days.length], opens, strict=True))
        return seasons if self.guide is None else self.guide.seasons_of(tree.id, seasons)

    def candidates(self, tree: TreeModel, piece: PieceModel, closes: int | None = None) -> list[Pick]:
        """The ways that may be tried for a piece, with the goal that each is tried for, best first."""
        self.book.looked += 1
        whole = tree.standing and piece.piece.kind == "log" and piece.brooding  # partial work on it is not enough
        soft = not tree.standing or (tree.hazard and (piece.brooding or not self.strict))  # late rather than not at all
        key = (piece.kind, closes, self.banned, piece.onset, piece.half, piece.at_stake, whole, soft)
        known = self._picks.get(key)
        if known is None:
            known = self._picks[key] = self._goals(tree, piece, closes, whole, soft)
        return known if self.guide is None else self.guide.picks_of(piece.piece.id, known)

    def _goals(self, tree: TreeModel, piece: PieceModel, closes: int | None, whole: bool, soft: bool) -> list[Pick]:
        options = self._ranked.get(piece.kind)
        if options is None:
            options = self._ranked[piece.kind] = ranked(self.model.options(tree, piece), self.taste, self.kinds)
        if self.banned:
            options = tuple(option for option in options if uses(piece.ways[option.position]).isdisjoint(self.banned))
        if not piece.at_stake or piece.onset is None or piece.half is None:
            return [Pick(option, None, 0) for option in options[: self.most]]
        done = [option for option in options if option.end == "done"]
        liked = [option for option in done if not option.against_wish]
        avoided = [option for option in done if option.against_wish]
        own, clear = self._capped(piece.onset - 1, None), self._capped(piece.onset - 1, closes)
        rest = soft or (piece.piece.kind != "log" and piece.brooding)  # it may be left, so late is better
        onset, half = own if soft else clear, self._capped(piece.half, None if rest else closes)
        if not soft and not piece.brooding:
            half = onset  # green wood is dealt with before beetles fly, or its tree stands
        goals = [(0, clear), (2, own)] if soft and clear < own else [(0, clear)]
        picks: list[Pick] = []
        for level, group in ((0, liked), (4, avoided)):
            for more, last in goals:
                picks += [Pick(o, self._finish(piece, o, last), level + more) for o in group[: self.most]]
                picks += [Pick(option, last, level + more + 1) for option in group[: self.most]]
        if not whole:
            partial = [option for option in options if option.end == "partial"]
            picks += [Pick(option, onset, 8) for option in partial[: self.most]]
            picks += [Pick(option, half, 9) for option in done[: self.most]]
            picks += [Pick(option, half, 10) for option in partial[: self.most]]
        return [pick for pick in picks if pick.due is None or pick.option.first <= pick.due]

    def _finish(self, piece: PieceModel, option: Option, onset: int) -> int:
        finish = piece.ways[option.position].finish_by
        return onset if finish is None else min(onset, self.model.days.index(finish))

    def _capped(self, due: int, closes: int | None) -> int:
        return min(day for day in (due, closes, self.cap) if day is not None)

    def _treat(self, plan: TreePlan, closes: int | None) -> bool:
        """Find ways for the pieces; False when a log with brood of a tree to be felled finds none."""
        tree = plan.tree
        after = (len(plan.tasks) - 1,) if plan.tasks else ()
        ready = max((placed.last for placed in plan.placed), default=tree.opens)
        waiting = {p.piece.id: self.hopeful(self.candidates(tree, p, closes), ready) for p in tree.pieces}
        if self.taste.switch > 0:
            gathered(waiting, self.taste)
        pieces = [p for p in tree.pieces if waiting[p.piece.id]]
        if any(self.vital(tree, p) and not waiting[p.piece.id] for p in tree.pieces):
            return False
        at = dict.fromkeys(waiting, 0)
        alone = set[str]() if self.guide is None else set(self.guide.apart)
        start, mark = len(plan.tasks), self.book.mark()
        for _ in range(self.rounds):
            groups = self.groups(tree, pieces, waiting, at, alone)
            failed = next(([piece for piece, _ in g] for g in groups if not self._add(plan, g, after)), None)
            if failed is None:
                for group in groups:
                    option = group[0][1].option
                    self._failures.pop((option.way, option.first, group[0][1].due), None)
                plan.picks = {piece.piece.id: pick for group in groups for piece, pick in group}
                return True
            self.book.undo(mark)
            del plan.tasks[start:], plan.placed[start:]
            if self.guide is not None and len(failed) > 1:  # one by one before anything else is tried
                alone.update(piece.piece.id for piece in failed)
                continue
            for piece in failed:
                self.failed(waiting[piece.piece.id][at[piece.piece.id]])
                at[piece.piece.id] += 1
            spent = [p for p in failed if at[p.piece.id] >= len(waiting[p.piece.id])]
            if any(self.vital(tree, piece) for piece in spent):
                return False
            for piece in spent:
                if len(failed) > 1 and piece.piece.id not in alone:
                    alone.add(piece.piece.id)
                    at[piece.piece.id] = 0
                else:
                    pieces.remove(piece)
        return not any(self.vital(tree, piece) for piece in tree.pieces)

    def hopeful(self, picks: list[Pick], ready: int) -> list[Pick]:
        """The picks whose days are not over before the wood is ready, and that did not lately fail for others."""
        return [
            pick
            for pick in picks
            if pick.option.last >= ready
            and (pick.due is None or pick.due >= ready)
            and self._failures.get((pick.option.way, pick.option.first, pick.due), 0) < self.patience
        ]

    def failed(self, pick: Pick) -> None:
        """Note that a pick found no place."""
        key = (pick.option.way, pick.option.first, pick.due)
        self._failures[key] = self._failures.get(key, 0) + 1

    def vital(self, tree: TreeModel, piece: PieceModel) -> bool:
        """Would felling the tree without finishing this piece be worse than leaving it?"""
        if not tree.standing or piece.piece.kind != "log":
            return False
        return self.strict if piece.host_ft2 > 0.0 else piece.brooding and not tree.hazard

    def groups(
        self,
        tree: TreeModel,
        pieces: Sequence[PieceModel],
        waiting: dict[str, list[Pick]],
        at: dict[str, int],
        alone: set[str],
    ) -> list[list[tuple[PieceModel, Pick]]]:
        """Pieces that are treated together, each with its pick."""
        found: dict[tuple[object, ...], list[tuple[PieceModel, Pick]]] = {}
        for piece in pieces if self.guide is None else self.guide.in_order(pieces):
            name = piece.piece.id
            pick = waiting[name][at[name]]
            option = pick.option
            apart: object = name if name in alone else piece.ways[option.position].finish_by
            alike = self._shape(tree, piece, option)
            key = (option.way, option.first, option.last, option.end, option.needs, pick.due, apart, alike)
            found.setdefault(key, []).append((piece, pick))
        return list(found.values())

    def _shape(self, tree: TreeModel, piece: PieceModel, option: Option) -> int:
        """A number that is the same for pieces whose steps may be done as one job."""
        key = (piece.piece.id, option.position, option.window)
        known = self.model.shapes.get(key)
        if known is None:
            found = shape(self.model.steps(tree, piece, option.position, option.window))
            known = self.model.shapes[key] = self.model.shape_numbers.setdefault(found, len(self.model.shape_numbers))
        return known

    def _add(self, plan: TreePlan, group: list[tuple[PieceModel, Pick]], after: tuple[int, ...]) -> bool:
        question, start = question_of(plan.tree), len(plan.tasks)
        plan.tasks += way_tasks(self.model, plan.tree, group, after, start, question)
        return self.place_all(plan)

    def place_all(self, plan: TreePlan) -> bool:
        """Place the tasks that have no place yet, each as soon as it can be; False when one finds none in time."""
        held: dict[int, int] = {}
        marks: dict[int, int] = {}
        begin, tasks = len(plan.placed), plan.tasks
        row: Row = [*plan.placed, *[None] * (len(tasks) - begin)]
        while (stuck := in_order(self, tasks, range(begin, len(tasks)), row, held, marks)) is not None:
            task, peel = tasks[stuck], tasks[stuck].bark_of
            free = None if peel is None or peel in held else self.place(replace(task, bark_of=None), row, 0)
            if peel is None or free is None:
                return False
            held[peel] = self.work_day_before(free.first)  # strip later, shortly before the bark can be destroyed
            self.book.undo(marks[peel])
            row[peel:] = [None] * (len(tasks) - peel)
            begin = peel
        plan.placed[:] = [placed for placed in row if placed is not None]
        return True

    def work_day_before(self, day: int) -> int:
        """The last day before another on which anybody works."""
        return next((one for one in range(day - 1, -1, -1) if self.working[one]), 0)

    def place(self, task: Task, before: Sequence[Placed | None], not_before: int) -> Placed | None:
        """The place of one task after those it waits for: with the crew that ends first, or the cheapest in time."""
        due = min(self.model.days.length - 1, *(day for day in (task.due, task.last) if day is not None))
        peel = None if task.bark_of is None else before[task.bark_of]
        if peel is not None and peel.last >= task.adults:
            due = min(due, destroyed_by(self.model.warm, self.working, peel.last))
        if task.outside is not None:
            return self._outside(task, start_after(task, before, not_before)[0], due)
        held = None if self.guide is None else self.guide.held(task, not_before)
        found = None if held is None else earliest_place(self.book, held[0], before, held[1], due, self.thrifty)
        return found or earliest_place(self.book, task, before, not_before, due, self.thrifty)

    def _outside(self, task: Task, earliest: int, due: int) -> Placed | None:
        days = self.model.days
        left, hands = task.need, max(task.people, 1)
        stints: list[Stint] = []
        for day in range(max(earliest, 0), min(due, days.length - 1) + 1):
            closed = task.spans is not None and not any(first <= day <= end for first, end in task.spans)
            if closed or not self.model.comes_on(days.day(day)):
                continue
            hours = min(left, SETTINGS["professional_day"] * hands)
            stints.append((day, hours, hours / hands if task.equipment else 0.0))
            left -= hours
            if left <= NEARLY:
                return Placed(None, (), tuple(stints), stints[0][0], day, 0.0)
        return None


def hold(plan: TreePlan) -> None:
    """Nobody fells a tree while a question is open on which the work on its wood rests."""
    at_stake = {piece.piece.id for piece in plan.tree.pieces if piece.at_stake}
    asked = (task.question for task in plan.tasks if task.way is not None and not at_stake.isdisjoint(task.pieces))
    question = next((one for one in asked if one is not None), None)
    for task in plan.tasks:
        if task.work in ("fell", "limb and buck"):
            task.question = task.question or question
