"""Do hands, machines, days, calls and wishes hold together?"""

from __future__ import annotations

from barkwright.inventory.checks.place import check_spans
from barkwright.inventory.kinds import capacities
from barkwright.inventory.measure import plain
from barkwright.inventory.model import Equipment
from barkwright.inventory.nearest import nearest_word
from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report
from barkwright.yamldoc import Loc

_RENTS = ("rent_per_hour", "rent_per_half_day", "rent_per_day", "rent_per_week", "rent_per_month")


def check_crew(parts: Parts, report: Report) -> None:
    """Crews have names of their own, days, and either a rate or no pay."""
    names: set[str] = set()
    for at, crew in parts.crew:
        if crew.name in names:
            report.error("duplicate-name", (*at, "name"), f"crew '{crew.name}' is there twice", "name them apart")
        names.add(crew.name)
        if not crew.days:
            report.error("no-days", (*at, "days"), "no day of the week is given", "write days: [mon, tue]")
        if crew.unpaid and crew.rate is not None:
            report.error("rate-and-unpaid", (*at, "rate"), "unpaid hands have no rate", "delete one of rate and unpaid")
        if not crew.unpaid and crew.rate is None:
            hint = "add rate: money per person-hour, or unpaid: true"
            report.warning("no-price", at, "neither rate nor unpaid is given", hint)
        check_spans((*at, "off"), crew.off, report)


def check_equipment(parts: Parts, report: Report) -> None:
    """Capacities, prices and dates of machines."""
    for at, machine in parts.equipment:
        if machine.kind == "chipper" and machine.capacity is None and machine.working_capacity is None:
            hint = "add capacity: the maker's figure, and working_capacity: what it takes all day"
            report.error("no-capacity", at, "a chipper needs its capacity, the thickest wood it takes", hint)
        _capacity(at, machine, report)
        _price(at, machine, report)
        if machine.first is not None and machine.last is not None and machine.last < machine.first:
            message = f"to {machine.last} is before from {machine.first}"
            report.error("span-reversed", (*at, "to"), message, "a span runs from its first to its last day")
        elif machine.last is not None and machine.last < parts.on:
            message = f"to {machine.last} is over on {parts.on}: the machine cannot be had any more"
            report.warning("expired", (*at, "to"), message, "delete the line if it can still be had")


def check_calendar(parts: Parts, report: Report) -> None:
    """Days off and calls."""
    if parts.calendar is not None:
        check_spans(("calendar", "off"), parts.calendar.off, report)
    known = _tree_ids(report)
    for at, call in parts.calls:
        for number, tree in enumerate(call.trees):
            if tree not in known:
                near = nearest_word(tree, known)
                hint = f"did you mean '{near}'?" if near else f"trees here: {', '.join(dict.fromkeys(known[:20]))}"
                report.error("unknown-tree", (*at, "for", number), f"there is no tree '{tree}'", hint)


def check_wishes(parts: Parts, report: Report) -> None:
    """Nothing both avoided and preferred; burning preferred only with an answer on the permit."""
    wishes = parts.wishes
    if wishes is None:
        return
    for number, method in enumerate(wishes.prefer):
        at: Loc = ("wishes", "prefer", number)
        if method in wishes.avoid:
            report.error("avoid-and-prefer", at, f"'{method}' is both avoided and preferred", "keep one of them")
        elif method == "burn" and parts.site is not None and parts.site.burning.permit in ("unknown", "refused"):
            permit = parts.site.burning.permit
            said = "the permit is refused" if permit == "refused" else "nobody has said if a permit is held"
            hint = "ask the fire authority and write site.burning.permit: held, not-needed or refused"
            report.warning("permit-not-answered", at, f"burning is preferred, yet {said}", hint)


def _capacity(at: Loc, machine: Equipment, report: Report) -> None:
    most, works = machine.capacity, machine.working_capacity
    if most is not None and works is not None and works > most:
        unit = capacities()[machine.kind].inside
        message = f"working_capacity {_said(works, unit, report)} is above the capacity {_said(most, unit, report)}"
        hint = "the working capacity is what it takes all day, never more than the maker's figure"
        report.error("capacity-reversed", (*at, "working_capacity"), message, hint)


def _price(at: Loc, machine: Equipment, report: Report) -> None:
    rents = any(getattr(machine, key) is not None for key in _RENTS)
    if not machine.owned and not rents and machine.cost_per_hour is None:
        hint = "add rent_per_day or another rent, or owned: true"
        report.warning("no-price", at, "it is neither owned nor has a rent", hint)


def _said(amount: float, unit: str, report: Report) -> str:
    return report.amount(amount, unit) if unit in ("in", "ft", "yd3") else f"{plain(amount)} {unit}"


def _tree_ids(report: Report) -> list[str]:
    ids: list[str] = []
    trees = report.document.node(("trees",)).value
    for tree in trees if isinstance(trees, list) else ():
        node = tree.value.get("id") if isinstance(tree.value, dict) else None
        if node is not None and node.kind == "scalar":
            ids.append(node.text)
            count = tree.value.get("count")
            if count is not None and isinstance(count.value, int) and count.value > 1:
                ids.extend(f"{node.text}.{n}" for n in range(1, min(count.value, 2000) + 1))
    return ids
