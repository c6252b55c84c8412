"""What local knowledge there is, what it takes the place of, what is never used, and what it changes in the plan."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Page, Para, Section, plain
from barkwright.output.json_basics import cited, iso, near, sure_spread
from barkwright.output.json_local import (
    LocalDifferenceRecord,
    LocalEntryRecord,
    LocalRecord,
    PieceDifferenceRecord,
    TotalsOfPlanRecord,
    VerdictDifferenceRecord,
)
from barkwright.output.local_changes import change_blocks
from barkwright.output.measures import Units
from barkwright.output.words import amount, day
from barkwright.units import half_up

if TYPE_CHECKING:
    from datetime import date

    from barkwright.ownfiles import Own
    from barkwright.study.differences import Differences, Taken, Totals

PARTS = {
    "rules": "Rule", "rates": "Rate", "settings": "Size", "regions": "Flight calendar", "species": "Wood and size of",
    "machine_rates": "Machine rate",
}  # fmt: skip
NONE = "The site names no files of its own under local:, so nothing of the plan is local."


def local_page(
    name: str, on: date, made_from: str, entries: Sequence[Own], never: Sequence[Own], found: Differences | None,
    units: Units, currency: str,
) -> Page:  # fmt: skip
    """The page as sections. found : the plan without the user's own files against that with them; None: no files."""
    title, made = f"Local knowledge: {name}", f"Made on {day(on)} from {made_from}."
    if found is None:
        return Page(title, made, (Section("What your files say", (Para(NONE),)),))
    sections = [Section("What your files say", (Items(tuple(_entries(entries, units))),))]
    if not entries:
        sections = [Section("What your files say", (Para("Nothing: they hold no entries."),))]
    if never:
        lines = [f"{_name(one)} ({_place(one)})" for one in never]
        why = Para("They decide nothing here: no piece, tool or price of this site is of their kind.")
        sections.append(Section("Never used on this site", (plain(lines), why)))
    sections.append(Section("What they change in this plan", tuple(change_blocks(found, units, currency))))
    return Page(title, made, tuple(sections))


def local_record(entries: Sequence[Own], never: Sequence[Own], found: Differences | None) -> LocalRecord:
    """The same as plain data."""
    unused = {(one.part, one.id) for one in never}
    return {
        "entries": [_entry(one, (one.part, one.id) not in unused) for one in entries],
        "changes": None if found is None else _changes(found),
    }


def _entries(entries: Sequence[Own], units: Units) -> Iterator[tuple[str, tuple[str, ...]]]:
    for one in entries:
        lines = [f"It rests on: {one.source}."]
        if one.was is not None:
            lines.append(
                f"In place of the shipped one: {one.was.rstrip('.')}. That rests on: {_theirs(one.was_source)}."
            )
        else:
            lines.append("No shipped one has this id: it is added.")
        text = f"{_name(one)} ({_place(one)}): {one.now.rstrip('.')}."
        yield units.sentence(text), tuple(units.sentence(line) for line in lines)


def _theirs(source: str | None) -> str:
    return "a figure of the program's own" if source in (None, "ours") else source


def _name(one: Own) -> str:
    if one.part == "species":
        return f"{PARTS[one.part]} {one.title}"
    return f"{PARTS[one.part]} {one.id}, {one.title}"


def _place(one: Own) -> str:
    return f"{os.path.basename(one.where.file)}, line {one.where.line}"


def _entry(one: Own, used: bool) -> LocalEntryRecord:
    return {
        "part": one.part,
        "id": one.id,
        "title": one.title,
        "file": one.where.file,
        "line": one.where.line,
        "says": one.now,
        "source": one.source,
        "replaces": one.was,
        "replaced_source": one.was_source,
        "used": used,
    }


def _changes(found: Differences) -> LocalDifferenceRecord:
    return {
        "flights": [
            {
                "year": one.year,
                "onset_before": one.before[0].isoformat(),
                "onset_after": one.after[0].isoformat(),
                "finish_by_before": one.before[1].isoformat(),
                "finish_by_after": one.after[1].isoformat(),
            }
            for one in found.flights
        ],
        "sizes": [
            {
                "tree": one.tree,
                "height_ft_before": one.height_ft[0],
                "height_ft_after": one.height_ft[1],
                "green_lb_before": one.green_lb[0],
                "green_lb_after": one.green_lb[1],
            }
            for one in found.sizes
        ],
        "pieces": [
            PieceDifferenceRecord(
                piece=one.piece,
                way_before=one.before.way,
                way_after=one.after.way,
                done_before=_done(one.before),
                done_after=_done(one.after),
                rules=[reason.rule for reason in one.why],
                because=[reason.because for reason in one.why],
            )
            for one in found.pieces
        ],
        "verdicts": [
            VerdictDifferenceRecord(
                piece=one.piece,
                way=one.way,
                verdict_before=one.before[0],
                verdict_after=one.after[0],
                end_before=one.before[1],
                end_after=one.after[1],
                rules=[reason.rule for reason in one.why],
                sources=[text for reason in one.why for text in cited(reason.citations)],
            )
            for one in found.verdicts
        ],
        "before": _totals(found.before),
        "after": _totals(found.after),
    }


def _done(taken: Taken) -> str | None:
    return iso(taken.done_on)


def _totals(one: Totals) -> TotalsOfPlanRecord:
    return {
        "hours": sure_spread(one.hours),
        "days": one.days,
        "last": iso(one.last),
        "to_pay": str(half_up(one.to_pay, 2)),
        "infested_ft2": near(one.bark_ft2),
        "infested_left_ft2": near(one.left_ft2),
        "host_left_ft2": near(one.host_left_ft2),
        "pieces_missed": one.missed,
    }


def summary(entries: Sequence[Own], never: Sequence[Own]) -> str:
    """In one line: how many entries, and how many of them are never used."""
    text = f"{amount(len(entries), 'local entry', 'local entries')}"
    return text + (f", {len(never)} of them never used on this site" if never else "")
