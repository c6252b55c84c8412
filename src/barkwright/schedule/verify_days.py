"""The checker's part on days: hands, skills, hours, daylight, machines and hires."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from itertools import pairwise

from barkwright.costs.tariff import rentable
from barkwright.inventory.model import Crew, Equipment
from barkwright.schedule.jobs import Job, RentalRun, Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify_needs import Need
from barkwright.season.daylight import daylight_hours
from barkwright.season.flight import coming_flight, flight_year
from barkwright.season.lostdays import lost_share
from barkwright.treatment.rates import rate_book

SLACK = 1e-6
SAWS = ("chain-saw", "saw-debarker")
OFF_SITE_DAYS = ("sat", "sun")
SIZED = ("chipper", "aerial-lift", "excavator", "backhoe")  # hires that name the machine's size
NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def broken_days(schedule: Schedule, work: SiteWork, needs: Mapping[str, Need]) -> list[str]:
    """What is wrong with the days of the jobs."""
    crews = {crew.name: crew for crew in work.inventory.crew}
    broken: list[str] = []
    by_day: dict[tuple[str, date], list[tuple[Job, float]]] = defaultdict(list)
    for job in schedule.jobs:
        broken += _job(job, crews, needs.get(job.id))
        if job.work == "fell":
            broken += [f"{job.id} fells on {day}, without sun." for day, _ in job.day_hours if _light(day, work) <= 0]
        if job.crew in crews:
            for day, hours in job.day_hours:
                by_day[job.crew, day].append((job, hours))
    for (name, day), jobs in sorted(by_day.items()):
        broken += _crew_day(crews[name], day, jobs, work, needs)
    broken += [*_looks(schedule, work, crews), *_past(schedule, work)]
    return (
        broken
        + _chains(schedule, work, crews, needs)
        + [
            *_machines(schedule, work),
            *_lifts(schedule, work),
        ]
    )


def _past(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    """Nothing is planned before the day on which it is planned, whoever does it; what is done already may lie there."""
    for job in schedule.jobs:
        if job.status == "planned" and min((job.first, *(day for day, _ in job.day_hours))) < work.on:
            yield f"{job.id} is planned for {job.first}, which has passed on {work.on}."
    for run in schedule.rentals:
        if run.first < work.on:
            yield f"The {run.equipment} is hired from {run.first} on, which has passed on {work.on}."


def hours_of(crew: Crew, day: date, work: SiteWork) -> float:
    """Hours that each person of a crew can expect to have on a day [h]."""
    calendar = work.inventory.calendar
    start = max(work.on, calendar.start or work.on)
    closed = [*calendar.off, *crew.off]
    off = NAMES[day.weekday()] not in crew.days or any(one.first <= day <= one.last for one in closed)
    if day < start or (off and day not in crew.extra_days):
        return 0.0
    return min(crew.hours_per_day, _light(day, work)) * (1.0 - lost_share(work.season, day))


def _light(day: date, work: SiteWork) -> float:
    """Hours from sunrise to sunset [h]."""
    return daylight_hours(work.inventory.site.latitude, work.inventory.site.longitude, day)


def _job(job: Job, crews: dict[str, Crew], need: Need | None) -> list[str]:
    broken = []
    days = [day for day, _ in job.day_hours]
    if not days or (days[0], days[-1]) != (job.first, job.last) or any(one >= two for one, two in pairwise(days)):
        broken.append(f"The days of {job.id} do not run from {job.first} to {job.last}.")
    if any(hours < -SLACK for _, hours in job.day_hours) or abs(sum(h for _, h in job.day_hours) - job.hours) > SLACK:
        broken.append(f"The hours by day of {job.id} do not add up to {job.hours:.2f} person-hours.")
    if not job.hours_low - SLACK <= job.hours <= job.hours_high + SLACK:
        broken.append(f"The hours of {job.id} lie outside their own range.")
    if job.people < 1:
        broken.append(f"{job.id} has no people.")
    sawing = job.work in ("fell", "limb and buck") or any(kind in SAWS for kind in job.equipment)
    crew = crews.get(job.crew or "")
    if crew is None:
        outside = job.work in ("fell", "look again") or (job.tree == "site" and job.work == "call")
        if not outside:
            broken.append(f"Nobody of the site's crews does {job.id}.")
        elif job.work == "fell" and any(NAMES[day.weekday()] in OFF_SITE_DAYS for day in days):
            broken.append(f"{job.id} is done by somebody from outside on a weekend.")
        return broken
    if job.people > crew.people:
        broken.append(f"{job.id} takes {job.people} people, and {crew.name} are {crew.people}.")
    if sawing and (job.people < 2 or crew.people < 2):
        broken.append(f"{job.id} is saw work for one person alone.")
    if need is not None and not need.skills <= set(crew.skills):
        broken.append(f"{crew.name} have not the skills for {job.id}.")
    if need is not None and job.people < need.people:
        broken.append(f"{job.id} takes {need.people} people at once, and has {job.people}.")
    return broken


def _crew_day(
    crew: Crew, day: date, jobs: Iterable[tuple[Job, float]], work: SiteWork, needs: Mapping[str, Need]
) -> list[str]:
    """Do the jobs of one crew fit into one day?"""
    jobs = [(job, hours) for job, hours in jobs if job.work != "look again"]
    each = hours_of(crew, day, work)
    if jobs and each <= 0:
        return [f"{crew.name} work on {day}, which is no working day of theirs."]
    broken = []
    if sum(hours for _, hours in jobs) > each * crew.people + SLACK:
        broken.append(f"{crew.name} have more work on {day} than {each * crew.people:.1f} person-hours.")
    broken += [f"{job.id} runs past the end of {day}." for job, hours in jobs if hours / job.people > each + SLACK]
    most = max((needs[job.id].people for job, _ in jobs if job.id in needs), default=0)
    for size in range(2, min(crew.people, most) + 1):
        together = sum(hours / job.people for job, hours in jobs if job.id in needs and needs[job.id].people >= size)
        if together > each * (crew.people // size) + SLACK:
            broken.append(f"Work that needs {size} or more of {crew.name} at once does not fit into {day}.")
    return broken


def _looks(schedule: Schedule, work: SiteWork, crews: dict[str, Crew]) -> Iterator[str]:
    """The look again comes when the flight is over, on working days of whoever does it."""
    over = flight_year(work.season, coming_flight(work.season, work.on)).end
    for job in schedule.jobs:
        if job.work != "look again":
            continue
        if job.first <= over:
            yield f"{job.id} looks again before the flight is over on {over}."
        crew = crews.get(job.crew or "")
        for day, hours in job.day_hours:
            if crew is not None and hours > hours_of(crew, day, work) * min(job.people, crew.people) + SLACK:
                yield f"{job.id} does not fit into {day}."


def _chains(schedule: Schedule, work: SiteWork, crews: dict[str, Crew], needs: Mapping[str, Need]) -> list[str]:
    """Work that follows other work on the same day leaves it its hours."""
    ends: dict[str, float] = {}
    known = {job.id: job for job in schedule.jobs}
    broken = []
    for job in sorted(schedule.jobs, key=lambda one: (one.first, one.last, int(one.id[1:]))):
        crew, need = crews.get(job.crew or ""), needs.get(job.id)
        if crew is None or need is None:
            continue
        hands = need.people if need.people > 1 else 1 if need.on_days else crew.people
        fewest = min((_count(work, kind) for kind in job.equipment), default=1)
        start = max((ends.get(name, 0.0) for name in job.after if known[name].last == job.first), default=0.0)
        machine = dict(job.machine_hours)
        long = {day: max(hours / hands, machine.get(day, 0.0) / fewest) for day, hours in job.day_hours}
        if start + long[job.first] > hours_of(crew, job.first, work) + SLACK:
            broken.append(f"{job.id} does not fit into {job.first} after what it waits for.")
        ends[job.id] = (start if job.first == job.last else 0.0) + long[job.last]
    return broken


def _count(work: SiteWork, kind: str) -> int:
    return max((entry.count for entry in work.inventory.equipment if entry.kind == kind), default=1)


def _machines(schedule: Schedule, work: SiteWork) -> list[str]:
    """Are there enough machines of each kind on each day, and hired ones only while they are hired?"""
    broken = []
    for job in schedule.jobs:
        days = {day for day, _ in job.day_hours}
        if any(day not in days or hours < 0 for day, hours in job.machine_hours):
            broken.append(f"A machine of {job.id} runs on a day without work.")
    for (kind, day), hours in sorted(machine_hours(schedule, work).items()):
        there = sum(
            entry.count
            for entry in work.inventory.equipment
            if entry.kind == kind and there_on(entry, day, schedule.rentals)
        )
        longest = max((hours_of(crew, day, work) for crew in work.inventory.crew), default=0.0)
        if hours > there * longest + SLACK:
            broken.append(f"The {kind} works {hours:.1f} h on {day}, and {there} are there for {longest:.1f} h.")
    return broken


def machine_hours(schedule: Schedule, work: SiteWork) -> dict[tuple[str, date], float]:
    """Hours that the machines of each kind run for the site's crews on each day [h]."""
    used: dict[tuple[str, date], float] = defaultdict(float)
    crews = {crew.name for crew in work.inventory.crew}
    for job in schedule.jobs:
        if job.crew in crews:
            for kind in job.equipment:
                for day, hours in job.machine_hours:
                    used[kind, day] += hours
    return used


