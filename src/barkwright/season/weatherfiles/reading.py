"""From downloaded weather files to the daily record of one station, or to everything that is wrong with them."""

from __future__ import annotations

from functools import cache

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass
from barkwright.season.weather import Weather


@dataclass(frozen=True, slots=True)
class Reading:
    """The record, or None where there is none to be had; and what is wrong or worth knowing."""

    weather: Weather | None
    diagnostics: tuple[Diagnostic, ...]


@cache
def read_weather(paths: tuple[str, ...], units: str | None = None, station: str | None = None) -> Reading:
    """The daily record in some files and folders (paths as they can be opened), read once.

    units : "imperial" or "metric", for a file that does not state its own
    station : id or name of the station to read, where the files hold several
    """
    return Reading(None, ())
