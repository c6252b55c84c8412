"""What all work of the exact model shares: hands, machines, hires and the site's limits."""

from __future__ import annotations

import math
from collections import defaultdict
from datetime import timedelta
from decimal import Decimal

from exact_work import FINE, SCALE, ExactWork
from ortools.sat.python import cp_model
from site_records import DAY, Node, PieceFacts, Slot

from barkwright.costs.tariff import defaults, rentable
from barkwright.inventory.model import Equipment
from barkwright.season.flight import flight_year


def hold_days(model: ExactWork) -> None:
    """Person-hours of a day, and as many teams as there are hands for."""
    for crew in model.inventory.crew:
        by_day: dict[int, list[tuple[Node, cp_model.IntVar]]] = defaultdict(list)
        for (node, name), hours in model.hours.items():
            if name == crew.name:
                for day, one in hours.items():
                    by_day[day].append((node, one))
        for day, work in by_day.items():
            each = model.site.hours[crew.name][day]
            model.cp.add(sum(one for _, one in work) <= model.room(each * crew.people))
            for size in range(2, crew.people + 1):
                together = [(node.step.people, one) for node, one in work if node.step.people >= size]
                teams = crew.people // size
                whole = math.lcm(*(people for people, _ in together)) if together else 1
                model.cp.add(sum(whole // people * one for people, one in together) <= whole * model.room(each * teams))


def hold_machines(model: ExactWork) -> None:
    """Machines run while they are there, hired ones while they are hired."""
    for entry in model.inventory.equipment:
        by_day: dict[int, list[cp_model.LinearExprT]] = defaultdict(list)
        for (node, _), hours in model.hours.items():
            if entry.kind in node.step.equipment:
                rate = model.takes(node.machine / node.hours)
                for day, one in hours.items():
                    by_day[day].append(rate * one)
        if not by_day:
            continue
        first = 0 if entry.first is None else model.site.index(entry.first)
        last = model.site.length if entry.last is None else model.site.index(entry.last)
        hired = not entry.owned and rentable(entry)
        kept = _hire(model, entry, max(0, first, min(by_day)), min(last, max(by_day))) if hired else {}
        for day, used in by_day.items():
            there = kept.get(day, 0) if hired else int(first <= day <= last)
            most = model.room(entry.count * model.site.longest(day))
            model.cp.add(sum(used) <= most * SCALE * there)


def _hire(model: ExactWork, entry: Equipment, first: int, last: int) -> dict[int, cp_model.IntVar]:
    """Days on which a hired machine is there; each run of them is brought once and covered by rents."""
    cp = model.cp
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
                model.money(unit, "hire", float(rent) * entry.count, True)
    for day, there in kept.items():
        cp.add(sum(unit for start, length, unit in units if start <= day < start + length) >= there)
        brought = cp.new_bool_var(f"{entry.kind} brought {day}")
        cp.add(brought >= there - kept.get(day - 1, 0))
        model.money(brought, "hire", float(entry.delivery or Decimal(0)), True)
    model.kept.append((entry, kept))
    return kept


def hold_limits(model: ExactWork) -> None:
    """Budget, chips, and wood burned in the stove in time."""
    limits = model.inventory.limits
    if limits.budget is not None:
        model.cp.add(sum(model.paid) <= math.ceil((float(limits.budget) + 0.1) * FINE))
    chips, cords = [], []
    for tree in model.site.trees:
        for piece in tree.pieces:
            for slot in model.slots_of(piece):
                found = model.site.work.yields(tree.tree.tree, piece.piece, slot.way)
                if slot.way.then == "chips":
                    chips.append(math.floor(found.chips_yd3 * FINE) * model.taken[slot])
                elif slot.way.id.endswith("-stove"):
                    cords.append((piece, slot, math.floor(found.cords * FINE)))
    if limits.chips_site_takes_yd3 is not None:
        model.cp.add(sum(chips) <= math.ceil((limits.chips_site_takes_yd3 + 1e-3) * FINE))
    weekly = limits.firewood_cords_per_week
    if weekly is not None:
        burned = sum(amount * model.taken[slot] for _, slot, amount in cords)
        for piece, slot, _ in cords:
            weeks = _stove_weeks(model, piece, slot)
            if weeks is not None:
                most = math.ceil((weekly * weeks + 1e-3) * FINE)
                model.cp.add(burned <= most).only_enforce_if(model.taken[slot])


def _stove_weeks(model: ExactWork, piece: PieceFacts, slot: Slot) -> float | None:
    """Weeks that the stove has for a piece; None where nothing flies."""
    if piece.brood.flight_to_beat is None or slot.way.too_late is None:
        return None
    before = flight_year(model.site.work.season, piece.brood.flight_to_beat).onset - timedelta(days=1)
    day = model.site.first + DAY * slot.last
    ends = [*([] if slot.way.finish_by is None else [min(slot.way.finish_by, before)]), before, slot.way.too_late]
    return (next((end for end in ends if day <= end), slot.way.too_late) - model.site.first).days / 7
