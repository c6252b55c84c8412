"""The briefing as plain data: topics, what to wear, distances to lines, what may be lifted, where help is to come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.advice import tags_of
from barkwright.output.hazards import lines_near
from barkwright.output.json_basics import near
from barkwright.output.order_briefing import crew_jobs, topics_of
from barkwright.output.order_lifting import lifting_of
from barkwright.output.protection import book, tasks_of

if TYPE_CHECKING:
    from barkwright.output.hazards import LineNear
    from barkwright.output.json_crew import ApproachRecord, BriefingRecord, LiftingRecord, TaskRecord
    from barkwright.output.order_lifting import Lifting
    from barkwright.output.protection import Task
    from barkwright.output.view import View


def briefing_record(view: View) -> BriefingRecord:
    """All that the sections for the crew say, empty where no crew of the site works."""
    works = bool(crew_jobs(view))
    lifting = lifting_of(view) if works else None
    site, lines = view.plan.inventory.site, lines_near(view)
    return {
        "topics": [{"topic": one.title, "lines": list(one.lines)} for one in topics_of(view)] if works else [],
        "protection": [_task(task) for task in tasks_of(view)] if works else [],
        "approach": [_approach(line) for line in lines],
        "lifting": None if lifting is None else _lifting(lifting),
        "emergency": {
            "site": site.name,
            "latitude": site.latitude,
            "longitude": site.longitude,
            "utility": bool(lines),
            "fire_authority": "burning" in tags_of(view),
        },
    }


def _task(task: Task) -> TaskRecord:
    worn = [book().worn[name] for name in task.wear]
    return {
        "task": task.title,
        "wear": [{"what": one.what, "paragraph": one.paragraph, "known": one.known} for one in worn],
        "basis": task.basis,
    }


def _approach(line: LineNear) -> ApproachRecord:
    return {
        "tree": line.tree,
        "kind": line.kind,
        "distance_ft": near(line.distance_ft),
        "given_kv": line.given_kv,
        "taken_kv": near(line.taken_kv),
        "people_ft": near(line.people_ft),
        "machines_ft": near(line.machines_ft),
    }


def _lifting(found: Lifting) -> LiftingRecord:
    return {
        "one_person_lb": near(found.one_lb),
        "two_people_lb": near(found.two_lb),
        "log_length_ft": near(found.log_length_ft),
        "widest_log_in": near(found.widest_log_in),
        "fuel_length_ft": None if found.fuel_length_ft is None else near(found.fuel_length_ft),
        "widest_fuel_in": None if found.widest_fuel_in is None else near(found.widest_fuel_in),
        "logs": found.logs,
        "too_heavy_for_one": found.too_heavy_for_one,
        "too_heavy_for_two": found.too_heavy_for_two,
    }
