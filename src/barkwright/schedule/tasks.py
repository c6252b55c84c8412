"""Tasks: pieces of work of one tree that are not dated yet, with what must come before them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field

from barkwright.record import dataclass
from barkwright.schedule.words import together
from barkwright.spread import Spread
from barkwright.treatment.ways import Work

Spans = tuple[tuple[int, int], ...]
FIRES = frozenset(("burn", "burn-stump", "destroy-bark-burn"))
WHOLE_DAY: tuple[Work, ...] = ("inspect", "fell")  # begun and ended on one day where a day is long enough


@dataclass(slots=True)
class Task:
    """One piece of work. Days are indices of the calendar; both ends of a span are included."""

    tree: str
    work: Work
    said: tuple[str, ...]  # what is done, in words, for each of its pieces
    pieces: tuple[str, ...]
    way: str | None
    hours: Spread  # person-hours
    machine_hours: Spread  # of each machine
    people: int
    equipment: tuple[str, ...]
    skills: frozenset[str]
    first: int
    last: int
    preds: tuple[int, ...] = ()  # places in the tree's list of tasks
    wait: int = 0  # days between the end of the preds and this one
    spans: Spans | None = None
    due: int | None = None  # must have ended by then
    finish_by: int | None = None
    completes: bool = False
    outside: str | None = None  # done by somebody who is not in a crew
    crews: tuple[str, ...] = ()  # the only crews that may do it; none: any that can
    question: str | None = None
    thickest_in: float = 0.0
    height_ft: float = 0.0  # that a lift must work at
    do: str = ""  # the step's word, see treatment.ways
    bark_of: int | None = None  # place of the task that strips the bark that this one destroys
    adults: int = 0  # first day on which there must be grown beetles in that bark
    unbroken: int = 0  # days on which it runs one after the other, the whole day; 0: as its hours fit
    units: tuple[int, ...] = ()  # machines of each kind that run at once; none said: one of each
    need: float = field(default=0.0)  # PERT mean of the person-hours
    machine_need: float = field(default=0.0)

    def __post_init__(self) -> None:
        self.need = self.hours.mean
        self.machine_need = self.machine_hours.mean

    @property
    def what(self) -> str:
        """What is done, in one sentence for all its pieces."""
        return together(self.said)

    @property
    def fire(self) -> bool:
        """Is something burned in the open?"""
        return self.do in FIRES

    @property
    def pile(self) -> bool:
        """Is it a fire that may wait until others are ready? Stripped bark with beetles in it may not."""
        return self.do in ("burn", "burn-stump")

    @property
    def whole(self) -> bool:
        """Is it begun and ended on one day?"""
        return self.work in WHOLE_DAY


def total(parts: Sequence[Spread]) -> Spread:
    """The sum of spreads."""
    if len(parts) == 1:
        return parts[0]
    return Spread(sum(part.low for part in parts), sum(part.likely for part in parts), sum(part.high for part in parts))
