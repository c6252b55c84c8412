"""The checker: does a schedule keep every constraint? It knows nothing of how the schedule was made.

Everything is derived again from the site and from the jobs and choices as they stand; no module that makes schedules is
imported here or in the modules beside it (`verify_needs`, `verify_days`, `verify_hires`, `verify_wood`, `verify_sums`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify_days import broken_days
from barkwright.schedule.verify_hires import broken_hires
from barkwright.schedule.verify_needs import needs_of
from barkwright.schedule.verify_sums import broken_sums
from barkwright.schedule.verify_wood import broken_wood


def verify(schedule: Schedule, work: SiteWork) -> tuple[str, ...]:
    """Broken constraints, each in a sentence that names the job, piece or day; empty when the schedule holds."""
    broken = [*_names(schedule, work)]
    if broken:
        return tuple(broken)  # nothing else can be told apart
    needs, unfit = needs_of(schedule, work)
    return (
        *unfit,
        *_order(schedule),
        *broken_days(schedule, work, needs),
        *broken_hires(schedule, work),
        *broken_wood(schedule, work, needs),
        *broken_sums(schedule, work),
    )


def _names(schedule: Schedule, work: SiteWork) -> list[str]:
    jobs = Counter(job.id for job in schedule.jobs)
    broken = [f"{name} names {count} jobs." for name, count in jobs.items() if count > 1]
    trees = {tree.tree.id for tree in work.trees}
    owner = {piece.id: tree.tree.id for tree in work.trees for piece in tree.stem.pieces}
    for job in schedule.jobs:
        if job.tree != "site" and job.tree not in trees:
            broken.append(f"{job.id} belongs to {job.tree}, which is not on the site.")
        broken += [
            f"{job.id} works on {piece}, which is no piece of {job.tree}."
            for piece in job.pieces
            if owner.get(piece) != job.tree
        ]
        broken += [f"{job.id} waits for {name}, which is not planned." for name in job.after if name not in jobs]
    broken += list(_references(schedule, work))
    choices = Counter(choice.piece for choice in schedule.choices)
    broken += [f"{piece} has {choices[piece]} choices." for piece in owner if choices[piece] != 1]
    return broken + [f"{piece} is chosen for, and is not on the site." for piece in choices if piece not in owner]


def _order(schedule: Schedule) -> list[str]:
    """Jobs come after those they wait for, in time and in the list."""
    known = {job.id: job for job in schedule.jobs}
    place = {job.id: place for place, job in enumerate(schedule.jobs)}
    broken = [
        f"{job.id} stands where J{number} belongs."
        for number, job in enumerate(schedule.jobs, 1)
        if job.id != f"J{number}"
    ]
    for job in schedule.jobs:
        if job.last < job.first:
            broken.append(f"{job.id} ends before it begins.")
        for name in job.after:
            if known[name].last > job.first:
                broken.append(f"{job.id} begins on {job.first}, before {name} has ended on {known[name].last}.")
            if place[name] > place[job.id]:
                broken.append(f"{job.id} stands before {name} in the list, and waits for it.")
            if known[name].tree != job.tree and known[name].tree != "site":
                broken.append(f"{job.id} waits for {name}, which belongs to another tree.")
    return broken


def _references(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    """Choices name a way of their piece, and one of its windows."""
    listed = {piece.id: ways for tree in work.trees for piece, _, ways in tree.pieces()}
    for choice in schedule.choices:
        if choice.way is None:
            continue
        way = next((way for way in listed.get(choice.piece, ()) if way.id == choice.way), None)
        if way is None or choice.window is None or not 0 <= choice.window < len(way.windows):
            yield f"{choice.piece} has no such way or window as the one chosen."
