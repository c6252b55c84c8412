"""The flight page as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.flight_rests import station_beside
from barkwright.output.flight_years import one_year_share
from barkwright.output.json_basics import iso, near, site_record
from barkwright.output.json_records import brood_record, flight_record, question_record
from barkwright.output.json_results import FlightResult
from barkwright.output.json_types import StationRecord, TreeBroodRecord, WeekRecord, YearRecord
from barkwright.output.stand_json import stand_record
from barkwright.season.springs import years_read

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from barkwright.brood.finding import TreeBrood
    from barkwright.plan import FlightPlan
    from barkwright.season.site import Season
    from barkwright.season.springs import YearRead
    from barkwright.season.strip import Strip, Week


def flight_data(plan: FlightPlan, strip: Strip, days_left: Mapping[date, int]) -> FlightResult:
    """Everything that `flight` tells; `days_left` are the working days before the next date, by Monday."""
    questions = sorted((one for brood in plan.broods for one in brood.questions), key=lambda one: one.rank)
    season = plan.season
    years = () if season.weather is None else years_read(season.weather, season.on)
    return {
        "site": site_record(plan.tally.inventory.site),
        "flight": [flight_record(flight, season) for flight in plan.flights],
        "station": station_record(season),
        "years": [year_record(year) for year in years],
        "strip": [week_record(week, days_left) for week in strip.weeks],
        "trees": [tree_brood_record(brood) for brood in plan.broods],
        "pieces": [
            {"id": found.piece, "tree": brood.tree, **brood_record(found)}
            for brood in plan.broods
            for found in brood.pieces
        ],
        "questions": [question_record(question) for question in questions],
        "stand": stand_record(plan.tally.inventory.site.stand),
    }


def tree_brood_record(brood: TreeBrood) -> TreeBroodRecord:
    """What lives in a tree."""
    return {
        "id": brood.tree,
        "possible_attack_years": list(brood.possible_attack_years),
        "needs_inspection": brood.needs_inspection,
        "may_stay_standing": brood.may_stay_standing,
    }


def station_record(season: Season) -> StationRecord | None:
    """The weather station; None for a site without daily weather."""
    station = station_beside(season)
    if station is None:
        return None
    return {
        "id": station.id,
        "name": station.name,
        "kind": station.kind,
        "first": station.first.isoformat(),
        "last": station.last.isoformat(),
        "distance_miles": None if station.miles is None else near(station.miles, 1),
        "site_above_ft": None if station.above_ft is None else near(station.above_ft, 0),
    }


def year_record(year: YearRead) -> YearRecord:
    """One year of the record; what it does not tell is null."""
    spring, share = year.spring, one_year_share(year.summer)
    return {
        "year": year.year,
        "warm_days": year.warm_days,
        "missing_days": year.missing,
        "left_out": year.left_out,
        "prior_warm_days": spring.prior_warm_days if spring else None,
        "one_year_parents_share": near(spring.parents) if spring else None,
        "needed_warm_days": spring.needed if spring else None,
        "fifth_warm_day": iso(spring.fifth_day) if spring else None,
        "onset": iso(spring.onset) if spring else None,
        "half": iso(spring.median) if spring else None,
        "end": iso(spring.end) if spring else None,
        "one_year_brood_share": None if share is None else near(share),
    }


def week_record(week: Week, days_left: Mapping[date, int]) -> WeekRecord:
    """One week of the strip."""
    return {
        "monday": week.first.isoformat(),
        "warm_days": None if week.warm_days is None else near(week.warm_days, 2),
        "own_warm_days": week.own_warm_days,
        "years_flying": week.years_flying,
        "working_days_left": days_left.get(week.first),
        "dates": [{"what": mark.what, "date": mark.day.isoformat(), "flight": mark.flight} for mark in week.marks],
    }
