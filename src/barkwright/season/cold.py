"""Work in the cold: wind chill, and the schedule of work and warm-up breaks."""

from __future__ import annotations

import math
from bisect import bisect_left
from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class WindChill:
    """Coefficients of one form of the wind chill formula, in that form's units."""

    still: float
    air: float
    wind: float
    both: float
    power: float
    warmest: float  # warmer air has no wind chill
    calmest: float  # nor has air that moves less than this
    source: str
    basis: Literal["published", "from memory"] = "published"


@dataclass(frozen=True, slots=True)
class Forms:
    """The formula in both its forms."""

    fahrenheit: WindChill
    celsius: WindChill


@dataclass(frozen=True, slots=True)
class Stretch:
    """How long one works before a warm-up break [min; None: as long as ever], and breaks in a four-hour shift."""

    breaks: int
    max_work_min: int | None = None


@dataclass(frozen=True, slots=True)
class Schedule:
    """The work and warm-up schedule as bands that add up to a step."""

    source: str
    starts_at_c: float
    band_ends_c: tuple[float, ...]
    wind_band_kmh: float
    stop_step: int
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class ColdBook:
    """The whole file, data/season/cold.yaml."""

    checked_on: date
    wind_chill: Forms
    warm_up: Schedule


@dataclass(frozen=True, slots=True)
class WarmUp:
    """What the cold leaves of a shift."""

    step: int  # 0 and 1 ordinary breaks, 2 to 5 ever shorter stretches, from 6 on none
    max_work_min: int | None  # None: as long as ever, or not at all where `stop`
    breaks: int | None  # in a shift of four hours; None where `stop`
    stop: bool  # only emergency work goes on


def wind_chill_f(temp_f: float, wind_mph: float) -> float:
    """How cold moving air feels on bare skin.

    temp_f : float      Air temperature. [degrees F]
    wind_mph : float    Wind at the height of a weather mast (33 ft). [mph]
    Returns the wind chill [degrees F]; the air temperature itself above 50 degrees F or below 3 mph.
    Valid: up to 50 degrees F and from 3 mph on; the chart runs from -45 to 40 degrees F and from 5 to 60 mph.
    Error: half a degree, to which the chart is rounded.  Source: [nws2001] formula and chart.

    >>> round(wind_chill_f(0, 15))
    -19
    """
    return _chill(_book().wind_chill.fahrenheit, temp_f, wind_mph)


def wind_chill_c(temp_c: float, wind_kmh: float) -> float:
    """How cold moving air feels on bare skin, in metric units.

    temp_c : float      Air temperature. [degrees C]
    wind_kmh : float    Wind at the height of a weather mast (10 m). [km/h]
    Returns the wind chill [degrees C]; the air temperature itself above 10 degrees C or below 4.8 km/h.
    Valid: as `wind_chill_f`.  Error: within 0.1 of that form.  Source: [nws2001] metric form, coefficients from memory.

    >>> round(wind_chill_c(-20, 30), 1)
    -32.6
    """
    return _chill(_book().wind_chill.celsius, temp_c, wind_kmh)


def warm_up(temp_c: float, wind_kmh: float) -> WarmUp:
    """How long people work in the cold before they warm up, and when they stop.

    temp_c : float      Air temperature. [degrees C]
    wind_kmh : float    Wind. [km/h]
    Returns the step, the longest stretch of work, the breaks in a shift of four hours and whether work stops.
    Valid: moderate to heavy work, dry clothes, up to -26 degrees C and 32 km/h.  Source: [acgih-warm-up] table.
    Differs: air or wind between two rows takes the harder row; beyond 32 km/h each 8 km/h is one more step; air
    warmer than -26 degrees C, of which the table does not speak, is step 0.

    >>> warm_up(-35, 8).max_work_min
    40
    """
    book = _book().warm_up
    if temp_c > book.starts_at_c:
        step = 0
    else:
        step = bisect_left(book.band_ends_c, -temp_c, key=lambda end: -end) + math.ceil(wind_kmh / book.wind_band_kmh)
    if step >= book.stop_step:
        return WarmUp(step, None, None, stop=True)
    stretch = book.stretches[step]
    return WarmUp(step, stretch.max_work_min, stretch.breaks, stop=False)


def _chill(form: WindChill, temp: float, wind: float) -> float:
    if temp > form.warmest or wind < form.calmest:
        return temp
    moved = float(wind**form.power)
    return form.still + form.air * temp - form.wind * moved + form.both * temp * moved


def _book() -> ColdBook:
    return datafile.load("season/cold.yaml", ColdBook)
