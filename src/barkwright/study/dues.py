"""When the work of a course may be done: after what it waits for, while its machines are there, before it is due."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from barkwright.schedule.model import SiteModel
from barkwright.schedule.recipe import completing
from barkwright.spread import NOTHING, Spread
from barkwright.study.reckoning import Due, hours_of, machine_hours
from barkwright.study.taken import Taken
from barkwright.treatment.ways import Step


def dues_of(model: SiteModel, whole: Sequence[Taken], first: Sequence[Step]) -> list[Due]:
    """What has to be over by which day and opens when; felling and cutting up are due with the first of it.

    Wood that lies is done before the coming flight, which would attack it, unless its way only opens later.
    """
    before = model.coming.onset - timedelta(days=1)
    spans: dict[tuple[date | None, date], list[Step]] = {}
    for one in whole:
        if one.way.finish_by is None or not one.steps:
            continue
        late = one.window.first > one.way.finish_by  # what opens after its date is done before the flight all the same
        day = one.last if late else min(one.way.finish_by, one.last)
        by = min(day, before) if one.window.first < before else day
        for step, bound in zip(one.steps, _bound(one.steps), strict=True):
            opens, last = _there(model, step, one.window.first if bound else None, by)
            spans.setdefault((opens, last), []).append(step)
    if spans:
        spans.setdefault((None, min(by for _, by in spans)), []).extend(first)
    return [Due(by, hours_of(steps), _busiest(steps), opens) for (opens, by), steps in spans.items()]


def _bound(steps: Sequence[Step]) -> list[bool]:
    """Which steps wait for the window: all up to the one that stops the brood; before a wait only that one."""
    done = completing(steps)
    waits = any(step.wait_days > 0 or step.spans is not None for step in steps[: done + 1])
    return [place <= done and (place == done or not waits) for place in range(len(steps))]


def _there(model: SiteModel, step: Step, opens: date | None, by: date) -> tuple[date | None, date]:
    """The days of a step on which its machines are there; the wider where there are several of a kind."""
    for kind in step.equipment:
        held = [one for one in model.machines if one.kind == kind]
        if held:
            first, last = min(one.first for one in held), max(one.last for one in held)
            opens = max(opens or model.days.first, model.days.day(max(first, 0))) if first > 0 else opens
            by = min(by, model.days.day(min(last, model.days.length)))
    return opens, by


def _busiest(steps: Sequence[Step]) -> Spread:
    return max(machine_hours(steps).values(), key=lambda one: one.mean, default=NOTHING)
