"""The shape of what a crew is briefed with, in the JSON output of `order` and `tree`."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

Known = Literal["read", "secondary", "memory"]


class TopicRecord(TypedDict):
    """One topic of the briefing, as sentences."""

    topic: str
    lines: list[str]


class WornRecord(TypedDict):
    """Something to wear, with its paragraph and how well that is known."""

    what: str
    paragraph: str | None
    known: Known | None


class TaskRecord(TypedDict):
    """What is worn for one task."""

    task: str
    wear: list[WornRecord]
    basis: str


class ApproachRecord(TypedDict):
    """A power line near a tree, and how near people and machines may come."""

    tree: str
    kind: str
    distance_ft: float
    given_kv: float | None
    taken_kv: float
    people_ft: float
    machines_ft: float


class LiftingRecord(TypedDict):
    """What may be lifted by hand here."""

    one_person_lb: float
    two_people_lb: float
    log_length_ft: float
    widest_log_in: float
    fuel_length_ft: float | None
    widest_fuel_in: float | None
    logs: int
    too_heavy_for_one: int
    too_heavy_for_two: int


class EmergencyRecord(TypedDict):
    """Where the work is, and whose telephone numbers are wanted beside the general one."""

    site: str
    latitude: float
    longitude: float
    utility: bool
    fire_authority: bool


class BriefingRecord(TypedDict):
    """What is talked through, worn and known before work begins."""

    topics: list[TopicRecord]
    protection: list[TaskRecord]
    approach: list[ApproachRecord]
    lifting: LiftingRecord | None
    emergency: EmergencyRecord
