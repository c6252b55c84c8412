"""The order that was given out last, beside the inventory: read by every command that plans, written by `--issue`."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from barkwright.cli import files, journal_file
from barkwright.cli.errors import WRONG_USE, StopError
from barkwright.cli.options import Shared, moment
from barkwright.cli.site import read_site, refuse, sound_plan

if TYPE_CHECKING:
    from datetime import date

    from barkwright.plan import Plan
    from barkwright.schedule.earlier import Earlier


def issued_of(site: str) -> str:
    """The name of the file: heron.yaml has heron.issued.json."""
    return journal_file.journal_of(site).removesuffix(".journal.yaml") + ".issued.json"


def last_issued(site: str, asked: Shared, command: str) -> Earlier | None:
    """The order that was given out last, if one was, on or before the day that is planned for."""
    name = issued_of(site)
    if site == files.STDIN or not os.path.lexists(name):
        return None
    from barkwright.schedule.issued import read_issued
    from barkwright.yamldoc import decode

    content, shown = files.read_bytes(name)
    text, found = decode(content, shown)
    order = None
    if text is not None:
        order, found = read_issued(text, shown)
    if found:
        raise refuse(found, asked, command, text or "")
    return None if order is None or order.on > asked.on else order


def order_of(site: str, day: date, asked: Shared, weather: tuple[str, ...]) -> Earlier:
    """The order as it would have been on an earlier day, with what was recorded by then."""
    from dataclasses import replace

    from barkwright.schedule.digest import given_out

    if day > asked.on:
        raise StopError(f"--since {day} is later than the day planned for, {asked.on}", WRONG_USE, "name a day before")
    then = replace(asked, on=day)
    inventory, _, _ = read_site(site, then, "order", weather)
    plan, _ = sound_plan(inventory, day)
    return given_out(plan.schedule, plan.work)


def issue(site: str, plan: Plan) -> str:
    """Keep the plan's order as the one that is given out, and say so in the journal; the name of the file."""
    from barkwright.journal.entries import Entry, Journal
    from barkwright.journal.writing import begun, with_entries
    from barkwright.schedule.digest import given_out
    from barkwright.schedule.issued import issued_text

    if site == files.STDIN:
        raise StopError("an inventory from standard input has no journal", WRONG_USE, "name the file")
    with journal_file.alone(site):
        journal, _, text = journal_file.read(site)
        number = (journal or Journal()).next_id
        entry = Entry(id=number, recorded=moment(), did="issued", on=plan.on)
        files.write(issued_text(given_out(plan.schedule, plan.work)), issued_of(site), own=True)
        journal_file.write(site, with_entries(text or begun(plan.inventory.site.name), [entry]))
    return issued_of(site)
