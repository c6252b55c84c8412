"""What may be done on a small site, told from `SiteWork` and the checker's rules alone: days, slots of ways, and work.

A slot is a way of a piece together with a last day for the step that stops the brood: all days of one slot count alike.
Steps that several ways of a piece begin with are one node. Nothing here is taken from the modules that make schedules.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood
from barkwright.brood.hosts import draws_beetles, is_host_piece
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.schedule.verify_bark import is_warm
from barkwright.schedule.verify_days import hours_of
from barkwright.schedule.verify_wood import counts
from barkwright.season.flight import coming_flight, flight_year
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
    """One tree: `periods` are spans of days between flights in which it may come down, with the onset it lies through."""

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


def facts_of(work: SiteWork) -> SiteFacts:
    """Everything that the exact model needs to know of a site."""
    first = max(work.on, work.inventory.calendar.start or work.on)
    years = {p.flight_to_beat for t in work.trees for p in t.brood.pieces if p.flight_to_beat is not None}
    last = max(flight_year(work.season, year).half for year in years | {coming_flight(work.season, work.on)})
    if any(tree.brood.needs_inspection for tree in work.trees):
        last = max(last, first + DAY * int(SETTINGS["look_again_days"]))
    length = max(1, (last - first).days + 1)
    hours = {
        crew.name: [hours_of(crew, first + DAY * day, work) for day in range(length)] for crew in work.inventory.crew
    }
    site = SiteFacts(work, first, length, hours, [])
    for tree in work.trees:
        site.trees.append(_tree(site, tree))
    return site


def _tree(site: SiteFacts, tree: TreeWork) -> TreeFacts:
    work, felling = site.work, tree.felling
    standing = tree.tree.status == "standing"
    gate = felling.earliest or tree.tree.not_before
    opens = 0 if gate is None else max(0, site.index(gate))
    every = frozenset(range(site.length))
    found = TreeFacts(
        tree,
        [],
        standing,
        tree.tree.removal is not None and bool(tree.tree.hazards),
        not (standing and felling.who == "not needed"),
        None,
        [],
        [],
        [],
        [],
    )
    look = work.inspection(tree)
    if look is not None:
        settled = work.look_from(tree)
        start = 0 if settled is None else site.index(settled)
        found.look = _base(site, f"{tree.tree.id} look", look, (), frozenset(d for d in every if d >= start))
    if felling.who != "not needed":
        found.calls = [_base(site, f"{tree.tree.id} call", step, (), every) for step in felling.calls]
        _cuts(site, found, opens)
    found.periods = _periods(site, found)
    for piece, brood, ways in tree.pieces():
        found.pieces.append(_piece(site, found, piece, brood, ways, opens))
    return found


def _base(site: SiteFacts, name: str, step: Step, before: tuple[Node, ...], days: frozenset[int]) -> Node:
    spans = step.spans
    if spans is not None:
        days = frozenset(d for d in days if any(a <= site.first + DAY * d <= b for a, b in spans))
    return Node(name, step, before, days, whole=step.work in ("inspect", "fell"))


def _cuts(site: SiteFacts, found: TreeFacts, opens: int) -> None:
    felling = found.tree.felling
    before = (*([] if found.look is None else [found.look]), *found.calls)
    for step in felling.steps:
        days = frozenset(range(opens, site.length))
        node = _base(site, f"{found.tree.tree.id} {step.work}", step, before, days)
        if step.work == "fell":
            node.wait = felling.lead_days
            shut = felling.closed
            node.days = frozenset(d for d in node.days if not any(a <= site.first + DAY * d <= b for a, b in shut))
            node.crews = felling.crews
            if felling.by != "crew":
                day = SETTINGS["professional_day"] * max(step.people, 1)
                node.outside = max(1, -int(-(step.person_hours.mean - 1e-9) // day))
                node.days = frozenset(d for d in node.days if (site.first + DAY * d).weekday() < 5)
        found.cuts.append(node)
        before = (node,)


def _periods(site: SiteFacts, found: TreeFacts) -> list[tuple[int, int]]:
    """First day of each span of days on which a felling meets the same flight, and the year of that flight."""
    work = site.work
    if not found.standing:
        return [(0, coming_flight(work.season, work.on))] if draws_beetles(found.tree.tree, work.season, work.on) else []
    years = [coming_flight(work.season, site.first + DAY * day) for day in range(site.length)]
    return [(day, year) for day, year in enumerate(years) if day == 0 or years[day - 1] != year]


def _piece(
    site: SiteFacts, tree: TreeFacts, piece: Piece, brood: PieceBrood, ways: Sequence[Way], opens: int
) -> PieceFacts:
    lives = counts(tree.tree, brood)
    stays = tree.standing and not tree.may_work
    flight = None if brood.flight_to_beat is None else flight_year(site.work.season, brood.flight_to_beat)
    found = PieceFacts(
        piece,
        brood,
        brood.weight * piece.bark_ft2 if lives else 0.0,
        piece.bark_ft2 if brood.host and brood.brood == "none" and not stays else 0.0,
        None if flight is None else site.index(flight.onset),
    )
    if not tree.may_work:
        return found
    offered = [one for way in ways for one in _offers(site, tree, found, way)]
    if not found.at_stake:  # nothing is owed to it: only what the wood is worth could speak for work on it
        offered = [one for one in offered if one.worth > 0.0]
    known: dict[tuple[object, ...], Node] = {}
    for one in _undominated(site, offered):
        nodes = _nodes(site, tree, found, one, opens, known)
        if nodes is not None:
            found.slots += _slots(site, tree, found, one, nodes)
    return found


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


def _offers(site: SiteFacts, tree: TreeFacts, piece: PieceFacts, way: Way) -> Iterator[Offer]:
    work, found = site.work, list[Offer]()
    before: Window | None = None
    for window in way.windows:
        first, last = max(0, site.index(window.first)), min(site.length - 1, site.index(window.last))
        against = window.verdict == "ruled out" and window.without_wish not in (None, "ruled out")
        if (window.verdict == "ruled out" and not against) or window.end == "not done" or first > last:
            before = None
            continue
        same = before is not None and (before.bark, before.end, before.needs) == (window.bark, window.end, window.needs)
        if same and found[-1].against == against and found[-1].last == first - 1:
            found[-1].last = last
        else:
            steps = work.steps(tree.tree.tree, piece.piece, piece.brood, way, window)
            worth = work.worth(tree.tree.tree, piece.piece, way)
            found.append(Offer(way, window, first, last, against, steps, worth))
        before = window
    yield from found


def _undominated(site: SiteFacts, offers: list[Offer]) -> list[Offer]:
    """Without offers that another one beats in every respect, its steps being the first of theirs and no dearer."""
    kept: list[Offer] = []
    for one in offers:
        if any(_beats(site, other, one) for other in kept):
            continue
        kept = [other for other in kept if not _beats(site, one, other)]
        kept.append(one)
    return kept


def _beats(site: SiteFacts, one: Offer, other: Offer) -> bool:
    """Is every plan with the other way as good with this one? Equal ones beat each other, and the first stays."""
    never = date.max
    if len(one.steps) > len(other.steps) or (one.steps and _done(one.steps) != _done(other.steps)):
        return False
    if not one.steps and other.steps:
        return False
    return (
        one.first <= other.first
        and one.last >= other.last
        and (one.way.finish_by or never) >= (other.way.finish_by or never)
        and (one.way.too_late or never) >= (other.way.too_late or never)
        and (one.window.end == "done" or other.window.end == "partial")
        and one.against <= other.against
        and one.worth >= other.worth
        and not _drains(site, one)
        and ("locate-services" in other.window.needs or "locate-services" not in one.window.needs)
        and all(_no_dearer(a, b) for a, b in zip(one.steps, other.steps, strict=False))
    )


def _no_dearer(one: Step, other: Step) -> bool:
    return (
        (one.do in PEELS, _destroys(one), one.people, one.wait_days, one.spans)
        == (other.do in PEELS, _destroys(other), other.people, other.wait_days, other.spans)
        and set(one.skills) <= set(other.skills)
        and (one.equipment == other.equipment or not one.equipment)
        and one.person_hours.mean <= other.person_hours.mean
        and (one.machine_hours.mean <= other.machine_hours.mean or not one.equipment)
    )


def _drains(site: SiteFacts, one: Offer) -> bool:
    """Does it draw on a limit of this site?"""
    limits = site.work.inventory.limits
    chips = limits.chips_site_takes_yd3 is not None and one.way.then == "chips"
    return chips or (limits.firewood_cords_per_week is not None and one.way.id.endswith("-stove"))


def _destroys(step: Step) -> bool:
    return step.do.startswith("destroy-bark") or step.do == "haul-bark"


def _done(steps: Sequence[Step]) -> int:
    """Place of the step that stops the brood."""
    return next((place for place, step in enumerate(steps) if step.completes), len(steps) - 1)


def _nodes(
    site: SiteFacts, tree: TreeFacts, piece: PieceFacts, one: Offer, opens: int, known: dict[tuple[object, ...], Node]
) -> tuple[Node, ...] | None:
    """The steps of an offer as work; None where a machine or nobody with the skills is there."""
    inventory = site.work.inventory
    kinds = {entry.kind for entry in inventory.equipment}
    if "locate-services" in one.window.needs:
        opens = max(opens, site.work.locating()[1])
    found: list[Node] = []
    before: Node | None = None
    peeled: Node | None = None
    key: tuple[object, ...] = ()
    for step in one.steps:
        able = [c for c in inventory.crew if c.people >= step.people and set(c.skills) >= set(step.skills)]
        if not kinds.issuperset(step.equipment) or not able:
            return None
        adults = piece.infested > 0.0 and piece.brood.adults_from is not None
        mark = (step.do in PEELS, _destroys(step)) if adults else ()
        key = (*key, (step.person_hours.mean, step.machine_hours.mean, step.people, step.equipment, step.skills,
                      step.wait_days, step.spans, opens, *mark))  # fmt: skip
        node = known.get(key)
        if node is None:
            days = frozenset(range(opens, site.length))
            name = f"{piece.piece.id} {step.do}"
            node = known[key] = _base(site, name, step, tree.cuts_last() if before is None else (before,), days)
            node.wait = step.wait_days
            node.whole = False
            if _destroys(step) and adults:
                node.peeled = peeled
            tree.nodes.append(node)
        peeled = node if step.do in PEELS else peeled
        found.append(node)
        before = node
    return tuple(found)


def _slots(
    site: SiteFacts, tree: TreeFacts, piece: PieceFacts, one: Offer, nodes: tuple[Node, ...]
) -> Iterator[Slot]:
    """The offer by the last day of its completing step: cut where a day later counts differently."""
    done = _done(one.steps) if one.steps else 0
    last = one.last
    if piece.at_stake and one.way.too_late is not None:
        last = min(last, site.index(one.way.too_late))
    finish = None if one.way.finish_by is None else site.index(one.way.finish_by)
    cuts = {last}
    if piece.at_stake:
        season = site.work.season
        own = piece.brood.flight_to_beat
        lies = [site.index(flight_year(season, year).onset) - 1 for _, year in tree.periods if own and own > year]
        ends = [finish, None if piece.onset is None else piece.onset - 1, *lies]
        cuts |= {end for end in ends if end is not None and one.first <= end < last}
    if not one.steps:
        cuts = {0} if one.first == 0 else set()
    for cut in sorted(cuts):
        if cut < one.first:
            continue
        in_time = piece.onset is None or cut < piece.onset
        kept = 0.0 if one.window.end == "done" else HALF
        slot = Slot(
            piece, one.way, nodes, done, one.first, cut, one.window.end, one.against, one.worth,
            kept if in_time else 1.0,
            kept if in_time else 1.0 - (1.0 - kept) * (1.0 - HALF),
            not in_time or (finish is not None and bool(one.steps) and cut > finish),
        )  # fmt: skip
        yield slot


def latest_destroying(site: SiteFacts, stripped: int) -> int:
    """The last day on which bark that was stripped on a day, with grown beetles in it, may be destroyed."""
    worked = 0
    warm = is_warm(site.work.season, site.first + DAY * stripped)
    for day in range(stripped + 1, site.length):
        worked += any(hours[day] > 0 for hours in site.hours.values())
        warm = warm or is_warm(site.work.season, site.first + DAY * day)
        if warm and worked > SETTINGS["bark_kept_warm"]:
            return day - 1
    return site.length - 1


def onset_lain_through(site: SiteFacts, piece: PieceFacts, year: int) -> int | None:
    """Onset of the flight of a year if a piece on the ground by then lies through it before its own flight."""
    own = piece.brood.flight_to_beat
    if not piece.at_stake or own is None or own <= year or not is_host_piece(piece.piece):
        return None
    return site.index(flight_year(site.work.season, year).onset)
