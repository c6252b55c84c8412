"""What there is for the work of the period model: hands, machines and hires, as rows and columns of its program."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate
from math import ceil

from barkwright.schedule.levels import MONEY, NAMES, RENTAL
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.columns import Chunk, Hands
from barkwright.schedule.optimum.hire import brief_rents, least_a_day, least_hire
from barkwright.schedule.optimum.program import INFINITE, Program
from barkwright.schedule.optimum.spans import (
    Brief,
    DayOfUse,
    Hire,
    Limit,
    Span,
    TreeColumns,
    crowded,
    periods,
    stands_beside,
)
from barkwright.schedule.settings import SETTINGS

NO_HANDS: Hands = ((), 1, ())
WAITING = len(NAMES)  # days until seasons and ways open, the objective after the levels
Levels = dict[int, float]


class Supply:
    """A program whose rows ask for hours between two days: `hands` and `machines` give them."""

    def __init__(self, model: SiteModel, trees: Sequence[TreeColumns], strict: bool) -> None:
        self.model, self.trees = model, trees
        self.strict = strict  # are days of hire, and loads, counted in whole numbers?
        self.program = Program()
        self.costs: list[list[float]] = [[] for _ in range(WAITING + 1)]
        self.cuts = periods(self._chunks(), model.days.length)
        self.hired: dict[int, dict[int, DayOfUse]] = {}  # by machine and period
        self.hires: dict[int, Hire] = {}  # by machine
        self.limits: list[Limit] = []
        self._most: dict[int, float] = {}  # hours that a row could ask for at most
        self._sums: dict[int, list[float]] = {}
        self._days_of_use: dict[tuple[int, ...], dict[int, list[DayOfUse]]] = {}
        self._demand: dict[tuple[Hands, int, int], int] = {}
        self._machine_demand: dict[tuple[tuple[int, ...], int, int], int] = {}
        self._paid: dict[int, float] = {}  # money that leaves the purse, by column

    def _chunks(self) -> Iterable[tuple[Chunk, int]]:
        for tree in self.trees:
            for season in tree.seasons:
                yield from ((chunk, tree.count) for chunk in season.chunks)
                for piece in season.pieces:
                    yield from ((chunk, tree.count) for variant in piece.variants for chunk in variant.chunks)

    def column(
        self, upper: float, whole: bool, entries: Sequence[tuple[int, float]], costs: Levels, paid: float = 0.0
    ) -> int:
        """A column with what it counts as at each level, and what of it leaves the purse. Returns its number."""
        number = self.program.column(upper, whole, entries)
        for level, row in enumerate(self.costs):
            row.append(costs.get(level, 0.0))
        if paid:
            self._paid[number] = paid
        return number

    def period(self, first: int, last: int) -> tuple[int, int]:
        """The periods that a span of days touches."""
        return bisect_right(self.cuts, first) - 1, bisect_right(self.cuts, last) - 1

    def hands(self) -> None:
        """Hours of each crew for what it may do, no more of them between any two days than it has there."""
        crews = self.model.days.crews
        by_crew: dict[int, list[Span]] = {}
        for (hands, first, last), demand in self._demand.items():
            for place in hands[0]:
                crew = crews[place]
                if self._hours(place, first, last) > 0.0:
                    paid = crew.rate if crew.paid else 0.0
                    column = self.column(INFINITE, False, [(demand, 1.0)], {MONEY: crew.rate}, paid)
                    by_crew.setdefault(place, []).append(Span(first, last, column, 1.0, self._most[demand], hands))
        for place, spans in by_crew.items():
            crew = crews[place]
            for first, last, inside in crowded(spans):
                hours = self._hours(place, first, last)
                self._at_most(inside, hours * crew.people, self._limit_of(place, first, last, 1))
                for size in range(2, crew.people + 1):
                    if crew.people % size:
                        teams = [one.shared() for one in inside if one.hands[1] >= size]
                        self._at_most(teams, hours * (crew.people // size), self._limit_of(place, first, last, size))
        for places, columns in self._days_of_use.items():
            beside = [one for spans in by_crew.values() for one in spans if stands_beside(one.hands, places)]
            self._beside(places, columns, beside, 1)
            for size in range(2, max(crew.people for crew in crews) + 1):
                if any(crew.people % size for crew in crews):
                    self._beside(places, columns, [one.shared() for one in beside if one.hands[1] >= size], size)

    def _beside(
        self, places: tuple[int, ...], columns: dict[int, list[DayOfUse]], beside: Sequence[Span], size: int
    ) -> None:
        """Hours beside some hired machines by teams of `size` or more: no more than there are on the days hired."""
        for first, last, inside in crowded(beside):
            entries = [(one.column, one.entry) for one in inside]
            uses = [(p, use) for p in range(first, last + 1) for use in columns.get(p, ())]
            entries += [(use.column, -use.teams[size - 1]) for _, use in uses]
            limit = self._limit_of(-1, first, last, size)
            limit.beside, limit.hire = places, tuple((use.place, p, use.teams[size - 1]) for p, use in uses)
            self._bound(limit, entries, 0.0)

    def _at_most(self, inside: Sequence[Span], hours: float, limit: Limit) -> None:
        if sum(one.most * one.entry for one in inside) > hours + 1e-9:
            self._bound(limit, [(one.column, one.entry) for one in inside], hours)

    def _bound(self, limit: Limit, entries: Sequence[tuple[int, float]], hours: float) -> None:
        limit.row, limit.hours = self.program.row(-INFINITE, hours, entries), hours
        self.limits.append(limit)

    def _limit_of(self, place: int, first: int, last: int, size: int) -> Limit:
        return Limit(-1, place, self.cuts[first], self.cuts[last + 1], size)

    def _hours(self, place: int, first: int, last: int) -> float:
        """Hours of each person of a crew in a run of periods [h]."""
        sums = self._sums.get(place)
        if sums is None:
            sums = self._sums[place] = [0.0, *accumulate(self.model.days.crews[place].hours)]
        return sums[self.cuts[last + 1]] - sums[self.cuts[first]]

    def machines(self) -> None:
        """Machine hours and days of hire, no more hours between any two days than the machine has there."""
        machines, days = self.model.machines, self.model.days
        longest = [max((crew.hours[day] for crew in days.crews), default=0.0) for day in range(days.length)]
        by_machine: dict[int, list[Span]] = {}
        for (places, first, last), demand in self._machine_demand.items():
            for place in places:
                running = machines[place].running
                column = self.column(INFINITE, False, [(demand, 1.0)], {MONEY: running}, running)
                by_machine.setdefault(place, []).append(Span(first, last, column, 1.0, self._most[demand], NO_HANDS))
        wanted = self._machine_hours()
        for place, spans in sorted(by_machine.items()):
            machine = machines[place]
            start, end = max(machine.first, 0), min(machine.last, days.length - 1)
            there = [day for day in range(start, end + 1) if longest[day] > 0.0]
            if not machine.hired:
                for first, last, inside in crowded(spans):
                    hours = sum(longest[day] for day in there if self.cuts[first] <= day < self.cuts[last + 1])
                    self._at_most(inside, hours * machine.count, self._limit_of(place, first, last, 0))
                continue
            total = self.program.row(-INFINITE, 0.0)
            used: dict[int, DayOfUse] = {}  # by period
            for period in range(len(self.cuts) - 1):
                own = [day for day in there if self.cuts[period] <= day < self.cuts[period + 1]]
                if own:
                    best = max(longest[day] for day in own) * machine.count
                    column = self.column(len(own), self.strict, [(total, 1.0)], {RENTAL: 1.0})
                    used[period] = DayOfUse(place, column, len(own), best, self._teams(own))
            self.hired[place] = used
            for first, last, inside in crowded(spans):
                entries = [(one.column, 1.0) for one in inside]
                uses = [(p, used[p]) for p in range(first, last + 1) if p in used]
                entries += [(use.column, -use.machine) for _, use in uses]
                limit = self._limit_of(place, first, last, 0)
                limit.hire = tuple((place, p, use.machine) for p, use in uses)
                self._bound(limit, entries, 0.0)
            best = max((longest[day] for day in there), default=0.0) * machine.count
            self._hire(place, total, there, wanted[place], best, spans)
        for places in sorted({places for places, _, _ in self._machine_demand}):
            if all(machines[place].hired for place in places):
                columns: dict[int, list[DayOfUse]] = {}
                for place in places:
                    for period, use in self.hired[place].items():
                        columns.setdefault(period, []).append(use)
                self._days_of_use[places] = columns

    def _teams(self, days: Sequence[int]) -> tuple[float, ...]:
        """Hours of all teams of one, two, ... hands on the day that has most [h]."""
        crews = self.model.days.crews
        return tuple(
            max(sum(crew.hours[day] * (crew.people // size) for crew in crews) for day in days)
            for size in range(1, max((crew.people for crew in crews), default=0) + 1)
        )

    def _machine_hours(self) -> dict[int, float]:
        """The most hours that each machine could be wanted for [h]."""
        most: dict[int, float] = {}
        for tree in self.trees:
            for season in tree.seasons:
                for piece in season.pieces:
                    wanted: dict[int, float] = {}
                    for variant in piece.variants:
                        for chunk in variant.chunks:
                            for places in chunk.hands[2]:
                                for place in places:
                                    wanted[place] = max(wanted.get(place, 0.0), chunk.machine_hours)
                    for place, hours in wanted.items():
                        most[place] = most.get(place, 0.0) + hours * tree.count
                for chunk in season.chunks:
                    for places in chunk.hands[2]:
                        for place in places:
                            most[place] = most.get(place, 0.0) + chunk.machine_hours * tree.count
        return most

    def _hire(self, place: int, total: int, days: list[int], hours: float, best: float, spans: Sequence[Span]) -> None:
        """The least price of so many days of use; the last column stands for that many or more.

        Days by themselves may be billed by the hour instead: then all hours are on the days hired or among the billed.
        """
        wanted = ceil(hours / best) if best > 0 else 0
        most = min(len(days), 2 * wanted + 2, int(SETTINGS["hire_days_priced"]))
        only = self.program.row(1.0, 1.0)
        brief = self._briefly(place, total, len(days), spans)
        a_day = 0.0 if self.strict or not days else least_a_day(self.model, place, days[-1] - days[0] + 1)
        hire = self.hires[place] = Hire(least_hire(self.model, place, days, most), len(days), a_day, best, brief)
        for number, price in enumerate(hire.prices):
            reach = float(len(days)) if number == most else float(number)
            entries = [(total, -reach), (only, 1.0)]
            if brief is not None:
                entries.append((brief.row, -reach * best))
            least = max(price, a_day * reach) if number == most else price
            self.column(1.0, self.strict, entries, {MONEY: least}, least)

    def _briefly(self, place: int, total: int, days: int, spans: Sequence[Span]) -> Brief | None:
        """Days by themselves, billed by the hour or the half day, each with a delivery.

        Each such day takes one whole rent or more, and all of them hold the hours that no other hire holds.
        """
        rents = brief_rents(self.model, place)
        if not rents or not days:
            return None
        row = self.program.row(-INFINITE, 0.0, [(span.column, 1.0) for span in spans])
        one, most = self.program.row(-INFINITE, 0.0), self.program.row(-INFINITE, 0.0)
        delivery = float(self.model.machines[place].entry.delivery or 0)
        longest = ceil(max(crew.hours_per_day for crew in self.model.work.inventory.crew))
        self.column(
            float(days), self.strict, [(total, -1.0), (one, 1.0), (most, -longest)], {MONEY: delivery}, delivery
        )
        for holds, rent in rents:
            entries = [(row, -holds), (one, -1.0), (most, 1.0)]
            self.column(float(days * longest), self.strict, entries, {MONEY: rent}, rent)
        return Brief(row, delivery, tuple(rents), longest)
