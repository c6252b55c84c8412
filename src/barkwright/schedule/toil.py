"""What many ways, fires and visits count as when plans are compared: trouble that is in no price."""

from __future__ import annotations

from collections.abc import Iterable

from barkwright.schedule.model import SiteModel
from barkwright.schedule.options import Kit
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan


def toil(model: SiteModel, plans: Iterable[TreePlan]) -> float:
    """What the trouble of a plan counts as [currency]."""
    return trouble(plans) * model.hour


def trouble(plans: Iterable[TreePlan]) -> float:
    """Kits beyond the first of each tree and of the site, days with a fire, and days of each crew [person-hours]."""
    site: set[Kit] = set()
    fires: set[int] = set()
    visits: set[tuple[int | None, int]] = set()
    more = 0
    for plan in plans:
        kits = kits_of(plan)
        site |= kits
        more += max(0, len(kits) - 1)
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            days = [day for day, _, _ in placed.stints]
            if task.fire:
                fires.update(days)
            if placed.crew is not None:
                visits.update((placed.crew, day) for day in days)
    return (
        SETTINGS["tree_switch"] * more
        + SETTINGS["site_switch"] * max(0, len(site) - 1)
        + SETTINGS["fire_day"] * len(fires)
        + SETTINGS["crew_day"] * len(visits)
    )


def kits_of(plan: TreePlan) -> set[Kit]:
    """The kits that the work on a tree takes."""
    return {pick.option.kit for pick in plan.picks.values() if pick.option.kit}


def rarest(plans: Iterable[TreePlan]) -> list[Kit]:
    """The kits of a site, the one with the least work first."""
    hours: dict[Kit, float] = {}
    for plan in plans:
        for pick in plan.picks.values():
            if pick.option.kit:
                hours[pick.option.kit] = hours.get(pick.option.kit, 0.0) + pick.option.hours
    return sorted(hours, key=lambda kit: (round(hours[kit], 6), kit))
