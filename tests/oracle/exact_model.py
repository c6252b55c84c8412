"""An exact model of a small site for OR-Tools CP-SAT: the least that each level of "best" can come to.

Hours are whole numbers of 1/1000 h: what work takes is rounded down, what a day holds is rounded up and given `SLACK`
more, so that every plan fits and an optimum is never too high; it may be too low by what 1/50 h a day saves. Where
two crews have different hours, steps of a piece that follow each other on one day share the longer hours.
No optional intervals are used, and the propagator that is known for false optima is off.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal

from ortools.sat.python import cp_model
from site_facts import latest_destroying, onset_lain_through
from site_records import DAY, HALF, Node, PieceFacts, SiteFacts, Slot, TreeFacts

from barkwright.costs.tariff import defaults, rentable
from barkwright.inventory.model import Crew, Equipment
from barkwright.schedule.settings import SETTINGS
from barkwright.season.flight import flight_year

SCALE = 1000  # hours
SLACK = 20
FINE = 10_000  # money and ft2
LEVELS = ("bark", "flown", "removals", "avoided", "host", "money")


@dataclass
class Answer:
    """What the solver says of one level."""

    status: str  # OPTIMAL, FEASIBLE, INFEASIBLE, UNKNOWN
    value: float | None
    bound: float
    model: ExactModel = field(repr=False)
    solver: cp_model.CpSolver = field(repr=False)

    @property
    def proven(self) -> bool:
        """Is the value the least?"""
        return self.status == "OPTIMAL"


def least(
    site: SiteFacts, level: str, limits: Mapping[str, float], looked: frozenset[str] = frozenset(), effort: float = 20.0
) -> Answer:
    """The least of a level with others held at or under `limits`.

    looked : frozenset    trees that are to be looked at in any case
    effort : float        the solver's deterministic time
    """
    model = ExactModel(site, looked, limits)
    for name, limit in limits.items():
        model.cp.add(model.levels[name] <= math.ceil((limit + 2e-3) * FINE))
    model.cp.minimize(model.levels[level])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = effort
    solver.parameters.linearization_level = 2
    solver.parameters.use_disjunctive_constraint_in_cumulative = False
    status = solver.solve(model.cp)
    name = solver.status_name(status)
    value = solver.objective_value / FINE if name in ("OPTIMAL", "FEASIBLE") else None
    return Answer(name, value, solver.best_objective_bound / FINE, model, solver)


class ExactModel:
    """Days, hours, hires and ways of a site as one integer programme."""

    def __init__(self, site: SiteFacts, looked: frozenset[str], limits: Mapping[str, float]) -> None:
        self.site = site
        self.above = limits
        self._fit: dict[PieceFacts, list[Slot]] = {}
        self.inventory = site.work.inventory
        self.cp = cp_model.CpModel()
        self.active: dict[Node, cp_model.LinearExprT] = {}
        self.on: dict[tuple[Node, int], cp_model.IntVar] = {}
        self.hours: dict[tuple[Node, str], dict[int, cp_model.IntVar]] = {}
        self.crewed: dict[tuple[Node, str], cp_model.LinearExprT] = {}
        self.ends: dict[tuple[Node, int], cp_model.IntVar] = {}  # of work from outside
        self.taken: dict[Slot, cp_model.IntVar] = {}
        self.worked: dict[str, cp_model.IntVar] = {}
        self.on_site: dict[tuple[str, int], cp_model.IntVar] = {}
        self.levels: dict[str, cp_model.LinearExprT] = {}
        self.terms: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)
        self.parts: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)  # of money
        self.paid: list[cp_model.LinearExprT] = []
        for tree in site.trees:
            self._tree(tree, tree.tree.tree.id in looked)
        self._days()
        self._machines()
        self._limits()
        for name in LEVELS:
            self.levels[name] = sum(self.terms[name])

    # --- trees and pieces

    def _tree(self, tree: TreeFacts, looked: bool) -> None:
        cp, name = self.cp, tree.tree.tree.id
        worked = self.worked[name] = cp.new_bool_var(f"{name} worked")
        if not tree.may_work:
            cp.add(worked == 0)
        if tree.look is not None:
            look: cp_model.LinearExprT = 1 if looked else worked
            self._node(tree.look, look, None)
        for node in [*tree.calls, *tree.cuts]:
            self._node(node, worked, None)
        through: dict[Node, list[Slot]] = defaultdict(list)
        for piece in tree.pieces:
            for slot in self._slots(piece):
                self.taken[slot] = cp.new_bool_var(f"{piece.piece.id} {slot.way.id} by {slot.last}")
                if slot.nodes or tree.standing:
                    cp.add_implication(self.taken[slot], worked)
                for node in slot.nodes:
                    through[node].append(slot)
            cp.add_at_most_one(self.taken[slot] for slot in self._slots(piece))
        for node in tree.nodes:
            slots = through[node]
            if slots:
                self._node(node, sum(self.taken[slot] for slot in slots), slots)
        periods = self._periods(tree, worked)
        for piece in tree.pieces:
            self._counts(tree, piece, worked, periods)
            self._day_chains(tree, piece)
        if tree.standing and tree.may_work and (tree.hazard or not any(p.infested > 0 for p in tree.pieces)):
            self.terms["removals"].append(FINE * (1 - worked))
        removal = tree.tree.tree.removal
        if removal is not None and removal.price is not None and any(node.outside for node in tree.cuts):
            self._money(worked, "professionals", float(removal.price), True)

    def _slots(self, piece: PieceFacts) -> list[Slot]:
        """The slots that a plan within the limits above may take."""
        known = self._fit.get(piece)
        if known is None:
            most = {name: self.above.get(name, math.inf) + 0.01 for name in ("bark", "flown", "avoided")}
            known = self._fit[piece] = [
                slot
                for slot in piece.slots
                if slot.left * piece.infested <= most["bark"]
                and slot.flown * piece.infested <= most["flown"]
                and (most["avoided"] >= 1.0 or not (slot.against and piece.at_stake))
            ]
        return known

    def _periods(self, tree: TreeFacts, worked: cp_model.IntVar) -> list[tuple[cp_model.LinearExprT, int]]:
        """Which flight a tree that is felled meets first, as switches; what lies already has one."""
        if not tree.standing:
            return [(1, year) for _, year in tree.periods]
        found = [(self.cp.new_bool_var(f"period {year}"), year) for _, year in tree.periods]
        self.cp.add(sum(one for one, _ in found) == worked)
        fell = next((node for node in tree.cuts if node.step.work == "fell"), None)
        if fell is not None:
            for day in fell.days:
                early = [one for (one, _), (start, _) in zip(found, tree.periods, strict=True) if start <= day]
                for key, var in self._busy(fell, day):
                    self.cp.add(var <= key * sum(early))
        return list(found)

    def _busy(self, node: Node, day: int) -> list[tuple[int, cp_model.IntVar]]:
        """The variables that say that a node is worked on: the most each can be, and itself."""
        if node.outside:
            starts = self._outside_start(node, day)
            return [] if starts is None else [(1, self.ends[node, starts])]
        need = self.need(node)
        return [(need, hours[day]) for (one, _), hours in self.hours.items() if one is node and day in hours]

    def _outside_start(self, node: Node, day: int) -> int | None:
        """The last day of work from outside that begins on a day."""
        later = sorted(d for d in node.days if d >= day)
        end = later[node.outside - 1] if len(later) >= node.outside else None
        return end if end is not None and (node, end) in self.ends else None

    def need(self, node: Node) -> int:
        """What a node takes in whole thousandths, rounded down."""
        return max(1, math.floor(node.hours * SCALE + 1e-9))

    def _node(self, node: Node, active: cp_model.LinearExprT, slots: list[Slot] | None) -> None:
        cp = self.cp
        self.active[node] = active
        if node.outside:
            days = sorted(node.days)[node.outside - 1 :]
            for day in days:
                self.ends[node, day] = cp.new_bool_var(f"{node.name} ends {day}")
            cp.add(sum(self.ends[node, day] for day in days) == active)
            order = sorted(node.days)
            for place, day in enumerate(days):
                for before in node.before:
                    self._after(before, order[place] - node.wait, self.ends[node, day])
            return
        crews = self._crews_for(node)
        need = self.need(node)
        if len(crews) == 1:
            self.crewed[node, crews[0].name] = active
        else:
            for crew in crews:
                self.crewed[node, crew.name] = cp.new_bool_var(f"{node.name} by {crew.name}")
            cp.add(sum(self.crewed[node, crew.name] for crew in crews) == active)
        switch = bool(node.before) or node.whole or node.step.do in ("peel", "peel-stump") or node.peeled is not None
        for crew in crews:
            pace = self._pace(node, crew)
            each = self.site.hours[crew.name]
            whole = node.whole and node.hours * pace <= max(each, default=0.0) + 1e-9
            days = {}
            for day in sorted(node.days):
                most = min(need, math.floor((each[day] * SCALE + SLACK) / pace + 1e-6)) if each[day] > 0 else 0
                if slots is not None and not any(_allows(slot, node, day) for slot in slots):
                    continue
                if most <= 0 or (whole and most < need):
                    continue
                days[day] = cp.new_int_var(0, most, f"{node.name} {crew.name} {day}")
                if switch:
                    on = self.on.get((node, day))
                    if on is None:
                        on = self.on[node, day] = cp.new_bool_var(f"{node.name} on {day}")
                    if whole and len(crews) == 1:
                        cp.add(days[day] == need * on)
                    else:
                        cp.add(days[day] <= most * on)
            if whole and len(crews) > 1:
                cp.add(sum(self.on[node, day] for day in days) <= 1 + len(days) * (1 - self.crewed[node, crew.name]))
            self.hours[node, crew.name] = days
            cp.add(sum(days.values()) == need * self.crewed[node, crew.name])
            labour, paid, running = self._price(node, crew)
            self._money(self.crewed[node, crew.name], "labour", labour, paid)
            self._money(self.crewed[node, crew.name], "machines", running, True)
        if slots is not None:
            self._gates(node, slots)
        for before in node.before:
            for day in node.days:
                if (node, day) in self.on:
                    self._after(before, day - node.wait, self.on[node, day])
        if node.peeled is not None:
            self._bark(node, node.peeled)

    def _crews_for(self, node: Node) -> list[Crew]:
        return [
            crew
            for crew in self.inventory.crew
            if crew.people >= node.step.people
            and set(node.step.skills) <= set(crew.skills)
            and (not node.crews or crew.name in node.crews)
        ]

    def _pace(self, node: Node, crew: Crew) -> float:
        """Hours that pass per person-hour."""
        step = node.step
        hands = step.people if step.people > 1 else 1 if step.spans is not None else crew.people
        fewest = min((self._count(kind) for kind in step.equipment), default=1)
        return max(1.0 / hands, node.machine / node.hours / fewest if node.hours > 0 else 0.0)

    def _count(self, kind: str) -> int:
        return max((entry.count for entry in self.inventory.equipment if entry.kind == kind), default=1)

    def _price(self, node: Node, crew: Crew) -> tuple[float, bool, float]:
        rate, paid = self.site.work.prices.labour(crew, 1.0)
        machines = sum(
            float(self.site.work.prices.machine(self._entry(kind), 1.0).amount) * node.machine
            for kind in node.step.equipment
        )
        return float(rate) * node.hours, paid, machines

    def _entry(self, kind: str) -> Equipment:
        (entry,) = [one for one in self.inventory.equipment if one.kind == kind]  # two of a kind are not modelled
        return entry

    def _money(self, switch: cp_model.LinearExprT, part: str, amount: float, paid: bool) -> None:
        """Money that is due if the switch is on, rounded down."""
        if amount == 0.0:
            return
        due = math.floor(amount * FINE) * switch
        self.terms["money"].append(due)
        self.parts[part].append(due)
        if paid:
            self.paid.append(due)

    def _after(self, before: Node, day: int, switch: cp_model.IntVar) -> None:
        """If the switch is on, what stands before has ended by that day."""
        if before.outside:
            self.cp.add(sum(one for (node, end), one in self.ends.items() if node is before and end <= day) >= switch)
            return
        done = [hours[one] for (node, _), hours in self.hours.items() if node is before for one in hours if one <= day]
        self.cp.add(sum(done) >= self.need(before) * switch)

    def _gates(self, node: Node, slots: list[Slot]) -> None:
        """Work only on days that the slot taken allows."""
        days = {day for (one, _), hours in self.hours.items() if one is node for day in hours}
        groups: dict[tuple[Slot, ...], list[cp_model.IntVar]] = defaultdict(list)
        for day in sorted(days):
            allowed = tuple(slot for slot in slots if _allows(slot, node, day))
            if len(allowed) < len(slots):
                groups[allowed] += [
                    hours[day] for (one, _), hours in self.hours.items() if one is node and day in hours
                ]
        for allowed, work in groups.items():
            self.cp.add(sum(work) <= self.need(node) * sum(self.taken[slot] for slot in allowed))

    def _bark(self, node: Node, peel: Node) -> None:
        """Bark with grown beetles in it is destroyed before they walk away."""
        adults = next(
            self.site.index(piece.brood.adults_from)
            for tree in self.site.trees
            for piece in tree.pieces
            if any(node in slot.nodes for slot in self._slots(piece)) and piece.brood.adults_from is not None
        )
        stripped = sorted(day for (one, day) in self.on if one is peel)
        late = [day for day in stripped if day >= adults]
        if not late:
            return
        early = self.cp.new_bool_var(f"{peel.name} before the beetles are grown")
        for day in late:
            self.cp.add_implication(self.on[peel, day], ~early)
        reach = {day: latest_destroying(self.site, day) for day in late}
        firm = {}
        for day in late:  # a day that counts as one of stripping must be one
            firm[day] = self.cp.new_bool_var(f"{peel.name} for sure on {day}")
            self.cp.add_implication(firm[day], self.on[peel, day])
            work = [hours[day] for (one, _), hours in self.hours.items() if one is peel and day in hours]
            self.cp.add(sum(work) >= firm[day])
        for day in sorted(day for (one, day) in self.on if one is node):
            self.cp.add_bool_or([~self.on[node, day], early, *(firm[one] for one in late if reach[one] >= day)])

    def _counts(
        self,
        tree: TreeFacts,
        piece: PieceFacts,
        worked: cp_model.IntVar,
        periods: list[tuple[cp_model.LinearExprT, int]],
    ) -> None:
        """What a piece adds to each level, and what a felled tree owes its logs."""
        prices, best = SETTINGS, self.inventory.best
        partial = prices["partial_per_ft2"] if best.partial_per_ft2 is None else best.partial_per_ft2
        late = prices["late_per_ft2"] if best.late_per_ft2 is None else best.late_per_ft2
        for slot in self._slots(piece):
            taken = self.taken[slot]
            stated = partial * piece.infested * (slot.end == "partial") + late * piece.infested * slot.late
            self._money(taken, "stated", stated, False)
            self._money(taken, "worth", -slot.worth, False)
            if slot.against and piece.at_stake:
                self.terms["avoided"].append(FINE * taken)
        for name, share in (("bark", "left"), ("flown", "flown")):
            if piece.infested > 0:
                saved = sum(
                    math.ceil((1.0 - getattr(slot, share)) * piece.infested * FINE) * self.taken[slot]
                    for slot in self._slots(piece)
                )
                self.terms[name].append(math.floor(piece.infested * FINE) - saved)
        self._host(tree, piece, worked, periods)
        if tree.standing and not tree.hazard and piece.piece.kind == "log" and piece.at_stake:
            fit = [self.taken[slot] for slot in self._slots(piece) if slot.left == 0.0 or piece.infested <= 0.0]
            self.cp.add(sum(fit) >= worked)

    def _host(
        self,
        tree: TreeFacts,
        piece: PieceFacts,
        worked: cp_model.IntVar,
        periods: list[tuple[cp_model.LinearExprT, int]],
    ) -> None:
        """Bark that lies through a flight before its own, or green bark that is not dealt with."""
        if not piece.at_stake:
            return
        bark = math.floor(piece.piece.bark_ft2 * FINE)
        lain = self.cp.new_int_var(0, bark, f"{piece.piece.id} lies")
        self.terms["host"].append(lain)
        green = piece.host > 0.0
        ways: list[tuple[cp_model.LinearExprT, int | None]] = [
            (switch, onset_lain_through(self.site, piece, year)) for switch, year in periods
        ]
        if green:
            ways.append((worked if tree.standing else 1, None))
        for switch, onset in ways:
            if onset is None and not green:
                continue
            saved = []
            for slot in self._slots(piece):
                kept = 0.0 if slot.end == "done" else HALF
                share = 1.0 if onset is not None and slot.last >= onset else kept
                share = max(share, slot.left) if green else share
                saved.append(math.ceil((1.0 - share) * piece.piece.bark_ft2 * FINE) * self.taken[slot])
                if tree.standing and not tree.hazard and onset is not None and slot.last >= onset:
                    self.cp.add(switch + self.taken[slot] <= 1)
            self.cp.add(lain >= bark * switch - sum(saved))

    def _day_chains(self, tree: TreeFacts, piece: PieceFacts) -> None:
        """Work that follows other work on the same day leaves it its hours."""
        own = {node for slot in self._slots(piece) for node in slot.nodes}
        heads = [[], *([one] for one in [tree.look, *tree.calls] if one is not None)]
        for head in heads:
            path = [*head, *tree.cuts, *own]
            if len(path) < 2:
                continue
            for day in range(self.site.length):
                longest = self.site.longest(day)
                if longest <= 0:
                    continue
                there = [
                    (math.floor(self._pace(node, crew) * SCALE), self.hours[node, crew.name][day])
                    for node in path
                    for crew in self.inventory.crew
                    if day in self.hours.get((node, crew.name), {})
                ]
                if len(there) > 1:
                    self.cp.add(
                        sum(pace * hours for pace, hours in there) <= math.ceil(longest * SCALE + SLACK) * SCALE
                    )

    # --- hands, machines, limits

    def _days(self) -> None:
        for crew in self.inventory.crew:
            by_day: dict[int, list[tuple[Node, cp_model.IntVar]]] = defaultdict(list)
            for (node, name), hours in self.hours.items():
                if name == crew.name:
                    for day, one in hours.items():
                        by_day[day].append((node, one))
            for day, work in by_day.items():
                each = self.site.hours[crew.name][day]
                self.cp.add(sum(one for _, one in work) <= math.ceil(each * crew.people * SCALE) + SLACK)
                for size in range(2, crew.people + 1):
                    together = [(node.step.people, one) for node, one in work if node.step.people >= size]
                    teams = crew.people // size
                    whole = math.lcm(*(people for people, _ in together)) if together else 1
                    self.cp.add(
                        sum(whole // people * one for people, one in together)
                        <= whole * (math.ceil(each * teams * SCALE) + SLACK)
                    )

    def _machines(self) -> None:
        for entry in self.inventory.equipment:
            by_day: dict[int, list[cp_model.LinearExprT]] = defaultdict(list)
            for (node, _), hours in self.hours.items():
                if entry.kind in node.step.equipment:
                    rate = math.floor(node.machine / node.hours * SCALE + 1e-9)
                    for day, one in hours.items():
                        by_day[day].append(rate * one)
            if not by_day:
                continue
            first = 0 if entry.first is None else self.site.index(entry.first)
            last = self.site.length if entry.last is None else self.site.index(entry.last)
            hired = not entry.owned and rentable(entry)
            kept = self._hire(entry, max(0, first, min(by_day)), min(last, max(by_day))) if hired else {}
            for day, used in by_day.items():
                there = kept.get(day, 0) if hired else int(first <= day <= last)
                most = math.ceil(entry.count * self.site.longest(day) * SCALE) + SLACK
                self.cp.add(sum(used) <= most * SCALE * there)

    def _hire(self, entry: Equipment, first: int, last: int) -> dict[int, cp_model.IntVar]:
        """Days on which a hired machine is there; each run of them is brought once and covered by rents."""
        cp = self.cp
        kept = {day: cp.new_bool_var(f"{entry.kind} there {day}") for day in range(first, last + 1)}
        rents = [
            (1, entry.rent_per_day),
            (int(defaults().week_days.value), entry.rent_per_week),
            (int(defaults().month_days.value), entry.rent_per_month),
        ]
        assert entry.rent_per_half_day is entry.rent_per_hour is None
        units: list[tuple[int, int, cp_model.IntVar]] = []
        for length, rent in rents:
            if rent is not None:
                for day in kept:
                    unit = cp.new_bool_var(f"{entry.kind} {length} days from {day}")
                    units.append((day, length, unit))
                    self._money(unit, "hire", float(rent) * entry.count, True)
        for day, there in kept.items():
            cp.add(sum(unit for start, length, unit in units if start <= day < start + length) >= there)
            brought = cp.new_bool_var(f"{entry.kind} brought {day}")
            cp.add(brought >= there - kept.get(day - 1, 0))
            self._money(brought, "hire", float(entry.delivery or Decimal(0)), True)
        return kept

    def _limits(self) -> None:
        limits = self.inventory.limits
        if limits.budget is not None:
            self.cp.add(sum(self.paid) <= math.ceil((float(limits.budget) + 0.1) * FINE))
        chips, cords = [], []
        for tree in self.site.trees:
            for piece in tree.pieces:
                for slot in self._slots(piece):
                    found = self.site.work.yields(tree.tree.tree, piece.piece, slot.way)
                    if slot.way.then == "chips":
                        chips.append(math.floor(found.chips_yd3 * FINE) * self.taken[slot])
                    elif slot.way.id.endswith("-stove"):
                        cords.append((piece, slot, math.floor(found.cords * FINE)))
        if limits.chips_site_takes_yd3 is not None:
            self.cp.add(sum(chips) <= math.ceil((limits.chips_site_takes_yd3 + 1e-3) * FINE))
        weekly = limits.firewood_cords_per_week
        if weekly is not None:
            burned = sum(amount * self.taken[slot] for _, slot, amount in cords)
            for piece, slot, _ in cords:
                weeks = self._stove_weeks(piece, slot)
                if weeks is not None:
                    most = math.ceil((weekly * weeks + 1e-3) * FINE)
                    self.cp.add(burned <= most).only_enforce_if(self.taken[slot])

    def _stove_weeks(self, piece: PieceFacts, slot: Slot) -> float | None:
        if piece.brood.flight_to_beat is None or slot.way.too_late is None:
            return None
        before = flight_year(self.site.work.season, piece.brood.flight_to_beat).onset - timedelta(days=1)
        day = self.site.first + DAY * slot.last
        ends = [*([] if slot.way.finish_by is None else [min(slot.way.finish_by, before)]), before, slot.way.too_late]
        return (next((end for end in ends if day <= end), slot.way.too_late) - self.site.first).days / 7


def _allows(slot: Slot, node: Node, day: int) -> bool:
    """May a step of a way be done on a day, if the way is to be done in this slot?"""
    place = slot.nodes.index(node)
    if place > slot.done:
        return True
    upto = slot.nodes[: slot.done + 1]
    waits = any(one.step.wait_days > 0 or one.step.spans is not None for one in upto)
    opens = slot.first if place == slot.done or not waits else 0
    return opens <= day <= slot.last
