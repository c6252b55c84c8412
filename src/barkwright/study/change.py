"""One change to a site: the inventory that it makes, what to call it, and what it takes for granted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from json import dumps
from typing import Any, Literal

from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.record import dataclass
from barkwright.schedule.sitework import SiteWork

Family = Literal["days", "people", "machine", "method", "start", "budget"]
PLACE = "--try"  # stands for the name of a file where a part is read that no file holds


@dataclass(frozen=True, slots=True)
class Change:
    """A site with one thing changed."""

    phrase: str  # as it is asked for: "one more person with ridge crew"
    title: str  # the subject of a sentence: "One more person with ridge crew"
    family: Family
    inventory: Inventory
    judged: bool = True  # may other fellings and ways be open after it?
    assumed: tuple[str, ...] = ()  # what it takes for granted, in sentences
    placeholder: bool = False  # does it rest on a price that nobody has given?

    def of(self, work: SiteWork) -> SiteWork:
        """The site's trees under the changed inventory."""
        return work.with_inventory(self.inventory) if self.judged else replace(work, inventory=self.inventory)


class UnfitChangeError(ValueError):
    """A change that cannot be made on a site, with what could be asked for instead."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def read_part(inventory: Inventory, on: Any, key: str, fields: Mapping[str, object]) -> Any:
    """A part of an inventory, read and checked as though it stood in the site's own file.

    key : str       where it would stand: crew, equipment, limits, calendar
    Error: UnfitChangeError with the first fault that would be reported for it.
    """
    site = inventory.site
    place = {"name": PLACE, "units": site.units, "latitude": site.latitude, "longitude": site.longitude}
    many = key in ("crew", "equipment")
    lines = [
        "barkwright: 1",
        f"site: {dumps(place)}",
        'trees: [{"id": "T1", "species": "white", "dbh": "12 in"}]',
        f"{key}: {dumps([fields] if many else fields)}",
    ]
    found, faults = read_inventory("\n".join(lines) + "\n", PLACE, on)
    if found is None:
        first = next(one for one in faults if one.severity == "error")
        raise UnfitChangeError(first.message, first.hint or "correct it")
    part = getattr(found, key)
    return part[0] if many else part
