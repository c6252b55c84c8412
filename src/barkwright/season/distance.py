"""How far two places lie apart, across and up."""

from __future__ import annotations

import math
from typing import Protocol

from barkwright.inventory.model import Site
from barkwright.season.weather import Station
from barkwright.units import FT_PER_M

EARTH_RADIUS_MI = 3958.8


class Place(Protocol):
    """Anything that says where it stands, or that it does not know."""

    @property
    def latitude(self) -> float | None:
        """Degrees north."""

    @property
    def longitude(self) -> float | None:
        """Degrees east."""


def miles_between(latitude_1: float, longitude_1: float, latitude_2: float, longitude_2: float) -> float:
    """Great-circle distance between two places [mi], by the haversine formula. Arguments in degrees."""
    a, b = math.radians(latitude_1), math.radians(latitude_2)
    half_lat, half_lon = (b - a) / 2, math.radians(longitude_2 - longitude_1) / 2
    h = math.sin(half_lat) ** 2 + math.cos(a) * math.cos(b) * math.sin(half_lon) ** 2
    return 2 * EARTH_RADIUS_MI * math.asin(math.sqrt(min(1.0, h)))


def miles_apart(one: Place, other: Place) -> float | None:
    """The same between two that say where they stand [mi]; None where one of them does not."""
    if one.latitude is None or one.longitude is None or other.latitude is None or other.longitude is None:
        return None
    return miles_between(one.latitude, one.longitude, other.latitude, other.longitude)


def rise_of(site: Site, station: Station) -> float | None:
    """How much higher the site lies than the station [m]; None where either height is not known."""
    station_m = station.elevation_m
    if station_m is None and site.weather_elevation_ft is not None:
        station_m = site.weather_elevation_ft / FT_PER_M
    return None if site.elevation_ft is None or station_m is None else site.elevation_ft / FT_PER_M - station_m
