"""Work in the exact model: who does a step, on which days, after what."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping

from ortools.sat.python import cp_model
from site_facts import latest_destroying
from site_records import Node, PieceFacts, SiteFacts, Slot

from barkwright.inventory.model import Crew, Equipment

SCALE = 1000  # hours
SLACK = 20
FINE = 10_000  # money and ft2


class ExactWork:
    """The variables of a site, and the rules that hold for each step of its work."""

    def __init__(self, site: SiteFacts, looked: frozenset[str], limits: Mapping[str, float], tight: bool) -> None:
        self.site = site
        self.tight = tight
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
        self.levels: dict[str, cp_model.LinearExprT] = {}
        self.terms: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)
        self.parts: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)  # of money
        self.paid: list[cp_model.LinearExprT] = []
        self.kept: list[tuple[Equipment, dict[int, cp_model.IntVar]]] = []  # days on which hired machines are there

    def slots_of(self, piece: PieceFacts) -> list[Slot]:
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

    def busy(self, node: Node, day: int) -> list[tuple[int, cp_model.IntVar]]:
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
        """What a node takes, in whole thousandths."""
        return max(1, self.takes(node.hours))

    def takes(self, amount: float) -> int:
        """What work takes of something, in whole thousandths: rounded down, or up in a tight model."""
        return math.ceil(amount * SCALE - 1e-6) if self.tight else math.floor(amount * SCALE + 1e-6)

    def room(self, hours: float) -> int:
        """What a day holds, in whole thousandths: rounded up and some more, or down in a tight model."""
        return math.floor(hours * SCALE + 1e-6) if self.tight else math.ceil(hours * SCALE) + SLACK

    def node(self, node: Node, active: cp_model.LinearExprT, slots: list[Slot] | None) -> None:
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
                    self.after(before, order[place] - node.wait, self.ends[node, day])
            return
        crews = self.crews_for(node)
        need = self.need(node)
        if len(crews) == 1:
            self.crewed[node, crews[0].name] = active
        else:
            for crew in crews:
                self.crewed[node, crew.name] = cp.new_bool_var(f"{node.name} by {crew.name}")
            cp.add(sum(self.crewed[node, crew.name] for crew in crews) == active)
        switch = bool(node.before) or node.whole or node.step.do in ("peel", "peel-stump") or node.peeled is not None
        for crew in crews:
            pace = self.pace(node, crew)
            each = self.site.hours[crew.name]
            whole = node.whole and node.hours * pace <= max(each, default=0.0) + 1e-9
            days = {}
            for day in sorted(node.days):
                most = min(need, math.floor(self.room(each[day]) / pace + 1e-6)) if each[day] > 0 else 0
                if slots is not None and not any(allows(slot, node, day) for slot in slots):
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
            labour, paid, running = self.price(node, crew)
            self.money(self.crewed[node, crew.name], "labour", labour, paid)
            self.money(self.crewed[node, crew.name], "machines", running, True)
        if slots is not None:
            self.gates(node, slots)
        for before in node.before:
            for day in node.days:
                if (node, day) in self.on:
                    self.after(before, day - node.wait, self.on[node, day])
        if node.peeled is not None:
            self.bark(node, node.peeled)

    def crews_for(self, node: Node) -> list[Crew]:
        return [
            crew
            for crew in self.inventory.crew
            if crew.people >= node.step.people
            and set(node.step.skills) <= set(crew.skills)
            and (not node.crews or crew.name in node.crews)
        ]

    def pace(self, node: Node, crew: Crew) -> float:
        """Hours that pass per person-hour."""
        step = node.step
        hands = step.people if step.people > 1 else 1 if step.spans is not None else crew.people
        fewest = min((self.count(kind) for kind in step.equipment), default=1)
        return max(1.0 / hands, node.machine / node.hours / fewest if node.hours > 0 else 0.0)

    def count(self, kind: str) -> int:
        return max((entry.count for entry in self.inventory.equipment if entry.kind == kind), default=1)

    def price(self, node: Node, crew: Crew) -> tuple[float, bool, float]:
        rate, paid = self.site.work.prices.labour(crew, 1.0)
        machines = sum(
            float(self.site.work.prices.machine(self.entry(kind), 1.0).amount) * node.machine
            for kind in node.step.equipment
        )
        return float(rate) * node.hours, paid, machines

    def entry(self, kind: str) -> Equipment:
        (entry,) = [one for one in self.inventory.equipment if one.kind == kind]  # two of a kind are not modelled
        return entry

    def money(self, switch: cp_model.LinearExprT, part: str, amount: float, paid: bool) -> None:
        """Money that is due if the switch is on, rounded down."""
        if amount == 0.0:
            return
        due = math.floor(amount * FINE) * switch
        self.terms["money"].append(due)
        self.parts[part].append(due)
        if paid:
            self.paid.append(due)

    def after(self, before: Node, day: int, switch: cp_model.IntVar) -> None:
        """If the switch is on, what stands before has ended by that day."""
        if before.outside:
            self.cp.add(sum(one for (node, end), one in self.ends.items() if node is before and end <= day) >= switch)
            return
        done = [hours[one] for (node, _), hours in self.hours.items() if node is before for one in hours if one <= day]
        self.cp.add(sum(done) >= self.need(before) * switch)

    def gates(self, node: Node, slots: list[Slot]) -> None:
        """Work only on days that the slot taken allows."""
        days = {day for (one, _), hours in self.hours.items() if one is node for day in hours}
        groups: dict[tuple[Slot, ...], list[cp_model.IntVar]] = defaultdict(list)
        for day in sorted(days):
            allowed = tuple(slot for slot in slots if allows(slot, node, day))
            if len(allowed) < len(slots):
                groups[allowed] += [
                    hours[day] for (one, _), hours in self.hours.items() if one is node and day in hours
                ]
        for allowed, work in groups.items():
            self.cp.add(sum(work) <= self.need(node) * sum(self.taken[slot] for slot in allowed))

    def bark(self, node: Node, peel: Node) -> None:
        """Bark with grown beetles in it is destroyed before they walk away."""
        adults = next(
            self.site.index(piece.brood.adults_from)
            for tree in self.site.trees
            for piece in tree.pieces
            if any(node in slot.nodes for slot in self.slots_of(piece)) and piece.brood.adults_from is not None
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


def allows(slot: Slot, node: Node, day: int) -> bool:
    """May a step of a way be done on a day, if the way is to be done in this slot?"""
    place = slot.nodes.index(node)
    if place > slot.done:
        return True
    upto = slot.nodes[: slot.done + 1]
    waits = any(one.step.wait_days > 0 or one.step.spans is not None for one in upto)
    opens = slot.first if place == slot.done or not waits else 0
    return opens <= day <= slot.last
