"""Offers: the ways as they stand on this site, with its tools, hands and destinations, before any piece is seen."""

from __future__ import annotations

from datetime import date, timedelta

from barkwright.inventory.model import Destination, Equipment, Inventory, Method
from barkwright.record import dataclass
from barkwright.season.year import in_words
from barkwright.treatment.chippers import chipper_of
from barkwright.treatment.conditions import Condition, Value
from barkwright.treatment.facts import end_name
from barkwright.treatment.listing import listing
from barkwright.treatment.rulebook import Rule, Rulebook
from barkwright.treatment.ways import Template

DIGGERS = frozenset(("excavator", "backhoe"))
KEEPS_FUEL = frozenset(("debark", "score", "split", "leave"))
MACHINES = frozenset(("excavator", "backhoe", "stump-grinder", "skid-steer", "loader", "aerial-lift"))
HAND_TOOLS = frozenset(
    ("drawknife", "bark-spud", "cant-hook", "wedges", "log-arch", "maul", "axe", "pole-saw", "moisture-meter")
)
PEELS = frozenset(("peel", "score", "peel-stump"))
WISHED: dict[str, Method] = {  # the method that a client means who would rather avoid a step
    "chip": "chip", "destroy-bark-chip": "chip", "peel": "debark", "peel-stump": "debark", "score": "score",
    "split": "split",
    "burn": "burn", "burn-stump": "burn", "destroy-bark-burn": "burn", "bury": "bury", "cover-stump": "bury",
    "destroy-bark-bury": "bury", "load-haul": "haul", "haul-bark": "haul",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Offer:
    """A way on this site. `rules` are those whose site and tool conditions hold here."""

    id: str  # way id: the template's, with -to-2 for the second of the site's destinations
    template: Template
    title: str
    end: Destination | None
    values: dict[str, Value | None]
    tools: tuple[tuple[Equipment, ...], ...]  # per tool, the entries of the inventory that are it
    applies: tuple[Condition, ...]
    rules: tuple[Rule, ...]

    @property
    def hauls(self) -> bool:
        """True when wood, bark or chips leave the site."""
        return any(step.do in ("load-haul", "haul-bark") for step in self.template.steps)

    @property
    def peels(self) -> bool:
        """True when bark is stripped or scored, so that its state decides how long that takes."""
        return any(step.do in PEELS for step in self.template.steps)

    def tools_here(self, day: date) -> bool:
        """True when every tool can be had on `day`."""
        return all(any(_here(one, day) for one in kind) for kind in self.tools)

    def breaks(self) -> set[date]:
        """First days of the spans in which tools and destination stay the same."""
        found: set[date] = set()
        for kind in self.tools:
            for one in kind:
                found |= {one.first} if one.first else set()
                found |= {one.last + timedelta(days=1)} if one.last else set()
        if self.end is not None and self.end.processes_by is not None:
            found.add(self.end.processes_by + timedelta(days=1))
        return found


def offers_of(
    inventory: Inventory, book: Rulebook, site: dict[str, Value | None], on: date, region: str
) -> tuple[Offer, ...]:
    """Every way on this site, in the order of data/treatment/ways.yaml; hauling once per destination that takes it."""
    rules = [one for one in book.rules if _in_force(one, on, region)]
    found: list[Offer] = []
    for template in book.templates.values():
        reached = tuple(one for one in rules if template.id in one.templates)
        for number, end in _ends(template, inventory):
            values = site | _way_facts(template, inventory)
            tools = tuple(_entries(inventory, kind) for kind in template.tools)
            title = template.title if end is None else f"{template.title}, to {end_name(end)} ({end.miles:g} mi)"
            name = template.id if end is None else f"{template.id}-to-{number}"
            kept = tuple(one for one in reached if _may_fire(one, values))
            found.append(Offer(name, template, title, end, values, tools, book.applies[template.id], kept))
    return tuple(found)


def usable(one: Equipment) -> bool:
    """True for what is owned or can be hired, and for a machine that is listed though nobody has given its price."""
    if one.kind not in HAND_TOOLS:
        return True
    rents = (one.rent_per_hour, one.rent_per_half_day, one.rent_per_day, one.rent_per_week, one.rent_per_month)
    return one.owned or one.with_operator or one.cost_per_hour is not None or any(rent is not None for rent in rents)


def _entries(inventory: Inventory, kind: str) -> tuple[Equipment, ...]:
    return tuple(one for one in inventory.equipment if one.kind == kind and usable(one))


def _way_facts(template: Template, inventory: Inventory) -> dict[str, Value | None]:
    missing = [kind for kind in template.tools if not _entries(inventory, kind)]
    machines = [kind for kind in template.tools if kind in MACHINES]
    brought = all(any(one.with_operator for one in _entries(inventory, kind)) for kind in machines)
    skilled = any("machine" in one.skills for one in inventory.crew)
    chipper = chipper_of(inventory)
    return {
        "way.tools": "missing" if missing else "there",
        "way.missing": words_of(missing) if missing else None,
        "way.tool_days": _days(template, inventory),
        "way.chipper_feed": None if "chipper" not in template.tools or chipper is None else chipper.feed,
        "way.operator": None if not machines else "comes-with" if brought else "crew" if skilled else "nobody",
        "way.avoided": any(WISHED.get(step.do) in inventory.wishes.avoid for step in template.steps),
        "way.spoils": template.spoils,
        "way.keeps_fuel": template.method in KEEPS_FUEL,
        "way.digs_ft": _digs_ft(template, inventory),
    }


def _digs_ft(template: Template, inventory: Inventory) -> float | None:
    """Depth that the digging machine of a way reaches [ft]: of several the deepest; None where nobody has said."""
    entries = [one for kind in template.tools if kind in DIGGERS for one in _entries(inventory, kind)]
    depths = [one.working_capacity or one.capacity for one in entries]
    return max((depth for depth in depths if depth is not None), default=None) if None not in depths else None


def words_of(kinds: list[str]) -> str:
    """Tools in words: a chipper and a chain saw."""
    named = [
        ("an " if kind[0] in "aeio" else "a ") + kind.replace("-", " ") if kind != "wedges" else kind for kind in kinds
    ]
    return listing(named)


def _days(template: Template, inventory: Inventory) -> str | None:
    entries = [one for kind in template.tools for one in _entries(inventory, kind) if one.first or one.last]
    if not entries:
        return None
    first = max((one.first for one in entries if one.first), default=None)
    last = min((one.last for one in entries if one.last), default=None)
    after = f"from {in_words(first)}" if first else ""
    until = f"until {in_words(last)}" if last else ""
    return " ".join(part for part in (after, until) if part)


def _ends(template: Template, inventory: Inventory) -> list[tuple[int, Destination | None]]:
    if not any(step.do in ("load-haul", "haul-bark") for step in template.steps):
        return [(0, None)]
    form = "slash" if "slash" in template.id else "logs"
    if template.then == "hauled" and "chipper" in template.tools:
        form = "chips"
    if any(step.do == "haul-bark" for step in template.steps):
        form = "bark"
    found: list[tuple[int, Destination | None]] = [
        (number, end) for number, end in enumerate(inventory.site.destinations, 1) if form in end.takes
    ]
    return found or [(0, None)]


def _in_force(rule: Rule, on: date, region: str) -> bool:
    after = rule.start is None or rule.start <= on
    return after and (rule.until is None or on <= rule.until) and (not rule.region or region in rule.region)


def _may_fire(rule: Rule, values: dict[str, Value | None]) -> bool:
    return all(one.holds(values) for one in rule.when if one.fact in values)


def _here(one: Equipment, day: date) -> bool:
    return (one.first is None or one.first <= day) and (one.last is None or day <= one.last)
