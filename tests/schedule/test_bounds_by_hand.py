"""Bounds that can be told by hand."""

import pytest
from made_sites import planned, site_text

from barkwright.schedule.jobs import Level
from barkwright.schedule.levels import LAST, NAMES, TROUBLE
from barkwright.schedule.settings import SETTINGS


def levels(not_before: str) -> tuple[Level, Level]:
    plan = planned(site_text(3, 1).replace("near:", f"not_before: {not_before}, near:"))
    found = {level.name: level for level in plan.schedule.optimum.levels}
    return found[NAMES[LAST]], found[NAMES[TROUBLE]]


def test_a_plan_that_cannot_begin_sooner_cannot_end_sooner_and_each_day_of_waiting_is_trouble() -> None:
    (last, trouble), (later, more) = levels("2026-10-26"), levels("2026-11-23")
    assert None not in (last.bound, trouble.bound, later.bound, more.bound)
    assert later.bound - last.bound == 28  # four weeks
    assert more.bound - trouble.bound == pytest.approx(SETTINGS["waiting_day"] * 28)
