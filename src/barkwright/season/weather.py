"""Daily weather as the rest of the path reads it: one station, its days, and what was wrong with them."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from datetime import date

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Station:
    """Where the readings were taken; None where the files do not say."""

    id: str
    name: str
    latitude: float | None = None  # [degrees north]
    longitude: float | None = None  # [degrees east]
    elevation_m: float | None = None


@dataclass(frozen=True, slots=True)
class Day:
    """The readings of one day; None where there is none, or where it was left out as doubtful."""

    tmax_c: float | None = None
    tmin_c: float | None = None
    precip_mm: float | None = None  # rain and melted snow; a trace is 0
    snow_cm: float | None = None  # new snow
    gust_kmh: float | None = None  # strongest gust; a gust below the station's reporting limit is 0
    wind_kmh: float | None = None  # mean of the day
    rh_pct: float | None = None  # mean relative humidity
    thunder: bool | None = None  # heard or seen; None where nobody notes it


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Weather:
    """The daily record of one station. Compared and hashed by identity: a record of 20 years is read once."""

    station: Station
    kind: str  # what the files are, in words: "Environment Canada daily file"
    files: tuple[str, ...]
    days: Mapping[date, Day]  # in order of date; days without any reading are absent
    notes: tuple[Diagnostic, ...]  # doubts, gaps and exclusions, with dates and counts
