"""The checker's part on steps: which step of which way or felling each job stands for, derived again from the site."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from barkwright.record import dataclass
from barkwright.schedule.jobs import Choice, Job, Schedule
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.treatment.ways import Step

SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Need:
    """What a job takes, as its steps say."""

    people: int  # at once
    skills: frozenset[str]
    equipment: tuple[str, ...]
    hours: float
    machine_hours: float
    wait_days: int
    spans: tuple[tuple[date, date], ...] | None
    completes: bool
    do: str

    @property
    def on_days(self) -> bool:
        """Is it tied to certain days, as burning is?"""
        return self.spans is not None


def needs_of(schedule: Schedule, work: SiteWork) -> tuple[dict[str, Need], list[str]]:
    """What each job takes, by job id, and jobs that stand for no step or steps that have no job."""
    needs: dict[str, Need] = {}
    broken: list[str] = []
    jobs: dict[str, list[Job]] = defaultdict(list)
    for job in schedule.jobs:
        jobs[job.tree].append(job)
    choices = {choice.piece: choice for choice in schedule.choices}
    for tree in work.trees:
        mine = sorted(jobs[tree.tree.id], key=lambda job: int(job.id[1:]))
        broken += _base(tree, [job for job in mine if job.way is None and job.work != "look again"], mine, work, needs)
        broken += _ways(tree, [job for job in mine if job.way is not None], choices, work, needs)
    return needs, broken


def base_steps(tree: TreeWork, work: SiteWork) -> list[Step]:
    """The steps of a tree before any way: look, call, fell, limb and buck."""
    look = work.inspection(tree)
    steps = [] if look is None else [look]
    if tree.felling.who != "not needed":
        steps += [*tree.felling.calls, *tree.felling.steps]
    return steps


def _base(
    tree: TreeWork, base: Sequence[Job], mine: Sequence[Job], work: SiteWork, needs: dict[str, Need]
) -> list[str]:
    steps = base_steps(tree, work)
    if not mine:
        return []  # left as it is: whether it may be is asked elsewhere
    if steps[:1] and steps[0].work == "inspect" and [job.work for job in mine] == ["inspect"]:
        steps = steps[:1]  # looked at, and left standing or lying until it is known what lives in it
    if len(base) != len(steps):
        return [f"{tree.tree.id} has {len(base)} jobs before its wood is worked, and needs {len(steps)}."]
    broken = []
    for job, step in zip(base, steps, strict=True):
        if (job.work, job.equipment) != (step.work, step.equipment):
            broken.append(f"{job.id} should be: {step.what}.")
        needs[job.id] = _need([step], False)
        broken += _sizes(job, needs[job.id])
    return broken


def _ways(
    tree: TreeWork, jobs: Sequence[Job], choices: dict[str, Choice], work: SiteWork, needs: dict[str, Need]
) -> list[str]:
    broken: list[str] = []
    parts: dict[str, list[tuple[Step, bool]]] = defaultdict(list)
    for piece, brood, ways in tree.pieces():
        choice = choices[piece.id]
        mine = [job for job in jobs if piece.id in job.pieces]
        way = next((way for way in ways if way.id == choice.way), None)
        if choice.way is None or way is None or choice.window is None or not 0 <= choice.window < len(way.windows):
            if mine or choice.way is not None:
                broken.append(f"{piece.id} has work or a way that its list of ways does not know.")
            continue
        steps = work.steps(tree.tree, piece, brood, way, way.windows[choice.window])
        if len(steps) != len(mine) or any(job.way != way.id for job in mine):
            broken.append(f"{piece.id} has {len(mine)} jobs, and {way.id} has {len(steps)} steps.")
            continue
        done = next((place for place, step in enumerate(steps) if step.completes), len(steps) - 1)
        for place, (job, step) in enumerate(zip(mine, steps, strict=True)):
            parts[job.id].append((step, place == done))
    for job in jobs:
        if not parts[job.id] or len(parts[job.id]) != len(job.pieces):
            broken.append(f"{job.id} stands for no step of the ways chosen.")
            continue
        needs[job.id] = _need([step for step, _ in parts[job.id]], parts[job.id][0][1])
        same = {(step.work, step.equipment, step.skills, step.people, done) for step, done in parts[job.id]}
        if len(same) != 1 or (job.work, job.equipment) != (parts[job.id][0][0].work, parts[job.id][0][0].equipment):
            broken.append(f"{job.id} puts steps together that are not alike.")
        broken += _sizes(job, needs[job.id])
    return broken


def _need(steps: Sequence[Step], completes: bool) -> Need:
    first = steps[0]
    return Need(
        max(step.people for step in steps),
        frozenset(skill for step in steps for skill in step.skills),
        first.equipment,
        sum(step.person_hours.mean for step in steps),
        sum(step.machine_hours.mean for step in steps),
        max(step.wait_days for step in steps),
        first.spans,
        completes,
        first.do,
    )


def _sizes(job: Job, need: Need) -> list[str]:
    broken = []
    if abs(job.hours - need.hours) > SLACK:
        broken.append(f"{job.id} takes {need.hours:.2f} person-hours, not {job.hours:.2f}.")
    machine = sum(hours for _, hours in job.machine_hours)
    if job.crew is not None and need.equipment and abs(machine - need.machine_hours) > SLACK:
        broken.append(f"The machine of {job.id} runs {need.machine_hours:.2f} h, not {machine:.2f} h.")
    return broken
