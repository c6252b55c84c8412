"""The site as the rule sees it: days as indices, machines, and every tree with its pieces, dates and options."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field
from datetime import date, timedelta

from barkwright.brood.finding import PieceBrood
from barkwright.costs.prices import Prices
from barkwright.costs.tariff import Cover, rentable
from barkwright.inventory.model import Crew, Equipment
from barkwright.record import dataclass
from barkwright.schedule.bark import warm_days
from barkwright.schedule.before import Before, before_of
from barkwright.schedule.calendar import Outdoors, WorkDays, crew_days, first_day, outdoors, within
from barkwright.schedule.machines import Machine, label
from barkwright.schedule.options import Classes, Kit, Option, crew_hours, runs
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.year import FlightYear
from barkwright.stem.pieces import Piece
from barkwright.treatment.ways import Step, Way, Window

SATURDAY = 5  # of the week that begins on Monday with 0


@dataclass(slots=True)
class PieceModel:
    """One piece with its dates as day indices."""

    piece: Piece
    brood: PieceBrood
    ways: tuple[Way, ...]
    kind: int  # class of like pieces
    infested_ft2: float  # bark area that counts as infested
    host_ft2: float
    onset: int | None  # first day that is too late for "done by onset"
    half: int | None  # last day on which work still stops a share
    late: bool = False  # does its brood fly later than in the coming flight?

    @property
    def brooding(self) -> bool:
        """Is there brood to stop?"""
        return self.infested_ft2 > 0.0

    @property
    def at_stake(self) -> bool:
        """Is there brood to stop or host wood to deal with?"""
        return self.brooding or self.host_ft2 > 0.0


@dataclass(slots=True)
class TreeModel:
    """One tree: its pieces, its dates, and how it comes down."""

    place: int
    work: TreeWork
    pieces: tuple[PieceModel, ...]
    standing: bool  # must be felled before its wood is worked
    opens: int  # first day on which it may be touched

    @property
    def id(self) -> str:
        """The tree's id."""
        return self.work.tree.id

    @property
    def hazard(self) -> bool:
        """Is it a hazard that comes down whether or not its wood can be finished?"""
        return self.work.tree.removal is not None and bool(self.work.tree.hazards)

    @property
    def infested_ft2(self) -> float:
        """Infested bark of the whole tree [ft2]."""
        return sum(piece.infested_ft2 for piece in self.pieces)


@dataclass(slots=True)
class SiteModel:
    """The site: calendar, machines, trees, and the options of every class of pieces."""

    work: SiteWork
    days: WorkDays
    machines: tuple[Machine, ...]
    trees: tuple[TreeModel, ...]
    coming: FlightYear
    like: dict[int, tuple[TreeModel, PieceModel]]  # the piece that each class is priced on
    hour: float  # what an hour of the dearest crew is worth: counts for what has no price [currency/h]
    flights: tuple[tuple[int, int], ...]  # onset and end of each flight from the coming one on
    warm: tuple[bool, ...]  # by day: do grown beetles walk away from stripped bark?
    marked: int  # first day on which buried services are marked, if they are called for on the first day
    place: Outdoors
    before: Before | None = None  # the order that was given out
    _options: dict[int, tuple[Option, ...]] = field(default_factory=dict)
    covers: dict[tuple[int, int, float], Cover] = field(default_factory=dict)  # hire by machine, days and hours
    shapes: dict[tuple[str, int, int], int] = field(default_factory=dict)  # see dispatch
    shape_numbers: dict[tuple[object, ...], int] = field(default_factory=dict)
    _steps: dict[tuple[str, int, int], tuple[Step, ...]] = field(default_factory=dict)
    looked: int = 0  # days and tasks looked at so far, over all plans tried

    def options(self, tree: TreeModel, piece: PieceModel) -> tuple[Option, ...]:
        """Every way and run of days that may be taken for pieces of this class, priced on the smallest of them."""
        known = self._options.get(piece.kind)
        if known is None:
            known = self._options[piece.kind] = tuple(self._price(*self.like.get(piece.kind, (tree, piece))))
        return known

    def steps(self, tree: TreeModel, piece: PieceModel, position: int, window: int) -> tuple[Step, ...]:
        """The steps of a way in a window, computed once."""
        key = (piece.piece.id, position, window)
        known = self._steps.get(key)
        if known is None:
            way = piece.ways[position]
            known = self._steps[key] = self.work.steps(
                tree.work.tree, piece.piece, piece.brood, way, way.windows[window]
            )
        return known

    def comes_on(self, day: date) -> bool:
        """Does somebody from outside come on that day? On weekdays with light, but not on the site's days off."""
        off = within(day, self.work.inventory.calendar.off)
        return day.weekday() < SATURDAY and not off and self.place.daylight(day) > 0.0

    def kit(self, way: Way) -> Kit:
        """What a crew must have and know for a way."""
        template = self.work.bench.template(way.id)
        return (way.method, *way.tools, *(step.do for step in template.steps if step.work == "bark"))

    def span(self, window: Window) -> tuple[int, int]:
        """A window's days as indices."""
        return self.days.index(window.first), self.days.index(window.last)

    def _price(self, tree: TreeModel, piece: PieceModel) -> Iterator[Option]:
        there = {machine.kind for machine in self.machines}
        for position, way in enumerate(piece.ways):
            for run in runs(way, self.span, self.days.length):
                steps = self.steps(tree, piece, position, run.window)
                kinds = tuple(sorted({kind for step in steps for kind in step.equipment}))
                if not there.issuperset(kinds) or not all(self._doable(step) for step in steps):
                    continue
                money, valued = self._worth(tree, piece, way, steps)
                rented = tuple(kind for kind in kinds if all(m.hired for m in self.machines if m.kind == kind))
                yield Option(
                    position,
                    run.window,
                    run.first,
                    run.last,
                    way.id,
                    way.method,
                    way.windows[run.window].end,
                    money,
                    valued,
                    crew_hours(steps),
                    rented,
                    kinds,
                    run.against_wish,
                    way.windows[run.window].needs,
                    self.kit(way) if steps else (),
                )

    def _doable(self, step: Step) -> bool:
        return any(crew.people >= step.people and crew.skills.issuperset(step.skills) for crew in self.days.crews)

    def _worth(self, tree: TreeModel, piece: PieceModel, way: Way, steps: tuple[Step, ...]) -> tuple[float, float]:
        money = valued = 0.0
        for step in steps:
            fit = [c for c in self.days.crews if c.people >= step.people and c.skills.issuperset(step.skills)]
            crew = min(fit, key=lambda one: (one.rate, one.name))
            labour = crew.rate * step.person_hours.mean
            money, valued = (money + labour, valued) if crew.paid else (money, valued + labour)
            for kind in step.equipment:
                money += min(m.hourly for m in self.machines if m.kind == kind) * step.machine_hours.mean
        return money, valued - self.work.worth(tree.work.tree, piece.piece, way)