def _lifts(schedule: Schedule, work: SiteWork) -> Iterator[str]:
    """Is there, on each day on which a tree is taken down from a lift, one that works high enough?"""
    lifts = [entry for entry in work.inventory.equipment if entry.kind == "aerial-lift"]
    trees = {tree.tree.id: tree for tree in work.trees}
    top = rate_book(work.inventory.local).value("lift-top")
    known = any(lift.working_capacity or lift.capacity for lift in lifts)
    for job in schedule.jobs:
        if "aerial-lift" not in job.equipment or job.tree not in trees:
            continue
        tall = trees[job.tree].felling.reach_ft or 0.0
        fit = [one for one in lifts if not known or (one.working_capacity or one.capacity or 0.0) + top >= tall]
        for day, _ in job.day_hours:
            if not any(there_on(lift, day, schedule.rentals) for lift in fit):
                yield f"No lift that reaches {job.tree} is there on {day}."


def there_on(entry: Equipment, day: date, runs: Iterable[RentalRun]) -> bool:
    """Is a machine on the site on a day: its own or unpriced, or hired?"""
    if (entry.first is not None and day < entry.first) or (entry.last is not None and day > entry.last):
        return False
    if entry.owned or not rentable(entry):
        return True
    return any(hire_of(run, entry) and run.first <= day <= run.last for run in runs)


def hire_of(run: RentalRun, entry: Equipment) -> bool:
    """Can this hire be one of that entry of the list?"""
    named = entry.name is None or entry.name == run.label
    sized = (
        entry.name is not None
        or entry.capacity is None
        or entry.kind not in SIZED
        or f" {entry.capacity:g} " in run.label
    )
    return run.equipment == entry.kind and named and sized
