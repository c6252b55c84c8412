"""What a plan comes to in a few figures, and what it would come to with one thing changed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal

from barkwright.record import dataclass
from barkwright.schedule.best import best_plan
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.paying import is_estimate, to_pay, unpriced
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.watch import Watch
from barkwright.study.change import Change

LOOKS = ("inspect", "look again", "call")  # jobs that treat no wood
Sure = Callable[[SiteWork, Schedule], float | None]  # probability of being done before the beetles fly, 0 to 1


@dataclass(frozen=True, slots=True)
class Outcome:
    """A plan in a few figures."""

    left_ft2: float  # infested bark left at onset
    to_pay: Decimal  # [currency]
    estimate: bool  # rests on a published rate or a placeholder
    unpriced: tuple[str, ...]  # what has to be paid for and has no price yet
    days: int  # days with work on them
    last: date | None  # last day on which wood is worked; the look after the flight comes later
    sure: float | None  # probability; None: not reckoned


@dataclass(frozen=True, slots=True)
class Tried:
    """One change to a site: the plan as it stands, and the plan made with the change."""

    change: Change
    now: Outcome
    then: Outcome | None  # None: not planned again in full
    guess_ft2: float | None = None  # infested bark that a quick guess says would be saved
    broken: tuple[str, ...] = ()  # what the checker holds against the plan with the change, which is not shown then
    plan: tuple[SiteWork, Schedule] | None = None  # the plan with the change, where it is shown

    @property
    def saved_ft2(self) -> float:
        """Infested bark that the change saves [ft2]; negative where it leaves more."""
        return (self.guess_ft2 or 0.0) if self.then is None else self.now.left_ft2 - self.then.left_ft2

    @property
    def comparable(self) -> bool:
        """Does the plan with the change need nothing without a price that the plan as it stands does not need?"""
        return self.then is not None and not set(self.then.unpriced) - set(self.now.unpriced)

    @property
    def saved(self) -> Decimal:
        """Money that the change saves [currency]; negative where it costs more."""
        return Decimal(0) if self.then is None else self.now.to_pay - self.then.to_pay


def outcome_of(work: SiteWork, schedule: Schedule, sure: Sure | None = None) -> Outcome:
    """A plan in a few figures."""
    return Outcome(
        schedule.infested_left_ft2,
        to_pay(schedule.costs),
        is_estimate(schedule.costs),
        tuple(unpriced(schedule.costs)),
        len({day for job in schedule.jobs for day, _ in job.day_hours}),
        max((job.last for job in schedule.jobs if job.work not in LOOKS), default=None),
        None if sure is None else sure(work, schedule),
    )


def tried(work: SiteWork, now: Outcome, change: Change, sure: Sure | None = None, watch: Watch | None = None) -> Tried:
    """Plan the site again with a change. A plan that fails the checker is not shown."""
    changed = change.of(work)
    schedule = best_plan(changed, watch)
    if schedule.broken:
        return Tried(change, now, None, None, schedule.broken)
    return Tried(change, now, outcome_of(changed, schedule, sure), plan=(changed, schedule))
