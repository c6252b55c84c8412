"""A small made-up site with made-up weather, and its flight page."""

from __future__ import annotations

from datetime import date
from typing import Any
from unittest.mock import patch

import made_weather

from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.output.flight import flight_text
from barkwright.output.measures import Units
from barkwright.plan import FlightPlan, plan_flight
from barkwright.season.weather import Day, Weather

ON = date(2030, 11, 1)
AT = "latitude: 54, longitude: -122, region: interior-plateau"
CREW = "crew: [{name: two of us, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw], unpaid: true}]\n"
SITE = """\
barkwright: 1
site: {{name: Quiet Bend, units: imperial, {where}{more}}}
{crew}trees:
{trees}"""
FULL = "{stages: [larvae], looked: [base, sunny, shaded, upper], insect: spruce-beetle, seen: 2030-10-20}"
TREES = (
    f"{{id: T1, species: white, status: standing, dbh: 14, height: 60, attacked: 2030, found: {FULL}}}",
    f"{{id: T2, species: white, status: standing, dbh: 14, height: 60, attacked: 2030, found: {FULL}}}",
    "{id: T3, species: white, status: standing, dbh: 14, height: 60, attacked: 2029}",
    "{id: T4, species: white, status: standing, dbh: 14, height: 60, attacked: never}",
)


def weather(first: int = 2018, last: int = 2030, **wave: Any) -> dict[date, Day]:
    """Years on a plain curve; each later than the one before by two days, so that no two are alike."""
    days: dict[date, Day] = {}
    for number, year in enumerate(range(first, last + 1)):
        days |= made_weather.wave([year], **{"mean": 8.0, "swing": 14.0, "shift": 2 * (number % 5), **wave})
    return days


def inventory_of(
    on: date = ON, more: str = "", trees: tuple[str, ...] = TREES, where: str = AT, crew: str = CREW
) -> Inventory:
    """The site as an inventory."""
    text = SITE.format(where=where, crew=crew, more=more, trees="".join(f"  - {tree}\n" for tree in trees))
    inventory, found = read_inventory(text, "quiet-bend.yaml", on)
    assert inventory is not None, found
    return inventory


def with_weather(days: dict[date, Day] | None) -> Any:
    """While it is open, every site has this record."""
    record: Weather | None = None if days is None else made_weather.of(days)
    return patch("barkwright.season.site._weather_of", lambda site: (record, ()))


def site_plan(days: dict[date, Day] | None, on: date = ON, **site: Any) -> FlightPlan:
    """The flight plan of the site."""
    with with_weather(days):
        return plan_flight(inventory_of(on, **site), on)


def page(plan: FlightPlan, metric: bool = False) -> str:
    """The page as text."""
    return flight_text(plan, Units(metric), "quiet-bend.yaml")
