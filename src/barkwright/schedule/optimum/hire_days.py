"""Days on which hired machines are had, in blocks: as many as the prices say, from this or that day on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import field
from itertools import accumulate
from math import ceil

from barkwright.record import dataclass
from barkwright.schedule.machine_days import Run
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.scenario import Scenario, dispatcher_of
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tasks import Task
from barkwright.schedule.together import drafted, latest_end

LITTLE = 0.01  # days
Open = dict[tuple[int, int], float]  # hours beside a machine by the last and the first day for them [person-hours]


@dataclass(slots=True)
class Load:
    """Hours of all that is guided."""

    down: float = 0.0  # of bringing trees down that go to a hired machine [person-hours]
    other: float = 0.0  # of all else that is done without one
    after: dict[tuple[str, str], float] = field(default_factory=dict)  # beside one kind of machine, after another
    open: dict[str, Open] = field(default_factory=dict)  # by kind of machine

    def add(self, tasks: Sequence[Task], kinds: set[str]) -> None:
        """Count in the work on a tree."""
        hired = any(not kinds.isdisjoint(task.equipment) for task in tasks)
        sooner: list[set[str]] = []  # by task the kinds that are used before it
        for task in tasks:
            mine = kinds.intersection(task.equipment)
            if not mine and hired and task.way is None:
                self.down += task.need
            elif not mine:
                self.other += task.need
            sooner.append({kind for pred in task.preds for kind in kinds.intersection(tasks[pred].equipment)})
            sooner[-1].update(*(sooner[pred] for pred in task.preds))
            for kind in mine:
                held, span = self.open.setdefault(kind, {}), (latest_end(task), task.first)
                held[span] = held.get(span, 0.0) + task.need
                for earlier in sooner[-1] - mine:
                    self.after[earlier, kind] = self.after.get((earlier, kind), 0.0) + task.need


def filled_days(model: SiteModel, proof: LargeProof, scenario: Scenario) -> Iterator[tuple[Run, ...]]:
    """Runs of days of each hired machine that are to be filled before any other, one set after the other.

    All hands stand beside one kind of machine at a time, so the blocks follow each other: what works up the wood of
    another comes after it. The first block begins when the trees are down, or later, up to when all else is done; a
    block of work that must end before that has the last days there are for it.
    """
    if not proof.hired:
        return
    load = _load(model, scenario)
    hours = [sum(crew.hours[day] * crew.people for crew in model.days.crews) for day in range(model.days.length)]
    sums = list(accumulate(hours))
    for number in range(int(SETTINGS["hire_starts_large"])):
        before = load.down + load.other * number / max(1.0, SETTINGS["hire_starts_large"] - 1.0)
        start = next((day for day, each in enumerate(sums) if each >= before), 0)
        there = frozenset(day for day, each in enumerate(hours) if each > 0.0)
        runs: list[Run] = []
        for place, first, end, days in _blocks(model, proof, load, there, start):
            block = _block(model, there, place, (first, _begin(proof, place, first, start, end), end), days)
            there -= block
            if block:
                runs.append((place, min(block), max(block)))
        yield tuple(runs)


def _load(model: SiteModel, scenario: Scenario) -> Load:
    load, dispatcher = Load(), dispatcher_of(model, scenario)
    kinds = {machine.kind for machine in model.machines if machine.hired}
    for tree in model.trees:
        draft = drafted(dispatcher, tree)
        if draft is not None:
            load.add(draft.plan.tasks, kinds)
    return load


def _blocks(
    model: SiteModel, proof: LargeProof, load: Load, there: Set[int], start: int
) -> list[tuple[int, int, int, float]]:
    """Machine, first and last day and days of each block, in the order in which they find their days.

    Of several machines of a kind, only the one that does all the work that they do.
    """
    days: dict[str, float] = {}
    places: dict[str, int] = {}
    for place, spans in sorted(proof.hired.items()):
        kind = model.machines[place].kind
        days[kind] = days.get(kind, 0.0) + sum(span[2] for span in spans)
        if kind not in places or model.machines[place].strongest:
            places[kind] = place
    found: list[tuple[int, float, int, int, float]] = []
    for kind in (kind for kind in days if kind in load.open):
        later = sum(hours for (_, after), hours in load.after.items() if after == kind)
        sooner = sum(hours for (before, _), hours in load.after.items() if before == kind)
        for first, end, each in _groups(load.open[kind], days[kind], there, start):
            found.append((end, later - sooner, places[kind], first, each))
    return [(place, first, end, each) for end, _, place, first, each in sorted(found)]


def _groups(spans: Open, days: float, there: Iterable[int], start: int) -> list[tuple[int, int, float]]:
    """First and last days for work with a kind of machine, each with the days of use between them.

    Work that need not be done before `start` joins other such work where days for both can be found.
    """
    found: list[tuple[int, int, float]] = []
    total = sum(spans.values())
    for end, first in sorted(spans):
        each = days * spans[end, first] / total if total > 0.0 else 0.0
        for number, (opens, closes, held) in enumerate(found):
            opens = max(opens, first)
            if closes >= start and sum(max(opens, start) <= day <= closes for day in there) >= held + each:
                found[number] = (opens, closes, held + each)
                break
        else:
            found.append((first, end, each))
    return [one for one in found if one[2] > LITTLE]


def _begin(proof: LargeProof, place: int, first: int, start: int, end: int) -> int:
    """The day to begin on: `start`, or later where the work opens later and the prices put it in a later period."""
    if first <= start:
        return start
    return max((opens for opens, _, _ in proof.hired[place] if first <= opens <= end), default=first)


def _block(model: SiteModel, there: Set[int], place: int, span: tuple[int, int, int], days: float) -> frozenset[int]:
    """Working days in a row: from `start` on, or up to the last day where that would not be enough.

    span : the first day, the day to start on, the last day
    """
    machine, (first, start, last) = model.machines[place], span
    count = ceil(days * (1.0 + SETTINGS["hire_room"]))
    free = sorted(day for day in there if max(first, machine.first) <= day <= min(last, machine.last))
    at = next((number for number, day in enumerate(free) if day >= start), len(free))
    at = max(0, min(at, len(free) - count))
    return frozenset(free[at : at + count])
