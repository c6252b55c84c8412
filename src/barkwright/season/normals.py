"""Climate normals of the nearest station, for places without daily weather."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.season.distance import miles_between
from barkwright.units import FT_PER_M

METRES_WORTH_SAYING = 15


@dataclass(frozen=True, slots=True)
class NormalsStation:
    """A station with monthly means; `humidity` is the source of its humidity, None where it was not read."""

    id: str
    name: str
    latitude: float  # [degrees north]
    longitude: float  # [degrees east]
    elevation_m: float
    years: str
    source: str
    humidity: str | None = None
    place: Literal["published", "from memory"] = "published"  # how latitude, longitude and height are known


@dataclass(frozen=True, slots=True)
class NormalsBook:
    """The whole file, data/season/normals.yaml."""

    checked_on: date
    nearest_within_miles: float
    nearest_within_m: float
    stations: tuple[NormalsStation, ...]


@dataclass(frozen=True, slots=True)
class Normals:
    """Monthly means of the nearest station, January first, and how far off it is."""

    station: NormalsStation
    miles: float
    higher_m: float | None  # the station above the site; None: the site's height is not known
    mean_c: tuple[float, ...]
    max_c: tuple[float, ...]
    min_c: tuple[float, ...]
    rh_pct: tuple[float, ...] | None

    @property
    def name(self) -> str:
        """What they are, in a few words: "the climate normals of Banff"."""
        kind = "the typical year" if self.station.years == "one typical year" else "the climate normals"
        return f"{kind} of {self.station.name}"

    @property
    def words(self) -> str:
        """The same with how far off: "the climate normals of Banff (12 miles away, 300 ft lower; about 30 years)"."""
        years = "" if self.station.years == "one typical year" else f"; {self.station.years}"
        doubt = "" if self.station.place == "published" else "; its place from memory"
        return f"{self.name} ({self.where}{years}{doubt})"

    @property
    def where(self) -> str:
        """How far off the station is, in words."""
        miles = round(self.miles)
        far = f"{miles} {'mile' if miles == 1 else 'miles'} away" if miles else "at the site"
        if self.higher_m is None:
            return f"{far}, the site's height not known"
        if abs(self.higher_m) < METRES_WORTH_SAYING:
            return f"{far}, about as high"
        side = "higher" if self.higher_m > 0 else "lower"
        return f"{far}, {round(abs(self.higher_m) * FT_PER_M, -1):,.0f} ft {side}"


def nearest_normals(
    latitude: float, longitude: float, elevation_m: float | None, need_rh: bool = False
) -> Normals | None:
    """The nearest station within reach, in miles and in height; None where there is none.

    `need_rh`: only a station with humidity will do. A site whose height is not known takes the nearest at any height.
    """
    book = datafile.load("season/normals.yaml", NormalsBook)
    found: tuple[float, NormalsStation] | None = None
    for station in book.stations:
        if need_rh and station.humidity is None:
            continue
        if elevation_m is not None and abs(station.elevation_m - elevation_m) > book.nearest_within_m:
            continue
        miles = miles_between(latitude, longitude, station.latitude, station.longitude)
        if miles <= book.nearest_within_miles and (found is None or round(miles) < round(found[0])):
            found = miles, station
    if found is None:
        return None
    miles, station = found
    months = [row for row in datafile.rows("season/climate_normals.csv") if row["station"] == station.id]
    mean, top, low = (tuple(float(row[name]) for row in months) for name in ("mean_c", "max_c", "min_c"))
    rh = tuple(float(row["rh_pct"]) for row in months) if station.humidity is not None else None
    higher = None if elevation_m is None else station.elevation_m - elevation_m
    return Normals(station, miles, higher, mean, top, low, rh)
