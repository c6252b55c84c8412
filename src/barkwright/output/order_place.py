"""The place, for a crew that has not been there: for whom, how one gets in, what is spared, who sees to permits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Section
from barkwright.output.order_briefing import crew_jobs
from barkwright.output.words import listing

if TYPE_CHECKING:
    from barkwright.output.view import View


def the_place(view: View) -> Section | None:
    """What the inventory says of client and place; nothing where it says nothing, or nobody of the site works."""
    inventory = view.plan.inventory
    client, terms = inventory.client, inventory.quote
    who = ", ".join(part.strip() for part in (client.name, client.phone, client.address) if part and part.strip())
    pairs = [
        (label, text)
        for label, text in (
            ("Client", who),
            ("Access", terms.access),
            ("Parking", terms.parking),
            ("Protect", listing(list(terms.protect))),
            ("Debris", terms.debris),
            ("Permits", f"seen to by {terms.permits_by}: ask before you start" if terms.permits_by else None),
        )
        if text
    ]
    return Section("The place", (Facts(tuple(pairs)),)) if pairs and crew_jobs(view) else None


def address(view: View) -> str:
    """The client's address, to be checked before anybody relies on it; empty where none is given."""
    given = (view.plan.inventory.client.address or "").strip()
    return f"{given} (the client's: is it this place?)" if given else ""
