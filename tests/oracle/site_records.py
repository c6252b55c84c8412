"""What the exact model knows of a small site: days, trees, pieces, slots of ways, and work.

A slot is a way of a piece together with a last day for the step that stops the brood: all days of one slot count alike.
Steps that several ways of a piece begin with are one node.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import Step, Way, Window

DAY = timedelta(days=1)
HALF = SETTINGS["partial_share"]
PEELS = ("peel", "peel-stump")


@dataclass(eq=False)
class Node:
    """Work that is done at most once: a step of a tree, or one that ways of a piece share."""

    name: str
    step: Step
    before: tuple[Node, ...]
    days: frozenset[int]  # on which it may be done at all
    wait: int = 0
    whole: bool = False  # begun and ended on one day
    outside: int = 0  # days that somebody from outside takes; 0: a crew of the site does it
    crews: tuple[str, ...] = ()
    peeled: Node | None = None  # what stripped the bark that it destroys

    @property
    def hours(self) -> float:
        """Person-hours [h]."""
        return self.step.person_hours.mean

    @property
    def machine(self) -> float:
        """Hours of each machine [h]."""
        return self.step.machine_hours.mean if self.step.equipment else 0.0


@dataclass(eq=False)
class Slot:
    """A way taken for a piece, and how late the brood is stopped."""

    piece: PieceFacts
    way: Way
    nodes: tuple[Node, ...]
    done: int  # place of the completing step
    first: int
    last: int
    end: str
    against: bool
    worth: float
    left: float  # share of its infested bark left at onset
    flown: float
    late: bool


@dataclass(eq=False)
class PieceFacts:
    """One piece."""

    piece: Piece
    brood: PieceBrood
    infested: float
    host: float
    onset: int | None
    slots: list[Slot] = field(default_factory=list)

    @property
    def at_stake(self) -> bool:
        """Is there brood to stop or host wood to deal with?"""
        return self.infested > 0.0 or self.host > 0.0


@dataclass(eq=False)
class TreeFacts:
    """One tree. `periods`: first day of each span in which its fall meets the same flight, and the year of that."""

    tree: TreeWork
    pieces: list[PieceFacts]
    standing: bool
    hazard: bool
    may_work: bool  # not a tree that stays as it is
    look: Node | None
    calls: list[Node]
    cuts: list[Node]
    nodes: list[Node]
    periods: list[tuple[int, int]]

    def cuts_last(self) -> tuple[Node, ...]:
        """What work on the wood waits for: the last cut, or the look at wood that lies ready."""
        return (self.cuts[-1],) if self.cuts else () if self.look is None else (self.look,)


@dataclass
class SiteFacts:
    """The whole site, days as numbers from the first day of work on."""

    work: SiteWork
    first: date
    length: int
    hours: dict[str, list[float]]  # of each person, by crew and day [h]
    trees: list[TreeFacts]

    def index(self, day: date) -> int:
        """Days from the first."""
        return (day - self.first).days

    def longest(self, day: int) -> float:
        """The longest hours of any crew [h]."""
        return max((hours[day] for hours in self.hours.values()), default=0.0)


@dataclass
class Offer:
    """A way in adjoining windows alike in bark, end, needs and wish."""

    way: Way
    window: Window
    first: int
    last: int
    against: bool
    steps: tuple[Step, ...]
    worth: float


def done_at(steps: Sequence[Step]) -> int:
    """Place of the step that stops the brood: the marked one, or the last."""
    return next((place for place, step in enumerate(steps) if step.completes), len(steps) - 1)


def destroys(step: Step) -> bool:
    """Does it destroy or carry off stripped bark?"""
    return step.do.startswith("destroy-bark") or step.do == "haul-bark"
