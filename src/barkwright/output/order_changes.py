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
from barkwright.treatment.rulebook import templates

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
FAMILIES = (
    ("^it (waits for|goes with) ", "it waits for other work, or goes with it, and that is on other days."),
    ("^it makes room for ", "it makes room for other work."),
    ("^it takes the hours that ", "it takes hours that other work had."),
    ("^.* are busy with ", "they are busy with other work."),
)  # reasons that name other work, and what is said where there are several
LINES = 8  # of a reason that are shown
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
    changed = [one for one in changed if _shows(one)]
    if not changed:
        return Section(heading, (Para("Nothing changes: every job that is left stays as it was ordered."),))
    done = [one for one in changed if one.kind == "dropped" and one.why.cause == "done"]
    entries: list[tuple[str, tuple[str, ...]]] = [(f"Done since then: {_what(done)}.", ())] if done else []
    groups = _groups([one for one in changed if one not in done])
    entries += [(f"{LEADS[kind]}: {told(view, why)}", _few(kind, same)) for (kind, why), same in groups]
    return Section(heading, (Para(_stays(view, changed)), Items(tuple(entries))))


def _shows(one: Changed) -> bool:
    """Is there a difference once the hours are said in words?"""
    if one.kind != "other hours" or one.was is None or one.now is None:
        return True
    return hours(one.was.hours) != hours(one.now.hours)


def _groups(changed: Sequence[Changed]) -> Iterable[tuple[tuple[Kind, str], list[Changed]]]:
    """Changes of a kind for the same reason; reasons that only name different other work are one."""
    texts: dict[tuple[Kind, str], set[str]] = {}
    for one in changed:
        texts.setdefault((one.kind, _family(one.why.text)), set()).add(one.why.text)
    groups: dict[tuple[Kind, str], list[Changed]] = {}
    for one in changed:
        family = _family(one.why.text)
        why = family if len(texts[one.kind, family]) > 1 else one.why.text
        groups.setdefault((one.kind, why), []).append(one)
    return groups.items()


def _family(text: str) -> str:
    return next((said for begins, said in FAMILIES if re.search(begins, text)), text)


def _few(kind: Kind, same: Iterable[Changed]) -> tuple[str, ...]:
    lines = tuple(_lines(kind, same))
    if len(lines) <= LINES:
        return lines
    return (*lines[: LINES - 1], f"And {len(lines) - LINES + 1} more, all of them in --format json.")


def told(view: View, text: str) -> str:
    """A reason as the reader sees it, its dates and amounts said as on the rest of the sheet."""
    text = text.replace("It ", "it ", 1) if text.startswith("It ") else text
    said = _DATE.sub(lambda found: day(date(int(found[1]), int(found[2]), int(found[3]))), text)
    return view.units.sentence(said)


def _stays(view: View, changed: Sequence[Changed]) -> str:
    jobs = view.plan.schedule.jobs
    touched = {one.now.id for one in changed if one.now is not None}
    new_ways = {piece for one in changed if one.now is None for piece in one.pieces}
    stay = sum(job.id not in touched and new_ways.isdisjoint(job.pieces) for job in jobs)
    if stay == len(jobs):
        return f"All {amount(stay, 'job')} of this order stand as they were ordered; this is not in it any more."
    return (
        f"Of {amount(len(jobs), 'job')} in this order {stay or 'none'} {'stands' if stay == 1 else 'stand'} as ordered."
    )


def _lines(kind: Kind, same: Iterable[Changed]) -> Iterable[str]:
    """A line for all that changes from the same to the same."""
    rows: dict[str, list[Changed]] = {}
    for one in same:
        rows.setdefault(_from_to(kind, one), []).append(one)
    for change, ones in rows.items():
        yield f"{change}: {_what(ones)}." if change else f"{_what(ones)}."


def _from_to(kind: Kind, one: Changed) -> str:
    was, now = one.was, one.now
    if kind == "other way":
        old = way_title(one.was_way)
        return f"{way_title(one.way) or 'leave it'}, {f'where it was to {old}' if old else 'not the way of then'}"
    if was is None and now is None:
        return "" if kind == "dropped" else way_title(one.way)
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


def way_title(way: str | None) -> str:
    """The title of a way; nothing where the program does not know it."""
    known = templates().get(way or "")
    return "" if known is None else known.title


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
