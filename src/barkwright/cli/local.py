"""The user's own files of local knowledge, all rooms together: what is wrong in them, what they hold and change."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.diagnostics import Diagnostic
    from barkwright.inventory.model import Inventory
    from barkwright.output.json_local import LocalRecord
    from barkwright.ownfiles import Own
    from barkwright.plan import Plan
    from barkwright.study.differences import Differences


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What a site's own files say, and what they change in its plan."""

    plan: Plan
    made_from: str
    entries: tuple[Own, ...]
    never: tuple[Own, ...]
    changes: Differences | None  # None: the site names no files
    stopped: tuple[Diagnostic, ...] = ()  # a word about it if Ctrl-C ended the search for the plan without them

    def text(self) -> str:
        """As a page of text."""
        from barkwright.output.layout import render
        from barkwright.output.local import local_page
        from barkwright.output.measures import Units

        inventory = self.plan.inventory
        units = Units(inventory.site.units == "metric")
        name, on, currency = inventory.site.name, self.plan.on, inventory.currency
        return render(local_page(name, on, self.made_from, self.entries, self.never, self.changes, units, currency))

    def record(self) -> LocalRecord:
        """As plain data."""
        from barkwright.output.local import local_record

        return local_record(self.entries, self.never, self.changes)


def own_faults(local: tuple[str, ...]) -> tuple[Diagnostic, ...]:
    """What is wrong in the files, in their order; what is wrong with a file as a file comes from the rulebook."""
    from barkwright.treatment.local import rule_book

    order = {path: number for number, path in enumerate(local)}
    found = [*rule_book(local).diagnostics, *(one for book in _books(local) for one in book.diagnostics)]
    return tuple(sorted(found, key=lambda one: _place(one, order)))


def local_knowledge(plan: Plan, made_from: str) -> Knowledge:
    """Plan the site again without its own files, and hold the two plans against each other."""
    from barkwright.cli.site import planned
    from barkwright.study.differences import plan_differences
    from barkwright.study.ownuse import unused

    inventory = plan.inventory
    if not inventory.local:
        return Knowledge(plan, made_from, (), (), None)
    entries = _entries(inventory.local)
    plain, stopped = planned(_without(inventory), plan.on)
    changes = plan_differences((plain.work, plain.schedule), (plan.work, plan.schedule))
    return Knowledge(plan, made_from, entries, unused(entries, plan.work), changes, stopped)


def _without(inventory: Inventory) -> Inventory:
    """The site without its own files; a flight calendar that only they have is then not named."""
    from barkwright.season.regions import regions

    known = {region.id for region in regions().regions}
    site = inventory.site if inventory.site.region in known else inventory.site.model_copy(update={"region": None})
    return inventory.model_copy(update={"local": (), "site": site})


def _entries(local: tuple[str, ...]) -> tuple[Own, ...]:
    """Every sound entry, in the order of the files."""
    from barkwright.treatment.local import own_rules

    order = {path: number for number, path in enumerate(local)}
    found = [*own_rules(local), *(one for book in _books(local) for one in book.own)]
    return tuple(sorted(found, key=lambda one: (order.get(one.where.file, 0), one.where.line, one.where.column)))


def _books(local: tuple[str, ...]) -> tuple[Any, ...]:
    from barkwright.costs.proxies import rate_table
    from barkwright.season.ownregions import region_book
    from barkwright.stem.ownspecies import species_book
    from barkwright.treatment.rates import rate_book

    return rate_book(local), region_book(local), species_book(local), rate_table(local)


def _place(one: Diagnostic, order: dict[str, int]) -> tuple[int, int, int]:
    where = one.where
    return (order.get(where.file, 0), where.line, where.column) if where else (0, 0, 0)
