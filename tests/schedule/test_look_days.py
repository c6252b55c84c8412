"""Looks under the bark: on a day on which they settle something, and before everything else on their tree."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from made_sites import planned

from barkwright import plan as path
from barkwright.season.site import season_of
from barkwright.season.weather import Day, Station, Weather

SITE = """barkwright: 1
site: {name: Alder Hollow, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  nearest_live_spruce: 30, burning: {permit: held, windows: [{from: 2026-11-01, to: 2027-04-15}]}}
trees:
  - {id: T1, species: white, dbh: 14, height: 60, attacked: 2025, attack: mass,
    near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}
  - {id: T2, species: white, status: windthrown, dbh: 14, height: 60, attacked: 2025, attack: mass}
crew: [{name: we, people: 3, hours_per_day: 6, days: [fri, sat], skills: [saw, felling], unpaid: true}]
equipment: [{kind: drawknife, owned: true}, {kind: chain-saw, owned: true}]
"""
LAY = "down_since: 2026-04-01, stood_at_attack: false, dbh: 14, height: 60, attacked: 2026, attack: mass,\n    "


@pytest.mark.parametrize(
    ("on", "first"),
    [(date(2026, 8, 20), date(2026, 10, 2)), (date(2026, 9, 30), date(2026, 10, 2)), (date(2026, 11, 2), None)],
)
def test_a_look_is_not_dated_before_the_day_from_which_it_counts(on: date, first: date | None) -> None:
    plan = planned(SITE, on)
    assert plan.broken == ()
    for tree in ("T1", "T2"):
        jobs = [job for job in plan.schedule.jobs if job.tree == tree]
        looks = [job for job in jobs if job.work == "inspect"]
        assert len(looks) == 1
        assert looks[0].first == (first or date(2026, 11, 6))
        assert all(job.first >= looks[0].last for job in jobs)


def test_while_beetles_fly_wood_that_nobody_has_looked_at_gets_its_look() -> None:
    plan = planned(SITE, date(2026, 6, 15))
    assert plan.broken == ()
    looks = {job.tree for job in plan.schedule.jobs if job.work == "inspect"}
    assert looks == {"T1", "T2"}
    assert plan.schedule.unmet
    for unmet in plan.schedule.unmet:
        assert "larvae" in unmet.change
        assert "Nothing can" not in unmet.change


HOT = {month: (20.0, 8.0) if 4 <= month <= 10 else (0.0, -8.0) for month in range(1, 13)}


def test_larvae_that_the_warmth_of_their_summer_hardly_allows_are_looked_at_before_the_flight_in_doubt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    first = date(2024, 1, 1)
    days = {}
    for offset in range(1096):
        day = first + timedelta(days=offset)
        high, low = HOT[day.month]
        days[day] = Day(tmax_c=high, tmin_c=low)
    weather = Weather(Station("0", "HAND MADE"), "rows made by hand", (), days, ())
    monkeypatch.setattr(
        path, "season_of", lambda site, on, _local: replace(season_of(site, on), weather=weather, rule="calendar")
    )
    seen = "found: {insect: spruce-beetle, stages: [larvae], looked: [top, bottom], exit_holes: none, seen: 2026-10-20}"
    text = SITE.replace("dbh: 14, height: 60, attacked: 2025, attack: mass}", LAY + seen + "}")
    assert text != SITE
    plan = planned(text, date(2026, 11, 2))
    assert plan.broken == ()
    [look] = [job for job in plan.schedule.jobs if job.tree == "T2" and job.work == "inspect"]
    assert look.first == date(2026, 11, 6)  # not in October 2027, when those that took one year have flown
