"""The checker's part on hires: each is billed by its tariff, and those by the hour hold the hours that are worked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from math import isclose

from barkwright.costs.tariff import Cover, cover, rentable
from barkwright.inventory.model import Equipment
from barkwright.schedule.jobs import RentalRun, Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify_days import hire_of, hours_of, machine_hours, there_on

SLACK = 1e-4  # hours are billed rounded


def broken_hires(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    """Hires that cannot be had or are billed wrongly, and days that are billed for fewer hours than are worked."""
    for run in schedule.rentals:
        fit = [
            entry for entry in work.inventory.equipment if not entry.owned and rentable(entry) and hire_of(run, entry)
            and (entry.first is None or entry.first <= run.first) and (entry.last is None or run.last <= entry.last)
        ]  # fmt: skip
        if not fit or run.last < run.first:
            yield f"No {run.label} can be hired from {run.first} to {run.last}."
        elif not any(_billed(run, entry, schedule, work) == (run.cost, run.billed, run.hours) for entry in fit):
            yield f"The hire of the {run.label} from {run.first} is billed wrongly."
    yield from _hours(schedule, work)


def _billed(run: RentalRun, entry: Equipment, schedule: Schedule, work: SiteWork) -> tuple[object, ...]:
    """How the hire of an entry is to be billed: cost, words, and the hours where it is by the hour or the half day."""
    length = (run.last - run.first + timedelta(days=1)).days
    found = cover(entry, length, _each(run, entry, schedule, work) if length == 1 else None)
    return _bill(found, run)


def _bill(found: Cover, run: RentalRun) -> tuple[object, ...]:
    near = found.hours is not None and run.hours is not None and isclose(found.hours, run.hours, abs_tol=SLACK)
    return found.cost, found.text, run.hours if near else found.hours


def _each(run: RentalRun, entry: Equipment, schedule: Schedule, work: SiteWork) -> float | None:
    """Hours that each machine of an entry runs on the one day of its hire; of several entries what the hire says."""
    hours = machine_hours(schedule, work).get((run.equipment, run.first), 0.0)
    others = [one for one in work.inventory.equipment if one.kind == run.equipment and one is not entry]
    if any(there_on(one, run.first, schedule.rentals) for one in others):
        return run.hours
    return hours / entry.count


def _hours(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    """Do the hours that hires are billed by, with the days of all other machines, hold what is worked?"""
    brief = [run for run in schedule.rentals if run.hours is not None]
    used = machine_hours(schedule, work) if brief else {}
    for kind, day in sorted({(run.equipment, run.first) for run in brief}):
        longest = max((hours_of(crew, day, work) for crew in work.inventory.crew), default=0.0)
        listed = [entry for entry in work.inventory.equipment if entry.kind == kind]
        held = sum(longest * entry.count for entry in listed if there_on(entry, day, ()))
        for run in schedule.rentals:
            if run.equipment == kind and run.first <= day <= run.last:
                count = max((entry.count for entry in listed if hire_of(run, entry)), default=0)
                held += count * (longest if run.hours is None else run.hours)
        if used.get((kind, day), 0.0) > held + SLACK:
            yield f"The {kind} works {used[kind, day]:.1f} h on {day}, and is billed for fewer."
