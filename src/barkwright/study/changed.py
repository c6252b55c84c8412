"""What a plan changes of an order that was given out, each with the reason that was found for it.

Jobs are compared step by step and piece by piece, so that work that is only grouped in another way is no change; what
changes alike for the same reason is one entry. How reasons are found stands in `reasons`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import Literal

from barkwright.record import dataclass
from barkwright.schedule.earlier import Earlier, EarlierJob
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.study.reasons import Reasons, Why
from barkwright.study.since import Since
from barkwright.treatment.ways import Work

Kind = Literal["new", "dropped", "other way", "moved", "other crew", "other hours"]
KINDS: tuple[Kind, ...] = ("dropped", "new", "other way", "moved", "other crew", "other hours")
NOISE = 0.05  # hours that may lie between the hours of two jobs that are the same


@dataclass(frozen=True, slots=True)
class Changed:
    """One thing that differs, for all the pieces for which it differs alike."""

    kind: Kind
    tree: str  # tree id, or "site"
    pieces: tuple[str, ...]  # none: the tree as a whole
    work: Work | None  # None: all the work on the pieces
    way: str | None  # id of the way that the work belongs to, or of the new way
    was: EarlierJob | None  # the job on the earlier order; None for what is new, and for pieces as a whole
    now: Job | None  # the job in this plan
    was_way: str | None  # id of the way on the earlier order
    why: Why

    @property
    def first(self) -> date:
        """The day that it is listed under: the new one, or the old one where there is no new."""
        days = [job.first for job in (self.now, self.was) if job is not None]
        return days[0] if days else date.max


def changes_between(
    earlier: Earlier, work: SiteWork, schedule: Schedule, done: Collection[str] = ()
) -> tuple[Changed, ...]:
    """Everything that differs between an earlier order and a plan, by kind and then by date.

    done : ids of pieces, and of trees that are felled, whose work is recorded as done since
    """
    since = Since(earlier, work, schedule, frozenset(done))
    reasons = Reasons(since)
    found = [*_ways(since, reasons), *_jobs(since, reasons)]
    places = {tree.tree.id: place for place, tree in enumerate(work.trees)}
    return tuple(sorted(_together(found), key=lambda one: (KINDS.index(one.kind), one.first, places.get(one.tree, -1))))


def _ways(since: Since, reasons: Reasons) -> Iterator[Changed]:
    """Pieces that are treated in another way, are treated now, or no more."""
    now = {choice.piece: choice.way for choice in since.schedule.choices if choice.way is not None}
    for piece in dict.fromkeys((*since.earlier.ways, *now)):
        old, new = since.earlier.ways.get(piece), now.get(piece)
        if old != new:
            kind: Kind = "new" if old is None else "dropped" if new is None else "other way"
            tree = piece.rpartition("/")[0]
            yield Changed(kind, tree, (piece,), None, new, None, None, old, reasons.way(piece, old, new))


def _jobs(since: Since, reasons: Reasons) -> Iterator[Changed]:
    """Steps of pieces that keep their way, and of trees."""
    told: set[tuple[int, int]] = set()
    for key in since.steps():
        name, way = key[0], key[1]
        was, now = since.before.get(key), since.now.get(key)
        if way is not None and (since.earlier.ways.get(name) != way or since.way_now(name) != way):
            continue  # told with the way of the piece
        if was is None or now is None:
            one = was or now
            assert one is not None
            pieces = (name,) if one.pieces else ()
            kind: Kind = "new" if was is None else "dropped"
            yield Changed(kind, one.tree, pieces, one.work, way, was, now, way, reasons.job(was, now))
            continue
        base = Changed("moved", now.tree, (name,) if now.pieces else (), now.work, way, was, now, way, Why("done", ""))
        if _moved(was, now):
            yield replace(base, why=reasons.moved(was, now))
        if was.crew != now.crew:
            yield replace(base, kind="other crew", why=reasons.other_crew(was, now))
        pair = (id(was), id(now))
        if pair not in told and was.pieces == now.pieces and abs(was.hours - now.hours) > NOISE:
            told.add(pair)
            yield replace(base, kind="other hours", pieces=now.pieces, why=reasons.other_hours(was, now))


def _moved(was: EarlierJob, now: Job) -> bool:
    """Is it on other days? Of work that is grouped otherwise, a part may end sooner than the whole did."""
    if was.pieces != now.pieces and was.first <= now.first and now.last <= was.last:
        return False
    return (was.first, was.last) != (now.first, now.last)


def _together(found: Iterable[Changed]) -> Iterator[Changed]:
    """Entries that say the same of several pieces of a tree, as one."""
    kept: dict[tuple[object, ...], Changed] = {}
    for one in found:
        was = None if one.was is None else (one.was.first, one.was.last, one.was.crew)
        now = None if one.now is None else (one.now.first, one.now.last, one.now.crew)
        key = (one.kind, one.tree, one.work, one.way, one.was_way, was, now, one.why, not one.pieces)
        held = kept.get(key)
        kept[key] = one if held is None else replace(held, pieces=tuple(dict.fromkeys((*held.pieces, *one.pieces))))
    return iter(kept.values())
