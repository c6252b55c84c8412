"""The place's flight calendar: the region that the user named, or the nearest one, and said so."""

from __future__ import annotations

import difflib
import math
from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Site, Span
from barkwright.record import dataclass
from barkwright.season.weather import Weather
from barkwright.season.weatherfiles.reading import read_weather
from barkwright.sources import Citation, cite

Known = Literal["read", "secondary", "from memory", "common practice, no source"]
EARTH_RADIUS_MI = 3958.8


@dataclass(frozen=True, slots=True)
class Region:
    """A flight calendar: month-day of onset and end, the source's own words, and how well they are known."""

    id: str
    name: str
    words: str
    onset: str  # month-day
    end: str  # month-day
    known: Known
    points: tuple[tuple[float, float], ...]  # latitude, longitude [degrees]
    cite: str | None = None

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where the calendar comes from; empty when nobody published it."""
        return (cite(self.cite),) if self.cite else ()


@dataclass(frozen=True, slots=True)
class Regions:
    """All flight calendars, and how one is picked."""

    checked_on: date
    margin_days: int  # days taken off a calendar onset for finish-by
    nearest_within_miles: float
    generic: str
    regions: tuple[Region, ...]


@dataclass(frozen=True, slots=True)
class Season:
    """What this place's year rests on. `notes` holds an error when the named region does not exist."""

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


def regions() -> Regions:
    """Every flight calendar that the program ships."""
    return datafile.load("season/regions.yaml", Regions)


def season_of(site: Site, on: date) -> Season:
    """The flight calendar of a site as known on the plan's date.

    A region that does not exist is an error note with the list of those that do; the nearest one stands in for it.
    """
    book = regions()
    named = next((region for region in book.regions if region.id == site.region), None)
    nearest, miles = _nearest(book, site.latitude, site.longitude)
    notes: list[Diagnostic] = []
    if site.region is not None and named is None:
        notes.append(_unknown(site.region, book))
    if named is None:
        notes.append(_picked(nearest, miles))
    notes += _unused(site, named or nearest)
    return Season(
        region=named or nearest,
        given=named is not None,
        miles=None if named else miles,
        latitude=site.latitude,
        longitude=site.longitude,
        margin_days=book.margin_days,
        notes=tuple(notes),
        on=on,
        elevation_ft=site.elevation_ft,
        weather=read_weather(site.weather, site.weather_units, site.weather_station).weather if site.weather else None,
        rule=site.flight_dates,
        frozen=site.ground.frozen,
    )


def miles_between(latitude_1: float, longitude_1: float, latitude_2: float, longitude_2: float) -> float:
    """Great-circle distance between two places [mi], by the haversine formula. Arguments in degrees."""
    a, b = math.radians(latitude_1), math.radians(latitude_2)
    half_lat, half_lon = (b - a) / 2, math.radians(longitude_2 - longitude_1) / 2
    h = math.sin(half_lat) ** 2 + math.cos(a) * math.cos(b) * math.sin(half_lon) ** 2
    return 2 * EARTH_RADIUS_MI * math.asin(math.sqrt(min(1.0, h)))


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


def _picked(region: Region, miles: float | None) -> Diagnostic:
    if miles is None:
        why = "no calendar town lies within reach"
    else:
        why = f"its nearest calendar town is {miles:.0f} miles away"
    return Diagnostic(
        "note",
        "assumption",
        f"no region is given, so the flight calendar of {region.name} is used: {why}",
        subject="site",
        value=region.id,
        hint="put region: in the site to choose another; a local forester knows when the beetles fly",
    )


def _unused(site: Site, region: Region) -> list[Diagnostic]:
    """What was said of the site that its flight dates do not yet rest on."""
    notes = []
    if site.elevation_ft is not None:
        message = (
            f"the flight calendar of {region.name} holds for the whole region: it is not shifted for the site's "
            f"height of {site.elevation_ft:,.0f} ft"
        )
        notes.append(Diagnostic("note", "assumption", message, value=f"{site.elevation_ft:g}"))
    if site.weather:
        message = (
            f"daily weather is not used yet, so {' and '.join(site.weather)} changes no date: the calendar alone does"
        )
        notes.append(Diagnostic("warning", "assumption", message, value=site.weather[0]))
    return notes


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
