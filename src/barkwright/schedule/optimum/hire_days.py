"""Days on which hired machines are had, in one block each: as many as the prices say, from this or that day on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import field
from itertools import accumulate
from math import ceil

from barkwright.record import dataclass
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.scenario import Scenario, dispatcher_of
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tasks import Task
from barkwright.schedule.together import drafted

Had = tuple[tuple[int, frozenset[int]], ...]  # by machine, its days


@dataclass(slots=True)
class Load:
    """Hours of all that is guided."""

    down: float = 0.0  # of bringing trees down that go to a hired machine [person-hours]
    other: float = 0.0  # of all else that is done without one
    after: dict[tuple[str, str], float] = field(default_factory=dict)  # beside one kind of machine, after another

    def add(self, tasks: Sequence[Task], kinds: set[str]) -> None:
        """Count in the work on a tree."""
        hired = any(not kinds.isdisjoint(task.equipment) for task in tasks)
        sooner: list[set[str]] = []  # by task the kinds that are used before it
        for task in tasks:
            mine = kinds.intersection(task.equipment)
            if not mine:
                if hired and task.way is None:
                    self.down += task.need
                else:
                    self.other += task.need
            sooner.append({kind for pred in task.preds for kind in kinds.intersection(tasks[pred].equipment)})
            sooner[-1].update(*(sooner[pred] for pred in task.preds))
            for kind in mine:
                for earlier in sooner[-1] - mine:
                    self.after[earlier, kind] = self.after.get((earlier, kind), 0.0) + task.need


def filled_days(model: SiteModel, proof: LargeProof, scenario: Scenario) -> Iterator[Had]:
    """Days of each hired machine that are to be filled before any other, one set after the other.

    All hands stand beside one kind of machine at a time, so the blocks follow each other: what works up the wood of
    another comes after it. The first block begins when the trees are down, or when all else is done.
    """
    if not proof.hired:
        return
    dispatcher = dispatcher_of(model, scenario)
    load = _load(model, dispatcher, scenario)
    hours = [sum(crew.hours[day] * crew.people for crew in model.days.crews) for day in range(model.days.length)]
    sums = list(accumulate(hours))
    order = _order(model, proof, load)
    for number in range(int(SETTINGS["hire_starts_large"])):
        before = load.down + load.other * number / max(1.0, SETTINGS["hire_starts_large"] - 1.0)
        start = next((day for day, each in enumerate(sums) if each >= before), 0)
        there = {day for day, each in enumerate(hours) if each > 0.0}
        blocks: list[tuple[int, frozenset[int]]] = []
        for place in order:
            block = _block(model, proof, there, place, start)
            there -= block
            blocks.append((place, block))
        yield tuple(blocks)


def _load(model: SiteModel, dispatcher: Dispatcher, scenario: Scenario) -> Load:
    load = Load()
    kinds = {machine.kind for machine in model.machines if machine.hired}
    for tree in model.trees:
        draft = drafted(dispatcher, tree)
        if draft is not None:
            load.add(draft.plan.tasks, kinds)
    return load


def _order(model: SiteModel, proof: LargeProof, load: Load) -> list[int]:
    """Machines in the order of their blocks."""

    def key(place: int) -> tuple[float, float, int]:
        kind = model.machines[place].kind
        later = sum(hours for (_, after), hours in load.after.items() if after == kind)
        sooner = sum(hours for (before, _), hours in load.after.items() if before == kind)
        return (later - sooner, _days(proof, place), place)

    return sorted(proof.hired, key=key)


def _days(proof: LargeProof, place: int) -> float:
    return sum(days for _, _, days in proof.hired[place])


def _block(model: SiteModel, proof: LargeProof, there: set[int], place: int, start: int) -> frozenset[int]:
    """Working days in a row from a day on, as late as that where they would not be enough."""
    machine = model.machines[place]
    count = ceil(_days(proof, place) * (1.0 + SETTINGS["hire_room"]))
    end = min(machine.last, max(end for _, end, _ in proof.hired[place]) - 1)
    free = sorted(day for day in there if machine.first <= day <= end)
    at = next((number for number, day in enumerate(free) if day >= start), len(free))
    at = max(0, min(at, len(free) - count))
    return frozenset(free[at : at + count])
