"""Plans of a large site under its guide: a handful, with hired machines on as few days as the prices say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from barkwright.schedule.guide import Guide
from barkwright.schedule.levels import BARK, better, values_of
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.options import Taste
from barkwright.schedule.scenario import Candidate, Scenario, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.watch import Watch

Span = tuple[int, int, int]  # first day and end of a period, days of use in it
Had = tuple[tuple[int, frozenset[int]], ...]


def under(model: SiteModel, guide: Guide) -> Scenario:
    """The whole site under a guide: all machines and hands, the cheapest crew in time where crews cost unlike."""
    return Scenario(
        frozenset(machine.place for machine in model.machines),
        tuple(crew.people for crew in model.days.crews),
        Taste(0.0, model.work.inventory.wishes.prefer, 0.0, 0.0, 0.0),
        guide=guide,
        thrifty=len({crew.rate for crew in model.days.crews}) > 1,
    )


def guided_large(model: SiteModel, proof: LargeProof, watch: Watch) -> list[Candidate]:
    """The plans that are tried; the last is the best at the first levels."""
    scenario = replace(under(model, proof.guide), together=True)
    found = [evaluate(model, scenario)]
    fewer = frozenset(one.place for one in model.machines if not one.hired or one.place in proof.hired)
    scenario = replace(scenario, machines=fewer)
    spare = values_of(model, found[0])[BARK] <= (proof.bounds[BARK] or 0.0) * (1.0 + SETTINGS["close_enough"]) + 1.0
    for had in _had(model, proof, found[0]) if spare else ():  # where bark is left, every day of a machine helps
        if watch.stop:
            break
        found.append(evaluate(model, replace(scenario, had=had)))
    best = found[0]
    for one in found[1:]:
        best = one if better(values_of(model, one), values_of(model, best)) else best
    return [*(one for one in found if one is not best), best]


def _had(model: SiteModel, proof: LargeProof, plan: Candidate) -> Iterator[Had]:
    """Days on which each hired machine is had: as many as the prices say and one more, from one day or another on."""
    hours = [sum(crew.hours[day] * crew.people for crew in model.days.crews) for day in range(model.days.length)]
    sums, work = list(accumulate(hours)), sum(task.need for one in plan.plans for task in one.tasks)
    shares = (0.15, 0.4, 0.7)[: int(SETTINGS["hire_starts_large"])]
    for share in shares if proof.hired else ():
        start = next((day for day, each in enumerate(sums) if each >= share * work), 0)
        there = {day for day, each in enumerate(hours) if each > 0.0}
        blocks: list[tuple[int, frozenset[int]]] = []
        for place, spans in sorted(proof.hired.items(), key=lambda one: (sum(span[2] for span in one[1]), one[0])):
            block = _block(model, there, place, spans, start)
            there -= block  # all hands stand beside one kind of machine at a time
            blocks.append((place, block))
        yield tuple(blocks)


def _block(model: SiteModel, there: set[int], place: int, spans: Sequence[Span], start: int) -> frozenset[int]:
    """Working days from a day on, or from the first of their period where that is later."""
    machine = model.machines[place]
    days: set[int] = set()
    for first, _, count in spans:
        opens = max(first, start, machine.first, 0)
        free = sorted(day for day in there - days if opens <= day <= machine.last)
        days.update(free[: count + 1])
    return frozenset(days)
