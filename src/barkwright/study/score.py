"""What the runs of a plan come to: in time for how many of the years, tree by tree and as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from barkwright.record import dataclass
from barkwright.study.clocks import NEARLY
from barkwright.study.network import OUTSIDE
from barkwright.study.onsets import Onsets
from barkwright.study.planned import Planned
from barkwright.study.stakes import Deadline, Stake

if TYPE_CHECKING:
    import numpy as np

    from barkwright.study.clocks import Clocks
    from barkwright.study.dice import Numbers

    Places = np.ndarray[Any, np.dtype[np.int64]]

NEVER = 100_000  # a day after every flight


@dataclass(frozen=True, slots=True)
class Flown:
    """The work before one flight, by draw, in days from the first."""

    needs: Places  # the first day on which the flight may begin
    over: Places  # days by which a way is closed when it ends; 0 or less: in time
    ended: Places  # the day on which all of it has ended


class Score:
    """Sums over all draws so far."""

    def __init__(self, plan: Planned, stakes: tuple[Stake, ...], onsets: Mapping[int, Onsets]) -> None:
        self.plan = plan
        numbers = {name: place for place, name in enumerate(plan.ids)}
        self.of_job: dict[int, list[Stake]] = {}
        for stake in stakes:
            self.of_job.setdefault(numbers[stake.job], []).append(stake)
        self.onsets = {
            year: [(day - plan.first).days for day in one.days] for year, one in onsets.items()
        }  # as days from the first
        self.draws = 0
        self._late_ft2 = 0.0
        self._trees: dict[str, float] = {}
        self._parts: list[dict[int, Flown]] = []

    def part(self, clocks: Clocks) -> Part:
        """What hears of the ends of tasks in some more draws."""
        return Part(self, clocks)

    def add(self, part: Part) -> None:
        """Take in what some more draws came to."""
        self.draws += part.clocks.draws
        self._late_ft2 += part.late_ft2
        for tree, chance in part.trees().items():
            self._trees[tree] = self._trees.get(tree, 0.0) + chance
        self._parts.append(part.flights())

    def in_time(self, margin: int, flights: Sequence[int] | None = None) -> float:
        """Share of draws and years in which all work before some flights, or all, is in time, came it so much later.

        margin : int    days by which all of it comes later
        """
        import numpy as np

        total = 0.0
        for part in self._parts:
            whole: Any = 1.0
            for year in part if flights is None else flights:
                onsets, found = np.sort(np.asarray(self.onsets[year])), part[year]
                later = len(onsets) - np.searchsorted(onsets, found.needs + margin, side="left")
                whole = whole * np.where(found.over + margin > 0, 0.0, later / len(onsets))
            total += float(np.sum(whole))
        return total / self.draws

    def day_at(self, share: float, flight: int) -> int:
        """The day by which all work before a flight has ended in that share of the draws."""
        import numpy as np

        ends = np.sort(np.concatenate([part[flight].ended for part in self._parts]))
        return int(ends[min(len(ends) - 1, int(np.ceil(share * len(ends) - NEARLY)) - 1)])

    def trees(self) -> dict[str, float]:
        """For each tree the share of draws and years in which all of it is in time."""
        return {tree: chance / self.draws for tree, chance in self._trees.items()}

    def bark_late_ft2(self) -> float:
        """Infested bark that comes too late, on average over draws and years [ft2]."""
        return self._late_ft2 / self.draws


class Part:
    """The same for draws that are run at one time."""

    def __init__(self, score: Score, clocks: Clocks) -> None:
        self.score = score
        self.clocks = clocks
        self.late_ft2 = 0.0  # summed over draws
        self._limits: dict[tuple[Deadline, int], list[Numbers | float]] = {}
        self._trees: dict[str, dict[tuple[Deadline, int], Numbers]] = {}
        self._latest: dict[tuple[Deadline, int], Numbers] = {}

    def ended(self, place: int, end: Numbers) -> None:
        """A task has ended: what hangs on it is in time or not."""
        import numpy as np

        clock = self.score.plan.nodes[place].clock
        for stake in self.score.of_job.get(place, ()):
            key = stake.deadline, clock
            if stake.infested_ft2 > 0.0:
                limits = self.limits(*key)
                if not np.all(end <= limits[0]):  # onsets stand in order: what beats the first beats all
                    late = sum(int(np.count_nonzero(end > limit)) for limit in limits)
                    self.late_ft2 += stake.infested_ft2 * late / len(limits)
            for ends in (self._trees.setdefault(stake.tree, {}), self._latest):
                before = ends.get(key)
                ends[key] = end if before is None else np.maximum(before, end)

    def limits(self, deadline: Deadline, clock: int) -> list[Numbers | float]:
        """For each year what a clock shows at the last moment that is in time."""
        known = self._limits.get((deadline, clock))
        if known is None:
            days = self.last_days(deadline)
            known = [float(day) if clock == OUTSIDE else self.clocks.opens(clock, day + 1) + NEARLY for day in days]
            self._limits[deadline, clock] = known
        return known

    def last_days(self, deadline: Deadline) -> list[int]:
        """For each year the last day that is in time."""
        days = [onset - 1 - deadline.lead for onset in self.score.onsets[deadline.flight]]
        if deadline.closes is None:
            return days
        last = (deadline.closes - self.score.plan.first).days
        return [min(day, last) for day in days]

    def trees(self) -> dict[str, float]:
        """For each tree the share of years in which all of it is in time, summed over draws."""
        import numpy as np

        found: dict[str, float] = {}
        for tree, ends in self._trees.items():
            whole: Any = np.ones(self.clocks.draws)
            for year in sorted({deadline.flight for deadline, _ in ends}):
                mine = [(end, self.limits(*key)) for key, end in ends.items() if key[0].flight == year]
                if all(np.all(end <= limits[0]) for end, limits in mine):
                    continue
                count: Any = 0
                for number in range(len(self.score.onsets[year])):
                    good: Any = True
                    for end, limits in mine:
                        good = good & (end <= limits[number])
                    count = count + good.astype(np.int64)
                whole = whole * (count / len(self.score.onsets[year]))
            found[tree] = float(np.sum(whole))
        return found

    def flights(self) -> dict[int, Flown]:
        """The same by flight, for all its work together."""
        import numpy as np

        found: dict[int, Flown] = {}
        for (deadline, clock), end in self._latest.items():
            day = end.astype(np.int64) if clock == OUTSIDE else self.clocks.day_of(clock, end)
            need = np.where(day >= self.score.plan.length, NEVER, day + 1 + deadline.lead)
            closes = NEVER if deadline.closes is None else (deadline.closes - self.score.plan.first).days
            one, before = Flown(need, day - closes, day), found.get(deadline.flight)
            if before is not None:
                pairs = zip((before.needs, before.over, before.ended), (one.needs, one.over, one.ended), strict=True)
                one = Flown(*(np.maximum(*pair) for pair in pairs))
            found[deadline.flight] = one
        return found
