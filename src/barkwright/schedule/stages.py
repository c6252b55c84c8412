"""Stages of work by hired machines: what one of them waits for comes first, then its own work, then the next one's."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.schedule.tasks import Task

LAST = 10**6  # no hired machine waits for it


def stages_of(tasks: Sequence[Task], hired: frozenset[str]) -> list[int]:
    """By task how many hired machines have worked before it, of those for which a hired machine waits; `LAST` else.

    hired : kinds of machines
    """
    waited = [not hired.isdisjoint(task.equipment) for task in tasks]
    own = list(waited)
    for number in range(len(tasks) - 1, -1, -1):
        if waited[number]:
            for pred in tasks[number].preds:
                waited[pred] = True
    found = [0] * len(tasks)
    for number, task in enumerate(tasks):
        found[number] = max((found[pred] + (own[pred] and not own[number]) for pred in task.preds), default=0)
    return [stage if waits else LAST for stage, waits in zip(found, waited, strict=True)]
