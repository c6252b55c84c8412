"""Prices: what an hour between two days counts as, drawn from the period model, and what is owed for what is there.

Any prices that are not negative give a bound on every plan; those of the model's own answer give the best one.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from barkwright.inventory.model import Destination
from barkwright.schedule.levels import (
    MONEY,
    NAMES,
)
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import largest
from barkwright.schedule.optimum.columns import Chunk, Hands, Variant
from barkwright.schedule.optimum.period import PeriodModel
from barkwright.schedule.optimum.spans import Hire, Limit, stands_beside

NEVER = float("inf")


class Prices:
    """What each level, hour, machine hour and limit counts as."""

    def __init__(
        self,
        period: PeriodModel,
        level: int,
        duals: Sequence[float],
        caps: Sequence[tuple[int, int, float]] = (),
        budget: tuple[int, float] | None = None,
    ) -> None:
        """caps: level, row and most of the level; budget: row and most."""
        self.model: SiteModel = period.model
        self.period, self.level = period, level
        price = self._price = [max(0.0, -dual) for dual in duals]
        self.weights = [0.0] * len(NAMES)
        self.weights[level] = 1.0
        self.owed = 0.0
        self.caps = [(capped, price[row], most) for capped, row, most in caps]
        for capped, row, most in caps:
            self.weights[capped] += price[row]
            self.owed += price[row] * most
        self.purse = 0.0
        if budget is not None:
            self.purse = price[budget[0]]
            self.owed += self.purse * budget[1]
        self.limits: list[tuple[Limit, float]] = [
            (one, price[one.row]) for one in period.limits if price[one.row] > 0.0
        ]
        self.owed += sum(one.hours * each for one, each in self.limits)
        self.site = {name: price[row] for name, row in period.site_limits.items()}
        self.owed += sum(price[row] * period.program.high[row] for row in period.site_limits.values())
        self.hauls = {key: self._load(key, price[row]) for key, row in period.hauls.items()}
        self._limits: dict[tuple[Hands, int, int], tuple[int, ...]] = {}
        self._hour: dict[tuple[Hands, int, int], tuple[float, float]] = {}

    def held_at(self, values: Sequence[float]) -> float:
        """What a bound gains where the levels before this one are held at these values instead of where they were."""
        return sum(price * (most - values[level]) for level, price, most in self.caps)

    def paid(self) -> float:
        """What a unit of money that leaves the purse counts as."""
        return self.weights[MONEY] + self.purse

    def chunk(self, one: Chunk) -> float:
        """What hours between two days count as at least; NEVER where nobody has any."""
        hour, machine = self.hour_prices(one)
        price = one.hours * hour if one.hours > 0.0 else 0.0
        return price + one.machine_hours * machine if one.machine_hours > 0.0 else price

    def hour_prices(self, one: Chunk) -> tuple[float, float]:
        """What a person-hour, and an hour of all machines, between two days counts as at least."""
        key = (one.hands, one.first, one.last)
        known = self._hour.get(key)
        if known is None:
            hour = min((self._of_crew(crew, *key) for crew in one.hands[0]), default=NEVER)
            machine = sum(min(self._of_machine(p, *key[1:]) for p in places) for places in one.hands[2])
            known = self._hour[key] = (hour, machine)
        return known

    def variant(self, one: Variant) -> float:
        """What a variant's hours, money and use of limits count as, without levels."""
        price = self.weights[MONEY] * one.money
        for chunk in one.chunks:
            price += self.chunk(chunk)
        if self.site and (one.chips or one.cords):
            due = self.model.days.length if one.pick.due is None else one.pick.due
            price += self.site.get("chips", 0.0) * one.chips
            price += (self.site.get("cords", 0.0) + self.site.get(("cords", due), 0.0)) * one.cords
        if one.haul is not None:
            price += self.hauls.get(one.haul[:2], 0.0) * one.haul[2]
        return price

    def limits_of(self, hands: Hands, first: int, last: int) -> tuple[int, ...]:
        """Limits with a price that hours lie in, by their place in the list."""
        key = (hands, first, last)
        known = self._limits.get(key)
        if known is None:
            known = self._limits[key] = tuple(
                at
                for at, (one, _) in enumerate(self.limits)
                if one.first <= first
                and last < one.end
                and one.size <= hands[1]
                and (
                    (one.size and one.place in hands[0])
                    or (one.place < 0 and stands_beside(hands, one.beside))
                    or (not one.size and any(one.place in places for places in hands[2]))
                )
            )
        return known

    def hire(self) -> float:
        """The least that hires count as, less what their hours are worth at these prices; never above 0."""
        gains: dict[tuple[int, int], float] = {}
        for one, each in self.limits:
            for place, number, hours in one.hire:
                gains[place, number] = gains.get((place, number), 0.0) + each * hours
        total = 0.0
        for place, used in self.period.hired.items():
            days = sorted(
                (gains.get((place, number), 0.0) for number, use in used.items() for _ in range(use.days)), reverse=True
            )
            total += self._least_hire(self.period.hires[place], [0.0, *accumulate(days)])
        return total

    def _least_hire(self, hire: Hire, gains: Sequence[float]) -> float:
        """gains : what the hours of 0, 1, ... days of use are worth."""
        prices = [each * self.paid() for each in hire.prices]
        prices += [max(prices[-1], hire.a_day * self.paid() * days) for days in range(len(prices), len(gains))]
        brief = hire.brief
        if brief is None:
            return min(price - gain for price, gain in zip(prices, gains, strict=False))
        hour = self._price[brief.row]
        rent = min(price * self.paid() - hour * holds for holds, price in brief.rents)
        day = brief.delivery * self.paid() + (rent if rent >= 0.0 else brief.longest * rent)
        return min(
            price - hour * hire.best * number + also * day - gains[min(number + also, len(gains) - 1)]
            for number, price in enumerate(prices)
            for also in range(len(gains))
        )

    def _of_crew(self, place: int, hands: Hands, first: int, last: int) -> float:
        crew = self.model.days.crews[place]
        if not any(hours > 0.0 for hours in crew.hours[max(0, first) : last + 1]):
            return NEVER
        price = (self.paid() if crew.paid else self.weights[MONEY]) * crew.rate
        for one, each in self.limits:
            if not (one.first <= first and last < one.end) or one.size > hands[1]:
                continue
            beside = one.place < 0 and stands_beside(hands, one.beside)
            if one.size and (one.place == place or beside):
                price += each / (hands[1] if one.size > 1 else 1)
        return price

    def _of_machine(self, place: int, first: int, last: int) -> float:
        price = self.paid() * self.model.machines[place].running
        hire = self.period.hires.get(place)
        if hire is not None and hire.brief is not None:
            price += self._price[hire.brief.row]
        for one, each in self.limits:
            if one.size == 0 and one.place == place and one.first <= first and last < one.end:
                price += each
        return price

    def _load(self, key: tuple[Destination, str], price: float) -> float:
        """What a pound hauled counts as: no more than its share of the fee for a load."""
        place, tool = key
        fee, payload = self.model.work.prices.load_fee(place, largest(self.model, tool))
        return min(price, fee * self.paid() / payload) if payload > 0 else 0.0
