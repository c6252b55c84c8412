"""An exact model of a small site for OR-Tools CP-SAT: the least that each level of "best" can come to.

Hours are whole thousandths. What work takes is rounded down; what a day holds is rounded up and given `SLACK` more,
so that every plan fits and no optimum is too high: it may be too low by what 1/50 h a day saves. The tight model rounds
the other way, so that a bound which lies above the first optimum can be told from one that is wrong.

Where the model allows more than a plan may: two crews that hand work over within a day share the longer hours of the
two; work is stopped and begun again at will, in bits of any size; wood for the stove may be counted to a later date
than the one on which it is burned. It allows nothing less than the checker does, but for what `site_facts` names.
No optional intervals are used, and the propagator that is known for false optima is off.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from exact_means import hold_days, hold_limits, hold_machines
from exact_work import FINE, SCALE, ExactWork
from ortools.sat.python import cp_model
from site_facts import onset_lain_through
from site_records import HALF, Node, PieceFacts, SiteFacts, Slot, TreeFacts

from barkwright.schedule.settings import SETTINGS

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
    site: SiteFacts,
    level: str,
    limits: Mapping[str, float],
    looked: frozenset[str],
    effort: float,
    tight: bool = False,
) -> Answer:
    """The least of a level with others held at or under `limits`.

    looked : frozenset    trees that are to be looked at in any case
    effort : float        the solver's deterministic time
    tight : bool          round hours the other way: what then can be done can be done
    """
    model = ExactModel(site, looked, limits, tight)
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


class ExactModel(ExactWork):
    """Days, hours, hires and ways of a site as one integer programme."""

    def __init__(self, site: SiteFacts, looked: frozenset[str], limits: Mapping[str, float], tight: bool) -> None:
        super().__init__(site, looked, limits, tight)
        for tree in site.trees:
            self._tree(tree, tree.tree.tree.id in looked)
        hold_days(self)
        hold_machines(self)
        hold_limits(self)
        for name in LEVELS:
            self.levels[name] = sum(self.terms[name])

    def _tree(self, tree: TreeFacts, looked: bool) -> None:
        cp, name = self.cp, tree.tree.tree.id
        worked = self.worked[name] = cp.new_bool_var(f"{name} worked")
        if not tree.may_work:
            cp.add(worked == 0)
        if tree.look is not None:
            look: cp_model.LinearExprT = 1 if looked else worked
            self.node(tree.look, look, None)
        for node in [*tree.calls, *tree.cuts]:
            self.node(node, worked, None)
        through: dict[Node, list[Slot]] = defaultdict(list)
        for piece in tree.pieces:
            for slot in self.slots_of(piece):
                self.taken[slot] = cp.new_bool_var(f"{piece.piece.id} {slot.way.id} by {slot.last}")
                if slot.nodes or tree.standing:
                    cp.add_implication(self.taken[slot], worked)
                for node in slot.nodes:
                    through[node].append(slot)
            cp.add_at_most_one(self.taken[slot] for slot in self.slots_of(piece))
        for node in tree.nodes:
            slots = through[node]
            if slots:
                self.node(node, sum(self.taken[slot] for slot in slots), slots)
        periods = self._periods(tree, worked)
        for piece in tree.pieces:
            self._counts(tree, piece, worked, periods)
            self._day_chains(tree, piece)
        if tree.standing and tree.may_work and (tree.hazard or not any(p.infested > 0 for p in tree.pieces)):
            self.terms["removals"].append(FINE * (1 - worked))
        removal = tree.tree.tree.removal
        if removal is not None and removal.price is not None and any(node.outside for node in tree.cuts):
            self.money(worked, "professionals", float(removal.price), True)

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
                for key, var in self.busy(fell, day):
                    self.cp.add(var <= key * sum(early))
        return list(found)

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
        for slot in self.slots_of(piece):
            taken = self.taken[slot]
            stated = partial * piece.infested * (slot.end == "partial") + late * piece.infested * slot.late
            self.money(taken, "stated", stated, False)
            self.money(taken, "worth", -slot.worth, False)
            if slot.against and piece.at_stake:
                self.terms["avoided"].append(FINE * taken)
        for name, share in (("bark", "left"), ("flown", "flown")):
            if piece.infested > 0:
                saved = sum(
                    math.ceil((1.0 - getattr(slot, share)) * piece.infested * FINE) * self.taken[slot]
                    for slot in self.slots_of(piece)
                )
                self.terms[name].append(math.floor(piece.infested * FINE) - saved)
        self._host(tree, piece, worked, periods)
        if tree.standing and not tree.hazard and piece.piece.kind == "log" and piece.at_stake:
            fit = [self.taken[slot] for slot in self.slots_of(piece) if slot.left == 0.0 or piece.infested <= 0.0]
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
            for slot in self.slots_of(piece):
                kept = 0.0 if slot.end == "done" else HALF
                share = 1.0 if onset is not None and slot.last >= onset else kept
                share = max(share, slot.left) if green else share
                saved.append(math.ceil((1.0 - share) * piece.piece.bark_ft2 * FINE) * self.taken[slot])
                if tree.standing and not tree.hazard and onset is not None and slot.last >= onset:
                    self.cp.add(switch + self.taken[slot] <= 1)
            self.cp.add(lain >= bark * switch - sum(saved))

    def _day_chains(self, tree: TreeFacts, piece: PieceFacts) -> None:
        """Work that follows other work on the same day leaves it its hours."""
        own = {node for slot in self.slots_of(piece) for node in slot.nodes}
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
                    (self.takes(self.pace(node, crew)), self.hours[node, crew.name][day])
                    for node in path
                    for crew in self.inventory.crew
                    if day in self.hours.get((node, crew.name), {})
                ]
                if len(there) > 1:
                    self.cp.add(sum(pace * hours for pace, hours in there) <= self.room(longest) * SCALE)
