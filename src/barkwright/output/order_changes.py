"""Since the order of a date: what this order changes of one that was given out before, and why."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para, Section
from barkwright.output.names import part_names, tree_names
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, listing, span

if TYPE_CHECKING:
    from barkwright.schedule.earlier import EarlierJob
    from barkwright.schedule.jobs import Job
    from barkwright.study.changed import Changed, Kind

LEADS: dict[Kind, str] = {
    "dropped": "Not in this order any more", "new": "New in this order", "other way": "Done in another way",
    "moved": "On other days", "other crew": "Done by others", "other hours": "Other hours",
}  # fmt: skip
WORDS = {
    "inspect": "look under the bark of", "call": "call about", "fell": "fell", "limb and buck": "limb and buck",
    "process": "work on", "bark": "deal with the bark of", "stump": "stump of", "slash": "limbs and tops of",
    "haul": "haul", "stack": "stack", "look again": "look after the flight at",
}  # fmt: skip
PARTED = ("stump", "slash")  # work whose words name the part already
_DATE = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")


def since_last(view: View) -> Section | None:
    """The changes that the plan carries; nothing where it was not made after an earlier order."""
    return changes_section(view, view.plan.changed)


def changes_section(view: View, changed: Sequence[Changed]) -> Section | None:
    """Changes by kind and reason; one line where there are none."""
    since = view.plan.since
    if since is None:
        return None
    heading = f"Since the order of {day(since)}"
    if not changed:
        return Section(heading, (Para("Nothing changes: every job that is left stays as it was ordered."),))
    groups: dict[tuple[Kind, str], list[Changed]] = {}
    for one in changed:
        groups.setdefault((one.kind, one.why.text), []).append(one)
    entries = tuple(
        (f"{LEADS[kind]}: {told(view, why)}", tuple(_lines(view, kind, same))) for (kind, why), same in groups.items()
    )
    return Section(heading, (Para(_stays(view)), Items(entries)))


def told(view: View, text: str) -> str:
    """A reason as the reader sees it, its dates and amounts said as on the rest of the sheet."""
    said = _DATE.sub(lambda found: day(date(int(found[1]), int(found[2]), int(found[3]))), text)
    return view.units.sentence(said)


def _stays(view: View) -> str:
    jobs = view.plan.schedule.jobs
    touched = {one.now.id for one in view.plan.changed if one.now is not None}
    new_ways = {piece for one in view.plan.changed if one.now is None for piece in one.pieces}
    stay = sum(job.id not in touched and new_ways.isdisjoint(job.pieces) for job in jobs)
    if stay == len(jobs):
        return f"All {amount(stay, 'job')} of this order stand as they were ordered; this is not in it any more."
    return (
        f"Of {amount(len(jobs), 'job')} in this order {stay or 'none'} {'stands' if stay == 1 else 'stand'} as ordered."
    )


def _lines(view: View, kind: Kind, same: Iterable[Changed]) -> Iterable[str]:
    """A line for all that changes from the same to the same."""
    rows: dict[str, list[Changed]] = {}
    for one in same:
        rows.setdefault(_from_to(view, kind, one), []).append(one)
    for change, ones in rows.items():
        yield f"{change}: {_what(ones)}." if change else f"{_what(ones)}."


def _from_to(view: View, kind: Kind, one: Changed) -> str:
    was, now = one.was, one.now
    if kind == "other way":
        return f"{_title(view, one, one.way)}, where it was to {_title(view, one, one.was_way)}"
    if was is None and now is None:
        return "" if kind == "dropped" else _title(view, one, one.way)
    if was is None or now is None:
        job = was or now
        return "" if job is None else _days(job)
    if kind == "moved":
        return f"{_days(now)} in place of {_days(was)}"
    if kind == "other crew":
        return f"{now.crew or 'somebody'} in place of {was.crew or 'somebody'}"
    return f"{hours(now.hours)} in place of {hours(was.hours)}"


def _days(job: Job | EarlierJob) -> str:
    return span(job.first, job.last)


def _title(view: View, one: Changed, way: str | None) -> str:
    """The title of a way; its id where the program does not know it any more."""
    found = (each.title for piece in one.pieces for each in view.plan.ways.get(piece, ()) if each.id == way)
    return next(found, (way or "leave it").replace("-", " "))


def _what(ones: Sequence[Changed]) -> str:
    """What it is about: fell T1, T2; work on T3 logs 1-4."""
    said: list[str] = []
    ordered = sorted(ones, key=lambda one: list(WORDS).index(one.work) if one.work else -1)
    for work, group in groupby(ordered, key=lambda one: one.work):
        parts: dict[str, list[str]] = {}
        for one in group:
            names = part_names(piece.rpartition("/")[2] for piece in one.pieces)
            here = parts.setdefault("" if work in PARTED else names, [])
            here += [] if one.tree in here else [one.tree]
        where = [f"{_trees(trees)} {names}".strip() for names, trees in parts.items()]
        said.append(f"{WORDS[work]} {', '.join(where)}" if work else ", ".join(where))
    return "; ".join(said)


def _trees(trees: Sequence[str]) -> str:
    named = [tree for tree in trees if tree != "site"]
    return listing([*([tree_names(named)] if named else []), *(["the site"] if "site" in trees else [])])
