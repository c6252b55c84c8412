"""Days on which hired machines are had, in blocks: as many as the prices say, from this or that day on."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import field
from itertools import accumulate
from math import ceil

from barkwright.record import dataclass
from barkwright.schedule.machine_days import Run, Span
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.large import Hired
from barkwright.schedule.scenario import Scenario, dispatcher_of
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tasks import Task
from barkwright.schedule.together import drafted, latest_end

LITTLE = 0.01  # days
Open = dict[Span, float]  # hours beside a machine by the last and the first day for them [person-hours]


@dataclass(slots=True)
class Load:
    """Hours of all that is guided."""

    down: float = 0.0  # of bringing trees down that go to a hired machine [person-hours]
    after: dict[tuple[str, str], float] = field(default_factory=dict)  # beside one kind of machine, after another
    open: dict[str, Open] = field(default_factory=dict)  # by kind of machine
    every: Open = field(default_factory=dict)  # of all work

    def add(self, tasks: Sequence[Task], kinds: set[str]) -> None:
        """Count in the work on a tree."""
        hired = any(not kinds.isdisjoint(task.equipment) for task in tasks)
        sooner: list[set[str]] = []  # by task the kinds that are used before it
        for task in tasks:
            span = (latest_end(task), task.first)
            self.every[span] = self.every.get(span, 0.0) + task.need
            mine = kinds.intersection(task.equipment)
            if not mine and hired and task.way is None:
                self.down += task.need
            sooner.append({kind for pred in task.preds for kind in kinds.intersection(tasks[pred].equipment)})
            sooner[-1].update(*(sooner[pred] for pred in task.preds))
            for kind in mine:
                held = self.open.setdefault(kind, {})
                held[span] = held.get(span, 0.0) + task.need
                for earlier in sooner[-1] - mine:
                    self.after[earlier, kind] = self.after.get((earlier, kind), 0.0) + task.need

    def share(self, group: Group, hours: Sequence[float]) -> float:
        """How much of the hours between the first and the last day of a group is taken by work that must lie there."""
        inside = (need for (end, first), need in self.every.items() if first >= group.opens and end <= group.closes)
        return sum(inside) / max(LITTLE, sum(hours[group.opens : group.closes + 1]))


@dataclass(slots=True)
class Group:
    """Work with a kind of machine that is done in one block."""

    opens: int
    closes: int
    days: float
    spans: list[Span]


def filled_days(model: SiteModel, hired: Hired, scenario: Scenario) -> tuple[Run, ...]:
    """Runs of days of each hired machine that are to be filled before any other.

    All hands stand beside one kind of machine at a time, so the blocks follow each other: what works up the wood of
    another comes after it. The first block begins when the trees are down; a block of work that must end before that
    has the last days there are for it, and one of work that opens later comes later.
    """
    if not hired:
        return ()
    load = _load(model, scenario)
    hours = [sum(crew.hours[day] * crew.people for crew in model.days.crews) for day in range(model.days.length)]
    start = next((day for day, each in enumerate(accumulate(hours)) if each >= load.down), 0)
    there = frozenset(day for day, each in enumerate(hours) if each > 0.0)
    runs: list[Run] = []
    blocks = _blocks(model, hired, load, there, start)
    for place, group in blocks:
        ends = [one.closes for other, one in blocks if other == place and one.closes < group.closes]
        apart = group.opens > start and load.share(group, hours) > SETTINGS["hire_apart"]
        begin = _begin(hired, place, group, start, max(ends, default=-1))
        days = _spread(model, there, place, group, begin) if apart else _block(model, there, place, group, begin)
        there -= frozenset(days)
        if days:
            runs.append(Run(place, days, frozenset(group.spans), apart))
    return tuple(runs)


def _load(model: SiteModel, scenario: Scenario) -> Load:
    load, dispatcher = Load(), dispatcher_of(model, scenario)
    kinds = {machine.kind for machine in model.machines if machine.hired}
    for tree in model.trees:
        draft = drafted(dispatcher, tree)
        if draft is not None:
            load.add(draft.plan.tasks, kinds)
    return load


def _blocks(model: SiteModel, hired: Hired, load: Load, there: Set[int], start: int) -> list[tuple[int, Group]]:
    """Machine and work of each block, in the order in which they find their days.

    Of several machines of a kind, only the one that does all the work that they do.
    """
    days: dict[str, float] = {}
    places: dict[str, int] = {}
    for place, spans in sorted(hired.items()):
        kind = model.machines[place].kind
        days[kind] = days.get(kind, 0.0) + sum(span[2] for span in spans)
        if kind not in places or model.machines[place].strongest:
            places[kind] = place
    found: list[tuple[int, float, int, int, Group]] = []
    for kind in (kind for kind in days if kind in load.open):
        later = sum(hours for (_, after), hours in load.after.items() if after == kind)
        sooner = sum(hours for (before, _), hours in load.after.items() if before == kind)
        for group in _groups(load.open[kind], days[kind], there, start):
            found.append((group.closes, later - sooner, places[kind], len(found), group))
    return [(place, group) for _, _, place, _, group in sorted(found, key=lambda one: one[:4])]


def _groups(spans: Open, days: float, there: Set[int], start: int) -> list[Group]:
    """Work with a kind of machine that can be done in one block, with the days of use that it takes.

    Work that need not be done before `start` joins other such work where days for both can be found, but not what
    opens later and has more time.
    """
    found: list[Group] = []
    total = sum(spans.values())
    for span in sorted(spans):
        more = days * spans[span] / total if total > 0.0 else 0.0
        one = next((each for each in found if _joins(each, span, more, there, start)), None)
        if one is None:
            found.append(Group(span[1], span[0], more, [span]))
        else:
            one.opens, one.days = max(one.opens, span[1]), one.days + more
            one.spans.append(span)
    return [one for one in found if one.days > LITTLE]


def _joins(group: Group, span: Span, more: float, there: Set[int], start: int) -> bool:
    opens = max(group.opens, span[1])
    if group.closes < start or (span[1] > start and span[0] > group.closes):
        return False
    return sum(max(opens, start) <= day <= group.closes for day in there) >= group.days + more


def _begin(hired: Hired, place: int, group: Group, start: int, before: int) -> int:
    """The day to begin on: `start`, or where the work opens much later the period in which the prices put most of it.

    before : last day for the work that comes before it
    """
    if group.opens <= start + group.days:
        return max(start, group.opens)
    spans = [(days, opens) for opens, _, days in hired[place] if group.opens <= opens <= group.closes]
    return max(max(spans)[1] if spans else group.opens, before + 1)


def _block(model: SiteModel, there: Set[int], place: int, group: Group, start: int) -> tuple[int, ...]:
    """Working days in a row: from `start` on, or up to the last day where that would not be enough."""
    free, count = _free(model, there, place, group)
    at = next((number for number, day in enumerate(free) if day >= start), len(free))
    at = max(0, min(at, len(free) - count))
    return tuple(free[at : at + count])


def _spread(model: SiteModel, there: Set[int], place: int, group: Group, start: int) -> tuple[int, ...]:
    """Working days from `start` on as far apart as can be, the last day of the work among them."""
    free, count = _free(model, there, place, group)
    free = [day for day in free if day >= start]
    return tuple(free[len(free) * number // count - 1] for number in range(1, count + 1)) if len(free) >= count else ()


def _free(model: SiteModel, there: Set[int], place: int, group: Group) -> tuple[list[int], int]:
    """Days that are left for the work of a group, and how many of them it takes."""
    machine = model.machines[place]
    first, last = max(group.opens, machine.first), min(group.closes, machine.last)
    return sorted(day for day in there if first <= day <= last), ceil(group.days * (1.0 + SETTINGS["hire_room"]))
