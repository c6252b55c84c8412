"""An answer of the exact model written out as a schedule, so that the program's own checker can judge it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from exact_model import Answer
from plan_values import money_parts, values
from site_records import DAY, Node, PieceFacts, SiteFacts, Slot, TreeFacts

from barkwright.costs.tariff import cheapest_cover
from barkwright.inventory.model import Equipment
from barkwright.schedule.jobs import Choice, CostLine, Job, Optimum, RentalRun, Schedule, Unmet
from barkwright.schedule.verify_wood import lies_from
from barkwright.units import half_up

SIZES = {"chipper": "{:g} in", "excavator": "digs {:g} ft"}


def as_plan(answer: Answer) -> Schedule:
    """The schedule that an answer of a tight model stands for."""
    writer = _Writer(answer)
    return writer.schedule()


class _Writer:
    def __init__(self, answer: Answer) -> None:
        self.answer = answer
        self.site: SiteFacts = answer.model.site
        self.slots: dict[PieceFacts, Slot] = {
            slot.piece: slot for slot, taken in answer.model.taken.items() if answer.solver.value(taken)
        }
        self.names: dict[Node, str] = {}

    def schedule(self) -> Schedule:
        jobs = tuple(self._jobs())
        choices = tuple(self._choice(tree, piece, jobs) for tree in self.site.trees for piece in tree.pieces)
        latest = {choice.piece: choice.latest for choice in choices}
        jobs = tuple(
            replace(job, finish_by=latest[job.pieces[0]] if job.finish_by is not None or job.way else None)
            for job in jobs
        )
        before = sum(piece.infested for tree in self.site.trees for piece in tree.pieces)
        rentals = tuple(self._rentals())
        nothing = Optimum((), "best plan", "", None)
        found = Schedule(choices, jobs, rentals, (), (), before, 0.0, 0.0, nothing)
        told = values(self.site, found)
        return replace(
            found,
            costs=tuple(self._costs(found)),
            unmet=tuple(self._unmet()),
            infested_left_ft2=told["bark"],
            host_left_ft2=told["host"],
        )

    def _days(self, node: Node) -> tuple[str | None, list[tuple[int, float]]]:
        """By whom a node is done, and its person-hours by day; no days where it is not done."""
        model, solver = self.answer.model, self.answer.solver
        if node.outside:
            end = next((d for (one, d), var in model.ends.items() if one is node and solver.value(var)), None)
            if end is None:
                return None, []
            days = sorted(day for day in node.days if day <= end)[-node.outside :]
            return None, [(day, node.hours / len(days)) for day in days]
        for (one, crew), hours in model.hours.items():
            if one is node:
                worked = [(day, solver.value(var)) for day, var in hours.items() if solver.value(var)]
                whole = sum(each for _, each in worked)
                if whole:
                    return crew, [(day, node.hours * each / whole) for day, each in sorted(worked)]
        return None, []

    def _jobs(self) -> Iterator[Job]:
        rows: list[tuple[int, int, int, TreeFacts, Node, PieceFacts | None]] = []
        for place, tree in enumerate(self.site.trees):
            base = [*([] if tree.look is None else [tree.look]), *tree.calls, *tree.cuts]
            chosen = [(node, None) for node in base]
            chosen += [(n, p) for p in tree.pieces if p in self.slots for n in self.slots[p].nodes]
            for depth, (node, piece) in enumerate(chosen):
                days = self._days(node)[1]
                if days:
                    rows.append((days[0][0], place, depth, tree, node, piece))
        rows.sort(key=lambda row: row[:3])
        digs = any("locate-services" in self._needs(slot) for slot in self.slots.values())
        if digs:
            step = self.site.work.locating()[0].person_hours
            yield _call(self.site, step.mean)
        for number, (_, _, _, _, node, _) in enumerate(rows, 1 + digs):
            self.names[node] = f"J{number}"
        for _, _, _, tree, node, piece in rows:
            yield self._job(tree, node, piece)

    def _job(self, tree: TreeFacts, node: Node, piece: PieceFacts | None) -> Job:
        site, step = self.site, node.step
        crew, days = self._days(node)
        slot = None if piece is None else self.slots[piece]
        after = [self.names[one] for one in node.before if one in self.names]
        if slot is not None and "locate-services" in self._needs(slot):
            after = ["J1", *after]
        hands = step.people
        if crew is not None and step.people == 1 and step.spans is None:
            hands = max([1, *(-int(-(hours - 1e-6) // site.hours[crew][day]) for day, hours in days)])
        question = self._question(tree, slot) if step.work not in ("inspect", "call") else None
        dated = tuple((site.first + DAY * day, hours) for day, hours in days)
        pace = node.machine / node.hours if node.hours > 0 else 0.0
        return Job(
            id=self.names[node], tree=tree.tree.tree.id, pieces=() if piece is None else (piece.piece.id,),
            work=step.work, what=step.what, way=None if slot is None else slot.way.id,
            first=dated[0][0], last=dated[-1][0], after=tuple(after), hours=step.person_hours.mean,
            hours_low=step.person_hours.low, hours_high=step.person_hours.high, people=hands,
            crew=crew if crew is not None else tree.tree.felling.by, equipment=step.equipment,
            provisional=question is not None, question=question, day_hours=dated,
            machine_hours=tuple((day, hours * pace) for day, hours in dated) if pace else (), finish_by=None,
        )  # fmt: skip

    def _question(self, tree: TreeFacts, slot: Slot | None) -> str | None:
        asked = [one.code for one in (*tree.tree.felling.questions, *tree.tree.brood.questions)]
        if tree.tree.brood.needs_inspection:
            asked.append("look-under-bark")
        mine = [slot] if slot is not None else [self.slots[piece] for piece in tree.pieces if piece in self.slots]
        asked += [need for one in mine for need in self._needs(one) if need != "locate-services"]
        return asked[0] if asked else None

    def _window(self, slot: Slot) -> int:
        day = self.site.first + DAY * max(self._done(slot), slot.first)
        return next(place for place, one in enumerate(slot.way.windows) if one.first <= day <= one.last)

    def _needs(self, slot: Slot) -> tuple[str, ...]:
        return slot.way.windows[self._window(slot)].needs

    def _done(self, slot: Slot) -> int:
        return self._days(slot.nodes[slot.done])[1][-1][0] if slot.nodes else 0

    def _choice(self, tree: TreeFacts, piece: PieceFacts, jobs: tuple[Job, ...]) -> Choice:
        slot = self.slots.get(piece)
        if slot is None:
            return Choice(piece.piece.id, None, None, None, None, "")
        done = self.site.first + DAY * self._done(slot)
        falls = [job for job in jobs if job.tree == tree.tree.tree.id and job.work == "fell"]
        onset, last = lies_from(tree.tree, falls, piece.piece, piece.brood, self.site.work), slot.way.finish_by
        if onset is not None and last is not None and done < onset:
            last = min(last, onset - timedelta(days=1))
        done_on = done if piece.at_stake else None
        return Choice(piece.piece.id, slot.way.id, self._window(slot), done_on, None, "", last)

    def _rentals(self) -> Iterator[RentalRun]:
        solver = self.answer.solver
        for entry, kept in self.answer.model.kept:
            days = [day for day, there in kept.items() if solver.value(there)]
            starts = [day for day in days if day - 1 not in days]
            for start in starts:
                end = start
                while end + 1 in days:
                    end += 1
                cost, billed = cheapest_cover(entry, end - start + 1)
                first = self.site.first + DAY * start
                yield RentalRun(entry.kind, _label(entry), first, first + DAY * (end - start), billed, cost)

    def _costs(self, found: Schedule) -> Iterator[CostLine]:
        work = self.site.work
        for crew in work.inventory.crew:
            hours = sum(job.hours for job in found.jobs if job.crew == crew.name)
            amount, paid = work.prices.labour(crew, float(half_up(round(hours, 6), 2)))
            yield CostLine(crew.name, "labour", "", half_up(amount, 2), "yours", paid)
        for run in found.rentals:
            yield CostLine(run.label, "rental", run.billed, run.cost, "yours", True)
        parts = money_parts(self.site, found)
        for kind in ("machines", "professionals"):
            yield CostLine(kind, "machine", "", half_up(Decimal(str(parts[kind])), 2), "yours", True)

    def _unmet(self) -> Iterator[Unmet]:
        for tree in self.site.trees:
            for piece in tree.pieces:
                slot = self.slots.get(piece)
                left = 1.0 if slot is None else slot.left
                if slot is not None and piece.onset is not None and self._done(slot) < piece.onset:
                    left = 0.0 if slot.end == "done" else left
                if piece.infested > 0 and (left > 0 or slot is None):
                    yield Unmet(tree.tree.tree.id, (piece.piece.id,), left * piece.infested, "", "")


def _label(entry: Equipment) -> str:
    words = entry.kind.replace("-", " ")
    size = SIZES.get(entry.kind)
    return words if entry.capacity is None or size is None else f"{words}, {size.format(entry.capacity)}"


def _call(site: SiteFacts, hours: float) -> Job:
    day = site.first
    return Job(
        "J1", "site", (), "call", "call before digging", None, day, day, (), hours, 0.0, 24.0, 1, "you", (), False,
        None, ((day, hours),), (), None,
    )  # fmt: skip