def site_model(work: SiteWork) -> SiteModel:
    """Dates turned into indices, crews into days, pieces into classes."""
    on = work.on
    coming = flight_year(work.season, coming_flight(work.season, on))
    years = {p.flight_to_beat for t in work.trees for p in t.brood.pieces if p.flight_to_beat is not None}
    flights = {year: flight_year(work.season, year) for year in sorted(years | {coming.year})}
    first = first_day(work.inventory.calendar, on)
    last = max(flight.half for flight in flights.values())
    if any(tree.brood.needs_inspection for tree in work.trees):
        last = max(last, first + timedelta(days=int(SETTINGS["look_again_days"])))
    length = max(1, (last - first).days + 1)
    place = outdoors(work.season)
    crews = tuple(
        crew_days(crew, work.inventory.calendar, first, length, place, *hourly_worth(work.prices, crew))
        for crew in work.inventory.crew
    )
    days = WorkDays(first, length, crews)
    classes = Classes()
    trees = tuple(
        _tree_model(place, tree, days, flights, classes, coming.year) for place, tree in enumerate(work.trees)
    )
    dates = tuple(
        (days.index(flight.onset), days.index(flight.end))
        for flight in (flight_year(work.season, year) for year in range(coming.year, max(flights) + 1))
    )
    warm = warm_days(work.season, first, length)
    hour = max((crew.rate for crew in days.crews), default=0.0)
    before = None if work.earlier is None else before_of(work.earlier, days)
    marked = work.locating()[1]
    return SiteModel(
        work, days, _machines(work, days), trees, coming, _smallest(trees), hour, dates, warm, marked, place, before
    )


def _smallest(trees: tuple[TreeModel, ...]) -> dict[int, tuple[TreeModel, PieceModel]]:
    """The smallest piece of each class, whatever the order of the trees."""
    found: dict[int, tuple[TreeModel, PieceModel]] = {}
    for tree in trees:
        for piece in tree.pieces:
            held = found.get(piece.kind)
            if held is None or _size(piece) < _size(held[1]):
                found[piece.kind] = (tree, piece)
    return found


def _size(piece: PieceModel) -> tuple[float, ...]:
    size = piece.piece
    return tuple(round(each, 6) for each in (size.wood_ft3, size.bark_ft2, size.lift_lb, size.butt_dob_in))


def hourly_worth(prices: Prices, crew: Crew) -> tuple[float, bool]:
    """What a person-hour of this crew is worth [currency/h], and whether it is paid."""
    amount, paid = prices.labour(crew, 1.0)
    return float(amount), paid


def _tree_model(
    place: int, tree: TreeWork, days: WorkDays, flights: dict[int, FlightYear], classes: Classes, coming: int
) -> TreeModel:
    excused = tree.felling.who == "not needed" and tree.tree.status == "standing"
    pieces = tuple(
        PieceModel(
            piece,
            brood,
            ways,
            classes.of(piece, brood, ways),
            0.0 if excused or brood.brood == "none" else brood.weight * piece.bark_ft2,
            piece.bark_ft2 if brood.host and brood.brood == "none" and not excused else 0.0,
            None if brood.flight_to_beat is None else days.index(flights[brood.flight_to_beat].onset),
            None if brood.flight_to_beat is None else days.index(flights[brood.flight_to_beat].half),
            brood.flight_to_beat is not None and brood.flight_to_beat > coming,
        )
        for piece, brood, ways in tree.pieces()
    )
    gate = tree.felling.earliest or tree.tree.not_before
    opens = 0 if gate is None else max(0, days.index(gate))
    return TreeModel(place, tree, pieces, tree.tree.status == "standing", opens)


def _machines(work: SiteWork, days: WorkDays) -> tuple[Machine, ...]:
    entries = work.inventory.equipment
    longest = max((crew.hours_per_day for crew in work.inventory.crew), default=8.0)

    def one(place: int, entry: Equipment) -> Machine:
        most = max((e.working_capacity or e.capacity or 0.0 for e in entries if e.kind == entry.kind), default=0.0)
        capacity = entry.working_capacity or entry.capacity
        return Machine(
            place,
            entry.kind,
            label(entry),
            not entry.owned and rentable(entry),
            entry.count,
            0 if entry.first is None else days.index(entry.first),
            days.length if entry.last is None else days.index(entry.last),
            capacity,
            (capacity or 0.0) >= most,
            float(work.prices.machine(entry, 1.0).amount),
            float(work.prices.hourly(entry, longest)),
            entry,
        )

    return tuple(one(place, entry) for place, entry in enumerate(entries))
