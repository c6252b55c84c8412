"""Why a plan differs from an earlier order: for each change the first of some tests that holds.

In this order: the work is recorded as done; its day has passed; its days, its way or its date are no longer open; its
crew is gone or does not work that day; it waits for other work, its wood is treated otherwise, or it goes with work
that has to move; its hours are taken by other work, or the machine is hired on other days; a crew or machine differs;
it takes hours that have become free; what is known of its tree differs; limits, prices or days of the site differ.
The last resorts: its tree came down since; or what keeping more of the earlier order would cost.
Dates in a text are written 2026-11-27; whoever shows it says them as dates are said there.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Literal

from barkwright.record import dataclass
from barkwright.schedule.earlier import EarlierJob
from barkwright.schedule.jobs import Job
from barkwright.study.since import Since, named
from barkwright.study.whole import whole_plan
from barkwright.treatment.ways import Work

Cause = Literal[
    "done", "day passed", "closed", "hands", "waits", "makes room", "hire", "takes room", "facts", "site", "better"
]
DAY = timedelta(days=1)
TO_FELL = ("call", "inspect", "fell")  # work that is over once the tree lies
LEAST = 0.05  # hours that count as room


@dataclass(frozen=True, slots=True)
class Why:
    """A reason: which test held, and what it found."""

    cause: Cause
    text: str


Test = Callable[[EarlierJob, Job], str | None]


class Reasons:
    """Finds reasons for the changes of one plan."""

    def __init__(self, since: Since) -> None:
        self.since = since

    def moved(self, was: EarlierJob, now: Job) -> Why:
        """Why a job is on other days."""
        if was.first < self.since.on:
            return Why("day passed", "its day has passed, and it is not recorded as done.")
        tests: tuple[tuple[Cause, Test], ...] = (
            ("closed", self._closed), ("hands", self._hands), ("waits", self._waits), ("waits", self._wood),
            ("waits", self._goes_with), ("makes room", self._no_room), ("hire", self._not_hired),
            ("hands", self._differ), ("takes room", self._freed),
        )  # fmt: skip
        for cause, test in tests:
            text = test(was, now)
            if text is not None:
                return Why(cause, text)
        return self._rest(was.tree)

    def other_crew(self, was: EarlierJob, now: Job) -> Why:
        """Why somebody else does a job."""
        text = self.since.crew_differs(was.crew)
        if text is None and was.crew in self.since.crews and not self.since.hours(was.crew, now.first):
            text = f"{was.crew} do not work on {now.first}."
        if text is None:
            busy = self._taken(was.crew, now)
            text = None if busy is None else f"{was.crew} are busy with {busy} on {now.first}."
        text = text or self.since.crew_differs(now.crew)
        return self._rest(was.tree) if text is None else Why("hands", text)

    def other_hours(self, was: EarlierJob, now: Job) -> Why:
        """Why a job takes more hours or fewer."""
        then, bark = self.since.reckoned(now, was.hours), self.since.reckoned(now, now.hours)
        if bark is not None and then is not None and then != bark:
            return Why("closed", f"the bark is reckoned {bark} now, not {then}.")
        text = self.since.tree_differs(was.tree) or self._machines(now)
        if text is not None:
            return Why("facts", text)
        if bark is not None and then is None:
            return Why("closed", f"the bark is reckoned {bark} now.")
        if now.work == "look again":
            return Why("facts", "other wood is treated now than the earlier order said.")
        return self._rest(was.tree)

    def way(self, piece: str, was: str | None, now: str | None) -> Why:
        """Why a piece is treated in another way, is treated at all, or is not."""
        tree, since = since_tree(piece), self.since
        if since.is_done(piece):
            return Why("done", "the work on it is recorded as done.")
        text = since.tree_there(tree) or since.piece_there(piece)
        if text is None and was is not None:
            text = since.way_closed(piece, was)
            if text is not None:
                return Why("closed", text)
            gone = since.tools_differ(piece, was)
            if gone is not None:
                return Why("hands", gone)
        if text is None and now is not None:
            come = since.tools_differ(piece, now)
            if come is not None:
                return Why("hands", come)
        if text is not None:
            return Why("facts", text)
        differs = since.tree_differs(tree)
        if differs is not None:
            return Why("facts", differs)
        if now is None:
            site = since.site_differs()
            return Why("site" if site else "better", f"{since.why_none(piece)}{f' Since then {site}' if site else ''}")
        return self._rest(tree)

    def job(self, was: EarlierJob | None, now: Job | None) -> Why:
        """Why a job is new or dropped though its wood keeps its way."""
        one = was or now
        assert one is not None
        tree, pieces, work = one.tree, one.pieces, one.work
        if was is not None and (self.since.is_done(tree) or (pieces and all(map(self.since.is_done, pieces)))):
            return Why("done", "it is recorded as done.")
        if was is not None and now is None and self._over(work, tree):
            return Why("done", "it is recorded as done.")
        if work == "look again":
            return Why("facts", "other wood is treated now than the earlier order said.")
        text = self.since.tree_there(tree) or self.since.tree_differs(tree)
        if text is None and now is None and work == "inspect":
            return Why("facts", "what was to be looked for under its bark is known by now.")
        if text is None and was is not None and now is None and was.last < self.since.on and work == "call":
            return Why("day passed", f"{was.last} has passed, and nothing in this plan waits for it any more.")
        if text is None and work == "call":
            return Why("facts", "other ways are taken now, and these " + ("need it." if now else "do not need it."))
        if text is None and pieces:
            where = now.last if now is not None else None
            bark = None if where is None or now is None else self.since.bark(now, where)
            if bark is not None:
                return Why("closed", f"the way takes it when the bark is {bark}, as on {where}.")
            return Why("closed", "on its new days the way does without it.")
        return self._rest(tree) if text is None else Why("facts", text)

    def _over(self, work: Work, tree: str) -> bool:
        """Is work that leads up to a felling behind it?"""
        since = self.since
        return (work in TO_FELL and since.is_felled(tree)) or (work == "call" and since.is_arranged(tree))

    def _rest(self, tree: str) -> Why:
        """What is left when nothing bars what the earlier order said."""
        text = self.since.tree_differs(tree)
        if text is not None:
            return Why("facts", text)
        text = self.since.site_differs()
        if text is not None:
            return Why("site", text)
        if self.since.is_felled(tree):
            return Why("facts", "its tree came down since.")
        return Why("better", whole_plan(self.since.schedule.optimum, self.since.currency))

    def _closed(self, was: EarlierJob, now: Job) -> str | None:
        facts = self.since.tree_differs(was.tree)
        more = f" ({facts.rstrip('.')})" if facts else ""
        if now.opens is not None and was.first < now.opens:
            return f"it may not begin before {now.opens}{more}."
        if now.closes is not None and was.last > now.closes:
            return f"the days on which it may be done end on {now.closes}{more}."
        if now.finish_by is not None and was.last > now.finish_by >= now.last:
            return f"it has to be done by {now.finish_by}{more}."
        if now.completes and self.since.shut(now, was.last):
            return f"its way cannot be taken on {was.last} any more{more}."
        return None

    def _hands(self, was: EarlierJob, now: Job) -> str | None:
        """Is its crew not there on its old day?"""
        since = self.since
        if was.crew in since.crews:
            return None if since.hours(was.crew, was.first) else f"{was.crew} do not work on {was.first}."
        return since.crew_differs(was.crew)

    def _differ(self, was: EarlierJob, now: Job) -> str | None:
        """Are its crew or its machines not as they were?"""
        return self.since.crew_differs(was.crew) or self._machines(now)

    def _machines(self, now: Job) -> str | None:
        return next(filter(None, (self.since.differs(f"machine {kind}") for kind in now.equipment)), None)

    def _waits(self, was: EarlierJob, now: Job) -> str | None:
        for name in now.after:
            before = self.since.jobs[name]
            if before.last + DAY * now.wait_days > was.first:
                days = f", and {now.wait_days} days must pass" if now.wait_days else ""
                return f"it waits for {named(before)}, which ends on {before.last}{days}."
        return None

    def _wood(self, was: EarlierJob, now: Job) -> str | None:
        """Is the wood of its tree treated in another way, so that it comes down for other work?"""
        return None if now.pieces or not self.since.new_ways(now.tree) else "the wood of its tree is treated otherwise."

    def _goes_with(self, was: EarlierJob, now: Job) -> str | None:
        """Work that is done shortly before other work goes with it where that has to move for a reason of its own."""
        for later in self.since.followers.get(now.id, ()):
            old = self.since.was.get(later.id)
            if old is None or (old.first, old.last) == (later.first, later.last):
                continue
            if (later.first > old.first) != (now.first > was.first):
                continue
            own = (self._closed, self._hands, self._no_room, self._not_hired)
            if old.first < self.since.on or any(test(old, later) for test in own):
                return f"it goes with {named(later)}, which moves to {later.first}."
        return None

    def _no_room(self, was: EarlierJob, now: Job) -> str | None:
        """Are the hours of its old days taken by work that was not there before?"""
        since = self.since
        if was.crew not in since.crews:
            return None
        span = [was.first + DAY * step for step in range((was.last - was.first).days + 1)]
        people = since.crews[was.crew].people
        free = sum(max(0.0, since.hours(was.crew, day) * people - since.used(was.crew, day, now.id)) for day in span)
        if free >= min(now.hours, was.hours) - LEAST:
            return None
        come = [one for day in span for one in since.arrived(was.crew, day) if one.id != now.id]
        if not come:
            return None
        biggest = max(come, key=lambda one: (one.hours, one.id))
        return f"it makes room for {named(biggest)}, which {since.came(biggest)}."

    def _not_hired(self, was: EarlierJob, now: Job) -> str | None:
        """Is a hired machine that it needs on the site on other days now?"""
        for kind in now.equipment:
            runs = [run for run in self.since.schedule.rentals if run.equipment == kind]
            if runs and not any(run.first <= was.first <= run.last for run in runs):
                run = next((run for run in runs if run.first <= now.first <= run.last), runs[0])
                days = f"from {run.first} to {run.last}" if run.first != run.last else f"on {run.first}"
                return f"the {kind.replace('-', ' ')} is hired {days} now."
        return None

    def _freed(self, was: EarlierJob, now: Job) -> str | None:
        """Were the hours of its new days those of work that is there no more?"""
        if now.first >= was.first:
            return None
        left = self.since.left(now.crew, now.first)
        if not left:
            return None
        return f"it takes the hours that {named(left[0])} had on {now.first}."

    def _taken(self, crew: str | None, now: Job) -> str | None:
        """The work that leaves a crew no hours for a job on its day."""
        since = self.since
        if crew not in since.crews:
            return None
        free = since.hours(crew, now.first) * since.crews[crew].people - since.used(crew, now.first, now.id)
        there = [one for one in since.on_day(crew, now.first) if one.id != now.id]
        if free >= min(now.hours, dict(now.day_hours)[now.first]) - LEAST or not there:
            return None
        return named(max(there, key=lambda one: (one.hours, one.id)))


def since_tree(piece: str) -> str:
    """The tree of a piece."""
    return piece.rpartition("/")[0]
