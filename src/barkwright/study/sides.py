"""What is set side by side: courses with what they take, cost and leave."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from barkwright.record import dataclass
from barkwright.schedule.jobs import Job
from barkwright.schedule.sitework import TreeWork
from barkwright.sources import Reason
from barkwright.spread import NOTHING, Spread
from barkwright.study.courses import Course
from barkwright.study.reckoning import Bill
from barkwright.study.taken import Barred, Taken, Wood
from barkwright.treatment.ways import Yields

STOPS = ("all", "part", "none")
Fit = Literal["fits", "fits with care", "against a wish", "with means", "does not count", "ruled out"]


@dataclass(frozen=True, slots=True)
class Side:
    """One course, taken through the scope."""

    course: Course
    fit: Fit
    planned: bool  # the plan does all of it so
    missing: tuple[str, ...]  # kinds of tools that are neither owned nor listed for hire
    taken: tuple[Taken, ...]  # by the course itself
    beside: tuple[Taken, ...]  # pieces that it does not take, as the plan has them
    left: tuple[Wood, ...]  # pieces that it does not take and the plan leaves
    barred: tuple[Barred, ...]  # what keeps it from being taken, or from taking more
    hours: Spread = NOTHING  # felling and cutting up included [h]
    people: int = 0  # fewest at once
    bill: Bill | None = None
    days: tuple[int, int] = (0, 0)  # of work, at low and at high hours; 0: not to be had
    opens: date | None = None  # first day on which some of it is open
    all_open: date | None = None  # first day on which all of it is open
    start_usual: date | None = None  # begin by then at the hours that plans use
    start_slow: date | None = None  # begin by then even if it goes slowly; None: no longer to be had
    yields: Yields = Yields()
    spoil_yd3: float = 0.0  # loose soil that digging throws out
    heaviest_lb: float = 0.0

    def in_time(self, on: date) -> bool:
        """May it still be begun, at the pace that plans use? What the plan does it has found days for."""
        return self.planned or (self.start_usual is not None and self.start_usual >= on)

    @property
    def reasons(self) -> Mapping[str, tuple[Reason, ...]]:
        """Why it works, with care or not, by rule; a rule says something of its own of each kind of piece."""
        found: dict[str, dict[str, Reason]] = {}
        for taken in self.taken:
            for one in taken.window.reasons:
                found.setdefault(one.rule, {})[one.because] = one
        return {rule: tuple(said.values()) for rule, said in found.items()}

    @property
    def stops(self) -> Literal["all", "part", "none"]:
        """How much of the brood it stops, with what is done beside it."""
        ends = {taken.window.end for taken in (*self.taken, *self.beside)}
        if self.left or "not done" in ends:
            return "part" if "done" in ends or "partial" in ends else "none"
        return "part" if "partial" in ends else "all"


@dataclass(frozen=True, slots=True)
class Sides:
    """A scope and its courses."""

    trees: tuple[TreeWork, ...]
    woods: tuple[Wood, ...]  # pieces in which something is at stake
    planned: Mapping[str, Taken]  # by piece, as the plan has it
    sides: tuple[Side, ...]
    felled: bool  # are looking, felling and cutting up in the hours and the money?
    common: tuple[Job, ...]  # what the plan does whatever the course: looking, felling, cutting up
