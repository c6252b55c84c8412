"""Options: one way in one stretch of days, priced, for a class of like pieces; the cheapest come first."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from barkwright.brood.finding import PieceBrood
from barkwright.inventory.model import Method
from barkwright.record import dataclass
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import End, Step, Way, Window

SHUNNED = 1e9  # added to the price of what is to be done without: it is still taken where nothing else will do
Kit = tuple[str, ...]  # what a crew must have and know for a way: the method, its tools, what becomes of the bark


@dataclass(frozen=True, slots=True)
class Option:
    """A way in a run of windows that share bark, verdict and end. Days are indices; both ends included."""

    position: int  # of the way in the piece's list
    window: int  # place of the first window of the run
    first: int
    last: int
    way: str
    method: Method
    end: End
    money: float  # paid [currency], rent spread over a full day
    valued: float  # unpaid hours at their worth, less what the wood is worth [currency]
    hours: float  # person-hours
    rented: tuple[str, ...]  # kinds that must be hired
    kinds: tuple[str, ...]  # all kinds that it occupies
    against_wish: bool
    needs: tuple[str, ...]  # what must be arranged first
    kit: Kit  # empty when nothing is done


@dataclass(frozen=True, slots=True)
class Taste:
    """How options are ranked: what an hour costs besides its price, and what the user likes."""

    hour_worth: float = 0.0  # added per person-hour [currency]
    prefer: tuple[Method, ...] = ()
    near_tie: float = 0.0
    waiting: float = 0.0  # dearer by this share for each day until the option's days begin
    switch: float = 0.0  # what each further kit on one tree counts as [currency]
    shunned: frozenset[Kit] = frozenset()  # kits that the site is to do without, where it can

    def price(self, option: Option) -> float:
        """What the option counts as [currency]."""
        price = option.money + option.valued + self.hour_worth * option.hours
        if price > 0:
            price *= 1.0 + self.waiting * option.first
        if option.kit in self.shunned:
            return price + SHUNNED
        return price * (1.0 - self.near_tie) if option.method in self.prefer and price > 0 else price


@dataclass(frozen=True, slots=True)
class Run:
    """Adjoining windows that share bark, verdict, end and needs."""

    window: int  # place of the first
    first: int
    last: int
    against_wish: bool  # ruled out by a wish alone


def runs(way: Way, span: Callable[[Window], tuple[int, int]], length: int) -> list[Run]:
    """The runs of a way's windows in which it may be taken, inside the calendar; those against a wish are marked."""
    found: list[Run] = []
    before: Window | None = None
    for place, window in enumerate(way.windows):
        first, last = span(window)
        first, last = max(first, 0), min(last, length - 1)
        against = window.verdict == "ruled out" and window.without_wish not in (None, "ruled out")
        if (window.verdict == "ruled out" and not against) or window.end == "not done" or first > last:
            before = None
            continue
        if found and before is not None and found[-1].last == first - 1 and _alike(before, window):
            found[-1] = Run(found[-1].window, found[-1].first, last, against)
        else:
            found.append(Run(place, first, last, against))
        before = window
    return found


def _alike(one: Window, other: Window) -> bool:
    return (one.bark, one.end, one.verdict, one.needs, one.without_wish) == (
        other.bark, other.end, other.verdict, other.needs, other.without_wish,
    )  # fmt: skip


class Classes:
    """Pieces by class: the same kind, nearly the same size, the same brood and the same ways and windows."""

    def __init__(self) -> None:
        self._windows: dict[tuple[object, ...], int] = {}
        self._seen: dict[int, tuple[int, tuple[Window, ...]]] = {}
        self._kept: dict[tuple[object, ...], int] = {}

    def of(self, piece: Piece, brood: PieceBrood, ways: Sequence[Way]) -> int:
        """The class of a piece; the same number for pieces that rank their ways alike."""
        size = (piece.kind, int(piece.butt_dob_in + 1e-6), int(piece.length_ft + 1e-6))
        ask = (brood.brood, brood.stage, brood.flight_to_beat, brood.host)
        key = (size, ask, tuple((way.id, self._sign(way.windows), way.finish_by) for way in ways))
        return self._kept.setdefault(key, len(self._kept))

    def _sign(self, windows: tuple[Window, ...]) -> int:
        known = self._seen.get(id(windows))
        if known is None:
            bare = tuple((w.first, w.last, w.verdict, w.end, w.bark, w.needs, w.without_wish) for w in windows)
            number = self._windows.setdefault(bare, len(self._windows))
            known = self._seen[id(windows)] = (number, windows)  # kept alive, so that the id stays its own
        return known[0]


def ranked(options: Iterable[Option], taste: Taste, allowed: frozenset[str]) -> tuple[Option, ...]:
    """The options that need no machine outside `allowed`, cheapest first; ties by hours, then by day and id."""
    usable = (one for one in options if allowed.issuperset(one.kinds))
    return tuple(
        sorted(
            usable, key=lambda one: (round(taste.price(one), 4), round(one.hours, 4), one.first, one.way, one.window)
        )
    )


def crew_hours(steps: Iterable[Step]) -> float:
    """Person-hours of all steps, PERT means [h]."""
    return sum(step.person_hours.mean for step in steps)
