"""The shape of the stand rating as JSON."""

from __future__ import annotations

from typing_extensions import TypedDict


class StandRowRecord(TypedDict):
    """One row of the stand rating: the least and the most points that it can be worth."""

    row: str
    given: bool
    points_low: int
    points_high: int
    known: str


class StandRecord(TypedDict):
    """The stand rating: points of 4 to 12, and the classes that are possible."""

    rows: list[StandRowRecord]
    points_low: int
    points_high: int
    classes: list[str]
    classes_known: str
    site_index_outside: bool
    outbreak_likelier: bool
    sources: list[str]
