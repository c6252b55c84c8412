"""The place's flight calendar: the region that the user named, or the nearest one, and said so."""

from __future__ import annotations

import dataclasses
import difflib
from datetime import date
from typing import Literal

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Site, Span
from barkwright.season.distance import miles_between, rise_of
from barkwright.season.regions import Region, Regions, regions
from barkwright.season.weather import Weather


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Season:
    """What this place's year rests on. `notes` holds an error when the named region does not exist.

    Compared and hashed by identity, for much is kept by season: one is made for each plan.
    """

    region: Region
    given: bool  # the user named the region
    miles: float | None  # to the nearest town of the region, when it was picked by distance [mi]
    latitude: float  # [degrees north]
    longitude: float  # [degrees east]
    margin_days: int
    notes: tuple[Diagnostic, ...]
    on: date  # the plan's date: no reading after it counts
    elevation_ft: float | None = None
    weather: Weather | None = None
    rule: Literal["weather", "calendar"] | None = None  # whose dates the user wants
    frozen: tuple[Span, ...] | None = None  # when the user says the ground is frozen
    rise_m: float | None = None  # the site above its weather station; None where either height is not known


def season_of(site: Site, on: date, local: tuple[str, ...] = ()) -> Season:
    """The flight calendar of a site as known on the plan's date.

    A region that does not exist is an error note with the list of those that do; the nearest one stands in for it.
    local : the user's own files, whose calendars count beside the shipped ones
    """
    book = _book(local)
    named = next((region for region in book.regions if region.id == site.region), None)
    nearest, miles = _nearest(book, site.latitude, site.longitude)
    weather, said = _weather_of(site)
    wrong = () if site.region is None or named else (_unknown(site.region, book),)
    return Season(
        region=named or nearest,
        given=named is not None,
        miles=None if named else miles,
        latitude=site.latitude,
        longitude=site.longitude,
        margin_days=book.margin_days,
        notes=(*wrong, *said),
        on=on,
        elevation_ft=site.elevation_ft,
        weather=weather,
        rule=site.flight_dates,
        frozen=site.ground.frozen,
        rise_m=None if weather is None else rise_of(site, weather.station),
    )


def _book(local: tuple[str, ...]) -> Regions:
    if not local:
        return regions()
    from barkwright.season.ownregions import region_book

    return region_book(local).book


def _weather_of(site: Site) -> tuple[Weather | None, tuple[Diagnostic, ...]]:
    if not site.weather:
        return None, ()
    from barkwright.season.station import weather_of

    return weather_of(site)


def _nearest(book: Regions, latitude: float, longitude: float) -> tuple[Region, float | None]:
    far = [
        (miles_between(latitude, longitude, *point), region.id, region)
        for region in book.regions
        for point in region.points
    ]
    miles, _, region = min(far, key=lambda item: item[:2])
    if miles <= book.nearest_within_miles:
        return region, miles
    return next(region for region in book.regions if region.id == book.generic), None


def _unknown(value: str, book: Regions) -> Diagnostic:
    known = sorted(region.id for region in book.regions)
    close = difflib.get_close_matches(value, known, n=1)
    ask = f"did you mean {close[0]!r}? " if close else ""
    return Diagnostic(
        "error",
        "bad-value",
        f"there is no region {value!r}",
        subject="site",
        value=value,
        hint=f"{ask}the regions are {', '.join(known)}",
    )
