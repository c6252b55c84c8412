"""The checker: does a schedule keep every constraint? It knows nothing of how the schedule was made."""

from __future__ import annotations

from barkwright.schedule.jobs import Schedule
from barkwright.schedule.sitework import SiteWork


def verify(schedule: Schedule, work: SiteWork) -> tuple[str, ...]:
    """Broken constraints in words; empty when the schedule holds."""
    return ()
