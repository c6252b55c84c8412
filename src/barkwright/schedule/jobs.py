"""Jobs: dated pieces of work, and the plan that they add up to."""

from __future__ import annotations

from dataclasses import field
from datetime import date
from decimal import Decimal
from typing import Literal

from barkwright.record import dataclass
from barkwright.treatment.ways import Work

Status = Literal["planned", "under way", "done"]


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of scheduled work."""

    id: str  # J12
    tree: str  # tree id, or "site"
    pieces: tuple[str, ...]
    work: Work
    what: str  # plain words for the crew
    way: str | None  # the way this job belongs to
    first: date
    last: date  # both included
    after: tuple[str, ...]  # ids of the jobs that must have ended
    hours: float  # person-hours, PERT mean
    hours_low: float
    hours_high: float
    people: int
    crew: str | None  # name of the crew, or the professional ("tree service", "utility")
    equipment: tuple[str, ...]
    provisional: bool
    question: str | None  # code of the question it rests on
    day_hours: tuple[tuple[date, float], ...]  # person-hours by day; sums to hours
    machine_hours: tuple[tuple[date, float], ...]  # machine hours by day
    finish_by: date | None  # the earliest `latest` of its pieces
    status: Status = "planned"
    opens: date | None = None  # day before which its windows and gates do not let it begin; None: not told
    closes: date | None = None  # last day of the span in which it is planned; None: no span binds it
    wait_days: int = 0  # days that must pass after the jobs that it waits for
    completes: bool = False  # the brood of its pieces is stopped when it ends


@dataclass(frozen=True, slots=True)
class Choice:
    """What was decided for one piece."""

    piece: str
    way: str | None  # None: no way, or nothing to do
    window: int | None  # index into the way's windows
    done_on: date | None  # the day the completing step ends
    wait_until: date | None  # wood that may wait: its last safe date
    why: str
    latest: date | None = None  # the way's finish-by, or sooner: before the first flight that it would lie through


@dataclass(frozen=True, slots=True)
class Unmet:
    """A piece that misses its date or has no way, and the smallest change that would save it."""

    tree: str
    pieces: tuple[str, ...]
    infested_ft2: float
    why: str
    change: str


@dataclass(frozen=True, slots=True)
class RentalRun:
    """Days in a row on which one rented machine is on site."""

    equipment: str  # kind
    label: str  # "chipper, 9 in"
    first: date
    last: date
    billed: str  # "1 week + 2 days, delivered"
    cost: Decimal
    hours: float | None = None  # that a hire of one day is billed by, of each machine; None: by the day or longer [h]


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of what the plan costs."""

    what: str
    kind: Literal["labour", "machine", "rental", "delivery", "disposal", "worth", "professional"]
    quantity: str
    amount: Decimal  # negative for worth taken out
    basis: Literal["yours", "published proxy", "local rate", "placeholder", "ours"]
    paid: bool  # False: valued, not paid (unpaid hands, fuel kept)


@dataclass(frozen=True, slots=True)
class Level:
    """One of the things that plans are compared by, in their order."""

    name: str
    unit: str  # ft2, trees, pieces, the site's currency, days, person-hours, day
    value: float  # of this plan, smaller is better
    bound: float | None  # no plan with the same values above this level comes below it; None: nothing is proven
    tolerance: float = 0.0  # what this plan may give up here for the levels below

    @property
    def gap(self) -> float | None:
        """Value less bound, in the unit of the level; None where nothing is proven."""
        return None if self.bound is None else max(0.0, self.value - self.bound)


@dataclass(frozen=True, slots=True)
class Optimum:
    """How good the plan is, and how that is known."""

    levels: tuple[Level, ...]
    by: Literal["best plan", "priority rule"]
    stopped: str  # why the search ended, in words
    solver: str | None  # name and version; None where none was used
    kept: tuple[Level, ...] = ()  # of the plan that keeps most of the earlier order, where that is another plan


@dataclass(frozen=True, slots=True)
class Schedule:
    """Ways chosen and jobs dated."""

    choices: tuple[Choice, ...]
    jobs: tuple[Job, ...]
    rentals: tuple[RentalRun, ...]
    costs: tuple[CostLine, ...]
    unmet: tuple[Unmet, ...]
    infested_before_ft2: float
    infested_left_ft2: float
    host_left_ft2: float
    optimum: Optimum
    notes: tuple[str, ...] = field(default=())
    unfinished: tuple[str, ...] = field(default=())  # hazards taken down though their wood cannot all be finished
    broken: tuple[str, ...] = field(
        default=()
    )  # what the checker holds against it; empty unless the program is at fault
