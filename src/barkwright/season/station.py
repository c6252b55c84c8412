"""The weather station beside the site: how far off it is, how much higher or lower, and what that does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from barkwright.diagnostics import Diagnostic, Severity
from barkwright.inventory.model import Site
from barkwright.season.distance import miles_apart, rise_of
from barkwright.season.numbers import FLIGHT
from barkwright.season.weather import Day, Station, Weather
from barkwright.season.weatherfiles.reading import read_weather
from barkwright.units import FT_PER_M


def weather_of(site: Site) -> tuple[Weather | None, tuple[Diagnostic, ...]]:
    """The daily record that a site names, shifted to its height where that was asked for; and what to say of it."""
    if not site.weather:
        return None, ()
    weather = read_weather(site.weather, site.weather_units, site.weather_station).weather
    if weather is None:
        return None, ()
    rise_m = rise_of(site, weather.station)
    notes = [*weather.notes, *_distance(site, weather.station), *_height(site, weather.station, rise_m)]
    if site.weather_to_site_height and rise_m is not None:
        weather = shifted(weather, _shift_c(rise_m))
    return weather, tuple(notes)


@lru_cache(maxsize=8)
def shifted(weather: Weather, by_c: float) -> Weather:
    """The record with every temperature shifted [degrees C]."""
    return replace(weather, days={day: _shifted(reading, by_c) for day, reading in weather.days.items()})


def _shift_c(rise_m: float) -> float:
    """What a site so much higher than its station has of its temperatures [degrees C]."""
    return -FLIGHT["lapse_c_per_km"] * rise_m / 1000.0


def _shifted(reading: Day, by_c: float) -> Day:
    tmax, tmin = reading.tmax_c, reading.tmin_c
    return replace(
        reading,
        tmax_c=None if tmax is None else round(tmax + by_c, 2),
        tmin_c=None if tmin is None else round(tmin + by_c, 2),
    )


def _distance(site: Site, station: Station) -> Iterator[Diagnostic]:
    miles = miles_apart(site, station)
    if miles is None:
        yield _note(
            "the weather file does not say where its station stands",
            "see that the weather station is near the site",
            "note",
        )
        return
    if miles > FLIGHT["far_miles"]:
        message = f"the weather station {station.name} is {miles:.0f} miles from the site"
        yield _note(
            message, "look for a nearer weather station, or trust the calendar as much as the weather", "warning"
        )


def _height(site: Site, station: Station, rise_m: float | None) -> Iterator[Diagnostic]:
    if rise_m is None:
        lacks = "the site's height" if site.elevation_ft is None else "the station's height"
        key = "elevation" if site.elevation_ft is None else "weather_elevation"
        severity: Severity = "warning" if site.weather_to_site_height else "note"
        means = "so no temperature is shifted" if site.weather_to_site_height else "so it cannot be compared"
        yield _note(
            f"{lacks} is not known, {means}", f"write {key}: in the site, so that heights can be compared", severity
        )
        return
    feet = abs(rise_m) * FT_PER_M
    way = "above" if rise_m > 0 else "below"
    if site.weather_to_site_height:
        shift = _shift_c(rise_m)
        message = (
            f"temperatures of {station.name} are shifted by {shift:+.1f} C, because the site lies {feet:,.0f} ft {way} "
            f"it ({FLIGHT['lapse_c_per_km']:g} C for each 1,000 m, the standard atmosphere, from memory)"
        )
        yield _note(message, "in valleys with cold air the real difference is another", "note")
    elif abs(rise_m) > FLIGHT["far_height_m"]:
        message = f"the site lies {feet:,.0f} ft {way} the weather station {station.name}, and nothing is shifted"
        later = "later" if rise_m > 0 else "earlier"
        hint = f"beetles will fly {later} at the site; weather_to_site_height: true shifts the temperatures"
        yield _note(message, hint, "warning")


def _note(message: str, hint: str, severity: Severity) -> Diagnostic:
    return Diagnostic(severity, "weather-station", message, subject="site", hint=hint)
