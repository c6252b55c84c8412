"""The working days that are left before the day by which work must be done."""

from __future__ import annotations

from collections.abc import Container, Mapping
from typing import TYPE_CHECKING

from barkwright.schedule.calendar import weekly_hours
from barkwright.season.flight import finish_by

if TYPE_CHECKING:
    from datetime import date

    from barkwright.plan import FlightPlan


def days_left(plan: FlightPlan, to_beat: Container[int]) -> Mapping[date, int]:
    """Days on which anybody can work, from each Monday's week on to the next day to be done by.

    Weeks after the last such day are not in it; without a crew there are none.
    """
    inventory = plan.tally.inventory
    left: dict[date, int] = {}
    if not inventory.crew:
        return left
    for flight in plan.flights:
        if flight.year in to_beat:
            days = 0
            for week in reversed(weekly_hours(inventory, plan.season, plan.tally.on, finish_by(flight))):
                days += week.days
                left.setdefault(week.first, days)
    return left
